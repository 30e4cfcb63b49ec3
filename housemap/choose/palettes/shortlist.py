"""Which paints of a deck are compared for a house: for each room those that the rules like best.

Every paint of the deck is judged by the rules of a scheme for a room by itself (`house_rules`) and
by undertones that would fight with what stays there; those that cost least and truly differ are
compared in full. The neutral that a palette is built around is always among them.
"""

from collections.abc import Iterable, Sequence

import numpy as np

from housemap.checks import Report, check_of
from housemap.checks.pages.undertones import clash_strength
from housemap.choose.deck.chips import Chips
from housemap.choose.schemes.house_rules import Plan, own_rule_costs
from housemap.choose.schemes.wishes import wish_costs, wishes_of
from housemap.colorimetry.arrays import Floats, Indices
from housemap.colorimetry.difference import hue_apart, plane_distance, ucs_parts
from housemap.model.house import Paint
from housemap.study import Coat, Swatch

SHORTLIST = 20
"""Paints that are compared for rooms that the rules treat alike."""
CANDIDATES_APART = 3.0
"""CAM16-UCS units between two of them, so that they offer a choice."""
NEUTRAL_LRV, NEUTRAL_CHROMA = (50.0, 70.0), 1.0
"""LRV and ASTM D1535 chroma of a neutral to begin with; our assumption."""
WARM_HUE = 22.5
"""Hue number of a usual neutral (2.5Y): common practice."""
PER_HUE, PER_CHROMA, PER_POINT = 0.05, 2.0, 0.1
"""What a neutral costs for each hue number, chroma and LRV point that it is off these."""


def shortlist(
    report: Report,
    rooms: Sequence[str],
    chips: Chips,
    plan: Plan,
    most: int,
    *,
    out: frozenset[int],
) -> Sequence[int]:
    """At most `most` rows of the deck for rooms that the rules treat alike, best first.

    None of the rows that are out.
    """
    costs = np.sum(list(own_rule_costs(report.house, rooms[0], chips, plan).values()), axis=0)
    costs = costs + fights(report, rooms, chips) / len(rooms)
    ucs = chips.colours.ucs
    chosen = [row for row in rows_equal(chips, plan.around) if row not in out][:1]
    for row in np.argsort(costs, kind="stable").tolist():
        if len(chosen) >= most:
            break
        if row in out or row in chosen:
            continue
        if not chosen or ucs_parts(ucs[chosen], ucs[row])[0].min() >= CANDIDATES_APART:
            chosen.append(row)
    return chosen


def neutral_of(report: Report, rooms: Iterable[str], chips: Chips) -> Swatch | None:
    """The neutral to build around: that of kept walls, else one of the deck that suits the house.

    None where neither has one.
    """
    stays = [
        report.study.paint(room.paints.walls)
        for key, room in report.house.rooms.items()
        if room.paints.walls and key not in set(rooms)
    ]
    for swatch in stays:
        if swatch.colour.near_neutral and swatch.lrv >= NEUTRAL_LRV[0] / 2:
            return swatch
    rows = np.flatnonzero(chips.colours.near_neutral)
    if not len(rows):
        return None
    some = chips.taken(rows.tolist())
    costs = _neutral_costs(some) + fights(report, list(rooms), some)
    costs = costs + np.sum(list(wish_costs(some, wishes_of(report.house.brief)).values()), axis=0)
    return some.swatches[int(costs.argmin())]


def _neutral_costs(chips: Chips) -> Floats:
    off_hue = np.abs((chips.hvc[:, 0] - WARM_HUE + 50.0) % 100.0 - 50.0)
    low, high = NEUTRAL_LRV
    depth = np.maximum(np.maximum(low - chips.lrv, chips.lrv - high), 0.0)
    chroma = np.abs(chips.hvc[:, 2] - NEUTRAL_CHROMA)
    return np.asarray(PER_HUE * off_hue + PER_CHROMA * chroma + PER_POINT * depth)


def rows_equal(chips: Chips, swatch: Swatch | None) -> list[int]:
    """Rows of the same colour and name as a paint."""
    if swatch is None or not isinstance(swatch.entity, Paint):
        return []
    own = swatch.entity
    return [
        row
        for row, each in enumerate(chips.swatches)
        if isinstance(each.entity, Paint)
        and (each.entity.name, each.entity.colour) == (own.name, own.colour)
    ]


def fights(report: Report, rooms: Iterable[str], chips: Chips) -> Floats:
    """How often, and how strongly, each paint would fight with what stays in or near the rooms."""
    stays = [coat.swatch for room in rooms for coat in _staying(report, room)]
    if not stays or not len(chips):
        return np.zeros(len(chips))
    limits = check_of("fixed").limits_in(report.house)
    kept = np.array([swatch.colour.ucs for swatch in stays]).reshape(-1, 3)
    paint = chips.colours.ucs[:, None]
    strength = clash_strength(plane_distance(paint, kept), np.abs(paint[..., 0] - kept[..., 0]))
    found = (hue_apart(paint, kept) > limits["hue"]) & (strength > limits["distance"])
    return np.asarray((found * (1.0 + strength / 10.0)).sum(axis=1) * chips.colours.near_neutral)


def _staying(report: Report, room: str) -> Iterable[Coat]:
    """The floor and the fixed finishes of the room and of those that it sees, if they lean."""
    most = check_of("fixed").limits_in(report.house)["chroma"]
    for seen in report.study.views[room].rooms:
        for coat in seen.stays:
            tone = coat.swatch.colour
            if tone.notation.chroma <= most and tone.undertone.family != "none":
                yield coat


def apart_from(ucs: Floats, others: Floats, least: float) -> Indices:
    """Rows that lie so far from all the others."""
    if not len(others):
        return np.arange(len(ucs))
    nearest = np.sqrt(((ucs[:, np.newaxis] - others) ** 2).sum(-1)).min(axis=1)
    return np.flatnonzero(nearest >= least)
