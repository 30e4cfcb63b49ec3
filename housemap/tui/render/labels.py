"""What stands written in a room on the map: its name, LRV, findings and paint, as room allows."""

from collections.abc import Iterator

from rich.cells import cell_len

from housemap.tui.render.canvas import Stamp
from housemap.tui.render.cells import RoomInks
from housemap.tui.render.geometry import Box
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink
from housemap.tui.render.scene import Block
from housemap.tui.render.text import cut, plain, wrap

LEAST_NAME = 3
"""Columns below which a cut name says nothing."""


Label = tuple[list[str], list[str]]
"""The lines of the name, and those below it."""


def label_of(block: Block, columns: int, rows: int, look: Look) -> Label:
    """What is most needed of a label, each line within `columns`."""
    if rows == 1:
        return [_one_line(block, columns, look)], []
    names = _name_lines(block, columns, rows - 1, look)
    below = [facts] if (facts := _facts(block, columns, look)) else []
    last = plain(block.lacks or block.paint_name)
    if rows > len(names) + len(below) and 0 < cell_len(last) <= columns:
        below.append(last)
    return names, below


def _name_lines(block: Block, columns: int, rows: int, look: Look) -> list[str]:
    """The name on one line, or on two where that saves it from being cut; ticked if that fits."""
    name = block.name
    if block.ticked and len(wrap(f"{name} {look.glyphs.tick}", columns)) <= min(rows, 2):
        name = f"{name} {look.glyphs.tick}"
    lines = wrap(name, columns)
    if len(lines) == 2 and rows >= 2 and max(map(cell_len, name.split())) <= columns:  # noqa: PLR2004 - two
        return lines
    return [cut(name, columns, look.glyphs.more)]


def _facts(block: Block, columns: int, look: Look) -> str:
    """LRV, findings and what samples came to, as far as they fit whole; findings go first."""
    mark, lrv, tried = (
        mark_text(block, look),
        lrv_text(block, columns),
        look.glyphs.tried[block.tried],
    )
    both = f"{mark} {tried}".strip()
    wordings = (
        f"{lrv} {both}".strip(),
        f"{lrv_text(block, 0)} {both}".strip(),
        both,
        f"{lrv} {mark}".strip(),
        f"{lrv_text(block, 0)} {mark}".strip(),
        mark,
        lrv,
    )
    return next((text for text in wordings if text and cell_len(text) <= columns), "")


def _one_line(block: Block, columns: int, look: Look) -> str:
    """Name and mark; where that is too long the mark's sign alone, where that is too, the sign.

    Ticked where all of it fits.
    """
    whole = " ".join(filter(None, (plain(block.name), look.glyphs.tick, mark_text(block, look))))
    if block.ticked and cell_len(whole) <= columns:
        return whole
    if block.mark is None:
        return cut(block.name, columns, look.glyphs.more)
    sign = look.glyphs.marks[block.mark.severity]
    for mark in (f" {mark_text(block, look)}", sign):
        left = columns - cell_len(mark)
        if left >= min(LEAST_NAME, cell_len(block.name)):
            return f"{cut(block.name, left, look.glyphs.more)}{mark}"
    return sign


def mark_text(block: Block, look: Look) -> str:
    """A sign, a letter and a number, as in "▲W2"; empty where nothing was found."""
    mark = block.mark
    if mark is None:
        return ""
    return f"{look.glyphs.marks[mark.severity]}{mark.letter}{mark.count}"


def lrv_text(block: Block, columns: int) -> str:
    if block.lrv is None:
        return ""
    wide = f"LRV {block.lrv:.0f}"
    return wide if columns >= cell_len(wide) else f"{block.lrv:.0f}"


def label_stamps(
    block: Block, box: Box, inks: RoomInks, look: Look, *, chosen: bool
) -> Iterator[Stamp]:
    """The label in the middle of its box; a chosen room's name stands in reversed colours."""
    names, below = label_of(block, box.columns, box.rows, look)
    top = box.row + (box.rows - len(names) - len(below)) // 2
    name_ink = _chosen_ink(inks) if chosen else Ink(inks.text, inks.body, bold=True)
    for i, line in enumerate((*names, *below)):
        named = i < len(names)
        padded = named and chosen and cell_len(line) + 2 <= box.columns
        text = f" {line} " if padded else line
        left = box.column + (box.columns - cell_len(text)) // 2
        yield Stamp(left, top + i, text, name_ink if named else Ink(inks.text, inks.body))
    if look.blocks and box.rows > len(names) + len(below):
        yield from _strips(block, box, top + len(names) + len(below), inks)


STRIP = "▂▂▂▂"


def _strips(block: Block, box: Box, row: int, inks: RoomInks) -> Iterator[Stamp]:
    """Under the label: the ceiling, then the doors, where they differ from the trim."""
    others = (block.coat(surface).colour for surface in block.unlike_trim)
    colours = [colour for colour in others if colour]
    left = box.column + (box.columns - len(colours) * len(STRIP)) // 2
    if left >= box.column:
        for i, colour in enumerate(colours):
            yield Stamp(left + i * len(STRIP), row, STRIP, Ink(colour, inks.body))


def _chosen_ink(inks: RoomInks) -> Ink:
    if inks.body is None:
        return Ink(bold=True, reverse=True)
    return Ink(inks.body, inks.text, bold=True)
