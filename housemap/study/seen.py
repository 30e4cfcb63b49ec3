"""Colours as an eye in a room sees them: its own room's, and those of the rooms in view."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import appearance, gamut, munsell, spaces
from housemap.colorimetry.arrays import Floats, Truths
from housemap.colorimetry.difference import Difference, Looks, difference
from housemap.colorimetry.sheen import SIGNS, by_sheen
from housemap.colorimetry.undertone import Undertone, shift_words, undertones
from housemap.light.as_seen import Eye, eye_in
from housemap.light.room_light import RoomLight
from housemap.light.scene import LightName
from housemap.light.surface_light import Lit, lit_as
from housemap.light.trial import Repainted
from housemap.model.frozen import frozen
from housemap.study.parts import Coat, PaintedRoom, View


@frozen(eq=False)
class LitRoom:
    part: PaintedRoom
    light: RoomLight

    def holds(self, part: PaintedRoom, light: RoomLight) -> bool:
        return self.part is part and self.light is light


class SeenColour(NamedTuple):
    """A coat as seen under some light, by an eye adapted to its own room."""

    ucs: tuple[float, float, float]
    """CAM16-UCS J', a', b'."""
    srgb_hex: str
    in_srgb: bool
    undertone: Undertone

    def shift_from(self, reference_ucs: tuple[float, float, float]) -> str:
        """What the light has made of a colour, in words."""
        return shift_words(reference_ucs, self.ucs)


@frozen(eq=False)
class SeenView:
    """What an eye in one room sees under one light."""

    view: View
    lit: Mapping[str, LitRoom]
    """The rooms in view with the light that was taken."""
    colours: Mapping[Coat, SeenColour]
    looks: Looks

    def difference(self, first: Coat, second: Coat) -> Difference:
        """How far apart two coats in view look; KeyError where one of them is not in view."""
        one, other = (self.looks.row(self.places[coat]) for coat in (first, second))
        return difference(one, other)

    @cached_property
    def leans(self) -> Truths:
        """Whether each colour has an undertone as it is seen, in the order of `colours`."""
        return np.array([seen.undertone.family != "none" for seen in self.colours.values()])

    @cached_property
    def places(self) -> Mapping[Coat, int]:
        return {coat: place for place, coat in enumerate(self.colours)}


class _Sight(NamedTuple):
    """The coats that an eye has before it, and the XYZ100 that they send."""

    view: View
    lit: Mapping[str, LitRoom]
    eye: Eye
    sent: Mapping[Coat, Floats]

    @property
    def xyz100(self) -> Floats:
        return np.array(list(self.sent.values()))


def seen_views(
    views: Sequence[tuple[View, Mapping[str, LitRoom], LightName]],
) -> list[SeenView | None]:
    """What each eye sees of every coat in view that the light falls on, all in one batch.

    None where the eye's own room lacks that light, or nothing in view has a colour.
    """
    sent: Sent = {}
    sights = [_sight(*view, sent) for view in views]
    known = [sight for sight in sights if sight is not None]
    made = iter(_seen(known) if known else ())
    return [None if sight is None else next(made) for sight in sights]


Sent = dict[tuple[str, LightName], dict[Coat, Floats]]
"""What the coats of a room send under a light, whoever sees them."""


def _sight(view: View, lit: Mapping[str, LitRoom], light: LightName, known: Sent) -> _Sight | None:
    own = lit[view.room.id].light.lights.get(light)
    if own is None:
        return None
    sent: dict[Coat, Floats] = {}
    for part in view.rooms:
        falls = lit[part.id].light.lights.get(light)
        if falls is not None:
            if (part.id, light) not in known:
                known[part.id, light] = {coat: _sent(coat, falls) for coat in part.every_coat}
            sent |= known[part.id, light]
    return _Sight(view, lit, eye_in(own), sent) if sent else None


def _sent(coat: Coat, falls: Lit) -> Floats:
    """XYZ100 that a coat sends to the eye."""
    measured = np.array(SIGNS[coat.swatch.gloss])
    shown = by_sheen(np.array(coat.swatch.colour.reflectance), measured, coat.sheen)
    return sent_xyz100(falls, coat.surface, shown)


def sent_xyz100(light: Lit | Repainted, surface: str, reflectance: Floats) -> Floats:
    """What a coat sends to the eye.

    A `Lit` takes (..., 41) to (..., 3); a `Repainted`, the light with each of n paints, one colour
    (1, 41) or one with each paint (n, 41) to (n, 3).
    """
    if isinstance(light, Lit):
        return light.reflected_xyz100(lit_as(surface), reflectance)
    one = reflectance.ndim == 1 or len(reflectance) == 1
    return light.sent_xyz100(lit_as(surface), reflectance.reshape(-1) if one else reflectance)


def shown_alone(coat: Coat, falls: Lit, eye: Eye) -> str:
    """The screen's sRGB for one coat under light that falls on its surface, seen by an eye."""
    screen = eye.on_screen(_sent(coat, falls)[np.newaxis])
    return spaces.srgb_to_hex(gamut.to_srgb(screen))[0]


def _seen(sights: Sequence[_Sight]) -> Iterator[SeenView]:
    jmh = np.concatenate([appearance.jmh(s.xyz100, s.eye.conditions) for s in sights])
    screen = np.concatenate([s.eye.on_screen(s.xyz100) for s in sights])
    ucs, lab = appearance.ucs(jmh), spaces.xyz_to_lab(screen, spaces.SRGB_WHITE)
    colours = _colours(screen, ucs)
    start = 0
    for sight in sights:
        part = slice(start, start := start + len(sight.sent))
        looks = Looks(lab[part], ucs[part], sight.xyz100[:, 1])
        seen = dict(zip(sight.sent, colours[part], strict=True))
        yield SeenView(sight.view, sight.lit, seen, looks)


def _colours(screen_xyz100: Floats, ucs: Floats) -> list[SeenColour]:
    hexes = spaces.srgb_to_hex(gamut.to_srgb(screen_xyz100))
    shown = gamut.in_srgb(screen_xyz100).tolist()
    leans = undertones(munsell.from_screen(screen_xyz100), ucs)
    return [
        SeenColour((j, a, b), *rest)
        for (j, a, b), *rest in zip(ucs.tolist(), hexes, shown, leans, strict=True)
    ]
