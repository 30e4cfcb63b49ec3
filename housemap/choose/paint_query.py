"""Searching paints: words of the name, the code or the undertone, and a range of LRV.

All words must be found; "lrv 55-70", "lrv>60" or "lrv 48" keeps the paints in that range.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Protocol, TypeVar

from housemap.errors import InputError, Problem

HALF_POINT = 0.5
"""A whole LRV stands for all that round to it."""

Range = tuple[float, float]
"""Lowest and highest, both within."""

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_RANGE = (
    rf"\s*[:=]?\s*(?:(?P<sign>[<>]=?|≤|≥)\s*{_NUMBER}|{_NUMBER}(?:\s*(?:-|–|to|\.\.)\s*{_NUMBER}?)?)"  # noqa: RUF001 - as typed
    r"(?![\w.,-])"
)
_UNFINISHED = r"\s*[:=]?\s*[<>]?=?\s*$"


class Searchable(Protocol):
    """What can be searched."""

    @property
    def words(self) -> str:
        """Everything that may be searched, as `search_words` makes it."""

    @property
    def lrv(self) -> float | None: ...


Item = TypeVar("Item", bound=Searchable)


@dataclass(frozen=True, slots=True)
class PaintQuery:
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


def parse_paint_query(text: str) -> PaintQuery:
    """What a typed search means.

    An LRV that is still being typed asks for nothing yet. Raises InputError, in one line, for an
    LRV that cannot be read.
    """
    rest, ranges = take_ranges(search_words(text), {"lrv": HALF_POINT})
    if re.search(r"\blrv\b|[<>]", rest):
        raise InputError([Problem("type an LRV as in lrv>60, lrv<40, lrv 55-70 or lrv 48")])
    return PaintQuery(tuple(rest.split()), *ranges.get("lrv", (-inf, inf)))


def take_ranges(text: str, halves: Mapping[str, float]) -> tuple[str, Mapping[str, Range]]:
    """The text without the ranges that it asks for, and those, by name.

    `halves` gives the names, and how far a single number reaches to either side.
    """
    name = rf"\b(?P<name>{'|'.join(halves)})"
    found: dict[str, Range] = {}
    while match := re.search(name + _RANGE, text):
        low, high = found.get(match["name"], (-inf, inf))
        least, most = _range(match, halves[match["name"]])
        found[match["name"]] = max(low, least), min(high, most)
        text = f"{text[: match.start()]} {text[match.end() :]}"
    return re.sub(name + _UNFINISHED, " ", text), found


def _range(match: re.Match[str], half: float) -> Range:
    bound, first, second = (_value(match[group]) for group in (3, 4, 5))
    if bound is not None:
        return (bound, inf) if match["sign"][0] in ">≥" else (-inf, bound)
    assert first is not None
    if second is None:
        return first - half, first + half
    return min(first, second), max(first, second)


def _value(text: str | None) -> float | None:
    return None if text is None else float(text.replace(",", "."))
