"""A quick parser for decks in the layout that `dump_deck` writes.

tomllib takes most of a second for 10,000 paints, this a fraction of it. One pattern says whether
a whole text has that layout: headers of paints, a key a line, numbers and strings that mean the
same in TOML and in JSON. Whatever else stands in a text is left to tomllib.
"""

import json
import re
from collections.abc import Callable
from typing import Any

NUMBER = r"-?(?:0|[1-9][0-9]*+)(?:\.[0-9]++)?+(?:e[-+]?[0-9]++)?+"
STRING = r'"(?:[^"\\\x00-\x1f\x7f]|\\[n"\\])*+"'
LIST = rf"\[(?:{NUMBER}(?:, {NUMBER})*+)?+\]"
ONE = rf"[a-z-]++ = (?:{NUMBER}|{STRING}|{LIST})"
TABLE = rf"\{{ {ONE}(?:, {ONE})*+ \}}"
LINE = rf"[a-z_]++ = (?:{NUMBER}|{STRING}|{LIST}|{TABLE})\n"
LAYOUT = re.compile(rf"(?:{LINE}|\[paint\.[a-z0-9-]++\]\n|\n)*+")
PAIRS = re.compile(rf"([a-z-]++) = ({NUMBER}|{STRING}|{LIST})")
HEADER_START = len("[paint.")


def quick_deck(text: str) -> dict[str, Any] | None:
    """What tomllib makes of a deck in our own layout; None where it must be asked itself."""
    if not LAYOUT.fullmatch(text):
        return None
    try:
        return parsed(text)
    except ValueError:
        # A whole number of thousands of digits.
        return None


def parsed(text: str) -> dict[str, Any] | None:
    """The tables of a text that has the layout; None where a key or paint comes twice."""
    top: dict[str, Any] = {}
    paints: dict[str, dict[str, Any]] = {}
    here = top
    for line in text.split("\n"):
        if not line:
            continue
        if line[0] == "[":
            key, here = line[HEADER_START:-1], {}
            if key in paints:
                return None
            paints[key] = here
            continue
        key, _, value = line.partition(" = ")
        if key in here or (here is top and key == "paint"):
            return None
        read = READERS.get(value[0], number)(value)
        if read is None:
            return None
        here[key] = read
    return {**top, "paint": paints} if paints else top


def string(text: str) -> str:
    return str(json.loads(text)) if "\\" in text else text[1:-1]


def number(text: str) -> int | float:
    return int(text) if text.lstrip("-").isdecimal() else float(text)


def numbers(text: str) -> list[int | float]:
    read: list[int | float] = json.loads(text)
    return read


def inline(text: str) -> dict[str, Any] | None:
    """The pairs of a table on one line; None where a key comes twice."""
    pairs = [(found[1], found[2]) for found in PAIRS.finditer(text)]
    read = {key: READERS.get(value[0], number)(value) for key, value in pairs}
    return read if len(read) == len(pairs) else None


READERS: dict[str, Callable[[str], Any]] = {'"': string, "[": numbers, "{": inline}
