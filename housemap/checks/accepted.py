"""Findings that somebody looked at and accepted: they return when the paints there change."""

from collections.abc import Callable, Collection, Sequence

import numpy as np

from housemap.checks.finding import Finding, Place
from housemap.checks.meetings import Verdict
from housemap.model.house import Accepted, House


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
