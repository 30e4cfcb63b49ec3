"""The plan: where every room of a house lies, and how sure that is."""

from collections.abc import Mapping
from dataclasses import dataclass

from housemap.model.house import House, Point
from housemap.model.polygon import Box, box_of
from housemap.plan.vectors import Segment


@dataclass(frozen=True, slots=True)
class PlacedRoom:
    """A room in the plan of its level."""

    level: int
    at_m: Point
    """Where the room's own origin lies."""
    outline_m: tuple[Point, ...]
    """Counter-clockwise, in plan coordinates; a block of our own where the room has no measures."""
    measured: bool
    """False where the place is schematic: no measure says where the room lies, or how big it is."""
    sized: bool
    """Whether the outline is the room's own."""

    @property
    def box_m(self) -> Box:
        return box_of(self.outline_m)


@dataclass(frozen=True, slots=True)
class PlacedOpening:
    """An opening in the plan. Both segments run the same way, so that end joins end."""

    near_m: Segment
    """In the wall of its first room."""
    far_m: Segment
    """In the wall of its second room."""
    measured: bool
    """False where only drawn between two blocks that touch."""


@dataclass(frozen=True, slots=True)
class Closing:
    """A loop of openings that does not close."""

    error_m: float
    """How far off `opening` is, if it alone is wrong."""
    opening: str
    """The one most likely mis-measured."""
    off_m: Point
    """What the measures of `opening` say less what the others say, x and y."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Every room of the house, in file order, and every opening that can be drawn."""

    rooms: Mapping[str, PlacedRoom]
    openings: Mapping[str, PlacedOpening]
    """Without those between levels, and those whose two rooms do not touch in a schematic place."""
    closing_error_m: float
    """The worst disagreement of any loop; 0 where there is none."""
    closings: tuple[Closing, ...]
    """Worst first; what is left out closes within a centimetre."""
    unplaced: tuple[str, ...]
    """The rooms whose place is schematic."""
    overlaps: tuple[tuple[str, str], ...]
    """Measured rooms of one level that lie in each other."""
    unaligned: tuple[str, ...]
    """Openings measured on both sides whose walls do not face each other."""

    def levels(self) -> tuple[int, ...]:
        """From the lowest up."""
        return tuple(sorted({room.level for room in self.rooms.values()}))


def same_places(one: House, other: House) -> bool:
    """Whether nothing that places rooms differs, so that both have the same plan."""
    return (
        one.openings == other.openings
        and one.wall_thickness_m == other.wall_thickness_m
        and list(one.rooms) == list(other.rooms)
        and all(
            a is b
            or (a.level, a.size_m, a.outline_m, a.at_m) == (b.level, b.size_m, b.outline_m, b.at_m)
            for a, b in zip(one.rooms.values(), other.rooms.values(), strict=True)
        )
    )
