"""For low vision: an edge too faint to see."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from housemap.checks.changes import repaint
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import two_rooms
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import both, number
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House
from housemap.study import Coat, PaintedRoom


def faint_edge(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    walls = room.coats.get("walls")
    if not scope.study.house.low_vision or walls is None:
        return
    for beside in (room.coats.get("doors"), room.coats.get("trim"), room.floor):
        if beside is not None:
            yield from _faint(walls, beside, scope)


def _faint(walls: Coat, beside: Coat, scope: Scope) -> Iterator[Finding]:
    points = abs(walls.swatch.lrv - beside.swatch.lrv)
    if points < scope.limits["lrv"]:
        apart = scope.difference(walls, beside)
        yield Finding(
            check="edge",
            severity="fault",
            places=(Place.of(walls), Place.of(beside)),
            kind="lrv",
            value=points,
            limit=scope.limits["lrv"],
            unit="LRV",
            parts={"Michelson contrast": apart.michelson, "delta L*": apart.lightness},
        )


def point_costs(points: Floats, limit: float) -> Floats:
    """What edges of so many LRV points cost, 0 where they are plain enough."""
    return np.where(points < limit, cost_of_values("fault", points, limit), 0.0)


def tell(finding: Finding, house: House) -> str:
    return (
        f"{both(house, finding)} are {number(finding.value)} LRV points apart, below"
        f" {number(finding.limit)}: hard to see with low vision; the local code decides"
    )


def _low_vision(house: House) -> House:
    return replace(house, low_vision=True)


CHECK = Check(
    id="edge",
    title="Edge too faint for low vision",
    help=(
        "Where somebody with low vision lives, walls should stand out from doors, trim and floor"
        " by 30 LRV points (BS 8300-2:2018, Annex B). The same 30 points are 14 L* near white and"
        " 32 L* near black, so Michelson contrast and delta L* are told beside it. Local codes and"
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
    tell=tell,
    changes=repaint,
    of_room=faint_edge,
)
