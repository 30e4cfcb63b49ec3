"""Coats as an eye in one room sees them, under the reference light where the other is missing."""

from housemap.colorimetry.undertone import Undertone
from housemap.model.house import Light
from housemap.study.parts import Coat
from housemap.study.seen import SeenColour
from housemap.study.study import Study


def seen_coat(study: Study, eye: str, light: Light, coat: Coat) -> SeenColour | None:
    """A coat as seen from a room; None under the reference light, or without the light asked."""
    view = study.lighting.seen.get((eye, light)) if light != "reference" else None
    return view.colours.get(coat) if view else None


def screen_hex(study: Study, eye: str, light: Light, coat: Coat) -> str:
    """The sRGB colour in which a coat is shown."""
    seen = seen_coat(study, eye, light, coat)
    return seen.srgb_hex if seen else coat.swatch.colour.srgb_hex


def undertone_of(study: Study, eye: str, light: Light, coat: Coat) -> Undertone:
    """The undertone of a coat as it is shown."""
    seen = seen_coat(study, eye, light, coat)
    return seen.undertone if seen else coat.swatch.colour.undertone
