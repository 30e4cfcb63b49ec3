"""Rows of text on a panel or a page: titles, headings, lines, swatches."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from rich.cells import cell_len

from housemap.tui.render.cells import Hex, Ink, Row, Run, cut, fit, wrap
from housemap.tui.render.look import Look

if TYPE_CHECKING:  # slow to import, and not needed by the first frame
    from housemap.tui.render.shades import Coat

NARROW = 40
"""Columns below which a page saves space."""

SWATCH = 4
"""Columns of a swatch."""


@dataclass(frozen=True, slots=True)
class Page:
    """Rows of one width on a panel, with one column free at either side."""

    look: Look
    width: int

    @property
    def inner(self) -> int:
        return max(self.width - 2, 1)

    def blank(self) -> Row:
        return (self.run(" " * self.width, quiet=True),)

    def run(self, text: str, *, quiet: bool = False, strong: bool = False) -> Run:
        greys = self.look.greys
        grey = greys.strong if strong else greys.quiet if quiet else greys.text
        return Run(text, Ink(grey, greys.panel, bold=strong))

    def title(self, text: str) -> Iterator[Row]:
        yield self.line(cut(text, self.inner, self.look.glyphs.more), strong=True)

    @property
    def narrow(self) -> bool:
        return self.width < NARROW

    def heading(self, text: str, *, tidy: bool = True) -> Iterator[Row]:
        """A quiet line with space above it, where there is space to spare."""
        if not self.narrow:
            yield self.blank()
        for line in wrap(text, self.inner) if tidy else [text]:
            yield self.line(line, quiet=True, tidy=tidy)

    @property
    def more(self) -> str:
        """Stands for what was cut."""
        return self.look.glyphs.more

    def line(
        self, text: str, *, quiet: bool = False, strong: bool = False, indent: int = 0,
        tidy: bool = True,
    ) -> Row:  # fmt: skip
        """One row; a text that is not `tidy` is ours and keeps its spaces."""
        room = self.inner - indent
        shown = cut(text, room, self.more) if tidy else text[:room]
        return (self.run(" " * (indent + 1)), self.run(shown, quiet=quiet, strong=strong))

    def text(
        self, text: str, *, quiet: bool = False, strong: bool = False, indent: int = 0
    ) -> Iterator[Row]:
        for line in wrap(text, self.inner - indent):
            yield self.line(line, quiet=quiet, strong=strong, indent=indent)

    def swatch(self, coat: "Coat") -> Run:
        return self.patch(coat, SWATCH)

    def swatches(self, coats: Sequence["Coat"]) -> Row:
        """A swatch that shows several coats side by side, or one where they are alike."""
        each = list(dict.fromkeys(coats))[:SWATCH]
        ends = [SWATCH * i // len(each) for i in range(len(each) + 1)]
        return tuple(
            self.patch(coat, end - start)
            for coat, (start, end) in zip(each, pairwise(ends), strict=True)
        )

    def patch(self, coat: "Coat", columns: int) -> Run:
        """A coat over so many columns."""
        glyphs, greys = self.look.glyphs, self.look.greys
        if coat.state == "known" and self.look.colour:
            return Run(glyphs.swatch * columns, Ink(None, coat.colour))
        char = {"bare": glyphs.hatch, "awaited": glyphs.dots, "known": " "}[coat.state]
        return Run(char * columns, Ink(greys.quiet, greys.bare))


# Rows of a list in which one entry is chosen, and swatches that touch.


@dataclass(frozen=True, slots=True)
class Line:
    """Makes the rows of one entry, `width` cells wide, on the ground of chosen ones or not."""

    look: Look
    width: int
    chosen: bool = False

    @property
    def ground(self) -> Hex | None:
        greys = self.look.greys
        return greys.chosen if self.chosen else greys.panel

    def run(self, text: str, *, quiet: bool = False, strong: bool = False) -> Run:
        greys = self.look.greys
        grey = greys.strong if strong else greys.quiet if quiet and not self.chosen else greys.text
        return Run(text, Ink(grey, self.ground, bold=strong))

    def mark(self) -> Run:
        """What tells a chosen entry from the others without colour."""
        return self.run(self.look.glyphs.here if self.chosen else " ", strong=True)

    def whole(
        self, lead: Sequence[Run], left: str, right: str, *, strong: bool = False,
        quiet: bool = False,
    ) -> Row:  # fmt: skip
        """As `row`, but without the text at the right where the other would be cut for it."""
        room = self.width - sum(cell_len(run.text) for run in lead) - 1
        fits = cell_len(left) + cell_len(right) < room
        return self.row(lead, left, right if fits else "", strong=strong, quiet=quiet)

    def row(
        self, lead: Sequence[Run], left: str, right: str = "", *,
        strong: bool = False, quiet: bool = False,
    ) -> Row:  # fmt: skip
        """Runs, then text cut to what is left of the row, then text at its right end."""
        room = self.width - sum(cell_len(run.text) for run in lead) - 1
        right = cut(right, room, self.look.glyphs.more)
        space = room - cell_len(right) - (1 if right else 0)
        text = cut(left, max(space, 0), self.look.glyphs.more)
        return (
            *lead,
            self.run(fit(text, room - cell_len(right)), strong=strong, quiet=quiet),
            self.run(f"{right} ", strong=strong, quiet=quiet),
        )


def title_row(title: str, told: str, line: Line) -> Row:
    """A title, and at the right what is told of the list below."""
    room = line.width - cell_len(told) - 3
    left = (line.run(" "), line.run(cut(title, room, line.look.glyphs.more), strong=True))
    space = line.width - sum(cell_len(run.text) for run in left) - cell_len(told) - 1
    return *left, line.run(" " * max(space, 0)), line.run(f"{told} ", quiet=True)


def patch(coat: "Coat", columns: int, look: Look) -> Run:
    """A swatch of so many columns."""
    glyphs, greys = look.glyphs, look.greys
    if coat.state == "known" and look.colour:
        return Run(" " * columns, Ink(None, coat.colour))
    char = {"bare": glyphs.hatch, "awaited": glyphs.dots, "known": " "}[coat.state]
    return Run(char * columns, Ink(greys.quiet, greys.bare))


def shares(count: int, columns: int) -> list[int]:
    """Columns for so many parts that touch, as alike as can be."""
    return [columns * (i + 1) // count - columns * i // count for i in range(count)]


def side_by_side(coats: Sequence["Coat"], width: int, look: Look) -> Row:
    """Colours that touch, of one size, with one column of the neutral panel at either end."""
    margin = Run(" ", Ink(None, look.greys.panel))
    sizes = shares(len(coats), max(width - 2, len(coats)))
    return (margin, *(patch(c, n, look) for c, n in zip(coats, sizes, strict=True)), margin)


def names_below(names: Sequence[str], width: int, look: Look, *, quiet: bool = False) -> Row:
    """Each name under its own swatch."""
    line = Line(look, width)
    sizes = shares(len(names), max(width - 2, len(names)))
    cells = (f"{fit(name, n - 1)} " for name, n in zip(names, sizes, strict=True))
    return line.run(" "), *(line.run(cell, quiet=quiet) for cell in cells), line.run(" ")


def scrollbar(y: int, height: int, top: int, count: int, look: Look) -> Run:
    """One cell of a bar that shows which part of a list of `count` rows is in view."""
    if count <= height:
        return Run(" ", Ink(None, look.greys.panel))
    size = max(height * height // count, 1)
    start = (height - size) * top // max(count - height, 1)
    within = start <= y < start + size
    if not look.colour:
        return Run("#" if within else " ", Ink())
    return Run(" ", Ink(None, look.greys.faint if within else look.greys.panel))


def signed(number: float, look: Look, digits: int = 0) -> str:
    """With a sign, but where it rounds to 0."""
    text = f"{number:+.{digits}f}"
    if float(text) == 0.0:
        return text[1:]
    return text.replace("-", look.glyphs.minus)


# Which part of some rows is on show.


def row_on_show(rows: Sequence[Row], top: int, y: int, height: int, look: Look) -> Row:
    """Line `y` of `height` lines that show the rows from `top` on; the last tells of more."""
    at = y + top
    if y == height - 1 and at < len(rows) - 1:
        words = f" {look.glyphs.down} {len(rows) - at} more lines"
        return (Run(words, Ink(look.greys.quiet, look.greys.panel)),)
    return rows[at] if at < len(rows) else ()
