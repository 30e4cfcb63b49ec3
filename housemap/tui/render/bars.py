"""The single lines at the top and bottom of a screen."""

from collections.abc import Sequence
from itertools import accumulate

from rich.cells import cell_len

from housemap.tui.render.cells import Ink, Row, Run, cut, width_of
from housemap.tui.render.look import Look

Item = tuple[str, str]
"""A key and its word."""

GAP = "  "
LEAST_NAME = 8
"""Columns of a house's name at the least."""
SCREEN_IS_NOT_PAINT = "A screen is a poor judge of paint: decide by a sample."


def key_bar(items: Sequence[Item], width: int, look: Look, always: Sequence[Item] = ()) -> Row:
    """As many keys as fit, in their order, before those that are always there."""
    left = width - sum(map(_width, always))
    kept = [*fitting(items, left), *always]
    runs: list[Run] = []
    for key, word in kept:
        runs += [Run(f" {key}", _ink(look, strong=True)), Run(f" {word} ", _ink(look))]
    space = max(width - sum(map(_width, kept)), 0)
    return *runs, Run(" " * space, _ink(look))


def fitting(items: Sequence[Item], width: int) -> list[Item]:
    """The first of them for which there is room."""
    ends = accumulate(map(_width, items))
    return [item for item, end in zip(items, ends, strict=True) if end <= width]


def in_rows(items: Sequence[Item], width: int) -> list[list[Item]]:
    """All of them, in as many rows as they need."""
    rows: list[list[Item]] = [[]]
    for item in items:
        if rows[-1] and len(fitting([*rows[-1], item], width)) <= len(rows[-1]):
            rows.append([])
        rows[-1].append(item)
    return rows


def _width(item: Item) -> int:
    return cell_len(item[0]) + cell_len(item[1]) + 3


def two_ends(left: Row, right: str, width: int, look: Look) -> Row:
    """A row with runs at its left and text at its right, cut where both do not fit."""
    used = sum(cell_len(run.text) for run in left)
    right = cut(right, max(width - used - 2, 0), look.glyphs.more)
    space = max(width - used - cell_len(right) - 1, 0)
    return *left, Run(" " * space, _ink(look)), Run(f"{right} ", _ink(look))


def head_line(name: str, notes: Sequence[str], right: Sequence[str], width: int, look: Look) -> Row:
    """The house's name, what is to be known of its file, and where the map stands.

    Of what stands at the right the last matters most: where not all fits, first the name is cut,
    then the last loses its neighbours.
    """
    noted, kept = [Run(f"{GAP}{note}", _ink(look)) for note in notes], [*right]
    spare, least = width - width_of(noted) - 3, min(LEAST_NAME, cell_len(name))
    while len(kept) > 1 and spare - cell_len(", ".join(kept)) < least:
        del kept[-2]
    room = min(spare - cell_len(", ".join(kept)), width // 2)
    shown = cut(name, max(room, LEAST_NAME), look.glyphs.more)
    left = [Run(f" {shown}", _ink(look, strong=True)), *noted]
    return two_ends(tuple(left), ", ".join(kept), width, look)


def first_fitting(texts: Sequence[str], width: int) -> str:
    """The first that fits into a status line, else the last of them."""
    return next((each for each in texts if cell_len(each) + 4 <= width), texts[-1])


def status_line(text: str, right: str, width: int, look: Look, *, loud: bool = False) -> Row:
    if cell_len(text) + cell_len(right) + 4 > width:
        right = ""
    room = max(width - cell_len(right) - 4, 10)
    left = (Run(f" {cut(text, room, look.glyphs.more)}", _ink(look, strong=loud)),)
    return two_ends(left, right, width, look)


def _ink(look: Look, *, strong: bool = False) -> Ink:
    greys = look.greys
    return Ink(greys.strong if strong else greys.quiet, greys.bar, bold=strong)
