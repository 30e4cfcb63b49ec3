"""Rows of a list in which one entry is chosen, and swatches that touch."""

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from housemap.tui.render.look import Look
from housemap.tui.render.runs import Hex, Ink, Row, Run
from housemap.tui.render.scene import Coat
from housemap.tui.render.text import cut, fit


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


def patch(coat: Coat, columns: int, look: Look) -> Run:
    """A swatch of so many columns."""
    glyphs, greys = look.glyphs, look.greys
    if coat.state == "known" and look.colour:
        return Run(" " * columns, Ink(None, coat.colour))
    char = {"bare": glyphs.hatch, "awaited": glyphs.dots, "known": " "}[coat.state]
    return Run(char * columns, Ink(greys.quiet, greys.bare))


def shares(count: int, columns: int) -> list[int]:
    """Columns for so many parts that touch, as alike as can be."""
    return [columns * (i + 1) // count - columns * i // count for i in range(count)]


def side_by_side(coats: Sequence[Coat], width: int, look: Look) -> Row:
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
