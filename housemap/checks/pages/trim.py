"""Trim that neither matches nor stands clear of the wall."""

from collections.abc import Iterator, Mapping

import numpy as np

from housemap.checks.changes import repaint
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import two_rooms
from housemap.checks.finding import Finding, Place
from housemap.checks.meetings import within
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import both, number
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House
from housemap.study import PaintedRoom

_SOURCE = "common practice: match the wall, or stand clearly lighter or darker"


def undecided(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    for walls, trim in within(room):
        gap = abs(walls.swatch.lrv - trim.swatch.lrv)
        if scope.limits["least"] < gap < scope.limits["most"]:
            yield Finding(
                check="trim",
                severity="note",
                places=(Place.of(walls), Place.of(trim)),
                kind="most",
                value=gap,
                limit=scope.limits["most"],
                unit="LRV",
            )


def gap_costs(lrv_gap: Floats, limits: Mapping[str, float]) -> Floats:
    """What trim so far from its wall costs, 0 where it matches or stands clear."""
    found = (lrv_gap > limits["least"]) & (lrv_gap < limits["most"])
    return np.where(found, cost_of_values("note", lrv_gap, limits["most"]), 0.0)


def tell(finding: Finding, house: House) -> str:
    return (
        f"{both(house, finding)} are {number(finding.value)} LRV points apart:"
        f" neither a match nor clear of it ({number(finding.limit)} or more)"
    )


CHECK = Check(
    id="trim",
    title="Trim neither matched nor clear",
    help=(
        "Trim either matches its wall or stands clear of it, lighter or darker. In between it"
        " looks undecided. Measured in LRV points."
    ),
    limits=(Limit("least", 3.0, "LRV", _SOURCE), Limit("most", 15.0, "LRV", _SOURCE)),
    clean=Example(
        "Walls of LRV 48, trim of LRV 84.", two_rooms("5Y 7.4/1", "5Y 7.4/1", trim="N 9.3/")
    ),
    caught=Example(
        "Walls of LRV 48, trim of LRV 58.", two_rooms("5Y 7.4/1", "5Y 7.4/1", trim="5Y 8/1")
    ),
    tell=tell,
    changes=repaint,
    of_room=undecided,
)
