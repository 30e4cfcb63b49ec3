"""The best of very many paints for a surface, by every check in every light.

Under the reference light alone no paint seems to cost more than it does, and that is quick to
know. So paints are judged in all lights from the least such cost on, until none of the rest can be
among the best.
"""

from dataclasses import dataclass

from housemap.choose.sweep.colours import Options
from housemap.choose.sweep.spot import Spot
from housemap.choose.sweep.weighed import Sweep, still_wanted
from housemap.colorimetry.arrays import Floats, Indices

AT_ONCE = 640
"""Paints that are judged in all lights at a time."""


@dataclass(frozen=True, slots=True, eq=False)
class Best:
    """The best of some paints, and what they do."""

    rows: Indices
    """Best first."""
    sweep: Sweep
    """Of those rows, in that order."""
    judged: int
    """How many were judged in all lights."""
    at_least: Floats
    """What each of all the paints costs at least: (n,)."""


def best_of(spot: Spot, options: Options, most: int) -> Best:
    """The `most` best paints; none of the others is better than the last of them."""
    plain = spot.sweep(options, deep=False)
    if spot.report.deep is None:
        rows = plain.order()[:most]
        return Best(rows, plain.rows(rows), len(options), plain.cost)
    promising = plain.order()
    at_least = plain.cost[promising]
    judged = spot.sweep(options.rows(promising[:AT_ONCE]), deep=True)
    while (wanted := still_wanted(at_least, judged.cost, most)) > len(judged):
        more = promising[len(judged) : min(wanted, 2 * len(judged))]
        judged = judged.joined(spot.sweep(options.rows(more), deep=True))
    order, known = judged.order()[:most], plain.cost.copy()
    known[promising[: len(judged)]] = judged.cost
    return Best(promising[order], judged.rows(order), len(judged), known)
