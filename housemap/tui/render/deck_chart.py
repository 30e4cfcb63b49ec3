"""The rows of a deck's chart: only the lines in view are ever made."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from housemap.tui.render.deck_sheet import LABELS, Sheet, usable
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.runs import Ink, Row, Run, width_of
from housemap.tui.render.scene import Coat

Coats = Callable[[int], Coat]
"""The colour of each chip, as it is shown."""
WIDEST = 3
"""Columns of a page in the strip of pages."""


@dataclass(frozen=True, slots=True)
class Showing:
    """How a sheet is shown."""

    look: Look
    width: int
    coats: Coats
    marks: Mapping[int, str] = field(default_factory=dict)
    """Characters on the chips that are chosen or picked."""

    @property
    def ground(self) -> Ink:
        return Ink(self.look.greys.text, self.look.greys.panel)

    @property
    def quiet(self) -> Ink:
        return Ink(self.look.greys.quiet, self.look.greys.panel)

    def filled(self, runs: Sequence[Run]) -> Row:
        """The runs, with ground after them."""
        used = sum(len(run.text) for run in runs)
        return (*runs, Run(" " * max(self.width - used, 0), self.ground))


def chart_row(sheet: Sheet, y: int, showing: Showing) -> Row:
    """A line of the sheet."""
    runs = [Run(f"{sheet.row_labels.get(y, ''):>{LABELS - 1}} ", showing.ground)]
    x = LABELS
    for tile in sheet.lines[y]:
        if tile.x > x:
            runs.append(Run(" " * (tile.x - x), showing.ground))
        mark = showing.marks.get(tile.chip, "") if y == tile.y + (tile.height - 1) // 2 else ""
        runs.append(chip_run(showing.coats(tile.chip), mark, tile.width, showing.look))
        x = tile.x + tile.width
    return showing.filled(runs)


def chip_run(coat: Coat, mark: str, width: int, look: Look) -> Run:
    text = f"{mark[:width]:^{width}}"
    if coat.colour is None or not look.colour:
        filled = text.replace(" ", "#" if coat.state == "known" else look.glyphs.dots)
        return Run(filled, Ink(look.greys.text, look.greys.bare, bold=bool(mark)))
    if not mark:
        return Run(text, Ink(None, coat.colour))
    return Run(text, Ink(text_on(coat.colour), coat.colour, bold=bool(mark)))


def column_row(sheet: Sheet, showing: Showing) -> Row:
    """The names of the columns, as many as have room."""
    text = ""
    for start, wide, label in sheet.column_labels:
        at = start + max((usable(wide) - len(label)) // 2, 0)
        if not text or at > len(text):
            text = f"{text:<{at}}{label}"
    return showing.filled([Run(text[: showing.width], showing.ground)])


def strip_row(
    labels: Sequence[str], coats: Sequence[Coat], chosen: int, axes: str, showing: Showing
) -> Row:
    """All pages side by side, the chosen one with its name on it; then what runs where.

    Where not all have room, those round the chosen one.
    """
    name = f" {labels[chosen]} "
    room = max(showing.width - LABELS - len(name), 0)
    each = min(max(room // max(len(labels) - 1, 1), 1), WIDEST)
    first = min(max(chosen - room // 2, 0), max(len(labels) - 1 - room, 0))
    runs = [Run(" " * LABELS, showing.ground)]
    for page in range(first, min(first + room + 1, len(labels)) if len(labels) > 1 else 0):
        wide, mark = (len(name), name) if page == chosen else (each, "")
        runs.append(chip_run(coats[page], mark, wide, showing.look))
    left = showing.width - width_of(runs) - 2
    if len(axes) <= left:
        runs.append(Run(f"{axes:>{left}}", showing.quiet))
    return showing.filled(runs)
