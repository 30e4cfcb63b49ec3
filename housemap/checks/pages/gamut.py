"""A paint that the screen cannot show."""

from collections.abc import Iterator

from housemap.checks.examples import one_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Scope
from housemap.checks.words import paint_name
from housemap.model.house import House, Paint, Room, SurfacePaints
from housemap.study import Swatch


def not_shown(swatch: Swatch, scope: Scope) -> Iterator[Finding]:
    del scope
    if isinstance(swatch.entity, Paint) and not swatch.colour.in_srgb:
        yield Finding(check="gamut", severity="note", places=(Place("", "", swatch.id),))


def tell(finding: Finding, house: House) -> str:
    name = paint_name(house, finding.places[0])
    return f"{name} lies outside what a screen can show: it is drawn with less chroma"


_ROOM = Room("Hall", paints=SurfacePaints(walls="marigold"))

CHECK = Check(
    id="gamut",
    title="Beyond the screen",
    help=(
        "The colour lies outside sRGB (IEC 61966-2-1), so the screen shows the nearest one of the"
        " same hue with less chroma. Every number is that of the true colour; trust only a sample."
    ),
    limits=(),
    clean=Example("An oat that any screen shows.", one_room(_ROOM, marigold="5Y 8/1")),
    caught=Example("A marigold that none does.", one_room(_ROOM, marigold="2.5Y 8/16")),
    tell=tell,
    of_swatch=not_shown,
)
