"""Printing that several commands share."""

import json
import os
import re
import shutil
import sys
import textwrap
from argparse import Namespace
from collections.abc import Callable, Iterable, Mapping, Sequence
from math import isfinite
from typing import Any

from housemap.file.reader import printable

LEAST_COLUMNS = 20
"""Fewer are no place for words: then the line runs on."""

FORMAT = 1
"""Of the JSON of all commands: raised when a key goes or changes its meaning."""
DIGITS = 6
_ESCAPES = re.compile(r"\x1b\[[0-9;]*m")


def print_json(value: Mapping[str, Any] | Sequence[Mapping[str, Any]]) -> None:
    """Print an object, or a list of them, each with the format of its keys, floats rounded.

    In ASCII, which every encoding of standard output can carry.
    """
    if isinstance(value, Mapping):
        whole: object = {"format": FORMAT, **value}
    else:
        whole = [{"format": FORMAT, **each} for each in value]
    print(json.dumps(_rounded(whole), indent=2))


def show(
    arguments: Namespace, value: Callable[[], Mapping[str, Any]], lines: Iterable[str]
) -> None:
    """Print an answer: as JSON where that was asked for, else as lines for people."""
    if arguments.json:
        print_json(value())
    else:
        print("\n".join(lines))


def picked(value: object, *names: str) -> dict[str, Any]:
    """Attributes of a value by their names, as JSON has them."""
    return {name: getattr(value, name) for name in names}


def note(arguments: Namespace, text: str) -> None:
    """Print a line, cleaned, beside the answer, unless nothing but JSON is to be printed."""
    if not arguments.json:
        print(printable(text), file=sys.stderr)


def swatch(srgb_hex: str) -> str:
    """Two columns of a colour, where standard output is a terminal that shows colours."""
    if not sys.stdout.isatty() or os.environ.get("NO_COLOR") or not srgb_hex:
        return ""
    red, green, blue = (int(srgb_hex[at : at + 2], 16) for at in (1, 3, 5))
    return f"\x1b[48;2;{red};{green};{blue}m  \x1b[0m "


def _rounded(value: Any) -> Any:
    """Every float in a value of lists, tuples and dicts, rounded; JSON has no infinity."""
    if isinstance(value, float):
        return round(value, DIGITS) if isfinite(value) else None
    if isinstance(value, dict):
        return {key: _rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(inner) for inner in value]
    return value


def table(rows: Iterable[Sequence[str]]) -> Iterable[str]:
    """Rows as lines with aligned columns; on a terminal the last one is wrapped, else runs free."""
    lines = [tuple(row) for row in rows]
    if not lines:
        return
    widths = [max(map(_width, column)) for column in zip(*lines, strict=True)][:-1]
    before = sum(widths) + 2 * len(widths)
    for *cells, last in lines:
        padded = (cell + " " * (w - _width(cell)) for cell, w in zip(cells, widths, strict=True))
        first, *others = _wrapped(last, before)
        yield "  ".join((*padded, first)).rstrip()
        yield from (" " * before + other for other in others)


def _width(cell: str) -> int:
    return len(_ESCAPES.sub("", cell))


def _wrapped(text: str, before: int) -> Sequence[str]:
    if not sys.stdout.isatty():
        return [text]
    room = shutil.get_terminal_size().columns - before
    return textwrap.wrap(text, room) or [""] if room >= LEAST_COLUMNS else [text]
