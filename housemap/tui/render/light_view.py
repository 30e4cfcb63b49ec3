"""What the page of a room's light shows, as one value, and the words that its parts share."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import TYPE_CHECKING

from housemap.model.house import Light, Room
from housemap.tui.render.cells import Row, width_of
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades

if TYPE_CHECKING:
    from housemap.light.as_seen import Tints
    from housemap.light.room_scene import LightName
    from housemap.study import LitRoom
    from housemap.study.lighting import Lighting, Paints

LIGHT_WORDS: Mapping[Light, str] = {
    "reference": "under the reference light", "day": "by day", "evening": "in the evening",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class LightView:
    """A room whose light has been computed."""

    shades: Shades
    lighting: "Lighting"
    id: str
    tried: str | None
    """The paint that is tried on its walls."""
    look: Look
    lrv: Mapping[str, float]
    """Of every paint that has one."""

    @property
    def room(self) -> Room:
        return self.shades.house.rooms[self.id]

    @property
    def lit(self) -> "LitRoom":
        return self.lighting.rooms[self.id]

    @property
    def walls(self) -> str | None:
        """The paint on them."""
        return self.room.paints.walls

    @property
    def paints(self) -> "Paints | None":
        """None until the room has been looked at closely."""
        return self.shades.paints_on_walls(self.id)

    @property
    def tints(self) -> "Mapping[LightName, Tints] | None":
        return self.lighting.close.tints(self.lighting, self.id)

    def has(self, light: Light) -> bool:
        return light == "reference" or light in self.lit.light.lights

    def under(self, light: Light) -> Shades:
        shades = self.shades
        return Shades(shades.house, shades.report, light, shades.plain)

    def paint_name(self, paint: str) -> str:
        return self.shades.house.paints[paint].name or paint


def by_light(lrv: Mapping[str, float]) -> list[str]:
    """Paints, the lightest first."""
    return [paint for _, paint in sorted((-value, paint) for paint, value in lrv.items())]


def signed(number: float, look: Look, digits: int = 0) -> str:
    """With a sign, but where it rounds to 0."""
    text = f"{number:+.{digits}f}"
    if float(text) == 0.0:
        return text[1:]
    return text.replace("-", look.glyphs.minus)


def beside(left: Sequence[Row], right: Sequence[Row], page: Page) -> list[Row]:
    """Two columns, the left one as wide as `page`."""
    empty: Row = ()
    return [
        (*one, page.run(" " * max(page.width - width_of(one), 0)), *other)
        for one, other in zip_longest(left, right, fillvalue=empty)
    ]
