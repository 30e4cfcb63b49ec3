"""The deck on the screen: how it is arranged, what is asked of it, what is chosen. No Textual."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple, get_args

import numpy as np

from housemap.choose.chips import Chips
from housemap.choose.paint_query import PaintQuery, parse_paint_query
from housemap.choose.rank import Weighing
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.undertone import NEAR_NEUTRAL_CHROMA, ROUNDING
from housemap.errors import InputError
from housemap.file.deck_file import DeckFile
from housemap.model.house import Triple
from housemap.model.notation import HUES, hue_name
from housemap.study import Swatch

# Chips as a chart of two of their three ASTM D1535 coordinates, a page for each step of the third.
#
# Three charts: a page a hue, with value down and chroma across; a page a value, with hue down and
# chroma across; and one page of near-neutrals, with value down and hue across. Greys have no hue:
# they stand on a page, or in a row or column, of their own.

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


class Bins(NamedTuple):
    """Steps of one coordinate."""

    labels: tuple[str, ...]
    of: Indices
    """The step of each chip: (n)."""


class Page(NamedTuple):
    """One page: its rows and columns from first to last used, and the chips in each cell."""

    rows: tuple[str, ...]
    columns: tuple[str, ...]
    cells: dict[tuple[int, int], list[int]]
    """Rows of the deck, by row and column of the page."""


class Chart(NamedTuple):
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
        own = self.pages.of[shown[self.kept[shown]]]
        counts: list[int] = np.bincount(own, minlength=len(self.pages.labels)).tolist()
        return counts

    def page(self, number: int, shown: Indices) -> Page:
        shown = shown[self.kept[shown] & (self.pages.of[shown] == number)]
        shown = shown[np.argsort(self.order[shown], kind="stable")]
        rows, columns = self.rows.of[shown], self.columns.of[shown].copy()
        if self.greys_across:  # as alike as can be
            grey = rows == 0
            used, count = span(columns[~grey]), int(grey.sum())
            width = max(used.stop - used.start, 1)
            columns[grey] = used.start + np.arange(count) * width // max(count, width)
        top, left = span(rows), span(columns)
        cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        for row, column, chip in zip(rows.tolist(), columns.tolist(), shown.tolist(), strict=True):
            cells[row - top.start, column - left.start].append(chip)
        return Page(self.rows.labels[top], self.columns.labels[left], dict(cells))


def span(steps: Indices) -> slice:
    """From the first step in use to the last."""
    return slice(int(steps.min()), int(steps.max()) + 1) if steps.size else slice(0, 0)


def chart_of(name: ChartName, hvc: Floats, paints: int, *, narrow: bool = False) -> Chart:
    """The chart of chips of hue number, value and chroma (n, 3); `paints` the whole deck has.

    `narrow` asks for fewer columns of hues.
    """
    hue, value, chroma = hvc.T
    values, chromas = value_bins(value), chroma_bins(chroma)
    every = np.ones(len(hvc), dtype=np.bool_)
    if name == "hue":
        # The more paints there are, the less of the hue circle a page holds.
        step = FAMILY_STEP if paints <= FEW else HALF_STEP if paints < MANY else FINE_STEP
        pages = hue_bins(hvc, step)
        if step == HALF_STEP:  # 2.5YR shares the page of 5YR
            grey, *hues_ = pages.labels
            pages = pages._replace(labels=(grey, *(f"near {each}" for each in hues_)))
        return Chart(pages, values, chromas, every, places(hue, chroma, -value))
    if name == "value":
        order = places(hue, chroma, -value)
        return Chart(values, hue_bins(hvc, HALF_STEP), chromas, every, order, greys_across=True)
    hues = hue_bins(hvc, FAMILY_STEP if narrow else HALF_STEP)
    one = Bins(("near-neutrals",), np.zeros(len(hvc), dtype=np.intp))
    kept = np.asarray(chroma <= NEAR_NEUTRAL_CHROMA + ROUNDING)
    return Chart(one, values, hues, kept, places(chroma, hue, -value))


def places(*keys: Floats) -> Indices:
    """The place of each chip when all are sorted by the first key, then the next ones."""
    made = np.empty(len(keys[0]), dtype=np.intp)
    made[np.lexsort(keys[::-1])] = np.arange(len(made))
    return made


def hue_bins(hvc: Floats, step: float) -> Bins:
    """Greys, then steps of hue from red on: whole families, or those round 5R, 10R .. or 2.5R .."""
    count = round(ROUND / step)
    labels: tuple[str, ...] = HUES
    # 10R is the end of the reds, and 0 is 10RP.
    of = np.ceil(hvc[:, 0] / step - ROUNDING).astype(np.intp) - 1
    if step != FAMILY_STEP:
        labels = tuple(hue_name((i + 1) * step) for i in range(count))
        of = nearest_step(hvc[:, 0] / step) - 1
    return Bins((GREY, *labels), np.where(hvc[:, 2] < LEAST_CHROMA, 0, of % count + 1))


def nearest_step(places: Floats) -> Indices:
    """The nearest whole number, the higher one of two: 2.5R stands with 5R, 7.5R with 10R."""
    return np.asarray(np.floor(places + 0.5 + ROUNDING), dtype=np.intp)


def value_bins(value: Floats) -> Bins:
    most = 10 * VALUE_STEPS
    labels = tuple(f"{step / VALUE_STEPS:g}" for step in range(most, -1, -1))
    return Bins(labels, most - nearest_step(value * VALUE_STEPS))


def chroma_bins(chroma: Floats) -> Bins:
    centres = np.array(CHROMAS)
    between = (centres[1:] + centres[:-1]) / 2
    labels = (GREY, *(f"{each:g}".lstrip("0") for each in CHROMAS[1:]))
    return Bins(labels, np.searchsorted(between, chroma, side="right"))


def used_pages(counts: Sequence[int]) -> list[int]:
    return [page for page, count in enumerate(counts) if count]


# The deck

Arrangement = Literal["hue", "value", "near-neutral", "list"]
ARRANGEMENTS: tuple[Arrangement, ...] = (*CHARTS, "list")
Order = Literal["hue", "lightness", "name", "deck", "cost"]
ORDERS: tuple[Order, ...] = get_args(Order)
MOST_PICKED = 6
MIDDLE_VALUE = 6.0


@dataclass(slots=True)
class DeckBrowser:
    """A deck laid out. This object changes; everything that it holds is frozen."""

    deck: DeckFile
    paints: int = 0
    """How many the deck has."""
    chips: Chips = field(default_factory=Chips)
    """Those whose colours are known so far."""
    done: bool = False
    """Whether that is all of them."""
    arrangement: Arrangement = "hue"
    order: Order = "hue"
    """Of the list."""
    narrow: bool = False
    """Whether there is little room for columns."""
    text: str = ""
    fault: str = ""
    """What is wrong with the text of the search."""
    query: PaintQuery = field(default_factory=PaintQuery)
    now: Triple | None = None
    """CIELAB of the paint that is on the chosen surface."""
    near: str | None = None
    """The chip that the others are to be near to."""
    chosen: str | None = None
    before_search: str | None = None
    """The chip chosen by hand last, or when a search began; chosen again where that finds none."""
    aim: Triple | None = None
    """CIELAB of a colour near which to begin."""
    picked: tuple[str, ...] = ()
    """Chips laid beside each other."""
    page: int = 0
    weighing: Weighing | None = None
    """What paints cost on the chosen surface, as far as that was asked and still holds."""
    rows: Indices = field(default_factory=lambda: np.empty(0, dtype=np.intp))
    """What fits, in the order of the list."""
    _chart: tuple[tuple[object, ...], Chart] | None = None

    # What is there

    def take_chips(self, chips: Chips, *, done: bool) -> None:
        """More chips are known, or all; one near the aim is chosen until the user has chosen."""
        self.chips, self.done = chips, done
        if self.aim is not None and len(chips):
            self.chosen = chips.swatches[_nearest(chips.lab100, self.aim)].id
        if done:
            self.aim = None
        self._refresh()

    def take_weighing(self, weighing: Weighing | None) -> None:
        self.weighing = weighing
        self._refresh()

    def change_deck(self, deck: DeckFile) -> None:
        """Begin with another deck, of which nothing is known yet."""
        self.deck, self.paints, self.weighing = deck, 0, None
        self.chosen, self.picked = None, ()
        self.take_chips(Chips(), done=False)
        self.ask_nothing()

    @property
    def swatch(self) -> Swatch | None:
        """The chosen chip; None where nothing fits what is asked for."""
        return self.swatch_of(self.chosen) if len(self.rows) else None

    def swatch_of(self, chip: str | None) -> Swatch | None:
        row = self.chips.rows.get(chip) if chip is not None else None
        return None if row is None else self.chips.swatches[row]

    @property
    def chosen_row(self) -> int | None:
        return None if self.chosen is None else self.chips.rows.get(self.chosen)

    @property
    def picks(self) -> tuple[Swatch, ...]:
        return tuple(swatch for chip in self.picked if (swatch := self.swatch_of(chip)))

    def cost_text(self, row: int) -> str:
        """What a chip costs on the chosen surface, as in "7.7" or "9.8+"; empty if not known."""
        weighing = self.weighing
        if weighing is None:
            return ""
        if row in weighing.best:
            return f"{weighing.best[row].cost:.1f}"
        least = weighing.at_least.get(row)
        return "" if least is None else f"{least:.1f}+"

    # What is asked

    def search(self, text: str) -> None:
        """Ask for words and figures; what cannot be read leaves the search before as it was."""
        if not self.text:
            self.before_search = self.chosen
        elif not text:
            self._choose_again()
        self.text = text
        try:
            found = parse_paint_query(text, self.now)
        except InputError as error:
            self.fault = str(error)
            return
        if text:  # what half of it found is no place to start from
            self.chosen = self.before_search
        chip = self.swatch_of(self.near)
        near = found.near or (chip.colour.lab100 if chip else None)
        self._ask(replace(found, near=near))
        self.fault = found.why_none(self.chips) if self.done else ""
        if len(self.rows) and (found.near or found.remoteness(self.chips).any()):
            self.chosen = self.chips.swatches[int(self.query.rows(self.chips)[0])].id
            self._turn_to_chosen()

    def turn_near(self) -> None:
        """Ask for what is near the chosen chip, or no longer."""
        swatch = self.swatch if self.near is None else None
        self.near = swatch.id if swatch else None
        self._ask(replace(self.query, near=swatch.colour.lab100 if swatch else None))

    @property
    def asks(self) -> bool:
        return bool(self.text) or self.query != PaintQuery()

    def _choose_again(self) -> None:
        if not len(self.rows) and self.before_search in self.chips.rows:
            self.chosen = self.before_search

    def ask_nothing(self) -> None:
        self._choose_again()
        self.text = self.fault = ""
        self.near = None
        self._ask(PaintQuery())

    def _ask(self, asked: PaintQuery) -> None:
        self.query = asked
        self._refresh()

    # How it is arranged

    def arrange(self, arrangement: Arrangement | None = None) -> None:
        """Arrange anew: in some way, or in the next one."""
        at = ARRANGEMENTS.index(self.arrangement)
        self.arrangement = arrangement or ARRANGEMENTS[(at + 1) % len(ARRANGEMENTS)]
        self._refresh()

    def next_order(self, by: int) -> None:
        self.order_by(ORDERS[(ORDERS.index(self.order) + by) % len(ORDERS)])

    def order_by(self, order: Order) -> None:
        self.order = order
        self._refresh()

    def set_narrow(self, *, narrow: bool) -> None:
        if narrow != self.narrow:
            self.narrow = narrow
            self._turn_to_chosen()

    @property
    def chart(self) -> Chart:
        """The chart of the arrangement; that of hues for the list."""
        name: ChartName = "hue" if self.arrangement == "list" else self.arrangement
        key = (self.chips, name, self.narrow, self.paints)
        if self._chart is None or self._chart[0] != key:
            made = chart_of(name, self.chips.hvc, self.paints, narrow=self.narrow)
            self._chart = key, made
        return self._chart[1]

    @property
    def shown_page(self) -> Page:
        return self.chart.page(self.page, self.rows)

    @property
    def pages(self) -> tuple[Sequence[int], Sequence[str]]:
        """The pages of the whole deck that hold chips, with their names."""
        used = used_pages(self.chart.counts(np.arange(len(self.chips))))
        return used, [self.chart.pages.labels[page] for page in used]

    @property
    def page_examples(self) -> Mapping[int, int]:
        """By page, a chip that stands for it: strong and of middling value, or grey."""
        hvc, pages = self.chips.hvc, self.chart.pages.of
        strong = np.abs(hvc[:, 1] - MIDDLE_VALUE) - hvc[:, 2]
        order = np.lexsort((hvc[:, 2] if self.arrangement == "value" else strong, pages))
        first, where = np.unique(pages[order], return_index=True)
        return dict(zip(first.tolist(), order[where].tolist(), strict=True))

    # What is chosen

    def choose(self, row: int) -> None:
        self.chosen = self.before_search = self.chips.swatches[row].id
        self.aim = None
        self._turn_to_chosen()

    def turn_page(self, step: int) -> None:
        """Go to the next page that has chips, to the one most like the chosen chip."""
        used = used_pages(self.chart.counts(self.rows))
        if not used:
            return
        at = used.index(self.page) + step if self.page in used else 0
        page = used[at % len(used)]
        self._choose_like_chosen(self.rows[self.chart.pages.of[self.rows] == page])

    def pick(self) -> bool:
        """Lay the chosen chip beside the others, or put it back; False where there is no room."""
        if self.chosen is None or not len(self.rows):
            return False
        if self.chosen in self.picked:
            self.picked = tuple(chip for chip in self.picked if chip != self.chosen)
            return True
        if len(self.picked) == MOST_PICKED:
            return False
        self.picked = (*self.picked, self.chosen)
        return True

    # Inside

    def _refresh(self) -> None:
        rows = self.query.rows(self.chips)
        if self.arrangement == "list" and self.query.near is None:
            remote = self.query.remoteness(self.chips)[rows]
            rows = rows[np.lexsort((*self._sort_keys(rows), remote))]
        self.rows = rows
        self._turn_to_chosen()

    def _sort_keys(self, rows: Indices) -> tuple[Floats | Indices, ...]:
        """The last one counts first."""
        hue, chroma = self.chips.hvc[rows, 0], self.chips.hvc[rows, 2]
        match self.order:
            case "hue":
                return chroma, self.chart.rows.of[rows], self.chart.pages.of[rows]
            case "lightness":
                return hue, -self.chips.lrv[rows]
            case "name":
                return (self.chips.name_ranks[rows],)
            case "cost":  # those that are not weighed come last
                places = np.full(len(self.chips), len(self.chips), dtype=np.intp)
                if self.weighing is not None:
                    places[self.weighing.order] = np.arange(len(self.weighing.order))
                return (places[rows],)
            case "deck":
                return (rows,)

    def _turn_to_chosen(self) -> None:
        """Show the page of the chosen chip; choose another one where that is not shown."""
        shown = self.rows if self.arrangement == "list" else self.rows[self.chart.kept[self.rows]]
        row = self.chosen_row
        if row is None or row not in shown:
            self._choose_like_chosen(shown)
        else:
            self.page = int(self.chart.pages.of[row])

    def _choose_like_chosen(self, rows: Indices) -> None:
        """Choose of some rows the one most like the chosen chip, or the first."""
        if not len(rows):
            return
        row, labs = self.chosen_row, self.chips.lab100
        best = int(rows[0 if row is None else _nearest(labs[rows], labs[row])])
        self.chosen = self.chips.swatches[best].id
        self.page = int(self.chart.pages.of[best])


def _nearest(labs: Floats, lab100: Floats | Triple) -> int:
    """The place of the colour that is nearest by CIEDE2000."""
    return int(ciede2000(labs, np.asarray(lab100)).argmin())
