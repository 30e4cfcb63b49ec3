"""Tins as they are bought: few of them, with little left over, at the least price.

As few tins as hold enough, one more only where that leaves a litre less over. Up to 15 % over,
kept for repairs, does not count; up to 3 % short may save a tin, as waste is counted in. Then the
least price, and then the least litres. The least litres that can be bought stand beside it, for who
would rather save paint than tins.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import count as counted
from math import ceil, gcd, inf
from typing import NamedTuple

SURPLUS_SHARE, SHORT_SHARE, LITRES_FOR_A_TIN = 0.15, 0.03, 1.0
"""What does not count over and under the need, and how much less over is worth one more tin. Common
practice, no source: some is kept for later repairs, and the need has 10 % waste counted in."""
_STEPS_A_LITRE, _COARSE = 100_000, 1000
"""Tins are counted in 0.01 ml, for the US sizes; the least left over in 10 ml."""
_PRICE_STEPS = 10_000
"""Prices are compared in whole steps, so that equal sums are equal."""


class Tin(NamedTuple):
    """A size that the paint is sold in."""

    litres: float
    price: float | None = None
    """In the currency of the house; None where it is not known."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """Tins of one paint: how many of each size, what they hold and cost."""

    tins: Mapping[float, int]
    """Count by size in litres, the largest first."""
    litres: float
    price: float | None = None

    @property
    def count(self) -> int:
        return sum(self.tins.values())

    @property
    def one_size(self) -> bool:
        """Tins of one size can come from one batch."""
        return len(self.tins) == 1


def few_tins(litres: float, tins: Sequence[Tin], share: float = SURPLUS_SHARE) -> Purchase:
    """Few tins with little over by the rule above; `tins` must not be empty."""
    sizes, a_tin = _sizes(tins, 1), LITRES_FOR_A_TIN * _STEPS_A_LITRE
    low, need, free = (_need(litres * part, 1) for part in (1.0 - SHORT_SHARE, 1.0, 1.0 + share))
    best: tuple[float, ...] = (inf,)
    bought: tuple[int, ...] = ()
    count = ceil(low / max(sizes))
    while count * a_tin <= best[0]:
        found = _cheapest(sizes, count, low, (need, free))
        key = count * a_tin + found.over, found.is_short, found.price, found.total
        if key < best:
            best, bought = key, found.tins
        count += 1
    return _bought(sizes, bought)


def least_litres(litres: float, tins: Sequence[Tin]) -> Purchase:
    """The tins that leave the least over, to 10 ml, then the fewest, then the cheapest."""
    step = max(gcd(*_sizes(tins, 1)), _COARSE)
    sizes = _sizes(tins, step)
    total = _least_total(_need(litres, step), sizes)
    each = (
        _cheapest(sizes, count, total, (total, total))
        for count in counted(ceil(total / max(sizes)))
    )
    return _bought(sizes, next(found.tins for found in each if found.total == total))


def _need(litres: float, step: int) -> int:
    return max(ceil(litres * _STEPS_A_LITRE / step - 1e-6), 1)


def _sizes(tins: Sequence[Tin], step: int) -> dict[int, Tin]:
    """By what they hold, in whole steps; of one size the cheapest."""
    ordered = sorted(tins, key=lambda tin: -inf if tin.price is None else -tin.price)
    return {max(round(tin.litres * _STEPS_A_LITRE) // step, 1): tin for tin in ordered}


def _least_total(low: int, sizes: Mapping[int, Tin]) -> int:
    """The least sum of sizes that is at least `low`; sums are kept as the bits of a number."""
    top = low + max(sizes)
    within, sums = (1 << (top + 1)) - 1, 1
    for size in sizes:
        step = size
        while step <= top:
            sums |= (sums << step) & within
            step *= 2
    enough = sums >> low
    return low + (enough & -enough).bit_length() - 1


class _Found(NamedTuple):
    """Tins of a fixed number."""

    over: int
    """Beyond what does not count, in steps."""
    is_short: bool
    price: int
    total: int
    tins: tuple[int, ...]


def _cheapest(sizes: Mapping[int, Tin], count: int, low: int, within: tuple[int, int]) -> _Found:
    """Exactly `count` tins that hold `low` steps: those nearest to `within`, then the cheapest.

    Begins with the largest tins alone, which must hold enough, and puts smaller ones in their
    place, one more a layer; every total is kept by its cheapest smaller tins.
    """
    largest, *smaller = sorted(sizes, reverse=True)
    prices = {size: round((tin.price or 0.0) * _PRICE_STEPS) for size, tin in sizes.items()}
    layer: dict[int, tuple[int, tuple[int, ...]]] = {count * largest: (count * prices[largest], ())}
    found: list[_Found] = []
    while layer:
        for held, (price, tins) in layer.items():
            over, bought = max(held - within[1], 0), (largest,) * (count - len(tins)) + tins
            found.append(_Found(over, held < within[0], price, held, bought))
        further: dict[int, tuple[int, tuple[int, ...]]] = {}
        for held, (price, tins) in layer.items():
            for size in smaller if len(tins) < count else ():
                then, cost = held - largest + size, price - prices[largest] + prices[size]
                if then >= low and (then not in further or cost < further[then][0]):
                    further[then] = cost, (*tins, size)
        layer = further
    return min(found, key=lambda each: each[:4])


def _bought(sizes: Mapping[int, Tin], found: Sequence[int]) -> Purchase:
    counts = Counter(found)
    prices = [sizes[size].price for size in counts.elements()]
    known = [price for price in prices if price is not None]
    tins = {sizes[size].litres: counts[size] for size in sorted(counts, reverse=True)}
    litres = sum(size * count for size, count in tins.items())
    return Purchase(tins, litres, sum(known) if len(known) == len(prices) else None)
