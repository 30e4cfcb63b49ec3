"""Two paints so alike that they look like one badly matched."""

from collections.abc import Iterator, Mapping

import numpy as np

from housemap.checks.changes import repaint_or_relamp
from housemap.checks.examples import two_rooms
from housemap.checks.finding import Finding, Place, Severity
from housemap.checks.meetings import across, within
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import both, under
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House
from housemap.study import Coat, PaintedRoom, SeenPair

_NOTE_COST = 1.0
_SOURCE = "CIEDE2000 holds for 0 to 5 units (ASTM D2244); where in it a match fails: our assumption"


def in_one_room(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    for meeting in within(room):
        yield from near_miss(*meeting, scope)


def between_rooms(pair: SeenPair, scope: Scope) -> Iterator[Finding]:
    for meeting in across(pair):
        yield from near_miss(*meeting, scope)


def near_miss(first: Coat, second: Coat, scope: Scope) -> Iterator[Finding]:
    if first.swatch.id == second.swatch.id:
        return
    apart = scope.difference(first, second).de00
    least, most = scope.limits["least"], scope.limits["most"]
    if apart > most:
        return
    same = apart < least
    severity: Severity = "note" if same else "warn"
    yield Finding(
        check="near-miss",
        severity=severity,
        places=(Place.of(first), Place.of(second)),
        kind="least" if same else "most",
        value=apart,
        limit=least if same else most,
        unit="CIEDE2000",
        light=scope.light,
    )


def tell(finding: Finding, house: House) -> str:
    verdict = "one paint would do" if finding.kind == "least" else "it reads as a failed match"
    side = "below" if finding.kind == "least" else "within"
    return (
        f"{both(house, finding)} differ by only {finding.value:.2f}{under(finding)},"
        f" {side} {finding.limit:g}: {verdict}"
    )


def cost(finding: Finding) -> float:
    """4 just where one paint would not do, falling to 2 at the far limit; a note costs 1."""
    if finding.kind == "least" or finding.value is None or not finding.limit:
        return _NOTE_COST
    return 4.0 - 2.0 * finding.value / finding.limit


def costs(de00: Floats, limits: Mapping[str, float]) -> Floats:
    """What different paints so far apart cost, 0 beyond a near miss."""
    least, most = limits["least"], limits["most"]
    found = np.where(de00 < least, _NOTE_COST, 4.0 - 2.0 * de00 / (most or 1.0))
    return np.where(de00 <= most, found, 0.0)


CHECK = Check(
    id="near-miss",
    title="Near miss",
    help=(
        "Two different paints in one view that nearly match: walls of rooms that see each other,"
        " wall against trim, trim against trim. Either use one paint or step clearly apart."
        " Measured by CIEDE2000 (ISO/CIE 11664-6)."
    ),
    limits=(
        Limit("least", 1.0, "CIEDE2000", _SOURCE),
        Limit("most", 4.0, "CIEDE2000", _SOURCE),
    ),
    clean=Example(
        "Hall and study differ by a clear step.",
        two_rooms("5Y 8.5/1", "5Y 7/1.5", trim="N 9.4/"),
    ),
    caught=Example(
        "Hall and study are a hair apart.",
        two_rooms("5Y 8.5/1", "5Y 8.3/1.1", trim="N 9.4/"),
    ),
    tell=tell,
    changes=repaint_or_relamp,
    judged="in each light",
    cost=cost,
    of_room=in_one_room,
    of_pair=between_rooms,
)
