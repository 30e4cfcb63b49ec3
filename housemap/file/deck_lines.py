"""A quick parser for decks in the layout that `dump_deck` writes.

tomllib takes a second for 10,000 paints, this a tenth of it. It knows headers of paints and a key
a line; whatever else stands in a text is left to tomllib. Numbers, strings without escapes and
lists that JSON and TOML both know mean the same in both.
"""

import json
import re
from typing import Any

HEADER = re.compile(r"\[paint\.([a-z0-9-]+)\]")
KEY = re.compile(r"([a-z_]+) = (.+)")
SPECTRUM = re.compile(r"\{ start = ([^,\s]+), step = ([^,\s]+), values = (\[[^\]]*\]) \}")
NOT_PLAIN = re.compile(r"[\x00-\x09\x0b-\x1f\x7f\ud800-\udfff]|\\[^n\"\\]")
"""Characters and escapes of which JSON and TOML differ; \\n, \\" and \\\\ are alike."""
LISTED = re.compile(r"\[[-+0-9.eE, ]*\]")

Deck = dict[str, dict[str, Any]]


class OtherLayoutError(Exception):
    """A line that only a whole TOML parser can read. Never leaves this module."""


def quick_deck(text: str) -> dict[str, Any] | None:
    """What tomllib makes of a deck in our own layout; None where it must be asked itself."""
    if NOT_PLAIN.search(text):
        return None
    top: dict[str, Any] = {}
    paints: Deck = {}
    try:
        read_lines(text, top, paints)
    except (OtherLayoutError, ValueError, RecursionError):
        return None
    return {**top, "paint": paints} if paints else top


def read_lines(text: str, top: dict[str, Any], paints: Deck) -> None:
    here = top
    for line in text.split("\n"):
        if not line:
            continue
        if line[0] == "[":
            here = opened(line, paints)
            continue
        found = KEY.fullmatch(line)
        if not found or found[1] in here:
            raise OtherLayoutError
        here[found[1]] = value(found[2])


def opened(line: str, paints: Deck) -> dict[str, Any]:
    found = HEADER.fullmatch(line)
    if not found or found[1] in paints:
        raise OtherLayoutError
    paints[found[1]] = {}
    return paints[found[1]]


def value(text: str) -> Any:
    first = text[0]
    if first == '"' or first == "-" or first.isdecimal():
        return scalar(text)
    if first == "[":
        return numbers(text)
    found = SPECTRUM.fullmatch(text)
    if not found:
        raise OtherLayoutError
    start, step, values = found.groups()
    return {"start": scalar(start), "step": scalar(step), "values": numbers(values)}


def scalar(text: str) -> Any:
    """A string or a number; JSON's own grammar refuses what TOML spells otherwise."""
    read = json.loads(text)
    if not isinstance(read, str | int | float) or isinstance(read, bool):
        raise OtherLayoutError
    return read


def numbers(text: str) -> Any:
    if not LISTED.fullmatch(text):
        raise OtherLayoutError
    return json.loads(text)
