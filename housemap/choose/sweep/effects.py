"""What paints do on a surface: the figures that every choice is made by."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import isnan

import numpy as np

from housemap.colorimetry.arrays import Floats, Indices

ROUND_OFF = 6
"""Decimals of a cost; what differs by less costs the same."""


def still_possible(at_least: Floats, known: Floats, most: int, within: float = 0.0) -> int:
    """How many paints may be among the `most` best, or cost at most `within` more than those.

    `at_least` is what each costs at least, rising; `known` what the first of them really cost.
    """
    if len(known) < most:
        return min(most, len(at_least))
    last = np.partition(np.round(known, ROUND_OFF), most - 1)[most - 1]
    return int(np.searchsorted(np.round(at_least, ROUND_OFF), last + within, "right"))


@dataclass(frozen=True, slots=True)
class PaintEffect:
    """What one paint does on a surface."""

    parts: Mapping[str, float]
    """What each check costs in findings that name the room, by check id; the dearest first."""
    findings_after: int
    """Of the whole house."""
    harmony: float | None
    """Mean Ou & Luo harmony with the other wall colours in view; None where there is none."""
    wishes: float = 0.0
    """What wishes of the client cost that it breaks; beside the findings."""

    @property
    def cost(self) -> float:
        return sum(self.parts.values()) + self.wishes


@dataclass(frozen=True, eq=False)
class Effects:
    """Of n paints, a row each."""

    parts: Mapping[str, Floats]
    """What each check costs in findings that name the room, by check id."""
    findings: Indices
    """Of the whole house."""
    harmony: Floats
    """Mean Ou & Luo harmony with the other wall colours in view; nan where there is none."""
    wishes: Floats
    """What wishes of the client cost that a paint breaks."""

    def __len__(self) -> int:
        return len(self.findings)

    @cached_property
    def cost(self) -> Floats:
        return np.asarray(sum(self.parts.values(), self.wishes))

    def order(self) -> Indices:
        """Rows by cost, then the fewer findings, then the better harmony, then as they stand."""
        pleasing = np.where(np.isnan(self.harmony), 0.0, self.harmony)
        return np.lexsort((-pleasing, self.findings, np.round(self.cost, ROUND_OFF)))

    def rows(self, rows: Indices) -> "Effects":
        parts = {check: cost[rows] for check, cost in self.parts.items()}
        return Effects(parts, self.findings[rows], self.harmony[rows], self.wishes[rows])

    def joined(self, more: "Effects") -> "Effects":
        """These paints and more."""
        none, others = np.zeros(len(self)), np.zeros(len(more))
        parts = {
            check: np.concatenate([self.parts.get(check, none), more.parts.get(check, others)])
            for check in {**self.parts, **more.parts}
        }
        findings = np.concatenate([self.findings, more.findings])
        harmony = np.concatenate([self.harmony, more.harmony])
        return Effects(parts, findings, harmony, np.concatenate([self.wishes, more.wishes]))

    def row(self, row: int) -> PaintEffect:
        pleasing = float(self.harmony[row])
        parts = {check: float(cost[row]) for check, cost in self.parts.items() if cost[row]}
        return PaintEffect(
            dict(sorted(parts.items(), key=lambda part: -part[1])),
            int(self.findings[row]),
            None if isnan(pleasing) else pleasing,
            float(self.wishes[row]),
        )
