"""How a value is typed into a field: its text, and the value of a text.

`value` raises InputError with one phrase that says what is wrong and what would be right. An empty
text never comes here: it means that the value is left out.
"""

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from housemap.errors import InputError, Problem
from housemap.model.house import Units
from housemap.model.measure import format_length, parse_length_m
from housemap.model.text import clean_text, shown


class Entry(Protocol):
    """One way of typing a value."""

    @property
    def hint(self) -> str:
        """What may be typed."""

    def text(self, value: Any) -> str: ...
    def value(self, text: str) -> Any: ...


def refusal(text: str) -> InputError:
    return InputError([Problem(text)])


@dataclass(frozen=True, slots=True)
class Words:
    """Text as it is typed; `lines` allows more than one."""

    limit: int
    lines: bool = False
    hint: str = ""

    def text(self, value: str) -> str:
        return value

    def value(self, text: str) -> str:
        return clean_text(text, self.limit, lines=self.lines)


def plain_number(value: float) -> str:
    return f"{value:.10g}"


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, with a decimal point or comma; `unit` may be written behind it."""

    unit: str = ""
    whole: bool = False

    @property
    def hint(self) -> str:
        return f"in {self.unit}" if self.unit else ""

    def text(self, value: float) -> str:
        return plain_number(value)

    def value(self, text: str) -> float | int:
        number = text.strip().removesuffix(self.unit or "\0").strip().replace(",", ".")
        number = number.replace("\N{MINUS SIGN}", "-")
        try:
            return int(number) if self.whole else float(number)
        except ValueError as error:
            kind = "a whole number" if self.whole else "a number"
            raise refusal(f"must be {kind}, found {shown(text)}") from error


def _length(text: str, units: Units) -> float:
    try:
        return parse_length_m(text, units)
    except InputError as error:
        raise refusal(
            f"must be a length such as 3.1, 310 cm or 12'4\", found {shown(text)}"
        ) from error


@dataclass(frozen=True, slots=True)
class Length:
    """A length in any unit."""

    units: Units

    @property
    def hint(self) -> str:
        return "1.2, 120 cm or 3'11\"" if self.units == "m" else "3'11\", 47 in or 1.2 m"

    def text(self, value: float) -> str:
        return format_length(value, self.units)

    def value(self, text: str) -> float:
        return _length(text, self.units)


@dataclass(frozen=True, slots=True)
class Sides:
    """Lengths with an x between them, as a size: 3.1 x 2.8."""

    units: Units
    hint: str = "west to east by south to north: 3.1 x 2.8"

    def text(self, value: Sequence[float]) -> str:
        return " x ".join(format_length(each, self.units) for each in value)

    def value(self, text: str) -> tuple[float, ...]:
        found = re.split(r"\s*[x×*]\s*|\s+by\s+", text.strip(), flags=re.IGNORECASE)  # noqa: RUF001 - the sign of a product
        if len(found) != 2:  # noqa: PLR2004 - two sides
            raise refusal(f"must be two lengths such as 3.1 x 2.8, found {shown(text)}")
        return tuple(_length(each, self.units) for each in found)


WAYS = ("east", "north", "up")


@dataclass(frozen=True, slots=True)
class Spot:
    """A place: so far east, so far north, and so far up where there are three."""

    units: Units
    count: int

    @property
    def hint(self) -> str:
        return "1.2 east, 0.6 north" if self.count < len(WAYS) else "1.2 east, 0.6 north, 2.4 up"

    def text(self, value: Sequence[float]) -> str:
        named = zip(value, WAYS, strict=False)
        return ", ".join(f"{format_length(each, self.units)} {way}" for each, way in named)

    def value(self, text: str) -> tuple[float, ...]:
        bare = re.sub(r"\b(east|north|up)\b", ";", text.strip(), flags=re.IGNORECASE)
        found = [each for each in re.split(r"[;]|,(?:\s+|$)|\s+x\s+", bare) if each.strip(" ,")]
        if len(found) == 1:
            found = bare.split()
        if len(found) != self.count:
            raise refusal(f"must be {self.count} lengths such as {self.hint}, found {shown(text)}")
        return tuple(_length(each.strip(" ,"), self.units) for each in found)


@dataclass(frozen=True, slots=True)
class Figures:
    """Numbers with spaces between them."""

    hint: str = "0.75 2.5 5"

    def text(self, value: Sequence[float]) -> str:
        return " ".join(map(plain_number, value))

    def value(self, text: str) -> tuple[float, ...]:
        pieces = [each.strip(",;") for each in re.split(r"[\s;]+", text.strip())]
        return tuple(Figure().value(each) for each in pieces if each)


@dataclass(frozen=True, slots=True)
class Day:
    """A date."""

    hint: str = "2026-05-02, or today"

    def text(self, value: dt.date) -> str:
        return value.isoformat()

    def value(self, text: str) -> dt.date:
        plain = text.strip().casefold()
        today = dt.datetime.now().astimezone().date()
        if plain in {"today", "yesterday"}:
            return today - dt.timedelta(days=plain == "yesterday")
        try:
            return dt.date.fromisoformat(plain)
        except ValueError as error:
            raise refusal(
                f"must be a date such as 2026-05-02, or today, found {shown(text)}"
            ) from error
