"""What every paint of a house would do on a surface, worked out beside the screen."""

import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from housemap.model.house import House

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.rank import Candidate
    from housemap.choose.reach import Reach

BETWEEN_S = 0.1
"""How often what is known so far is told."""

MOST_WEIGHED = 300
"""Of more paints at once each would take too long, and their reports too much memory."""


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
    """What paints do, as far as that is known."""

    base: "Report | None" = None
    """Of the house that they are compared with."""
    candidates: Mapping[str | None, "Candidate"] = field(default_factory=dict)
    """By paint."""

    def report_with(self, paint: str | None) -> "Report | None":
        """Of the house with the paint; None where it is not known."""
        known = self.candidates.get(paint)
        return known.report if known else None

    def joined(self, more: "Ranks") -> "Ranks":
        """These and more; the new ones alone where they compare with another house."""
        if more.base is not self.base or len(self.candidates) > MOST_WEIGHED:
            return more
        return Ranks(self.base, {**self.candidates, **more.candidates})

    @property
    def order(self) -> Mapping[str | None, tuple[object, ...]]:
        """By paint, what sorts the best first."""
        from housemap.choose.rank import order  # noqa: PLC0415 - numpy is there when candidates are

        return {paint: order(one) for paint, one in self.candidates.items()}


def ranks_of(
    house: House, known: "Report | None", target: Target, paints: Sequence[str | None]
) -> Iterator[tuple[Ranks, bool]]:
    """What each paint, or None, does on the target; told again and again, and whether that is all.

    `known` is the newest report there is. May raise a HousemapError.
    """
    from housemap.choose.rank import candidate  # noqa: PLC0415 - not before the first frame
    from housemap.tui.reporting import next_report  # noqa: PLC0415 - for the same reason

    base = known if known is not None and known.house is house else next_report(house, known)
    found: dict[str | None, Candidate] = {}
    told = time.monotonic()
    for paint in paints:
        found[paint] = one = candidate(base, *target, paint)
        len(one.report.by_room)  # computed here, so that no key waits for it
        if time.monotonic() - told > BETWEEN_S:
            yield Ranks(base, dict(found)), False
            told = time.monotonic()
    yield Ranks(base, found), True


def reach_on(house: House, base: "Report | None", target: Target) -> "Reach | None":
    """What the whole house can be with each paint on the walls; None where all is painted.

    `base` is the report of the house, as the ranks have it.
    """
    from housemap.choose.reach import reach_of  # noqa: PLC0415 - in the thread

    if base is None or target.surface != "walls" or len(house.paints) > MOST_WEIGHED:
        return None
    return reach_of(base, target.room)
