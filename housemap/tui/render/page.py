"""Rows of text on a panel or a page: titles, headings, lines, swatches."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink, Row, Run
from housemap.tui.render.scene import Coat
from housemap.tui.render.text import cut, wrap

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
        yield self.line(text, quiet=True, tidy=tidy)

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

    def text(self, text: str, *, quiet: bool = False, indent: int = 0) -> Iterator[Row]:
        for line in wrap(text, self.inner - indent):
            yield self.line(line, quiet=quiet, indent=indent)

    def swatch(self, coat: Coat) -> Run:
        return self.patch(coat, SWATCH)

    def swatches(self, coats: Sequence[Coat]) -> Row:
        """A swatch that shows several coats side by side, or one where they are alike."""
        each = list(dict.fromkeys(coats))[:SWATCH]
        ends = [SWATCH * i // len(each) for i in range(len(each) + 1)]
        return tuple(
            self.patch(coat, end - start)
            for coat, (start, end) in zip(each, pairwise(ends), strict=True)
        )

    def patch(self, coat: Coat, columns: int) -> Run:
        """A coat over so many columns."""
        glyphs, greys = self.look.glyphs, self.look.greys
        if coat.state == "known" and self.look.colour:
            return Run(glyphs.swatch * columns, Ink(None, coat.colour))
        char = {"bare": glyphs.hatch, "awaited": glyphs.dots, "known": " "}[coat.state]
        return Run(char * columns, Ink(greys.quiet, greys.bare))
