"""What each check costs and how often it finds something, for every option of one or two rooms."""

from dataclasses import dataclass, field

import numpy as np

from housemap.colorimetry.arrays import Floats, Indices


@dataclass(slots=True, eq=False)
class Tally:
    """Arrays of one shape, (n, m); m is 1 for a room alone."""

    shape: tuple[int, int]
    costs: dict[str, Floats] = field(default_factory=dict)
    """By check id; of the checks that may find anything."""
    findings: Indices = field(init=False)

    def __post_init__(self) -> None:
        self.findings = np.zeros(self.shape, dtype=np.intp)

    def add(self, check: str, cost: Floats) -> None:
        """One finding of a check where it costs anything; broadcast to the shape."""
        self.add_counted(check, cost, (cost > 0.0).astype(np.intp))

    def add_counted(self, check: str, cost: Floats, findings: Indices) -> None:
        """Several findings."""
        self.costs[check] = self.costs.get(check, np.zeros(self.shape)) + cost
        self.findings = self.findings + findings

    def add_all(self, other: "Tally") -> None:
        """Everything of another one, of this shape or one that broadcasts to it."""
        for check, cost in other.costs.items():
            self.costs[check] = self.costs.get(check, np.zeros(self.shape)) + cost
        self.findings = self.findings + other.findings

    @property
    def cost(self) -> Floats:
        return np.asarray(sum(self.costs.values(), np.zeros(self.shape)))
