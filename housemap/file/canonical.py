"""A quick parser of TOML in the layout that this program writes, for large houses and decks.

tomllib takes most of a second for 10,000 paints, this a third of it. One pattern says whether a
whole text has that layout: headers, a key a line, values that mean the same in TOML and in JSON.
Whatever else is in a text is left to tomllib.
"""

import datetime as dt
import json
import re
from collections.abc import Callable
from functools import cache
from typing import Any

NUMBER = r"-?(?:0|[1-9][0-9]*+)(?:\.[0-9]++)?+(?:e[-+]?[0-9]++)?+"
STRING = r'"(?:[^"\\\x00-\x1f\x7f]|\\[n"\\])*+"'
PLAIN = rf"(?:{NUMBER}|{STRING})"
ROW = rf"\[(?:{PLAIN}(?:, {PLAIN})*+)?+\]"
LIST = rf"(?:{ROW}|\[{ROW}(?:, {ROW})*+\])"
ONE = rf"[a-z0-9_-]++ = (?:{PLAIN}|{LIST})"
TABLE = rf"\{{(?: {ONE}(?:, {ONE})*+ )?+\}}"
DATE = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
LINE = rf"[a-z0-9_-]++ = (?:{DATE}|{NUMBER}|{STRING}|{LIST}|{TABLE}|true|false)\n"
HEADER = r"\[[a-z0-9_-]++(?:\.[a-z0-9_-]++)*+\]\n"


@cache
def layout() -> re.Pattern[str]:
    return re.compile(rf"(?:{LINE}|{HEADER}|\n)*+")


@cache
def pairs() -> re.Pattern[str]:
    return re.compile(rf"([a-z0-9_-]++) = ({PLAIN}|{LIST})")


def quick_toml(text: str) -> dict[str, Any] | None:
    """Return what tomllib makes of a text in our own layout; None where it must be asked itself."""
    if not layout().fullmatch(text):
        return None
    try:
        return _parsed(text)
    except ValueError:
        # A whole number of thousands of digits, a day that no month has.
        return None


def _parsed(text: str) -> dict[str, Any] | None:
    """Return the tables of a text that has the layout; None where anything is defined twice."""
    top: dict[str, Any] = {}
    tables, defined = {id(top)}, {id(top)}
    here = top
    for line in text.split("\n"):
        if not line:
            continue
        if line[0] == "[":
            found = _table(top, line[1:-1].split("."), tables)
            if found is None or id(found) in defined:
                return None
            here = found
            defined.add(id(here))
            continue
        key, _, value = line.partition(" = ")
        read = READERS.get(value[0], _number)(value)
        if key in here or read is None:
            return None
        here[key] = read
    return top


def _table(top: dict[str, Any], keys: list[str], tables: set[int]) -> dict[str, Any] | None:
    """Return the table of a header, made where it is new; None where a value is in its way."""
    here = top
    for key in keys:
        if key not in here:
            here[key] = {}
            tables.add(id(here[key]))
        here = here[key]
        if id(here) not in tables:
            return None
    return here


def _string(text: str) -> str:
    return str(json.loads(text)) if "\\" in text else text[1:-1]


def _number(text: str) -> int | float | dt.date:
    if text.isdecimal():
        return int(text)
    if text[4:5] == "-" and text[:4].isdecimal():
        return dt.date.fromisoformat(text)
    return int(text) if text[1:].isdecimal() else float(text)


def _list(text: str) -> list[Any]:
    read: list[Any] = json.loads(text)
    return read


def _inline(text: str) -> dict[str, Any] | None:
    """Return the pairs of a table on one line; None where a key comes twice."""
    found = [(each[1], each[2]) for each in pairs().finditer(text)]
    read = {key: READERS.get(value[0], _number)(value) for key, value in found}
    return read if len(read) == len(found) else None


READERS: dict[str, Callable[[str], Any]] = {
    '"': _string, "[": _list, "{": _inline, "t": lambda _: True, "f": lambda _: False,
}  # fmt: skip
