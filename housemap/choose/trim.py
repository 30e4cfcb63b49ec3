"""The trim paint of a deck that goes best with the walls of a whole house."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from housemap.checks import Report, check_of
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.taking import take
from housemap.choose.whole import Costs
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.model.edits import assign
from housemap.model.house import House, Paint
from housemap.study import Study, Swatch, study_of

TRIM_CHECKS = ("trim", "near-miss", "undertone", "fixed", "edge")
WEIGHED = 24
"""Paints whose findings are made."""
_AS_LIGHT = 5.0
"""LRV points by which a trim must be lighter to come before a calmer one (our assumption)."""


@dataclass(frozen=True, slots=True)
class Trimmed:
    """A house with the trim of some rooms in one paint of a deck."""

    house: House
    chip: str
    """The id of the paint in the deck."""
    paint: str
    """Its id in the house."""
    cost: float
    """What the checks that look at trim cost over the whole house."""


def best_trim(report: Report, rooms: Sequence[str], chips: Chips, deck: str) -> Trimmed | None:
    """The house of the report with the trim of the rooms in the paint that goes best.

    Of the near-neutrals that seem to go with the walls, light and calm ones are weighed over the
    whole house by the checks that look at trim. None where the deck has no paint.
    """
    rows = trim_rows(report, rooms, chips)
    found = (_weighed(report, rooms, chips.swatches[row], deck) for row in rows)
    return min(found, key=lambda each: each.cost, default=None)


def trim_rows(report: Report, rooms: Iterable[str], chips: Chips) -> Sequence[int]:
    """Rows worth weighing: the least of what is foretold, then the lightest, then the calmest."""
    parts = [report.study.rooms[room].coats for room in rooms]
    walls = [coats["walls"].swatch for coats in parts if "walls" in coats]
    calm = np.array([swatch.colour.near_neutral for swatch in chips.swatches], dtype=bool)
    rows = np.flatnonzero(calm) if calm.any() else np.arange(len(chips))
    foretold = _foretold(report, walls, chips)[rows]
    tint = np.array([swatch.colour.undertone.chroma for swatch in chips.swatches])[rows]
    order = np.lexsort((tint, -np.round(chips.lrv[rows] / _AS_LIGHT), foretold))
    return [int(row) for row in rows[order][:WEIGHED]]


def trim_cost(study: Study) -> float:
    """What the checks that look at trim cost over the whole house."""
    costs = Costs(study, map(check_of, TRIM_CHECKS))
    rooms = sum(map(costs.of_room, study.rooms.values()))
    return rooms + sum(map(costs.of_pair, study.pairs.values()))


def _weighed(report: Report, rooms: Sequence[str], swatch: Swatch, deck: str) -> Trimmed:
    assert isinstance(swatch.entity, Paint)
    house, own_id = take(report.house, swatch.id, swatch.entity, deck)
    for room in rooms:
        house = assign(house, room, "trim", own_id)
    return Trimmed(house, swatch.id, own_id, trim_cost(study_of(house, report.study)))


def _foretold(report: Report, walls: Sequence[Swatch], chips: Chips) -> Floats:
    """How many of the walls each paint neither matches nor stands clear of."""
    if not walls:
        return np.zeros(len(chips))
    limits = check_of("trim").limits_in(report.house)
    gap = np.abs(chips.lrv[:, None] - np.array([wall.lrv for wall in walls]))
    lab100 = np.array([wall.colour.lab100 for wall in walls])
    most = check_of("near-miss").limits_in(report.house)["most"]
    near = ciede2000(chips.lab100[:, None], lab100) <= most
    undecided = (gap > limits["least"]) & (gap < limits["most"])
    return np.asarray((undecided | near).sum(axis=1), dtype=np.float64)
