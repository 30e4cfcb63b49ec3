"""The trim paint of a deck that goes best with the walls of a whole house."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from housemap.checks import Report
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.ranking import options_of
from housemap.choose.deck.taking import take
from housemap.choose.schemes.kinds import trim_aim
from housemap.choose.schemes.shape import trim_costs, trim_step_costs
from housemap.choose.sweep.group import GroupTrial
from housemap.colorimetry.arrays import Floats
from housemap.model.edits import assign
from housemap.model.house import House, Paint
from housemap.study import Swatch

COMPARED = 32
"""Paints of the deck that are compared: those that the rules for trim like best."""


@dataclass(frozen=True, slots=True)
class Trimmed:
    """A house with the trim of some rooms in one paint of a deck."""

    house: House
    chip: str
    """The id of the paint in the deck."""
    paint: str
    """Its id in the house."""
    cost: float
    """What those rooms, and the pairs that they are in, cost with it, and the rules for trim."""


def best_trim(
    report: Report, rooms: Sequence[str], chips: Chips, deck: str, around: Swatch | None = None
) -> Trimmed | None:
    """The house of the report with the trim of the rooms in the paint that costs least.

    The rules: near-white and clearly lighter than each room's walls, unless the brief says
    otherwise, and leaning as the neutral does that the scheme is built around. The paints that
    cost least by the rules are compared with what the checks find. None where the deck has no
    paint.
    """
    if not len(chips):
        return None
    rules = _rule_costs(report, rooms, chips, around)
    rows = np.argsort(rules, kind="stable")[:COMPARED]
    options = options_of(report.house, chips, deck).rows(rows)
    group = GroupTrial(report, tuple(rooms), "trim")
    costs = group.costs(options, deep=report.deep is not None) + rules[rows]
    best = int(costs.argmin())
    house, paint = _taken(report.house, rooms, chips, int(rows[best]), deck)
    return Trimmed(house, chips.swatches[rows[best]].id, paint, float(costs[best]))


def _rule_costs(
    report: Report, rooms: Sequence[str], chips: Chips, around: Swatch | None
) -> Floats:
    costs = np.zeros(len(chips))
    if around is not None:
        costs = costs + trim_aim(around).off(chips, around)
    if not report.house.brief.white_trim:
        return costs
    costs = costs + len(rooms) * trim_costs(chips.lrv, chips.hvc[:, 2])
    for room in rooms:
        walls = report.house.rooms[room].paints.walls
        if walls is not None:
            costs = costs + trim_step_costs(chips.lrv, np.array(report.study.paint(walls).lrv))
    return np.asarray(costs)


def _taken(
    house: House, rooms: Sequence[str], chips: Chips, row: int, deck: str
) -> tuple[House, str]:
    swatch = chips.swatches[row]
    assert isinstance(swatch.entity, Paint)
    house, own_id = take(house, swatch.id, swatch.entity, deck)
    for room in rooms:
        house = assign(house, room, "trim", own_id)
    return house, own_id
