"""The deck on the screen: what is asked of it, how it is arranged, what is chosen. No Textual."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, get_args

import numpy as np

from housemap.choose.chips import Chips
from housemap.choose.paint_query import PaintQuery, parse_paint_query
from housemap.choose.rank import Weighing
from housemap.colorimetry.arrays import Floats, Indices
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.errors import InputError
from housemap.file.deck_file import DeckFile
from housemap.model.house import Triple
from housemap.study import Swatch
from housemap.workbench.deck_charts import CHARTS, Chart, ChartName, Page, chart_of, used_pages

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
    near: str | None = None
    """The chip that the others are to be near to."""
    chosen: str | None = None
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
        self.text = text
        try:
            found = parse_paint_query(text)
        except InputError as error:
            self.fault = str(error)
            return
        chip = self.swatch_of(self.near)
        near = found.near or (chip.colour.lab100 if chip else None)
        self._ask(replace(found, near=near))
        self.fault = found.unknown_word(self.chips) if self.done else ""
        if len(self.rows) and (found.near or found.remoteness(self.chips).any()):
            self.choose(int(self.query.rows(self.chips)[0]))

    def turn_near(self) -> None:
        """Ask for what is near the chosen chip, or no longer."""
        swatch = self.swatch if self.near is None else None
        self.near = swatch.id if swatch else None
        self._ask(replace(self.query, near=swatch.colour.lab100 if swatch else None))

    @property
    def asks(self) -> bool:
        return bool(self.text) or self.query != PaintQuery()

    def ask_nothing(self) -> None:
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
        self.chosen, self.aim = self.chips.swatches[row].id, None
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
            case "cost":
                return (self._places[rows],)
            case "deck":
                return (rows,)

    @property
    def _places(self) -> Indices:
        """The place of each chip by cost; those that are not weighed come last."""
        places = np.full(len(self.chips), len(self.chips), dtype=np.intp)
        if self.weighing is not None:
            places[self.weighing.order] = np.arange(len(self.weighing.order))
        return places

    def _turn_to_chosen(self) -> None:
        """Show the page of the chosen chip; choose another one where that is not shown."""
        rows = self.rows
        if self.arrangement != "list":
            rows = rows[self.chart.kept[rows]]
        row = self.chosen_row
        if row is None or row not in rows:
            self._choose_like_chosen(rows)
        else:
            self.page = int(self.chart.pages.of[row])

    def _choose_like_chosen(self, rows: Indices) -> None:
        """Choose of some rows the one most like the chosen chip, or the first."""
        if not len(rows):
            return
        row, best = self.chosen_row, int(rows[0])
        if row is not None:
            labs = self.chips.lab100
            best = int(rows[_nearest(labs[rows], labs[row])])
        self.chosen = self.chips.swatches[best].id
        self.page = int(self.chart.pages.of[best])


def _nearest(labs: Floats, lab100: Floats | Triple) -> int:
    """The place of the colour that is nearest by CIEDE2000."""
    return int(ciede2000(labs, np.asarray(lab100)).argmin())
