"""Searching paints: words of the name, the code or the undertone, and a range of LRV.

All words must be found; "lrv 55-70", "lrv>60" or "lrv 48" keeps the paints in that range.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import inf
from typing import Protocol, TypeVar

from housemap.errors import InputError, Problem

HALF_POINT = 0.5
"""A whole LRV stands for all that round to it."""

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_LRV = re.compile(
    rf"\blrv\s*[:=]?\s*(?:(?P<sign>[<>]=?|≤|≥)\s*{_NUMBER}|{_NUMBER}(?:\s*(?:-|–|to|\.\.)\s*{_NUMBER}?)?)"  # noqa: RUF001 - as typed
    r"(?![\w.,-])"
)
_UNFINISHED = re.compile(r"\blrv\s*[:=]?\s*[<>]?=?\s*$")


class Searchable(Protocol):
    """What can be sought."""

    @property
    def words(self) -> str:
        """Everything that may be searched, as `search_words` makes it."""

    @property
    def lrv(self) -> float | None: ...


Item = TypeVar("Item", bound=Searchable)


@dataclass(frozen=True, slots=True)
class Sought:
    """What a search asks for."""

    words: tuple[str, ...] = ()
    lowest: float = -inf
    highest: float = inf

    def takes(self, item: Searchable) -> bool:
        text = item.words
        for word in self.words:
            if word not in text:
                return False
        if self.lowest == -inf and self.highest == inf:
            return True
        lrv = item.lrv
        return lrv is not None and self.lowest <= lrv <= self.highest

    def among(self, items: Iterable[Item]) -> Sequence[Item]:
        """Those asked for, in their order."""
        return [item for item in items if self.takes(item)]


def search_words(*parts: str) -> str:
    """Text in the form in which words are compared, made once for each paint."""
    return "\n".join(parts).casefold().replace("grey", "gray")


def sought(text: str) -> Sought:
    """What a typed search means.

    An LRV that is still being typed asks for nothing yet. Raises InputError, in one line, for an
    LRV that cannot be read.
    """
    rest, low, high = search_words(text), -inf, inf
    while match := _LRV.search(rest):
        found = _range(match)
        low, high = max(low, found[0]), min(high, found[1])
        rest = f"{rest[: match.start()]} {rest[match.end() :]}"
    rest = _UNFINISHED.sub(" ", rest)
    if re.search(r"\blrv\b|[<>]", rest):
        raise InputError([Problem("an LRV is sought as in lrv>60, lrv<40, lrv 55-70 or lrv 48")])
    return Sought(tuple(rest.split()), low, high)


def _range(match: re.Match[str]) -> tuple[float, float]:
    bound, first, second = (_value(match[group]) for group in (2, 3, 4))
    if bound is not None:
        return (bound, inf) if match["sign"][0] in ">≥" else (-inf, bound)
    assert first is not None
    if second is None:
        return first - HALF_POINT, first + HALF_POINT
    return min(first, second), max(first, second)


def _value(text: str | None) -> float | None:
    return None if text is None else float(text.replace(",", "."))
