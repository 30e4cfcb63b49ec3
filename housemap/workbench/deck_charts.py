"""Chips as a chart of two of their three ASTM D1535 coordinates, a page for each step of the third.

Three charts: a page a hue, with value down and chroma across; a page a value, with hue down and
chroma across; and one page of near-neutrals, with value down and hue across. Greys have no hue:
they stand on a page, or in a row or column, of their own.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.undertone import NEAR_NEUTRAL_CHROMA, ROUNDING
from housemap.model.notation import HUES

ChartName = Literal["hue", "value", "near-neutral"]
CHARTS: tuple[ChartName, ...] = get_args(ChartName)

CHROMAS = (0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, *map(float, range(4, 41, 2)))
"""Finely where most walls are; a chip stands at the nearest."""
GREY = "N"
"""What ASTM D1535 calls a colour without hue."""
LEAST_CHROMA = CHROMAS[1] / 2
"""Below it a chip stands among the greys."""
VALUE_STEPS = 2
"""A row each half step of value."""
FEW, MANY = 600, 6000
"""Chips up to which a page holds a whole hue family, and from which it holds a quarter of one."""
FAMILY_STEP, HALF_STEP, FINE_STEP = 10.0, 5.0, 2.5
ROUND = 100.0


@dataclass(frozen=True, slots=True)
class Bins:
    """Steps of one coordinate."""

    labels: tuple[str, ...]
    of: Indices
    """The step of each chip: (n)."""


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its rows and columns from first to last used, and the chips in each cell."""

    rows: tuple[str, ...]
    columns: tuple[str, ...]
    cells: dict[tuple[int, int], list[int]]
    """Rows of the deck, by row and column of the page."""


@dataclass(frozen=True, slots=True)
class Chart:
    """How every chip of a deck stands in one of the charts."""

    pages: Bins
    rows: Bins
    columns: Bins
    kept: Truths
    """Chips that stand in the chart at all: (n)."""
    order: Indices
    """The place of each chip among those of its cell: (n)."""
    greys_across: bool = False
    """Whether greys, in the first row, are spread over all columns: they have no chroma either."""

    def counts(self, shown: Indices) -> list[int]:
        """How many of the shown chips are on each page."""
        own = shown[self.kept[shown]]
        counts: list[int] = np.bincount(
            self.pages.of[own], minlength=len(self.pages.labels)
        ).tolist()
        return counts

    def page(self, number: int, shown: Indices) -> Page:
        """The shown chips of one page."""
        shown = shown[self.kept[shown] & (self.pages.of[shown] == number)]
        shown = shown[np.argsort(self.order[shown], kind="stable")]
        rows, columns = self.rows.of[shown], self.columns.of[shown]
        if self.greys_across:
            columns = spread_first_row(rows, columns)
        top, left = span(rows), span(columns)
        cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        for row, column, chip in zip(rows.tolist(), columns.tolist(), shown.tolist(), strict=True):
            cells[row - top.start, column - left.start].append(chip)
        return Page(self.rows.labels[top], self.columns.labels[left], dict(cells))


def spread_first_row(rows: Indices, columns: Indices) -> Indices:
    """The columns, with the chips of row 0 in all those of the others, as alike as can be."""
    grey = rows == 0
    used = span(columns[~grey])
    width, count = max(used.stop - used.start, 1), int(grey.sum())
    spread = columns.copy()
    spread[grey] = used.start + np.arange(count) * width // max(count, width)
    return spread


def span(steps: Indices) -> slice:
    """From the first step in use to the last."""
    return slice(int(steps.min()), int(steps.max()) + 1) if steps.size else slice(0, 0)


def chart_of(name: ChartName, hvc: Floats, paints: int, *, narrow: bool = False) -> Chart:
    """The chart of chips of hue number, value and chroma (n, 3); `paints` the whole deck has.

    `narrow` asks for fewer columns of hues.
    """
    grey = np.asarray(hvc[:, 2] < LEAST_CHROMA)
    values, chromas = value_bins(hvc), chroma_bins(hvc)
    every = np.ones(len(hvc), dtype=np.bool_)
    if name == "hue":
        hues = with_greys(hue_bins(hvc, hue_step(paints)), grey)
        return Chart(hues, values, chromas, every, places(hvc[:, 0], hvc[:, 2], -hvc[:, 1]))
    if name == "value":
        hues = with_greys(hue_bins(hvc, HALF_STEP), grey)
        order = places(hvc[:, 0], hvc[:, 2], -hvc[:, 1])
        return Chart(values, hues, chromas, every, order, greys_across=True)
    hues = with_greys(hue_bins(hvc, FAMILY_STEP if narrow else HALF_STEP), grey)
    one = Bins(("near-neutrals",), np.zeros(len(hvc), dtype=np.intp))
    kept = np.asarray(hvc[:, 2] <= NEAR_NEUTRAL_CHROMA + ROUNDING)
    return Chart(one, values, hues, kept, places(hvc[:, 2], hvc[:, 0], -hvc[:, 1]))


def places(*keys: Floats) -> Indices:
    """The place of each chip when all are sorted by the first key, then the next ones."""
    made = np.empty(len(keys[0]), dtype=np.intp)
    made[np.lexsort(keys[::-1])] = np.arange(len(made))
    return made


def hue_step(paints: int) -> float:
    """How much of the hue circle a page holds: less of it the more paints there are."""
    return FAMILY_STEP if paints <= FEW else HALF_STEP if paints < MANY else FINE_STEP


def hue_bins(hvc: Floats, step: float) -> Bins:
    """Steps of hue from red on: whole families, or those round 5R, 10R .. or 2.5R, 5R .."""
    hue100, count = hvc[:, 0], round(ROUND / step)
    if step == FAMILY_STEP:
        # 10R is the end of the reds, and 0 is 10RP.
        of = (np.ceil(hue100 / step - ROUNDING) - 1) % count
        return Bins(HUES, of.astype(np.intp))
    of = (nearest_step(hue100 / step) - 1) % count
    return Bins(tuple(hue_label((i + 1) * step) for i in range(count)), of)


def nearest_step(places: Floats) -> Indices:
    """The nearest whole number, the higher one of two: 2.5R stands with 5R, 7.5R with 10R."""
    return np.asarray(np.floor(places + 0.5 + ROUNDING), dtype=np.intp)


def hue_label(hue100: float) -> str:
    family, number = divmod(hue100, FAMILY_STEP)
    if number == 0:
        family, number = family - 1, FAMILY_STEP
    return f"{number:g}{HUES[int(family)]}"


def with_greys(hues: Bins, grey: Truths) -> Bins:
    """The same after one step for chips without hue."""
    return Bins((GREY, *hues.labels), np.where(grey, 0, hues.of + 1))


def value_bins(hvc: Floats) -> Bins:
    """Half steps of value, the lightest first."""
    most = 10 * VALUE_STEPS
    labels = tuple(f"{step / VALUE_STEPS:g}" for step in range(most, -1, -1))
    return Bins(labels, most - nearest_step(hvc[:, 1] * VALUE_STEPS))


def chroma_bins(hvc: Floats) -> Bins:
    centres = np.array(CHROMAS)
    between = (centres[1:] + centres[:-1]) / 2
    labels = (GREY, *(f"{chroma:g}".lstrip("0") for chroma in CHROMAS[1:]))
    return Bins(labels, np.searchsorted(between, hvc[:, 2], side="right"))


def used_pages(counts: Sequence[int]) -> list[int]:
    """The pages that hold anything of their own."""
    return [page for page, count in enumerate(counts) if count]
