"""Numbers as people and meters write them; coverage, tins and prices in the units of house files.

A US gallon is 3.785411784 l (NIST Special Publication 811).
"""

import math
import re
from collections.abc import Iterable
from functools import lru_cache

from housemap.deck.reading import RowError
from housemap.model.lengths import FOOT_M
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


LITRES = {
    "ml": 0.001, "cl": 0.01, "l": 1.0, "lt": 1.0, "ltr": 1.0, "litre": 1.0, "liter": 1.0,
    "litres": 1.0, "liters": 1.0, "gal": 3.785411784, "gallon": 3.785411784,
    "gallons": 3.785411784, "qt": 0.946352946, "quart": 0.946352946, "quarts": 0.946352946,
    "pt": 0.473176473, "pint": 0.473176473, "pints": 0.473176473,
}  # fmt: skip

UNIT = "|".join(sorted(LITRES, key=len, reverse=True))
SIZE = r"\d+(?:[.,]\d+)?"
VOLUME = re.compile(rf"({SIZE})\s*({UNIT})\b", re.IGNORECASE)
TIN = re.compile(rf"({SIZE})\s*({UNIT})?\.?", re.IGNORECASE)
AREA_IN_FEET = re.compile(r"sq\.?\s*(?:ft|feet)|ft2|ft²|square f", re.IGNORECASE)
PER_VOLUME = re.compile(rf"(?:/|\bper)\s*({SIZE})?\s*({UNIT})\b", re.IGNORECASE)
LEAST_COVERAGE, MOST_COVERAGE = 0.5, 50.0
LARGEST_TIN = 1000.0


@lru_cache(maxsize=1024)
def tins(cell: str, *, comma: bool) -> tuple[float, ...]:
    """Tin sizes in litres from "0.75, 2.5, 5", "750 ml / 2.5 l" or "1 gal; 1 qt"."""
    between = r"[;/|]|\s+(?=\d)|\band\b|&" if comma else r"[;,/|]|\s+(?=\d)|\band\b|&"
    parts = [part.strip() for part in re.split(between, cell) if part.strip()]
    return tuple(sorted({tin(part, comma=comma) for part in parts}))


def tin(text: str, *, comma: bool) -> float:
    found = TIN.fullmatch(text)
    if not found:
        raise RowError(f"{shown(text)} is not a tin size, such as 2.5 l")
    size = number(found[1], comma=comma) * LITRES[(found[2] or "l").lower()]
    if not 0 < size <= LARGEST_TIN:
        raise RowError(f"a tin of {shown(text)}")
    return round(size, 4)


@lru_cache(maxsize=1024)
def coverage(cell: str, header: str, *, comma: bool) -> float:
    """Square metres per litre; square feet per gallon where the cell or its header says so."""
    text = f"{header} {cell}"
    area_m2 = FOOT_M**2 if AREA_IN_FEET.search(text) else 1.0
    value = amount(cell, comma=comma) * area_m2 / litres_per(header, cell)
    if not LEAST_COVERAGE <= value <= MOST_COVERAGE:
        raise RowError(f"coverage {shown(cell)} is not between 0.5 and 50 m2 a litre")
    return round(value, 3)


@lru_cache(maxsize=1024)
def price(cell: str, header: str, *, comma: bool) -> float:
    """Per litre; the volume that the price is for may stand in the cell or its header."""
    value = amount(cell, comma=comma)
    if value < 0:
        raise RowError(f"price {shown(cell)} is below 0")
    return round(value / litres_per(header, cell), 4)


def amount(cell: str, *, comma: bool) -> float:
    """Give the number that is left without units: 18.5 of "18.50 / 2.5 l"."""
    return number_within(PER_VOLUME.sub(" ", AREA_IN_FEET.sub(" ", cell)), comma=comma)


def litres_per(header: str, cell: str) -> float:
    """The volume that an amount is for, in litres; 1 where none is named."""
    found = PER_VOLUME.search(cell) or PER_VOLUME.search(header) or VOLUME.search(header)
    if not found:
        return 1.0
    size = float(found[1].replace(",", ".")) if found[1] else 1.0
    return (size or 1.0) * LITRES[found[2].lower()]
