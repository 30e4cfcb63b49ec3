"""What every paint of a house would do on a surface, worked out beside the screen."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from housemap.model.house import House

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.house_problem import Reach
    from housemap.choose.optimiser.incumbent import Signal
    from housemap.choose.rank import Candidate

MOST_REACHED = 300
"""Paints of a house for which it is worked out what the whole house can be."""


class Target(NamedTuple):
    """What a paint is chosen for."""

    room: str
    surface: str
    """walls ceiling trim doors, or "accent" and the wall's key."""

    def paint_in(self, house: House) -> str | None:
        """What is on it; the paint of the walls is not that of an accent wall."""
        room = house.rooms[self.room]
        kind, _, wall = self.surface.partition(" ")
        if kind == "accent":
            accent = room.accents.get(wall)
            return accent.paint if accent else None
        paint: str | None = getattr(room.paints, kind)
        return paint

    def name_in(self, house: House) -> str:
        return f"{house.rooms[self.room].name} {self.surface.replace('accent', 'accent wall')}"


@dataclass(frozen=True, slots=True)
class Ranks:
    """What paints do; nothing while that is not known."""

    base: "Report | None" = None
    """Of the house that they are compared with."""
    candidates: Mapping[str | None, "Candidate"] = field(default_factory=dict)
    """By paint, and None."""

    @property
    def order(self) -> Mapping[str | None, tuple[object, ...]]:
        """By paint, what sorts the best first."""
        from housemap.choose.rank import order  # noqa: PLC0415 - numpy is there when candidates are

        return {paint: order(one) for paint, one in self.candidates.items()}


def ranks_of(house: House, known: "Report | None", target: Target) -> Ranks:
    """What each paint of the house, and none at all, does on the target.

    `known` is the newest report there is. May raise a HousemapError.
    """
    from housemap.choose.rank import bared, candidates  # noqa: PLC0415 - not before the first frame
    from housemap.workbench.reporting import next_report  # noqa: PLC0415 - for the same reason

    base = known if known is not None and known.house is house else next_report(house, known)
    found = [bared(base, *target), *candidates(base, *target)]
    return Ranks(base, {one.paint: one for one in found})


def reach_on(house: House, base: "Report | None", target: Target, stop: "Signal") -> "Reach | None":
    """What the whole house can be with each paint on the walls; None where all is painted.

    `base` is the report of the house, as the ranks have it.
    """
    from housemap.choose.house_problem import reach_of  # noqa: PLC0415 - in the thread

    if base is None or target.surface != "walls" or len(house.paints) > MOST_REACHED:
        return None
    return reach_of(base, target.room, stop=stop)
