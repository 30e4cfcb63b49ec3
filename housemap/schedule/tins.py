"""The tins that hold at least so much paint at least cost."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

_STEP_L = 0.05
"""Tin sizes are taken as whole multiples of this."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """Tins of one paint: how many of each size, and what they hold."""

    tins: Mapping[float, int]
    """Count by size in litres, the largest first."""
    litres: float


def least_tins(litres: float, sizes: Sequence[float]) -> Purchase:
    """The tins that hold `litres` with the least bought, then the fewest tins.

    Paint is priced by the litre, so the least bought costs least. An exact search over all amounts
    up to the need (unbounded knapsack); `sizes` must not be empty nor hold anything below 0.05.
    """
    steps = {size: round(size / _STEP_L) for size in sorted(sizes, reverse=True)}
    need = ceil(litres / _STEP_L - 1e-9)
    best = _fewest(need, sorted(set(steps.values()), reverse=True))
    amount = min(total for total in best if total >= need)
    size_of = {count: size for size, count in steps.items()}
    counts = Counter(size_of[step] for step in _walk(best, amount))
    return Purchase({size: counts[size] for size in sorted(counts, reverse=True)}, amount * _STEP_L)


def _fewest(need: int, steps: Sequence[int]) -> dict[int, tuple[int, int]]:
    """For each amount that can be bought: the fewest tins, and the last tin added."""
    best: dict[int, tuple[int, int]] = {0: (0, 0)}
    for amount in range(1, need + steps[0] + 1):
        options = [(best[amount - step][0] + 1, step) for step in steps if amount - step in best]
        if options:
            best[amount] = min(options, key=lambda option: (option[0], -option[1]))
    return best


def _walk(best: Mapping[int, tuple[int, int]], amount: int) -> Sequence[int]:
    taken = []
    while amount:
        step = best[amount][1]
        taken.append(step)
        amount -= step
    return taken
