"""Woodwork and edges: trim beside its wall, and edges for somebody with low vision."""

from dataclasses import replace

import numpy as np

from housemap.checks.check import Check, Compare, Example, Limit
from housemap.checks.examples import two_rooms
from housemap.checks.finding import FAULT, NOTE, Finding
from housemap.checks.meetings import Compared, Limits, Meetings, Verdict, verdict
from housemap.checks.options import Surfaces
from housemap.checks.words import both, figures, paint_name, room_name
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.difference import michelson
from housemap.colorimetry.spaces import lightness
from housemap.model.house import House

WHITE_LRV = 80.0
"""Trim from here on is white, which is never in doubt beside a darker wall (common practice, no
source for the figure)."""
_SOURCE = "common practice: match the wall, or be clearly lighter or darker"


def _lrv_points(paints: Compared) -> Floats:
    """As decimals have it: 42.8 is 30 above 12.8, although in floating point it is less."""
    one, other = paints.paints(lambda colours: colours.lrv)
    return np.abs(one - other).round(6)


def undecided(met: Meetings, limits: Limits) -> Verdict:
    paints = met.plain()
    gap = _lrv_points(paints)
    walls, trim = paints.paints(lambda colours: colours.lrv)
    white = (trim >= WHITE_LRV) & (trim > walls)
    found = (gap > limits["least"]) & (gap < limits["most"]) & ~white
    return verdict(paints, found, gap, limits["most"], NOTE, kind="most")


def tell_trim(finding: Finding, house: House) -> str:
    walls, trim = finding.places
    return (
        f"{room_name(house, walls.room)}: trim ({paint_name(house, trim)}) neither matches the"
        f" walls ({paint_name(house, walls)}) nor contrasts."
        f" {figures(finding, '({} LRV points apart; contrast from {})')}"
    )


TRIM = Check(
    id="trim",
    title="Trim looks undecided",
    help=(
        "Trim either matches its wall or is clearly lighter or darker. In between it looks"
        f" undecided, unless it is white, LRV {WHITE_LRV:.0f} or more, beside a darker wall."
        " Measured in LRV points."
    ),
    limits=(Limit("least", 3.0, "LRV", _SOURCE), Limit("most", 15.0, "LRV", _SOURCE)),
    clean=Example(
        "Walls of LRV 48, trim of LRV 84.", two_rooms("5Y 7.4/1", "5Y 7.4/1", trim="N 9.3/")
    ),
    caught=Example(
        "Walls of LRV 48, trim of LRV 58.", two_rooms("5Y 7.4/1", "5Y 7.4/1", trim="5Y 8/1")
    ),
    looks=(Compare(Surfaces(("walls",), ("trim",)), "within", undecided),),
    sentence=tell_trim,
    headline="{1} as trim neither matches {0} nor contrasts",
    gravest="note",
)


def faint_edge(met: Meetings, limits: Limits) -> Verdict:
    paints = met.plain(np.array(met.house.low_vision))
    points = _lrv_points(paints)
    one, other = paints.paints(lambda colours: colours.lrv)
    parts = {
        "Michelson contrast": michelson(one, other),
        "delta L*": np.abs(lightness(one) - lightness(other)),
    }
    found = points < limits["lrv"]
    return verdict(paints, found, points, limits["lrv"], FAULT, kind="lrv", parts=parts)


def tell_edge(finding: Finding, house: House) -> str:
    return (
        f"{both(house, finding)} are hard to tell apart with low vision."
        f" {figures(finding, '({} LRV points; at least {})')} The local code decides."
    )


def _low_vision(house: House) -> House:
    return replace(house, low_vision=True)


EDGE = Check(
    id="edge",
    title="Edges hard to see",
    help=(
        "Where somebody with low vision lives, walls should contrast with doors, trim and floor by"
        " 30 LRV points (BS 8300-2:2018, Annex B). The same 30 points are 14 L* near white and 32"
        " L* near black. So Michelson contrast and delta L* are shown beside it. Local codes and"
        " whoever is licensed to sign off decide, not this program."
    ),
    limits=(Limit("lrv", 30.0, "LRV", "BS 8300-2:2018, Annex B"),),
    clean=Example(
        "Trim of LRV 84 beside walls of LRV 42.",
        _low_vision(two_rooms("5Y 7/1", "5Y 7/1", trim="N 9.3/")),
    ),
    caught=Example(
        "Trim of LRV 84 beside walls of LRV 70.",
        _low_vision(two_rooms("5Y 8.7/1", "5Y 8.7/1", trim="N 9.3/")),
    ),
    looks=(Compare(Surfaces(("walls",), ("doors", "trim", "floor")), "within", faint_edge),),
    sentence=tell_edge,
    headline="{0} and {1} are hard to tell apart with low vision",
    gravest="fault",
)
