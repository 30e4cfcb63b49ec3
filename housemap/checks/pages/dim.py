"""A paint too dark for the light there is."""

from collections.abc import Iterator, Mapping

import numpy as np

from housemap.checks.changes import repaint
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import lit_room
from housemap.checks.finding import Finding, Place, Severity
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import number, place_name
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House, Room
from housemap.study import PaintedRoom


def too_dark(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    walls = room.coats.get("walls")
    factor = scope.study.lighting.rooms[room.id].light.daylight
    if walls is None or factor is None or walls.swatch.lrv >= scope.limits["lrv"]:
        return
    percent = float(factor.percent_with("walls", np.array(walls.swatch.lrv)))
    if percent < scope.limits["daylight"]:
        lightest = scope.study.lightest_lrv
        yield Finding(
            check="dim",
            severity=severity_in(room.room),
            places=(Place.of(walls),),
            kind="daylight",
            value=percent,
            limit=scope.limits["daylight"],
            unit="percent",
            parts={
                "LRV": walls.swatch.lrv,
                "lightest": lightest,
                "with it": float(factor.percent_with("walls", np.array(lightest))),
            },
            light="day",
        )


def percent_costs(
    lrv: Floats, percent: Floats, limits: Mapping[str, float], severity: Severity
) -> Floats:
    """What paints of these LRVs cost that leave these daylight factors."""
    found = (lrv < limits["lrv"]) & (percent < limits["daylight"])
    return np.where(found, cost_of_values(severity, percent, limits["daylight"]), 0.0)


def severity_in(room: Room) -> Severity:
    return "note" if room.role == "accent" else "warn"


def tell(finding: Finding, house: House) -> str:
    parts = finding.parts
    return (
        f"{place_name(house, finding.places[0])}, LRV {number(parts['LRV'])}, leaves a daylight"
        f" factor of {finding.value:.2f} %, below {number(finding.limit)} %; the lightest paint of"
        f" the house (LRV {number(parts['lightest'])}) would give {parts['with it']:.2f} %"
    )


CHECK = Check(
    id="dim",
    title="Too dark for its light",
    help=(
        "A deep colour needs a well-lit room, or is meant to be dark (common practice): give the"
        " room the role accent and this is only noted. The average daylight factor T W theta /"
        " (A (1 - R^2)) of BS 8206-2 is taken with this paint; it is an early-design rule, about"
        " 0.6 to 0.8 of the mean over the working plane."
    ),
    limits=(
        Limit("daylight", 2.0, "percent", "BS 8206-2: the least for a kitchen, the strictest room"),
        Limit("lrv", 40.0, "LRV", "common practice: below the 40s a wall colour is deep"),
    ),
    clean=Example("A light room with one window.", lit_room("5Y 8.5/1", lamp_kelvin=2700.0)),
    caught=Example("The same room in a deep olive.", lit_room("5Y 4/2", lamp_kelvin=2700.0)),
    tell=tell,
    changes=repaint,
    judged="in depth",
    of_room=too_dark,
)
