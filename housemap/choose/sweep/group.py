"""One paint on several surfaces at once: what each paint costs as a trim, or in a palette."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from housemap.checks import Report
from housemap.choose.sweep.colours import Options
from housemap.choose.sweep.subjects import of_pair, of_room
from housemap.choose.sweep.tried_surface import TriedSurface, as_it_is
from housemap.choose.sweep.weighed import ROUND_OFF, still_wanted
from housemap.colorimetry.arrays import Floats, Indices
from housemap.model.house import Surface

AT_ONCE = 64
"""Paints that are judged in all lights at a time."""


@dataclass(frozen=True, eq=False)
class Group:
    """The same surface of some rooms, always in one paint."""

    report: Report
    rooms: tuple[str, ...]
    surface: Surface

    def costs(self, options: Options, *, deep: bool) -> Floats:
        """What the rooms, and the pairs that they are in, cost with each of the paints: (n,).

        Without `deep` no paint is said to cost more than it does.
        """
        study, costs = self.report.study, np.zeros(len(options))
        sides = {room: tried.side(options, deep=deep) for room, tried in self._surfaces.items()}
        for side in sides.values():
            costs += of_room(study, side, deep=deep).cost[:, 0]
        for key, pair in study.pairs.items():
            mine = [room for room in key if room in sides]
            if not mine:
                continue
            one, rest = sides[mine[0]], pair.other(mine[0])
            other = sides.get(rest) or as_it_is(study, rest, deep=deep)
            together = rest in sides
            costs += of_pair(study.house, pair, one, other, together=together).cost[:, 0]
        return costs

    def best(self, options: Options, within: float = 0.0) -> tuple[Indices, Floats]:
        """The paints that cost at most `within` more than the least, cheapest first; their costs.

        None of the others costs as little.
        """
        plain = self.costs(options, deep=False)
        rows = np.argsort(np.round(plain, ROUND_OFF), kind="stable")
        if self.report.deep is None:
            return _least(rows, plain[rows], within)
        known = np.zeros(0)
        while still_wanted(plain[rows], known, 1, within) > len(known):
            more = rows[len(known) : len(known) + AT_ONCE]
            known = np.concatenate([known, self.costs(options.rows(more), deep=True)])
        return _least(rows[: len(known)], known, within)

    @cached_property
    def _surfaces(self) -> Mapping[str, TriedSurface]:
        return {room: TriedSurface(self.report.study, room, self.surface) for room in self.rooms}


def _least(rows: Indices, costs: Floats, within: float) -> tuple[Indices, Floats]:
    rounded = np.round(costs, ROUND_OFF)
    order = np.argsort(rounded, kind="stable")
    order = order[rounded[order] <= rounded.min() + within]
    return rows[order], costs[order]
