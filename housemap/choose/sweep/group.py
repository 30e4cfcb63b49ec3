"""One paint on several surfaces at once: what each paint costs as a trim, or in a palette."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from housemap.checks import Report
from housemap.checks.judging import as_it_is
from housemap.checks.options import PaintOptions
from housemap.choose.sweep.costs import pair_costs, room_costs
from housemap.choose.sweep.effects import ROUND_OFF, still_possible
from housemap.choose.sweep.trial import LitSurface
from housemap.colorimetry.arrays import Floats, Indices
from housemap.model.house import Surface

AT_ONCE = 64
"""Paints that are judged in all lights at a time."""


@dataclass(frozen=True, eq=False)
class GroupTrial:
    """The same surface of some rooms, always in one paint."""

    report: Report
    rooms: tuple[str, ...]
    surface: Surface

    def costs(self, paints: PaintOptions, *, deep: bool) -> Floats:
        """What the rooms, and the pairs that they are in, cost with each of the paints: (n,).

        Without `deep` no cost is above the paint's real one.
        """
        study, costs = self.report.study, np.zeros(len(paints))
        tried = {room: lit.options(paints, deep=deep) for room, lit in self._surfaces.items()}
        for room in tried.values():
            costs += room_costs(study, room, deep=deep).cost[:, 0]
        for key, pair in study.pairs.items():
            mine = [room for room in key if room in tried]
            if not mine:
                continue
            one, rest = tried[mine[0]], pair.other(mine[0])
            other = tried.get(rest) or as_it_is(study, rest, deep=deep)
            costs += pair_costs(self.report, one, other, together=rest in tried).cost[:, 0]
        return costs

    def best(self, paints: PaintOptions, within: float = 0.0) -> tuple[Indices, Floats]:
        """The paints that cost at most `within` more than the least, cheapest first; their costs.

        None of the others costs as little.
        """
        plain = self.costs(paints, deep=False)
        rows = np.argsort(np.round(plain, ROUND_OFF), kind="stable")
        if self.report.deep is None:
            return _least(rows, plain[rows], within)
        known = np.zeros(0)
        while still_possible(plain[rows], known, 1, within) > len(known):
            more = rows[len(known) : len(known) + AT_ONCE]
            known = np.concatenate([known, self.costs(paints.rows(more), deep=True)])
        return _least(rows[: len(known)], known, within)

    @cached_property
    def _surfaces(self) -> Mapping[str, LitSurface]:
        return {room: LitSurface(self.report.study, room, self.surface) for room in self.rooms}


def _least(rows: Indices, costs: Floats, within: float) -> tuple[Indices, Floats]:
    rounded = np.round(costs, ROUND_OFF)
    order = np.argsort(rounded, kind="stable")
    order = order[rounded[order] <= rounded.min() + within]
    return rows[order], costs[order]
