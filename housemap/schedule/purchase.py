"""Tins as they are bought: few of them, with little left over, then at the least price.

Models page, quantities: the fewest tins whose surplus is within 15 % or 1 l, whichever is more,
then the least price. Where no tins come that near, those that leave the least over. No tin is
bought for less than 3 % of the paint: the waste that is counted in covers that. The least litres
that can be bought stand beside it, for who would rather save paint than tins.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, gcd, inf
from typing import NamedTuple

SURPLUS_SHARE, SURPLUS_L = 0.15, 1.0
"""What may be left over, of the need and in litres; the larger of both counts. Common practice,
no source: some is kept for later repairs."""
SHORT_SHARE = 0.03
"""Of the need, for which no further tin is bought. Common practice, no source: 5.06 l is one tin of
5 l, since the need has waste counted in."""
_STEPS_A_LITRE, _COARSE = 100_000, 1000
"""Tins are counted in 0.01 ml, for the US sizes; the least left over in 10 ml."""
_PRICE_STEPS = 10_000
"""Prices are compared in whole steps, so that equal sums are equal."""


@dataclass(frozen=True, slots=True)
class Tin:
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
    """The fewest tins with little over, then the least price; `tins` must not be empty.

    A little short where that saves a tin.
    """
    sizes, low = _sizes(tins, 1), _need(litres, 1)
    high = low + round(max(share * litres, SURPLUS_L) * _STEPS_A_LITRE)
    found = _fewest(sizes, low, high)
    full = _bought(sizes, found) if found else least_litres(litres, tins)
    short = _fewest(sizes, _need((1.0 - SHORT_SHARE) * litres, 1), low)
    return _bought(sizes, short) if short and len(short) < full.count else full


def _fewest(sizes: Mapping[int, Tin], low: int, high: int) -> list[int] | None:
    """The fewest tins that hold from `low` to `high` steps, then the cheapest; None if none do."""
    counts = range(ceil(low / max(sizes)), high // min(sizes) + 1)
    return next(filter(None, (_cheapest(sizes, count, low, high) for count in counts)), None)


def least_litres(litres: float, tins: Sequence[Tin]) -> Purchase:
    """The tins that leave the least over, to 10 ml, then the fewest, then the cheapest."""
    step = max(gcd(*_sizes(tins, 1)), _COARSE)
    sizes = _sizes(tins, step)
    total = _least_total(_need(litres, step), sizes)
    counts = range(ceil(total / max(sizes)), total // min(sizes) + 1)
    each = (_cheapest(sizes, count, total, total) for count in counts)
    return _bought(sizes, next(found for found in each if found))


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


class _Way(NamedTuple):
    """Smaller tins in place of largest ones: what that adds to the price, and which."""

    price: int
    """In steps."""
    last: int
    """What it holds, in steps."""
    before: "_Way | None"


def _cheapest(sizes: Mapping[int, Tin], count: int, low: int, high: int) -> list[int] | None:
    """Exactly `count` tins that hold from `low` to `high` steps: the cheapest, then the smallest.

    Begins with the largest tins alone and puts smaller ones in their place, one more a layer;
    every smaller total is kept by its cheapest way. None where no tins will do.
    """
    most = max(sizes)
    full, best = count * most, _NOTHING
    layer: Mapping[int, _Way | None] = {0: None} if full >= low else {}
    for replaced in range(count + 1):
        best = min((best, *_within(layer, full, high)), key=lambda found: found[:2])
        layer = _next_layer(layer, sizes, full - low) if replaced < count else {}
        if not layer:
            break
    if best[1] > high:
        return None
    smaller = list(_walk(best[2]))
    return [most] * (count - len(smaller)) + smaller


_Found = tuple[float, float, _Way | None]
_NOTHING: _Found = (inf, inf, None)


def _within(layer: Mapping[int, _Way | None], full: int, high: int) -> Iterator[_Found]:
    """Price, total and way of what does not hold too much."""
    for less, way in layer.items():
        if full - less <= high:
            yield way.price if way else 0, full - less, way


def _next_layer(
    layer: Mapping[int, _Way | None], sizes: Mapping[int, Tin], most_less: int
) -> dict[int, _Way | None]:
    """One more of the largest tins replaced by each smaller one, as long as enough is left."""
    largest, *smaller = sorted(sizes, reverse=True)
    found: dict[int, _Way] = {}
    for less, way in layer.items():
        for size in smaller:
            then = less + largest - size
            price = (way.price if way else 0) + _steps(sizes[size]) - _steps(sizes[largest])
            known = found.get(then)
            if then <= most_less and (known is None or price < known.price):
                found[then] = _Way(price, size, way)
    return dict(found)


def _steps(tin: Tin) -> int:
    return round((tin.price or 0.0) * _PRICE_STEPS)


def _walk(way: _Way | None) -> Iterator[int]:
    while way:
        yield way.last
        way = way.before


def _bought(sizes: Mapping[int, Tin], found: Sequence[int]) -> Purchase:
    counts = Counter(found)
    prices = [sizes[size].price for size in counts.elements()]
    known = [price for price in prices if price is not None]
    tins = {sizes[size].litres: counts[size] for size in sorted(counts, reverse=True)}
    litres = sum(size * count for size, count in tins.items())
    return Purchase(tins, litres, sum(known) if len(known) == len(prices) else None)
