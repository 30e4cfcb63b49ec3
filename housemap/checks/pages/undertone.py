"""Near-neutrals whose undertones fight."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from housemap.checks.changes import repaint_or_relamp
from housemap.checks.clash import clash
from housemap.checks.costs import SEVERITY_COST
from housemap.checks.examples import two_rooms
from housemap.checks.finding import Finding, Severity
from housemap.checks.meetings import across, within
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import both, number, under
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House
from housemap.study import Coat, PaintedRoom, SeenPair


def in_one_room(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    for meeting in within(room):
        yield from _of_neutrals(*meeting, scope)


def between_rooms(pair: SeenPair, scope: Scope) -> Iterator[Finding]:
    for meeting in across(pair):
        for finding in _of_neutrals(*meeting, scope):
            yield replace(finding, severity="fault") if pair.sighting.kind == "open" else finding


def _of_neutrals(first: Coat, second: Coat, scope: Scope) -> Iterator[Finding]:
    if first.swatch.colour.near_neutral and second.swatch.colour.near_neutral:
        yield from clash(first, second, scope, "undertone", "warn")


def tell(finding: Finding, house: House) -> str:
    return (
        f"{both(house, finding)}: their undertones fight{under(finding)},"
        f" hues {number(finding.value)} deg apart (limit {number(finding.limit)})"
        f" at a strength of {number(finding.parts['strength'])}"
    )


def cost(finding: Finding) -> float:
    """The severity's cost, raised with the strength of the clash: 10 a'b' units double it."""
    return float(costs(np.array(finding.parts["strength"]), finding.severity))


def costs(strength: Floats, severity: Severity) -> Floats:
    """What clashes of these strengths cost."""
    return np.asarray(SEVERITY_COST[severity] * (1.0 + np.minimum(strength / 10.0, 2.0)))


CHECK = Check(
    id="undertone",
    title="Undertones that fight",
    help=(
        "The undertone of a near-neutral (ASTM D1535 chroma at most 3) is the hue it leans to."
        " Two that lean to far-apart hues make each other look dirty, most so at equal lightness."
        " Hue and distance are taken in the a'b' plane of CAM16-UCS; the distance counts less as"
        " the lightness step grows (after Gordon & Shapley 2006; how much less: our assumption)."
    ),
    limits=(
        Limit("hue", 60.0, "deg", "our assumption: a third of the way to the opposite hue"),
        Limit("distance", 4.0, "a'b'", "our assumption: clearly seen side by side"),
    ),
    clean=Example(
        "A yellowish white trim beside walls of a yellowish grey.",
        two_rooms("5Y 7/1", "2.5Y 8/1.5", trim="5Y 9/1"),
    ),
    caught=Example(
        "A pinkish grey hall opens into a greenish grey study.",
        two_rooms("5R 7/2", "5G 7/2"),
    ),
    tell=tell,
    changes=repaint_or_relamp,
    judged="in each light",
    cost=cost,
    of_room=in_one_room,
    of_pair=between_rooms,
)
