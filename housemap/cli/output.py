"""Printing that several commands share."""

import json
from collections.abc import Iterable, Sequence
from typing import Any


def print_json(value: object) -> None:
    print(json.dumps(value, indent=2, ensure_ascii=False))


def rounded(value: Any, digits: int = 6) -> Any:
    """Every float in a value of lists, tuples and dicts, rounded for reading."""
    if isinstance(value, float):
        return round(value, digits)
    if isinstance(value, dict):
        return {key: rounded(inner, digits) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [rounded(inner, digits) for inner in value]
    return value


def table(rows: Iterable[Sequence[str]]) -> Iterable[str]:
    """Rows as lines with aligned columns; the last column runs free."""
    lines = [tuple(row) for row in rows]
    if not lines:
        return
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)][:-1]
    for *cells, last in lines:
        padded = (f"{cell:{width}}" for cell, width in zip(cells, widths, strict=True))
        yield "  ".join((*padded, last)).rstrip()
