"""What a finding counts for: nothing where it was accepted, else as much as it is seen.

An accepted finding returns when the paints there change. What one walks through is met in full;
what is seen from afar counts by its share of the view; a sliver is worth a note at most (our
assumptions throughout).
"""

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from housemap.checks.finding import Finding, Place
from housemap.checks.meetings import Verdict
from housemap.model.house import Accepted, House
from housemap.study import SeenPair, Study


def acceptance_of(finding: Finding, house: House) -> Accepted | None:
    """The entry by which a finding is accepted; None where it is not."""
    for entry in house.accepted.values():
        if entry.check == finding.check and holds(entry, finding.places):
            return entry
    return None


def holds(entry: Accepted, places: Sequence[Place]) -> bool:
    """Whether the rooms, surfaces and paints are those that were accepted."""
    rooms = {place.room for place in places if place.room}
    surfaces = {place.surface for place in places if place.surface}
    paints = {place.paint for place in places if place.paint}
    return (
        rooms == set(entry.rooms)
        and (not entry.surfaces or surfaces == set(entry.surfaces))
        and (not entry.paints or paints == set(entry.paints))
    )


def entries_for(house: House, check: str) -> tuple[Accepted, ...]:
    return tuple(entry for entry in house.accepted.values() if entry.check == check)


def without_accepted(
    found: Verdict, entries: Collection[Accepted], places: Callable[[int], Sequence[Place]]
) -> Verdict:
    """The rows that nobody has accepted; `places` of each row."""
    if not entries:
        return found
    left = [not any(holds(e, places(row)) for e in entries) for row in range(len(found.cell))]
    return found.rows(np.array(left, dtype=np.bool_))


FULL_SHARE, FULL_BEST = 0.04, 0.10
"""Of the full circle, as a mean over the room and from its best place: from either on, what is seen
from afar counts in full. A tenth, 36 degrees, is about what one looks at straight ahead."""
SLIVER = 0.02
"""From its best place less than this, 7 degrees, is a sliver."""
LEAST = 0.1
"""What the narrowest sliver counts for."""


class Visibility(NamedTuple):
    """Of two rooms of which one sees the other."""

    weight: float = 1.0
    """What a finding between them counts for, up to 1."""
    share: float | None = None
    """Of the full circle, from the best place of the room that sees most; None where it counts in
    full."""
    eye: str = ""
    """That room."""

    @property
    def is_sliver(self) -> bool:
        return self.share is not None and self.share < SLIVER

    def weighed(self, finding: Finding) -> Finding:
        """A finding between the two rooms, as grave as it is seen."""
        if self.share is None:
            return finding
        severity = "note" if self.is_sliver else finding.severity
        cost = finding.cost * self.weight
        return replace(finding, severity=severity, share=self.share, eye=self.eye, cost=cost)


IN_FULL = Visibility()


def visibility(study: Study, pair: SeenPair) -> Visibility:
    """By the measures where sight is known, else as declared. Needs `study.sight`."""
    if pair.openings:
        return IN_FULL
    a, b = pair.first.id, pair.second.id
    seen = [
        (sight.views.shares[other], sight.views.best[other].share, eye)
        for eye, other in ((a, b), (b, a))
        if (sight := study.sight.rooms.get(eye)) and other in sight.views.shares
    ]
    if not seen and (declared := pair.sighting.share) is not None:
        seen = [(declared, declared, a)]
    if not seen:
        return IN_FULL
    mean = max(share for share, _, _ in seen)
    _, best, eye = max(seen, key=lambda each: each[1])
    weight = max(mean / FULL_SHARE, best / FULL_BEST, LEAST)
    return IN_FULL if weight >= 1.0 else Visibility(weight, best, eye)
