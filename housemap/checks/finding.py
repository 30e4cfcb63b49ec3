"""One thing found in a house: where, how much, against which limit. No text, no screen."""

from collections.abc import Mapping
from dataclasses import field
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats, Indices
from housemap.model.frozen import frozen
from housemap.model.house import Light
from housemap.model.severity import SEVERITIES, Severity
from housemap.study import Coat

NOTE, WARN, FAULT = range(len(SEVERITIES))
"""Severities in arrays."""

SEVERITY_COST: dict[Severity, float] = {"note": 1.0, "warn": 4.0, "fault": 12.0}
"""What a finding at its limit costs where paints are compared. A fault outweighs three warnings, a
warning four notes (our assumption)."""
SERIOUS = 60.0
"""What a fault costs beside that where a whole house is chosen, so that none is brought in to be
rid of some warnings (our assumption)."""
MOST_EXCESS = 2.0
"""Beyond twice over the limit nothing gets worse (our assumption)."""
CLOSE_COST = 0.5
"""What a value costs that lies within its uncertainty of the limit, of what it would cost as a
certain one (our assumption)."""
_COSTS = np.array([*SEVERITY_COST.values()])


def severity_costs(severity: Indices | int) -> Floats:
    """What findings of these severities cost at their limit."""
    return np.asarray(_COSTS[severity])


def excess_costs(severity: Indices | int, value: Floats, limit: Floats | float) -> Floats:
    """The severity's cost, raised by how far the value lies beyond the limit."""
    size = np.abs(limit)
    beyond = np.abs(value - limit) / np.where(size > 0.0, size, np.inf)
    return np.asarray(severity_costs(severity) * (1.0 + np.minimum(beyond, MOST_EXCESS)))


class Place(NamedTuple):
    room: str
    surface: str
    """walls ceiling trim doors floor fixed, or "accent" and the wall's key; "" for the room."""
    paint: str = ""
    """Empty where it is bare or carries a finish."""
    finish: str = ""

    @classmethod
    def of(cls, coat: Coat) -> "Place":
        kind, swatch_id = coat.swatch.key
        paint, finish = (swatch_id, "") if kind == "Paint" else ("", swatch_id)
        return cls(coat.room, coat.surface, paint, finish)


@frozen()
class Finding:
    """What one check found in one place, or between two."""

    check: str
    severity: Severity
    places: tuple[Place, ...]
    kind: str = ""
    """Which of the check's limits it broke: a key of [limits.CHECK]."""
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    parts: Mapping[str, float] = field(default_factory=dict)
    words: tuple[str, ...] = ()
    """What only words say, such as the names of two undertones."""
    light: Light = "reference"
    close: bool = False
    """Whether the value lies so near to its limit that only a sample can decide."""
    share: float | None = None
    """Of the full circle, what one room sees of the other at best; None where they are joined."""
    eye: str = ""
    """The room that sees so much of the other."""
    cost: float = field(default=1.0, compare=False)
    """What it counts for where paints are compared."""
    lamps_of: str = ""
    """The room whose lamps alone make it, where that is so."""

    @property
    def rooms(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(place.room for place in self.places if place.room))

    @property
    def surfaces(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(place.surface for place in self.places if place.surface))

    @property
    def paints(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(place.paint for place in self.places if place.paint))

    @property
    def key(self) -> tuple[object, ...]:
        """What remains the same when only the numbers move: the same check in the same place."""
        return self.check, tuple((p.room, p.surface, p.finish) for p in self.places)


def cost_in_house(finding: Finding, grave: float = 0.0) -> float:
    """What it costs where a whole house is chosen: with so much more for what is above a note."""
    more = grave * (finding.severity != "note") + SERIOUS * (finding.severity == "fault")
    return finding.cost + more


def plain_finding(
    check: str, severity: Severity, places: tuple[Place, ...], kind: str = ""
) -> Finding:
    return Finding(check, severity, places, kind, cost=SEVERITY_COST[severity])
