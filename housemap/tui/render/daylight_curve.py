"""The average daylight factor against the LRV of the walls, drawn."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

from housemap.tui.render.canvas import Cell, Stamp, lay_over, runs_of
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Ink, Row
from housemap.tui.render.scene import Coat
from housemap.tui.render.selection import BRAILLE, BRAILLE_DOTS

FROM_LRV, TO_LRV = 30.0, 80.0
"""What is drawn at least."""
AXIS = 5
"""Columns before the curve."""
ROWS = 9
STEP = 0.5
"""Percent; the scale starts and ends at a multiple of it."""

Place = tuple[int, int]
"""Column and row."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A paint on the curve."""

    lrv: float
    percent: float
    coat: Coat
    sign: str = ""
    """Drawn on the curve; empty for a tick alone."""


@dataclass(frozen=True, slots=True)
class Curve:
    """Everything that is drawn."""

    percent_at: Callable[[Sequence[float]], Sequence[float]]
    marks: Sequence[Mark]
    limits: Mapping[str, float]
    """Percent, by the words that stand at its line."""


@dataclass(frozen=True, slots=True)
class _Scale:
    """From LRV and percent to columns and rows; a braille cell has 2 x 4 dots."""

    low: float
    high: float
    foot: float
    top: float
    columns: int

    def column(self, lrv: float) -> int:
        return min(int(self._part(lrv) * self.columns), self.columns - 1)

    def row(self, percent: float) -> int:
        return self.dot_row(percent) // 4

    def dot_row(self, percent: float) -> int:
        return min(
            max(int((self.top - percent) / (self.top - self.foot) * ROWS * 4), 0), ROWS * 4 - 1
        )

    def lrv_at_dot(self, dot: int) -> float:
        return self.low + (self.high - self.low) * (dot + 0.5) / (2 * self.columns)

    def _part(self, lrv: float) -> float:
        return (lrv - self.low) / (self.high - self.low)


def curve_rows(curve: Curve, page: Page) -> Iterator[Row]:
    """The curve with its axes, the limits as lines across, and the paints below."""
    scale = _scale(curve, max(page.inner - AXIS - 1, 10))
    cells = [_blank(page, scale.columns) for _ in range(ROWS)]
    stamps = [*_limits(curve, scale, page), *_line(curve, scale, page), *_signs(curve, scale, page)]
    for row in range(ROWS):
        drawn = lay_over(cells[row], (s for s in stamps if s.row == row))
        yield page.run(f" {_height(row, scale):>{AXIS - 1}}"), *runs_of(drawn)
    yield page.run(" " * AXIS), page.run(_axis(scale, page), quiet=True)
    yield page.run(" " * AXIS), *_ticks(curve, scale, page)
    yield page.run(" " * AXIS), page.run(_numbers(scale), quiet=True)


def _scale(curve: Curve, columns: int) -> _Scale:
    every = [mark.lrv for mark in curve.marks]
    low = min(FROM_LRV, *(10.0 * floor(lrv / 10.0) for lrv in every), FROM_LRV)
    high = max(TO_LRV, *(10.0 * ceil(lrv / 10.0) for lrv in every), TO_LRV)
    drawn = [*curve.percent_at([low, high]), *curve.limits.values()]
    foot, top = STEP * floor(min(drawn) / STEP), STEP * (floor(max(drawn) / STEP) + 1)
    return _Scale(low, high, foot, top, columns)


def _blank(page: Page, columns: int) -> list[Cell]:
    return [(" ", page.look.ink(page.look.greys.text))] * columns


def _height(row: int, scale: _Scale) -> str:
    """Percent at the head, middle and foot of the scale."""
    part = {0: 0.0, ROWS // 2: 0.5, ROWS - 1: 1.0}.get(row)
    return "" if part is None else f"{scale.top - part * (scale.top - scale.foot):.2f}"


def _limits(curve: Curve, scale: _Scale, page: Page) -> Iterator[Stamp]:
    greys, glyphs = page.look.greys, page.look.glyphs
    faint, quiet = page.look.ink(greys.faint), page.look.ink(greys.quiet)
    for words, percent in curve.limits.items():
        row = scale.row(percent)
        yield Stamp(0, row, glyphs.lines[10] * scale.columns, faint)
        yield Stamp(max(scale.columns - len(words) - 2, 0), row, f" {words} ", quiet)


def _line(curve: Curve, scale: _Scale, page: Page) -> Iterator[Stamp]:
    """The curve itself, without gaps where it is steep."""
    heights = curve.percent_at([scale.lrv_at_dot(dot) for dot in range(2 * scale.columns)])
    dots = [scale.dot_row(percent) for percent in heights]
    bits: dict[Place, int] = {}
    for dot, row in enumerate(dots):
        before = dots[max(dot - 1, 0)]
        for each in range(min(row, before + 1), max(row, before - 1) + 1):
            place = dot // 2, each // 4
            bits[place] = bits.get(place, 0) | BRAILLE_DOTS[each % 4][dot % 2]
    ink = page.look.ink(page.look.greys.strong)
    for (column, row), bit in bits.items():
        yield Stamp(column, row, "*" if page.look.glyphs.ascii else chr(BRAILLE + bit), ink)


def _signs(curve: Curve, scale: _Scale, page: Page) -> Iterator[Stamp]:
    """Marked paints: a sign on the curve, and a thread down to the axis."""
    greys, glyphs = page.look.greys, page.look.glyphs
    for mark in curve.marks:
        if mark.sign:
            column, row = scale.column(mark.lrv), scale.row(mark.percent)
            for below in range(row + 1, ROWS):
                yield Stamp(column, below, glyphs.lines[5], page.look.ink(greys.faint))
            yield Stamp(column, row, mark.sign, page.look.ink(greys.strong, bold=True))


def _axis(scale: _Scale, page: Page) -> str:
    lines = page.look.glyphs.lines
    tens = {scale.column(lrv) for lrv in _tens(scale)}
    return "".join(lines[2 | 4 | 8] if c in tens else lines[2 | 8] for c in range(scale.columns))


def _ticks(curve: Curve, scale: _Scale, page: Page) -> Row:
    """Each paint as a patch where its LRV lies; the marked ones over the others."""
    look = page.look
    cells = _blank(page, scale.columns)
    for mark in sorted(curve.marks, key=lambda mark: bool(mark.sign)):
        column = min(scale.column(mark.lrv), scale.columns - 2)
        known = mark.coat.colour is not None and look.colour
        ink = Ink(None, mark.coat.colour) if known else look.ink(look.greys.quiet)
        char = " " if known else look.glyphs.lines[5]
        cells[column : column + 2] = [(char, ink), (char if known else " ", ink)]
    return runs_of(cells)


def _numbers(scale: _Scale) -> str:
    line = [" "] * (scale.columns + 4)
    for lrv in _tens(scale):
        column = max(scale.column(lrv) - 1, 0)
        line[column : column + 2] = f"{lrv:.0f}".rjust(2)[-2:]
    return "".join(line).rstrip().ljust(scale.columns)[: scale.columns + 1]


def _tens(scale: _Scale) -> list[float]:
    count = round((scale.high - scale.low) / 10.0)
    return [scale.low + 10.0 * i for i in range(count + 1)]
