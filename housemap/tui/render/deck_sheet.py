"""A page of a deck's chart laid out in cells of the screen, and the ways from chip to chip.

Every chip of the page is shown: the chips of one cell share it, and a row of cells grows where
they need more lines.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import NamedTuple

from housemap.choose.deck.charts import Page

LABELS = 5
"""Columns for the names of the rows, at the left."""
LEAST, USUAL, MOST = 2, 5, 10
"""Columns of a cell; more where a cell holds many chips."""
GAPPED = 4
"""Columns from which cells stand apart."""
CHIP = 2
"""Columns of a chip where cells are full, a square; less by one where they do not come out."""
CROWDED = 1.25
"""How much more a column of cells holds than the mean before it is made wider."""
TALLEST = 3
"""Lines of a row of single chips."""


class Tile(NamedTuple):
    """Where a chip stands on the sheet, in cells of the screen."""

    chip: int
    x: int
    y: int
    width: int
    height: int

    @property
    def middle(self) -> float:
        return self.x + self.width / 2


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole page laid out; its first line is 0."""

    height: int = 0
    tiles: Mapping[int, Tile] = field(default_factory=dict)
    """By chip."""
    lines: Sequence[Sequence[Tile]] = ()
    """The tiles of each line, from left to right."""
    row_labels: Mapping[int, str] = field(default_factory=dict)
    """By line."""
    column_labels: Sequence[tuple[int, int, str]] = ()
    """From, columns, label."""


def sheet_of(page: Page, width: int, height: int) -> Sheet:
    """Lay a page out for a chart of so many columns and lines."""
    if not page.cells:
        return Sheet()
    widths = column_widths(page, width - LABELS)
    starts = [LABELS + sum(widths[:i]) for i in range(len(widths))]
    base = max(min(height // len(page.rows), TALLEST), 1)
    tiles: dict[int, Tile] = {}
    labels: dict[int, str] = {}
    y = 0
    for row, label in enumerate(page.rows):
        cells = [(c, page.cells[row, c]) for c in range(len(widths)) if (row, c) in page.cells]
        tall = max(base, *(lines_for(chips, usable(widths[c])) for c, chips in cells), 0)
        for column, chips in cells:
            box = Tile(-1, starts[column], y, usable(widths[column]), tall)
            tiles.update((tile.chip, tile) for tile in shared(box, chips))
        labels[y] = label
        y += tall
    columns = [*zip(starts, widths, page.columns, strict=True)]
    return Sheet(y, tiles, lines_of(tiles.values(), y), labels, columns)


def usable(width: int) -> int:
    """Columns of a cell that chips take."""
    return width - 1 if width >= GAPPED else width


def lines_for(chips: Sequence[int], width: int) -> int:
    return ceil(len(chips) / per_line(width))


def per_line(width: int) -> int:
    """Chips on one line of a cell."""
    return (width + 1) // CHIP


def column_widths(page: Page, room: int) -> list[int]:
    """Columns of the screen for each column of the page, more where cells hold many chips."""
    count = len(page.columns)
    most = [max((len(c) for (_, at), c in page.cells.items() if at == i), default=0)
            for i in range(count)]  # fmt: skip
    widths = [min(max(room // count, LEAST), USUAL)] * count
    while sum(widths) + CHIP <= room:
        lines = [n / per_line(usable(w)) for n, w in zip(most, widths, strict=True)]
        if max(lines) <= max(1.0, CROWDED * sum(lines) / count):
            break
        widths[lines.index(max(lines))] += CHIP
    spare = min((room - sum(widths)) // count, max(MOST - min(widths), 0))
    return [max(width, min(width + spare, MOST)) for width in widths]


def shared(box: Tile, chips: Sequence[int]) -> Iterator[Tile]:
    """The box divided among chips: line by line, as alike as can be."""
    count = len(chips)
    lines = min(box.height, lines_for(chips, box.width))
    each = ceil(count / lines)
    for line, start in enumerate(range(0, count, each)):
        top, bottom = (box.height * i // lines for i in (line, line + 1))
        here = chips[start : start + each]
        edges = [box.x + box.width * i // len(here) for i in range(len(here) + 1)]
        for chip, left, right in zip(here, edges, edges[1:], strict=False):
            yield Tile(chip, left, box.y + top, right - left, bottom - top)


def lines_of(tiles: Iterable[Tile], height: int) -> list[list[Tile]]:
    """The tiles of each line; those of a row come from left to right."""
    lines: list[list[Tile]] = [[] for _ in range(height)]
    for tile in tiles:
        for y in range(tile.y, tile.y + tile.height):
            lines[y].append(tile)
    return lines


# Moving about


def beside(sheet: Sheet, chip: int, step: int) -> int:
    """The next chip to the right (above 0) or left on its line; itself at the end."""
    tile = sheet.tiles[chip]
    line = sheet.lines[tile.y + (tile.height - 1) // 2]
    at = line.index(tile) + step
    return line[at].chip if 0 <= at < len(line) else chip


def above(sheet: Sheet, chip: int, step: int) -> int:
    """The nearest chip of the next line with any, downward (above 0) or up; itself at the end."""
    tile = sheet.tiles[chip]
    y = tile.y + tile.height if step > 0 else tile.y - 1
    while 0 <= y < sheet.height:
        if sheet.lines[y]:
            return min(sheet.lines[y], key=lambda other: abs(other.middle - tile.middle)).chip
        y += step
    return chip


def chip_at(sheet: Sheet, x: int, y: int) -> int | None:
    """The chip at a place of the sheet."""
    line = sheet.lines[y] if 0 <= y < sheet.height else ()
    return next((tile.chip for tile in line if tile.x <= x < tile.x + tile.width), None)
