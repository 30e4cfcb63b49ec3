"""What a finding costs when assignments are compared. Our assumption throughout."""

import numpy as np

from housemap.checks.finding import Finding, Severity
from housemap.colorimetry.arrays import Floats

SEVERITY_COST: dict[Severity, float] = {"note": 1.0, "warn": 4.0, "fault": 12.0}
"""A fault outweighs three warnings of equal excess, a warning four notes."""

MOST_EXCESS = 2.0
"""Beyond twice over the limit nothing gets worse."""


def by_severity(finding: Finding) -> float:
    """The severity's cost, raised by how far the value lies beyond the limit."""
    return SEVERITY_COST[finding.severity] * (1.0 + excess(finding))


def excess(finding: Finding) -> float:
    """How far the value lies beyond its limit, as a part of the limit, 0..MOST_EXCESS."""
    if finding.value is None or not finding.limit:
        return 0.0
    return min(abs(finding.value - finding.limit) / abs(finding.limit), MOST_EXCESS)


def cost_of_values(severity: Severity, value: Floats, limit: float) -> Floats:
    """`by_severity` of findings with these values."""
    beyond = np.abs(value - limit) / abs(limit) if limit else np.zeros_like(value)
    return np.asarray(SEVERITY_COST[severity] * (1.0 + np.minimum(beyond, MOST_EXCESS)))
