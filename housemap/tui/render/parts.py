"""The list of what has a form: the kind at the left, its name, and what tells it from others."""

from collections.abc import Sequence

from rich.cells import cell_len

from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.text import cut, fit, plain
from housemap.workbench.forms.targets import Part

GROUP_COLUMNS = 10
LEAST_WORDS = 4
"""Columns below which words say nothing."""


def part_row(part: Part, line: Line) -> Row:
    """One line of the list."""
    lead = (line.mark(), line.run(f"{fit(part.group, GROUP_COLUMNS - 1)} ", quiet=True))
    room = line.width - GROUP_COLUMNS - 4 - cell_len(plain(part.title))
    words = cut(part.words, room, line.look.glyphs.more) if room >= LEAST_WORDS else ""
    return line.row(lead, part.title, words, quiet=part.is_new)


def parts_head(title: str, scope: str, look: Look, width: int) -> Sequence[Row]:
    line = Line(look, width)
    return [line.row((line.run(" "),), title, scope, strong=True), Page(look, width).blank()]


def nothing_rows(look: Look, width: int) -> Sequence[Row]:
    return [*Page(look, width).text("There is nothing here yet.", quiet=True)]
