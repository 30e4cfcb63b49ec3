"""What only a close look at one room asks for: other paints on its walls, and tints of its light.

It is computed when `look` is called, and kept as long as what it depends on stays the same. Other
studies of the same house share it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from housemap.colorimetry import gamut, spaces
from housemap.light.as_seen import Tints, tints_of
from housemap.light.daylight import DaylightFactor
from housemap.light.inputs import RoomOpening, openings_of
from housemap.light.room_scene import LightName, why_not
from housemap.light.trial import Tried
from housemap.model.house import Room
from housemap.study.parts import PaintedRoom, Swatch
from housemap.study.seen import LitRoom

if TYPE_CHECKING:
    from housemap.study.lighting import Lighting

T = TypeVar("T")

KEPT_ROOMS = 32
"""Looked at last; what is known of more is forgotten."""

Swatches = Mapping[tuple[str, str], Swatch]


@dataclass(frozen=True, slots=True)
class PaintLight:
    """A room with one paint on its walls (but not on accent walls)."""

    daylight_percent: float | None
    """The average daylight factor; None without windows."""
    wall_lux: Mapping[LightName, float]
    """Mean over all walls, after all bounces."""
    srgb_hex: Mapping[LightName, str]
    """The paint as seen there."""


Paints = Mapping[str, PaintLight]
"""By paint id."""


@dataclass(frozen=True, slots=True, eq=False)
class _Basis:
    """What light depends on beside the walls' own paint."""

    room: Room
    openings: tuple[RoomOpening, ...]
    sky: tuple[float, float | None, float]
    swatches: Swatches
    next_door: tuple[PaintedRoom, ...]
    """The rooms that openings lead to."""

    def holds(self, other: "_Basis") -> bool:
        return (
            self.swatches is other.swatches
            and (self.room, self.openings, self.sky) == (other.room, other.openings, other.sky)
            and len(self.next_door) == len(other.next_door)
            and all(a is b for a, b in zip(self.next_door, other.next_door, strict=True))
        )


@dataclass(slots=True, eq=False)
class CloseUps:
    """Everything looked at closely so far, by room."""

    _paints: dict[str, tuple[_Basis, Paints]] = field(default_factory=dict)
    _tints: dict[str, tuple[LitRoom, Mapping[LightName, Tints]]] = field(default_factory=dict)

    def look(self, lighting: "Lighting", room: str) -> None:
        """Compute what is not known of a room; some ten milliseconds."""
        lit = lighting.rooms[room]
        if self.tints(lighting, room) is None:
            each = {name: tints_of(lit.part.room, on) for name, on in lit.light.lights.items()}
            _keep(self._tints, room, (lit, each))
        if self.paints(lighting, room) is None:
            _keep(self._paints, room, (_basis(lighting, lit.part), _paints(lighting, room)))

    def paints(self, lighting: "Lighting", room: str) -> Paints | None:
        """Each paint of the house on the walls of a room; None where that is not known yet."""
        part, known = lighting.parts.get(room), self._paints.get(room)
        if part is None or known is None or not known[0].holds(_basis(lighting, part)):
            return None
        return known[1]

    def tints(self, lighting: "Lighting", room: str) -> Mapping[LightName, Tints] | None:
        """The tints of each light on the walls; None where they are not known yet."""
        known = self._tints.get(room)
        return known[1] if known and lighting.rooms.get(room) is known[0] else None


def _keep(table: dict[str, T], room: str, value: T) -> None:
    table.pop(room, None)
    table[room] = value
    if len(table) > KEPT_ROOMS:
        del table[next(iter(table))]


def _basis(lighting: "Lighting", part: PaintedRoom) -> _Basis:
    bare = replace(part.room, paints=replace(part.room.paints, walls=None))
    openings = openings_of(lighting.house, part.id, part.openings)
    ways = ({*opening.between} - {part.id} for opening in part.openings.values())
    next_door = tuple(lighting.parts[room] for way in ways for room in way)
    return _Basis(bare, openings, lighting.sky, lighting.swatches, next_door)


def _paints(lighting: "Lighting", room: str) -> Paints:
    lit, house = lighting.rooms[room], lighting.house
    if not house.paints or why_not(lit.part.room):
        return {}
    swatches = [lighting.swatches["Paint", paint] for paint in house.paints]
    response = lighting.response(room, "walls")
    tried = response.tried(np.array([swatch.colour.reflectance for swatch in swatches]))
    percents = _percents(lit.light.daylight, [swatch.lrv for swatch in swatches])
    shown = {name: _hexes(each) for name, each in tried.items()}
    return dict(zip(house.paints, _each(percents, tried, shown), strict=True))


def _each(
    percents: list[float | None],
    tried: Mapping[LightName, Tried],
    shown: Mapping[LightName, list[str]],
) -> list[PaintLight]:
    lux = {name: each.wall_lux.tolist() for name, each in tried.items()}
    return [
        PaintLight(
            percent,
            {name: values[i] for name, values in lux.items()},
            {name: hexes[i] for name, hexes in shown.items()},
        )
        for i, percent in enumerate(percents)
    ]


def _percents(factor: DaylightFactor | None, lrv: list[float]) -> list[float | None]:
    if factor is None:
        return [None] * len(lrv)
    return [*factor.percent_with("walls", np.array(lrv)).tolist()]


def _hexes(tried: Tried) -> list[str]:
    return [*spaces.srgb_to_hex(gamut.to_srgb(tried.on_screen()))]
