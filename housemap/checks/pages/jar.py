"""A jarring step from room to room."""

from collections.abc import Iterator, Mapping

import numpy as np

from housemap.checks.changes import repaint_or_relamp
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import two_rooms
from housemap.checks.finding import Finding, Place, Severity
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import both, number, through, under
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House
from housemap.study import SeenPair

_SOURCE = "our assumption: the more of a step is in view at once, the smaller it must be"


def jarring_step(pair: SeenPair, scope: Scope) -> Iterator[Finding]:
    if pair.walls is None:
        return
    step = scope.difference(*pair.walls)
    kind = pair.sighting.kind
    if step.ucs > scope.limits[kind]:
        yield Finding(
            check="jar",
            severity=_severity(kind),
            places=tuple(map(Place.of, pair.walls)),
            kind=kind,
            value=step.ucs,
            limit=scope.limits[kind],
            unit="CAM16-UCS",
            parts={
                "lightness": step.ucs_lightness,
                "chroma": step.ucs_chroma,
                "hue": step.ucs_hue,
            },
            light=scope.light,
        )


def step_costs(ucs: Floats, kind: str, limits: Mapping[str, float]) -> Floats:
    """What steps of these distances cost, 0 where none jars."""
    found = cost_of_values(_severity(kind), ucs, limits[kind])
    return np.where(ucs > limits[kind], found, 0.0)


def _severity(kind: str) -> Severity:
    return "fault" if kind == "open" else "warn"


def tell(finding: Finding, house: House) -> str:
    mostly = max(finding.parts, key=lambda part: abs(finding.parts[part]))
    return (
        f"{both(house, finding)} meet {through(finding)} {number(finding.value)}"
        f" apart{under(finding)}, above {number(finding.limit)}; most of it is {mostly}"
    )


CHECK = Check(
    id="jar",
    title="Jarring step",
    help=(
        "Two wall colours that see each other lie so far apart that passing from one room to the"
        " other jars. Measured as the distance in CAM16-UCS (Li et al. 2017) under D65 at 300 lx,"
        " which holds for large differences where CIEDE2000 does not (ASTM D2244)."
    ),
    limits=(
        Limit("open", 20.0, "CAM16-UCS", _SOURCE),
        Limit("cased", 30.0, "CAM16-UCS", _SOURCE),
        Limit("glazed", 40.0, "CAM16-UCS", _SOURCE),
        Limit("doorway", 40.0, "CAM16-UCS", _SOURCE),
        Limit("stairs", 40.0, "CAM16-UCS", _SOURCE),
        Limit("sightline", 50.0, "CAM16-UCS", _SOURCE),
    ),
    clean=Example(
        "An oat hall opens in open plan into a slightly deeper study.",
        two_rooms("5Y 8/1", "5Y 7/1.5", "open"),
    ),
    caught=Example(
        "The same hall opens in open plan into a deep blue study.",
        two_rooms("5Y 8/1", "5PB 3/6", "open"),
    ),
    tell=tell,
    changes=repaint_or_relamp,
    judged="in each light",
    of_pair=jarring_step,
)
