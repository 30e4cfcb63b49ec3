"""The heart of a deck's screen: a desk on show, and what is told of it.

The parts of the screen (`deck_asking`, `deck_taking`) are classes on top of this one; `deck` puts
them together. The house below stays the only place that changes the session's screen.
"""

import gc
from collections.abc import Callable, Sequence

from textual.app import ComposeResult

from housemap.checks import CHECKS
from housemap.choose.deck.metameric_pairs import metameric_pairs, nearest_of
from housemap.colorimetry.facts import ColourFacts, facts_or_errors
from housemap.deck.notation_deck import NAME
from housemap.file.deck_file import DeckFile
from housemap.model.house import House, Paint
from housemap.study import Swatch
from housemap.tui.background import WorkFailed, drop_work, work_beside
from housemap.tui.deck_loading import DeckGrown, grow_deck
from housemap.tui.describe import SCREEN_IS_NOT_PAINT
from housemap.tui.lines import Bar, Foot
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.render.shades import shades_of
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.screens.decks import Decks
from housemap.tui.scroller import DeckCard, TooSmall
from housemap.tui.tasks.deck_drawing import (
    Beside,
    DeckCardView,
    DeckShades,
    Now,
    arranged_text,
    count_text,
    deck_card_rows,
    does_text,
    search_row,
)
from housemap.tui.tasks.deck_panels import DeckChart, DeckList
from housemap.workbench.choosing import Target
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.session import Session

MOST_NEAREST = 4
USUAL_AIM = (70.0, 0.0, 7.0)
"""CIELAB where a deck begins in a house without paints: a light, slightly yellow grey."""
READING = "deck"
"""The group of the work that reads a deck."""


class DeckBase(ProgramScreen):
    """Shows a deck beside the house whose session it shares."""

    def __init__(self, house: Decks, desk: DeckBrowser) -> None:
        super().__init__()
        self.house, self.desk = house, desk
        self.shades = DeckShades(house.session)
        self._message = ""

    @property
    def session(self) -> Session:
        return self.house.session

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield Bar(id="asked")
        yield DeckChart(self.desk, self.shades, self.look)
        yield DeckList(self.session, self.desk, self.shades, self.look)
        yield DeckCard(self._draw_card, self.look)
        yield TooSmall(id="small")
        yield Foot()

    def on_mount(self) -> None:
        self.follow()
        if not self.desk.done:
            self.open_deck(self.desk.deck)

    # Reading a deck

    def open_deck(self, deck: DeckFile) -> None:
        """Show another deck, as soon as the first of its paints are known.

        It begins at what is most like the paint on the chosen surface.
        """
        if deck != self.desk.deck:
            self.desk.change_deck(deck)
        own = self._own()
        self.desk.aim = own.colour.lab100 if own else USUAL_AIM
        work_beside(self, READING, lambda: grow_deck(deck))
        self.follow()
        self.say(f"reading {deck.name} ...")

    def on_deck_grown(self, message: DeckGrown) -> None:
        message.stop()
        self.desk.paints = message.paints
        self.desk.take_chips(message.chips, done=message.done)
        if message.done:
            self.house.remember_desk(self.desk)
            gc.freeze()  # thousands of colours that stay: looking through them costs keys 20 ms
            self.say("")
        self.follow()

    def on_work_failed(self, message: WorkFailed) -> None:
        message.stop()
        self.say(message.fault)

    def on_unmount(self) -> None:
        drop_work(self, READING)

    # Showing the desk

    @property
    def in_list(self) -> bool:
        return self.desk.arrangement == "list"

    @property
    def chart(self) -> DeckChart:
        return self.query_one(DeckChart)

    @property
    def list(self) -> DeckList:
        return self.query_one(DeckList)

    def follow(self) -> None:
        """Show the desk as it is now."""
        self.set_class(self.in_list, "-list")
        if not self.has_field:
            self.set_focus(self.list if self.in_list else self.chart)
        if self.in_list:
            self.list.show_desk()
        else:
            self.chart.redraw()
        self.draw_rest()

    @property
    def has_field(self) -> bool:
        """Whether something is being typed."""
        return False

    def draw_rest(self) -> None:
        """What stands round the chips."""
        self.query_one(DeckCard).redraw()
        self._draw_head()
        self._draw_status()
        self.draw_keys()

    def _draw_head(self) -> None:
        desk, look = self.desk, self.look
        lit = self.session.selection.light != "reference"
        notes = [arranged_text(desk), *([self.shades.told] if lit else [])]
        count = count_text(desk)
        self.query_one("#head", Bar).show(
            lambda width: head_line(f"Deck: {desk.deck.name}", notes, count, width, look)
        )
        self.query_one("#asked", Bar).show(lambda width: search_row(desk, look, width))

    def _draw_status(self) -> None:
        # While the search is typed its field hides what is wrong with it in the row above.
        told = self._message or (self.desk.fault if self.has_field else "")
        text, loud = (told, True) if told else (SCREEN_IS_NOT_PAINT, False)
        words, look = self.program.depth.words, self.look
        self.query_one(Foot).show_status(
            lambda width: status_line(text, words, width, look, loud=loud)
        )

    def say(self, text: str) -> None:
        self._message = text
        self._draw_status()

    def on_key(self) -> None:
        if self._message:
            self.say("")

    def session_changed(self) -> None:
        self.follow()

    def look_changed(self) -> None:
        for shown in (self.chart, self.list, self.query_one(DeckCard)):
            shown.look = self.look
        self.follow()
        super().look_changed()

    # The chosen chip

    def on_deck_chart_chosen(self, message: DeckChart.Chosen) -> None:
        self._choose(message.row)

    def on_deck_list_chosen(self, message: DeckList.Chosen) -> None:
        self._choose(message.row)

    def _choose(self, row: int) -> None:
        page = self.desk.page
        self.desk.choose(row)
        if self.desk.page != page:
            self.follow()
            return
        if not self.in_list:
            self.chart.redraw_marks()
        self.query_one(DeckCard).redraw()

    @property
    def target(self) -> Target | None:
        """The chosen surface of the selected room; None in a house without rooms."""
        room = self.session.selection.room
        return None if room is None else Target(room, self.session.selection.surface)

    def _draw_card(self, width: int, height: int) -> Sequence[Row]:
        swatch, row = self.desk.swatch, self.desk.chosen_row
        if swatch is None or row is None:
            page = Page(self.look, width)
            return [*page.text("Nothing to show." if self.desk.done else "Reading the deck ...")]
        view = DeckCardView(
            swatch, self.shades.coat(self.desk.chips, row), self._now(swatch),
            self._picked(swatch), self._nearest(swatch), self._name_in_house(swatch),
            self._does(row), self.look,
        )  # fmt: skip
        return deck_card_rows(view, width, height)

    def _own(self) -> Swatch | None:
        """The paint on the chosen surface; None where there is none, or it cannot be."""
        target, paints = self.target, self.session.shown.paints
        paint_id = target.paint_in(self.session.shown) if target else None
        if paint_id is None:
            return None
        [colour] = facts_or_errors([paints[paint_id].colour])
        return (
            Swatch(paint_id, paints[paint_id], colour) if isinstance(colour, ColourFacts) else None
        )

    def _now(self, swatch: Swatch) -> Now | None:
        target, shown = self.target, self.session.shown
        if target is None:
            return None
        paint_id, own = target.paint_in(shown), self._own()
        coat = shades_of(self.session).on(target.room, target.surface, paint_id)
        metameric = metameric_pairs([own], [swatch])[0] if own else None
        name = shown.paints[paint_id].name if paint_id else "no paint yet"
        return Now(target.name_in(shown), name, coat, metameric)

    def _picked(self, swatch: Swatch) -> Sequence[Beside]:
        picks = self.desk.picks
        rows = self.desk.chips.rows
        found = metameric_pairs([swatch] * len(picks), picks)
        return [
            Beside(pick, self.shades.coat(self.desk.chips, rows[pick.id]), metameric)
            for pick, metameric in zip(picks, found, strict=True)
        ]

    def _nearest(self, swatch: Swatch) -> Sequence[Beside]:
        """The paints of the house that are most like a chip."""
        report, shades = self.session.report, shades_of(self.session)
        swatches = report.study.swatches.values() if report else ()
        own = [one for one in swatches if isinstance(one.entity, Paint)]
        return [
            Beside(one.swatch, shades.plain.coat(one.swatch.id), one.metameric)
            for one in nearest_of(swatch, own, MOST_NEAREST)
        ]

    def _does(self, row: int) -> str:
        """What a chip would do on the chosen surface, where it has been weighed."""
        weighing, base = self.desk.weighing, self.session.base
        if weighing is None or base is None:
            return ""
        if row in weighing.at_least:
            return f"Costs at least {weighing.at_least[row]:.1f} here: others do better."
        titles = {check.id: check.title.lower() for check in CHECKS}
        found = weighing.best.get(row)
        return does_text(found, titles, len(base.findings), self.look) if found else ""

    def _name_in_house(self, swatch: Swatch) -> str:
        paints = self.session.house.paints.values()
        same = (p for p in paints if p.colour == swatch.entity.colour and p.name == swatch.name)
        found = next(same, None)
        return found.name if found else ""

    # Changing the house

    def apply(self, change: Callable[[House], House], label: str) -> bool:
        """Make an edit of the house; whether anything changed. Raises EditError."""
        changed = self.session.apply(change, label)
        self.house.follow()
        return changed


def built_in_desk() -> DeckBrowser:
    """The deck that is always there."""
    return DeckBrowser(DeckFile(NAME, None))
