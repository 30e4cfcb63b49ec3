"""What one key of a house file may hold: read it, write it, judge it.

A kind turns a TOML value into a model value (`read`) and back (`write`), says what is wrong with
a model value (`faults`), and knows the ids in it (`refs`, `follow`). Nothing is raised: whatever
is wrong goes to `note(path, phrase)`, where the path starts at the value itself.

Kinds are made once, in the schema, and are neither changed nor compared: as plain dataclasses
they take a third of the time that frozen ones would take of every start.
"""

import datetime as dt
import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, Final

from housemap.model.text import NAME_LENGTH, normal, shown, text_fault

Path = tuple[str, ...]
Note = Callable[[Path, str], None]
Change = Callable[[str, str], str | None]
"""(table, id) -> what the id becomes; None: it is gone."""

ID_LENGTH = 64
ID = re.compile(r"[a-z0-9-]+")


class Gone:
    """What is left of a value that cannot be without an id that is gone."""


GONE: Final = Gone()


class Kind:
    """The base: a value that is written as it is, always right, and holds no ids."""

    blank: ClassVar[Any] = None
    """Stands in for what could not be read, so that reading can go on and find the rest."""

    def read(self, raw: object, note: Note) -> Any:
        raise NotImplementedError

    def write(self, value: Any) -> Any:
        return value

    def faults(self, value: Any, note: Note) -> None:
        """Note everything that is wrong with a value of the right type."""

    def refs(self, value: Any) -> Iterator[tuple[Path, str, str]]:
        """Yield (path, table, id) for every id in the value."""
        del value
        return iter(())

    def follow(self, value: Any, change: Change) -> Any:
        """Return the value with its ids changed, GONE if it cannot be without one that is gone."""
        del change
        return value


def below(note: Note, key: str) -> Note:
    """Return a note whose paths start at `key`."""
    return lambda path, phrase: note((key, *path), phrase)


@dataclass(slots=True, eq=False, repr=False)
class Text(Kind):
    """One line of text; `lines` allows more."""

    limit: int = NAME_LENGTH
    lines: bool = False
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return normal(raw) if len(raw) <= self.limit else raw
        note((), f"must be text in quotes, found {shown(raw)}")
        return self.blank

    def faults(self, value: str, note: Note) -> None:
        if fault := text_fault(value, self.limit, lines=self.lines):
            note((), fault)


@dataclass(slots=True, eq=False, repr=False)
class Name(Text):
    """A line of text that says something."""

    def faults(self, value: str, note: Note) -> None:
        if not value.strip():
            note((), "must not be empty")
        Text.faults(self, value, note)


@dataclass(slots=True, eq=False, repr=False)
class Number(Kind):
    """A finite number from `low` to `high`; `above` leaves `low` itself out.

    What lies between `low` and `least` is too small to mean anything.
    """

    low: float
    high: float
    above: bool = False
    least: float = -math.inf
    blank: ClassVar[float] = math.nan

    def read(self, raw: object, note: Note) -> float:
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            try:
                return float(raw)
            except OverflowError:
                return math.inf
        note((), f"must be a number, found {shown(raw)}")
        return self.blank

    def all_within(self, values: Sequence[Any]) -> bool:
        """Whether all of them are numbers that nothing is wrong with; spectra are long."""
        if not values or not set(map(type, values)) <= {int, float}:
            return False
        least, most = min(values), max(values)
        low = least > self.low if self.above else least >= self.low
        return low and least >= self.least and most <= self.high and not math.isnan(sum(values))

    def write(self, value: float) -> int | float:
        return int(value) if value == int(value) else value

    def faults(self, value: float, note: Note) -> None:
        if not math.isfinite(value):
            note((), f"must be a finite number, found {value}")
        elif value > self.high:
            note((), f"must be at most {self.high:g}, found {value:g}")
        elif value < self.low or (self.above and value == self.low):
            word = "above" if self.above else "at least"
            note((), f"must be {word} {self.low:g}, found {value:g}")
        elif value < self.least:
            note((), f"must be at least {self.least:g}, found {value:g}")


@dataclass(slots=True, eq=False, repr=False)
class Whole(Kind):
    """A whole number from `low` to `high`."""

    low: int
    high: int

    def read(self, raw: object, note: Note) -> int:
        if isinstance(raw, int) and not isinstance(raw, bool):
            return raw
        note((), f"must be a whole number, found {shown(raw)}")
        return self.low

    def faults(self, value: int, note: Note) -> None:
        if not self.low <= value <= self.high:
            note((), f"must be {self.low} to {self.high}, found {shown(value)}")


@dataclass(slots=True, eq=False, repr=False)
class Flag(Kind):
    """Yes or no."""

    blank: ClassVar[bool] = False

    def read(self, raw: object, note: Note) -> bool:
        if isinstance(raw, bool):
            return raw
        note((), f"must be true or false, found {shown(raw)}")
        return self.blank


@dataclass(slots=True, eq=False, repr=False)
class Day(Kind):
    """A date without a time."""

    def read(self, raw: object, note: Note) -> dt.date | None:
        if isinstance(raw, dt.date) and not isinstance(raw, dt.datetime):
            return raw
        note((), f"must be a date such as 2026-05-02 (no quotes), found {shown(raw)}")
        return None


@dataclass(slots=True, eq=False, repr=False)
class Choice(Kind):
    """One of a few words."""

    words: tuple[str, ...]
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        note((), f"must be {self._offer()}, found {shown(raw)}")
        return self.blank

    def faults(self, value: str, note: Note) -> None:
        if value not in self.words:
            note((), f"must be {self._offer()}, found {shown(value)}")

    def _offer(self) -> str:
        *most, last = self.words
        return f"one of {', '.join(most)} or {last}" if most else last


@dataclass(slots=True, eq=False, repr=False)
class Shape(Kind):
    """Text of a given form, such as an id; `example` says what it looks like."""

    form: re.Pattern[str]
    example: str
    limit: int = ID_LENGTH
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        note((), f"must be {self.example} in quotes, found {shown(raw)}")
        return self.blank

    def faults(self, value: str, note: Note) -> None:
        if len(value) > self.limit:
            note((), f"must be at most {self.limit} characters long, found {len(value)}")
        elif not self.form.fullmatch(value):
            note((), f"must be {self.example}, found {shown(value)}")


@dataclass(slots=True, eq=False, repr=False)
class WallKey(Kind):
    """A wall: n, e, s or w, or the number of an outline's edge."""

    form: ClassVar[re.Pattern[str]] = re.compile(r"[nesw]|0|[1-9][0-9]{0,3}")
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        if isinstance(raw, int) and not isinstance(raw, bool) and 0 <= raw < 10_000:  # noqa: PLR2004 - as in `form`
            return str(raw)
        note((), f'must be a wall ("n", "e", "s", "w" or an edge\'s number), found {shown(raw)}')
        return self.blank

    def write(self, value: str) -> str | int:
        return int(value) if value.isdecimal() else value

    def faults(self, value: str, note: Note) -> None:
        if not self.form.fullmatch(value):
            wanted = "n, e, s, w or the number of an outline's edge"
            note((), f"must be a wall ({wanted}), found {shown(value)}")


@dataclass(slots=True, eq=False, repr=False)
class Ref(Kind):
    """The id of an entity in `table`, an attribute of House."""

    table: str
    blank: ClassVar[str] = ""

    def read(self, raw: object, note: Note) -> str:
        if isinstance(raw, str):
            return raw
        note((), f"must be an id in quotes, found {shown(raw)}")
        return self.blank

    def refs(self, value: str) -> Iterator[tuple[Path, str, str]]:
        yield (), self.table, value

    def follow(self, value: str, change: Change) -> str | Gone:
        now = change(self.table, value)
        return GONE if now is None else now
