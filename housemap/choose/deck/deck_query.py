"""Searching a deck: words, LRV, hue, value and chroma, the undertone, and what is near a colour.

"5y 7/1" asks for colours near that notation, "10yr-5y" for a range of hues, "value 6-8" and
"chroma<2" as "lrv>60" does; all other words must be found in name, code, notation or undertone.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from housemap.choose.deck.chips import Chips
from housemap.choose.paint_query import Range, search_words, take_ranges
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.notation import HUES, LEAST_CHROMA, hue_number
from housemap.errors import ColourError, InputError, Problem
from housemap.model.house import Triple

HALVES = {"lrv": 0.5, "value": 0.25, "chroma": 0.5}
"""How far a single number reaches to either side."""
NEAR_HUE, NEAR_VALUE, NEAR_CHROMA = 1.25, 0.5, 1.0
"""How far a colour may be from a notation that was typed; hues stand 2.5 apart."""
ROUNDING = 1e-3
"""Figures that were computed may lie so little outside of a range."""
HUES_ROUND = 100.0
NEAR = 5.0
"""CIEDE2000 is meant for differences up to here (ASTM D2244)."""
FEWEST_NEAR = 24
"""So many are shown however far they are."""

_HUE = rf"(\d+(?:[.,]\d+)?)\s?({'|'.join(sorted(HUES, key=len, reverse=True)).lower()})"
_HUES = re.compile(rf"(?<![\w.,/-]){_HUE}(?:\s*(?:-|–|to)\s*{_HUE})?(?![\w.,])")  # noqa: RUF001 - as typed
_NOTATION = re.compile(rf"(?<![\w.,/-]){_HUE}\s+(\d+(?:[.,]\d+)?)\s*/\s*(\d+(?:[.,]\d+)?)?")


@dataclass(frozen=True, slots=True)
class DeckQuery:
    """What is asked of a deck; empty parts ask for nothing."""

    words: tuple[str, ...] = ()
    ranges: Mapping[str, Range] = field(default_factory=dict)
    """By "lrv", "value" and "chroma"."""
    hues: Range | None = None
    """From, to: round the hue circle, so that from may be the larger one."""
    family: str = ""
    temperature: str = ""
    near: Triple | None = None
    """CIELAB of a colour that others are to be near to."""

    def rows(self, chips: Chips) -> Indices:
        """The rows that fit; in the order of the deck, or nearest first."""
        rows = np.flatnonzero(self._fits(chips))
        return rows if self.near is None else near_rows(chips, self.near, rows)

    def _fits(self, chips: Chips) -> Truths:
        fits = np.ones(len(chips), dtype=np.bool_)
        for name, (low, high) in self.ranges.items():
            figures = {"lrv": chips.lrv, "value": chips.hvc[:, 1], "chroma": chips.hvc[:, 2]}[name]
            fits &= (figures >= low - ROUNDING) & (figures <= high + ROUNDING)
        if self.hues is not None:
            fits &= within_hues(chips.hvc, self.hues)
        for value, column in (
            (self.family, chips.families),
            (self.temperature, chips.temperatures),
        ):
            if value:
                fits &= np.fromiter((each == value for each in column), np.bool_, len(chips))
        for word in self.words:
            fits &= np.fromiter((word in text for text in chips.words), np.bool_, len(chips))
        return fits


def parse_deck_query(text: str) -> DeckQuery:
    """What a typed search asks for. Raises InputError, in one line, where it cannot be read."""
    rest = search_words(text)
    try:
        rest, near = _near_notation(rest)
        rest, hues = _hue_range(rest)
    except ColourError as error:
        raise InputError([Problem(str(error))]) from error
    rest, ranges = take_ranges(rest, HALVES)
    if re.search(r"[<>]", rest):
        line = "ranges are asked for as in lrv>60, lrv 55-70, value 6-8, chroma<2, 10yr-5y"
        raise InputError([Problem(line)])
    return replace(near, words=tuple(rest.split()), ranges={**near.ranges, **ranges},
                   hues=hues or near.hues)  # fmt: skip


def _near_notation(text: str) -> tuple[str, DeckQuery]:
    found = _NOTATION.search(text)
    if not found:
        return text, DeckQuery()
    rest = f"{text[: found.start()]} {text[found.end() :]}"
    hue, value, chroma = _hue(found, 1), _number(found[3]), _number(found[4])
    ranges = {} if value is None else {"value": (value - NEAR_VALUE, value + NEAR_VALUE)}
    if chroma is not None:
        ranges["chroma"] = chroma - NEAR_CHROMA, chroma + NEAR_CHROMA
    return rest, DeckQuery(hues=_about(hue), ranges=ranges)


def _hue_range(text: str) -> tuple[str, Range | None]:
    found = _HUES.search(text)
    if not found:
        return text, None
    rest = f"{text[: found.start()]} {text[found.end() :]}"
    first = _hue(found, 1)
    return rest, (first, _hue(found, 3)) if found[3] else _about(first)


def _hue(found: re.Match[str], group: int) -> float:
    number = _number(found[group])
    assert number is not None
    return hue_number(found[group + 1].upper(), number)


def _about(hue100: float) -> Range:
    return (hue100 - NEAR_HUE) % HUES_ROUND, (hue100 + NEAR_HUE) % HUES_ROUND


def _number(text: str | None) -> float | None:
    return float(text.replace(",", ".")) if text else None


def within_hues(hvc: Floats, hues: Range) -> Truths:
    """Whether colours (n, 3) have a hue and it lies between two, going round the circle."""
    low, high = hues
    after, before = hvc[:, 0] >= low, hvc[:, 0] <= high
    inside = after & before if low <= high else after | before
    return np.asarray(inside & (hvc[:, 2] >= LEAST_CHROMA))


def near_rows(chips: Chips, lab100: Triple, rows: Indices) -> Indices:
    """Those of the rows that are near a colour, nearest first."""
    apart = ciede2000(chips.lab100[rows], np.array(lab100))
    order = np.argsort(apart, kind="stable")
    count = max(int((apart <= NEAR).sum()), FEWEST_NEAR)
    return rows[order[:count]]
