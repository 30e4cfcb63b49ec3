"""The trim paint of a deck that goes best with the walls of a whole house."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from housemap.checks import Report
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.ranking import options_of
from housemap.choose.deck.taking import take
from housemap.choose.sweep.colours import Options
from housemap.choose.sweep.side import Side, side_as_it_is, side_with
from housemap.choose.sweep.subjects import of_pair, of_room
from housemap.colorimetry.arrays import Floats, Indices
from housemap.model.edits import assign
from housemap.model.house import House, Paint
from housemap.study import Swatch

WEIGHED = 48
"""Paints that are weighed in every light."""
_AS_LIGHT = 5.0
"""LRV points by which a trim must be lighter to come before a calmer one (our assumption)."""
_AS_DEAR = 6
"""Decimals of a cost."""


@dataclass(frozen=True, slots=True)
class Trimmed:
    """A house with the trim of some rooms in one paint of a deck."""

    house: House
    chip: str
    """The id of the paint in the deck."""
    paint: str
    """Its id in the house."""
    cost: float
    """What the checks of rooms and pairs cost over the whole house."""


def best_trim(report: Report, rooms: Sequence[str], chips: Chips, deck: str) -> Trimmed | None:
    """The house of the report with the trim of the rooms in the paint that costs least.

    All near-neutrals (all paints where there is none) are weighed with their own rooms under the
    reference light, the best of them over the whole house in every light. Of those that cost the
    same a light and calm one is taken. None where the deck has no paint.
    """
    if not len(chips):
        return None
    calm = np.flatnonzero(chips.colours.near_neutral)
    rows = calm if len(calm) else np.arange(len(chips))
    options = options_of(report.house, chips, deck)
    rows = rows[_order(_alone(report, rooms, options.rows(rows)), chips, rows)][:WEIGHED]
    costs = trim_costs(report, rooms, options.rows(rows))
    best = int(_order(costs, chips, rows)[0])
    swatch = chips.swatches[rows[best]]
    house, paint = _taken(report.house, rooms, swatch, deck)
    return Trimmed(house, swatch.id, paint, float(costs[best]))


def trim_costs(report: Report, rooms: Sequence[str], options: Options) -> Floats:
    """What rooms and pairs cost with each of the paints on the trim of all those rooms: (n,)."""
    study, deep = report.study, report.deep is not None
    painted = {room: side_with(study, room, "trim", options, deep=deep) for room in rooms}
    costs = np.zeros(len(options))
    sides: dict[str, Side] = dict(painted)
    for room in study.rooms:
        side = sides.setdefault(room, side_as_it_is(study, room, deep=deep))
        costs += of_room(study, side, deep=deep).cost[:, 0]
    for key, pair in study.pairs.items():
        cost = of_pair(study.house, pair, sides[key[0]], sides[key[1]]).cost
        costs += np.diagonal(cost) if painted.keys() >= {*key} else cost.reshape(-1)
    return costs


def _alone(report: Report, rooms: Sequence[str], options: Options) -> Floats:
    """What the rooms by themselves cost, under the reference light."""
    study, costs = report.study, np.zeros(len(options))
    for room in rooms:
        side = side_with(study, room, "trim", options, deep=False)
        costs += of_room(study, side, deep=False).cost[:, 0]
    return costs


def _order(costs: Floats, chips: Chips, rows: Indices) -> Indices:
    """The least cost first, then the lightest, then the calmest."""
    ucs, lrv = chips.colours.ucs[rows], chips.lrv[rows]
    tint = np.hypot(ucs[:, 1], ucs[:, 2])
    return np.lexsort((tint, -np.round(lrv / _AS_LIGHT), np.round(costs, _AS_DEAR)))


def _taken(house: House, rooms: Sequence[str], swatch: Swatch, deck: str) -> tuple[House, str]:
    assert isinstance(swatch.entity, Paint)
    house, own_id = take(house, swatch.id, swatch.entity, deck)
    for room in rooms:
        house = assign(house, room, "trim", own_id)
    return house, own_id
