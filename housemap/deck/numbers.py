"""Numbers as people and meters write them."""

import math
import re
from collections.abc import Iterable

from housemap.deck.reading import RowError
from housemap.model.text import shown

PLAIN = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?", re.IGNORECASE)
WITH_COMMA = re.compile(r"[+-]?\d*,\d+")
WITH_POINT = re.compile(r"[+-]?\d*\.\d+")
AMONG_WORDS = re.compile(r"(?<![\w.,])[+-]?[.,]?\d[\d.,]*")
MINUS_SIGNS = str.maketrans({"\N{MINUS SIGN}": "-", "\N{EN DASH}": "-", "\N{NO-BREAK SPACE}": " "})
EMPTY = {"", "-", "--", "n/a", "na", "nan", "none", "null", "?"}
LONGEST_EMPTY = max(map(len, EMPTY))


def is_blank(text: str) -> bool:
    """Whether a cell says that there is nothing: empty, a dash, "n/a"."""
    tidy = text.strip()
    return len(tidy) <= LONGEST_EMPTY and tidy.translate(MINUS_SIGNS).casefold() in EMPTY


def is_number(text: str) -> bool:
    return PLAIN.fullmatch(text.strip().translate(MINUS_SIGNS)) is not None


def rough_value(text: str) -> float:
    """What a cell that `is_number` is worth, whichever mark its decimals have."""
    return float(text.strip().translate(MINUS_SIGNS).replace(",", "."))


def number(text: str, *, comma: bool = False) -> float:
    """The number in a cell that holds nothing else; `comma` says that commas mark decimals."""
    if not comma and (quick := quick_number(text)) is not None:
        return quick
    tidy = text.strip().translate(MINUS_SIGNS)
    if not PLAIN.fullmatch(tidy) or (not comma and "," in tidy):
        hint = " (elsewhere the decimal mark is a point)" if "," in tidy else ""
        raise RowError(f"{shown(text)} is not a number{hint}")
    if comma and "." in tidy:
        raise RowError(f"{shown(text)} has a point where other numbers have a decimal comma")
    value = float(tidy.replace(",", "."))
    if not math.isfinite(value):
        raise RowError(f"{shown(text)} is too large")
    return value


def quick_number(text: str) -> float | None:
    """What `number` makes of nearly every cell, ten times as fast; None for all others."""
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) and text.isascii() and "_" not in text else None


def number_within(text: str, *, comma: bool = False) -> float:
    """The one number in a cell that may also hold a unit or a currency sign."""
    found: list[str] = AMONG_WORDS.findall(text.translate(MINUS_SIGNS))
    if len(found) != 1:
        raise RowError(f"{shown(text)} should hold one number")
    return number(found[0].rstrip(".,"), comma=comma)


def numbers_among(text: str) -> list[float]:
    """The numbers of a text of nothing but numbers, parted by whatever people part them by.

    Commas mark decimals where there is no point and no run of two commas ("1,2,3").
    """
    comma = "." not in text and re.search(r"\d,\d", text) is not None
    comma = comma and re.search(r"\d,\d+,\d", text) is None
    loose = text if comma else text.replace(",", " ")
    words = (word.strip("=:()[]{}/|,") for word in re.split(r"[\s;|]+", loose))
    return [number(word, comma=comma) for word in words if word]


def uses_decimal_comma(cells: Iterable[str]) -> bool:
    """Whether numbers with a decimal comma outnumber those with a point."""
    commas = points = 0
    for cell in cells:
        tidy = cell.strip().translate(MINUS_SIGNS)
        commas += WITH_COMMA.fullmatch(tidy) is not None
        points += WITH_POINT.fullmatch(tidy) is not None
    return commas > points
