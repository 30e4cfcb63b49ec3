"""The trim paint of a deck that goes best with the walls of a whole house."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from housemap.checks import Report
from housemap.checks.options import PaintOptions
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.ranking import options_of
from housemap.choose.deck.taking import take
from housemap.choose.sweep.group import GroupTrial
from housemap.colorimetry.arrays import Indices
from housemap.model.edits import assign
from housemap.model.house import House, Paint

LIGHT = 70.0
"""LRV from which a trim is light (our assumption)."""
LIGHT_WORTH = 1.0
"""What a light trim may cost more than any other in each room, as much as a note: one lighter than
the walls is usual, one clearly darker as sound (common practice; its worth: our assumption)."""
CALM_WORTH = 1.0
"""What a calmer trim may cost more, as much as a note (our assumption)."""


@dataclass(frozen=True, slots=True)
class Trimmed:
    """A house with the trim of some rooms in one paint of a deck."""

    house: House
    chip: str
    """The id of the paint in the deck."""
    paint: str
    """Its id in the house."""
    cost: float
    """What those rooms, and the pairs that they are in, cost with it."""


def best_trim(report: Report, rooms: Sequence[str], chips: Chips, deck: str) -> Trimmed | None:
    """The house of the report with the trim of the rooms in the paint that costs least.

    Every near-neutral of the deck (every paint where there is none) is weighed; a light one comes
    first unless it costs LIGHT_WORTH a room more, and of those that cost hardly more than the
    least the calmest one. None where the deck has no paint.
    """
    if not len(chips):
        return None
    options = options_of(report.house, chips, deck)
    group = GroupTrial(report, tuple(rooms), "trim")
    calm = np.flatnonzero(chips.colours.near_neutral)
    rows = calm if len(calm) else np.arange(len(chips))
    light = rows[chips.lrv[rows] >= LIGHT]
    tiers = (each for each in (light, rows[chips.lrv[rows] < LIGHT]) if len(each))
    found = [_best(group, options, chips, tier) for tier in tiers]
    worth = LIGHT_WORTH * len(rooms)
    best, cost = min(found, key=lambda each: each[1] + worth * (chips.lrv[each[0]] < LIGHT))
    house, paint = _taken(report.house, rooms, chips, best, deck)
    return Trimmed(house, chips.swatches[best].id, paint, cost)


def _best(
    group: GroupTrial, options: PaintOptions, chips: Chips, rows: Indices
) -> tuple[int, float]:
    """The calmest row of those that cost about the least, and its cost."""
    found, costs = group.best(options.rows(rows), CALM_WORTH)
    chroma = chips.colours.chroma[rows[found]]
    place = int(np.lexsort((costs, chroma))[0])
    return int(rows[found[place]]), float(costs[place])


def _taken(
    house: House, rooms: Sequence[str], chips: Chips, row: int, deck: str
) -> tuple[House, str]:
    swatch = chips.swatches[row]
    assert isinstance(swatch.entity, Paint)
    house, own_id = take(house, swatch.id, swatch.entity, deck)
    for room in rooms:
        house = assign(house, room, "trim", own_id)
    return house, own_id
