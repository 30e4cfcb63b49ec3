"""A deck over the house: thousands of paints, charted or listed; taken into the house by a key."""

import gc
from collections.abc import Callable, Sequence
from functools import partial
from itertools import combinations

import numpy as np
from textual.app import ComposeResult
from textual.widgets import Input

from housemap.checks import CHECKS
from housemap.choose.chips import Chips, take
from housemap.choose.deck_faults import deck_faults
from housemap.choose.metameric_pairs import MetamericPair, metameric_pairs, nearest_of
from housemap.choose.rank import Weighing, options_of, weigh
from housemap.choose.remedies import Deck
from housemap.choose.surface_trial import SurfaceTrial
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import ColourFacts, facts_or_errors
from housemap.deck.notation_deck import NAME
from housemap.file.deck_file import DeckFile
from housemap.model.house import House, Paint, Surface
from housemap.schedule.as_text import NOT_COPIED, paint_code
from housemap.study import Swatch
from housemap.tui.background import drop_work, steps_beside, work_beside
from housemap.tui.house_screen import ASK_FOR_A_SAMPLE, HouseScreen, Task
from housemap.tui.panels import ListPanel
from housemap.tui.program_screen import PageScreen, ProgramScreen
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.render.shades import shades_of
from housemap.tui.scroller import Bar, DrawnRows, TooSmall
from housemap.tui.tasks import deck_drawing as drawing
from housemap.tui.tasks.choose import ChoosingPanel
from housemap.tui.tasks.deck_drawing import DeckChart
from housemap.tui.tasks.deck_files import ShelfScreen, grow_deck, section_rows
from housemap.tui.tasks.paint_form import PaintForm, Typed
from housemap.tui.text_fields import SearchField, SearchPanel
from housemap.workbench.choosing import HERE, Scope, Target, left_out, painted, where_painted
from housemap.workbench.deck_browser import MOST_PICKED, DeckBrowser
from housemap.workbench.session import Session
from housemap.workbench.suggesting import PaintSource

# What looks wrong in a deck

TITLES = {
    "impossible": "Colours that no surface can have",
    "label": "Printed LRVs that the colour contradicts",
    "field": "Odd entries",
    "conditions": "Measured under other conditions than the rest",
    "same code": "The same code twice",
    "same name": "The same name twice",
    "same colour": "Exactly the same colour twice",
    "near-equal": "Hardly different colours",
}
MOST_OF_A_KIND = 200
SHOWN_PAINTS = 3


def find_faults(browser: DeckBrowser) -> tuple[str, dict[str, list[str]]]:
    """Look a deck through: a title, and lines by heading, the gravest kind first.

    Takes up to half a second for thousands of paints.
    """
    chips, sections = browser.chips, dict[str, list[str]]()
    paints = {s.id: s.entity for s in chips.swatches if isinstance(s.entity, Paint)}
    found = deck_faults(paints, chips)
    for kind, title in TITLES.items():
        lines = []
        for oddity in (oddity for oddity in found if oddity.kind == kind):
            names = [paints[id_].name if id_ in paints else id_ for id_ in oddity.paints]
            more = ", ..." if len(names) > SHOWN_PAINTS else ""
            lines.append(f"{', '.join(names[:SHOWN_PAINTS])}{more}: {oddity.text}")
        rest = [f"and {len(lines) - MOST_OF_A_KIND:,} more"] if len(lines) > MOST_OF_A_KIND else []
        if lines:
            sections[f"{title}: {len(lines):,}"] = [*lines[:MOST_OF_A_KIND], *rest]
    if not found:
        sections["Nothing in this deck looks wrong."] = []
    look = "looks" if len(found) == 1 else "look"
    return f"Deck {browser.deck.name}: {len(found):,} {look} wrong", sections


# The chips as a list


class DeckList(ListPanel[int]):
    """A chip a line, and only those in view are ever made."""

    owner: "DeckScreen"
    CONTEXT = "deck-list"
    ENTRY_ROWS = 1
    NOTHING = "None of the paints fits; esc shows all."

    def __init__(self, owner: "DeckScreen") -> None:
        super().__init__(owner, id="list")
        self.browser = owner.browser

    def show_rows(self) -> None:
        """Show the chips in their order, with the chosen one in view."""
        self.show_entries(self.browser.rows.tolist(), self.browser.chosen_row)

    def head(self, page: Page) -> Sequence[Row]:
        browser, lit = self.browser, bool(self.owner.shades.by_light)
        chip = browser.swatch_of(browser.near)
        near = "nearest first" if browser.query.near else ""
        near = f"nearest to {chip.name} first" if chip else near
        return [drawing.heading_row(browser.order, near, page, lit=lit)]

    def entry(self, item: int, page: Page) -> Sequence[Row]:
        browser, near = self.browser, self.browser.query.near
        swatch, figure = browser.chips.swatches[item], None
        if near is not None:
            figure = f"{float(ciede2000(browser.chips.lab100[item], np.array(near))):.2f}"
        elif browser.order == "cost":
            figure = browser.cost_text(item)
        picked = browser.picked
        mark = str(picked.index(swatch.id) + 1) if swatch.id in picked else ""
        coat = self.owner.shades.coat(browser.chips, item)
        return [drawing.chip_row(swatch, coat, figure, mark, page)]

    def moved(self) -> None:
        if self.item is not None:
            self.owner.choose(self.item)

    def step_aside(self, by: int) -> None:
        self.browser.next_order(by)
        self.owner.follow()
        self.owner.say(f"A list, {drawing.ORDERED[self.browser.order]}.")


# The picked paints of a deck side by side, under the light of the moment.


class BesideScreen(ProgramScreen):
    """Shows paints that touch, first the one on the surface now, and how far apart they are."""

    CONTEXT = "beside"
    DECIDES = True
    BAR = ("right", "open", "back")
    session: Session

    def __init__(
        self, session: Session, own: Swatch | None, picks: Sequence[Swatch],
        put: Callable[[Swatch], str],
    ) -> None:  # fmt: skip
        """`put` puts a paint of the picks on the surface and returns what came of it."""
        super().__init__()
        self.session, self._own, self._put = session, own, put
        self._swatches = *([own] if own else ()), *picks
        self._shades = drawing.DeckShades(session)
        self._at = 0

    def body(self) -> ComposeResult:
        yield DrawnRows(self._draw, self.look, id="chip")

    def draw_head(self) -> None:
        first = "first the one there now" if self._own else ""
        self.show_head("Side by side", [first] if first else (), f"{len(self._swatches)} paints")

    def _draw(self, page: Page, height: int) -> Sequence[Row]:
        picks, shades = self._swatches, self._shades
        pairs = list(combinations(range(len(picks)), 2))
        found = metameric_pairs([picks[i] for i, _ in pairs], [picks[j] for _, j in pairs])
        view = drawing.BesideView(
            picks, shades.coats(picks), shades.apart(picks, picks),
            dict(zip(pairs, found, strict=True)), shades.words, self._at,
        )  # fmt: skip
        return drawing.beside_rows(view, page, height)

    def action_go(self, way: str) -> None:
        step = -1 if way == "left" else 1
        self._at = min(max(self._at + step, 0), len(self._swatches) - 1)
        self.query_one(DrawnRows).redraw()

    def action_open(self) -> None:
        chosen = self._swatches[self._at]
        if chosen is self._own:
            self.say("That is the paint there now. Press right for the next one.")
        else:
            self.say(self._put(chosen))


# The screen

MOST_NEAREST = 4
USUAL_AIM = (70.0, 0.0, 7.0)
"""CIELAB where a deck begins in a house without paints: a light, slightly yellow grey."""
READING = "deck"
"""The group of the work that reads a deck."""
WEIGHING = "weighing"
"""The group of its work, and how its message begins."""


class DeckScreen(ProgramScreen):
    """Shows a deck beside the house whose session it shares: searched, arranged, weighed, taken."""

    CONTEXT = "deck"
    BAR = ("open", "search", "view", "more", "mark", "decks", "back")
    session: Session

    def __init__(self, decks: "DecksTask", browser: DeckBrowser) -> None:
        super().__init__()
        self.decks, self.session, self.browser = decks, decks.session, browser
        self.shades = drawing.DeckShades(decks.session)
        self._asked: tuple[object, ...] = ()
        self._to_the_best = False
        """Whether the best is to be chosen as soon as it is known."""

    def body(self) -> ComposeResult:
        yield Bar(id="asked")
        self.chart = DeckChart(self.browser, self.shades, self.look, self.choose, self.turn)
        self.list = DeckList(self)
        self.card = DrawnRows(self._draw_card, self.look, id="chip")
        yield from (self.chart, self.list, self.card)
        yield TooSmall(id="small")

    def on_mount(self) -> None:
        self.follow()
        if not self.browser.done:
            self.open_deck(self.browser.deck)

    def open_deck(self, deck: DeckFile) -> None:
        """Show another deck, as soon as the first of its paints are known.

        It begins at what is most like the paint on the chosen surface.
        """
        if deck != self.browser.deck:
            self.browser.change_deck(deck)
        own = self._own()
        self.browser.aim = own.colour.lab100 if own else USUAL_AIM
        steps_beside(self, READING, lambda: grow_deck(deck), self._grow)
        self.follow()
        self.say(f"reading {deck.name} ...")

    def _grow(self, grown: tuple[int, Chips]) -> None:
        self.browser.paints, chips = grown
        done = len(chips) + len(chips.faults) == self.browser.paints
        self.browser.take_chips(chips, done=done)
        if done:
            self.decks.browser = self.browser
            gc.freeze()  # thousands of colours that stay: looking through them costs keys 20 ms
            self.say("")
        self.follow()

    def on_unmount(self) -> None:
        drop_work(self, READING)

    @property
    def in_list(self) -> bool:
        return self.browser.arrangement == "list"

    @property
    def chips_shown(self) -> DeckChart | DeckList:
        return self.list if self.in_list else self.chart

    def follow(self) -> None:
        """Show the deck as it is asked for now, and have it weighed where that is asked."""
        self._show()
        if self.in_list and self.browser.order == "cost":
            self._weigh()
        elif self.browser.weighing and self._asked[:2] != (self.session.base, self.target):
            self._asked = ()
            self.browser.take_weighing(None)

    def _show(self) -> None:
        self.set_class(self.in_list, "-list")
        if not self.has_field:
            self.set_focus(self.chips_shown)
        if self.in_list:
            self.list.show_rows()
        else:
            self.chart.redraw()
        self._draw_rest()

    def _draw_rest(self) -> None:
        browser = self.browser
        self.card.redraw()
        asked = self.query_one("#asked", Bar)
        asked.show(lambda width: drawing.asked_row(browser, Page(self.look, width)))
        self.draw()

    def draw_head(self) -> None:
        browser = self.browser
        lit = self.session.selection.light != "reference"
        arranged, labels = drawing.ARRANGED[browser.arrangement], browser.chart.pages.labels
        if browser.arrangement in {"hue", "value"}:
            arranged = f"{arranged}: {labels[browser.page]}"
        notes = [arranged, *([self.shades.words] if lit else [])]
        self.show_head(f"Deck: {browser.deck.name}", notes, drawing.count_text(browser))

    @property
    def fault(self) -> str:
        """While the search is typed its field hides what is wrong with it in the row above."""
        return self.browser.fault if self.has_field else ""

    def session_changed(self) -> None:
        self.follow()

    def choose(self, row: int) -> None:
        page = self.browser.page
        self.browser.choose(row)
        if self.browser.page != page:
            self.follow()
            return
        if not self.in_list:
            self.chart.redraw_marks()
        self.card.redraw()

    def turn(self, pages: int) -> None:
        self.browser.turn_page(pages)
        self.follow()

    @property
    def decides(self) -> bool:
        return self.browser.swatch is not None

    @property
    def target(self) -> Target | None:
        """The chosen surface of the selected room; None in a house without rooms."""
        room = self.session.selection.room
        return None if room is None else Target(room, self.session.selection.surface)

    def _draw_card(self, page: Page, height: int) -> Sequence[Row]:
        swatch, row = self.browser.swatch, self.browser.chosen_row
        if swatch is None or row is None:
            return [*page.text("Nothing to show." if self.browser.done else "Reading the deck ...")]
        paints, alike = self.session.house.paints.values(), (swatch.name, swatch.entity.colour)
        same = (paint.name for paint in paints if (paint.name, paint.colour) == alike)
        view = drawing.DeckCardView(
            swatch, self.shades.coat(self.browser.chips, row), self._now(swatch),
            self._picked(swatch), self._nearest(swatch), next(same, ""),
            self._does(row), self.shades.by_light,
        )  # fmt: skip
        return drawing.deck_card_rows(view, page, height)

    def _own(self) -> Swatch | None:
        """The paint on the chosen surface; None where there is none, or it cannot be."""
        target, paints = self.target, self.session.house.paints
        paint_id = target.paint_in(self.session.house) if target else None
        if paint_id is None:
            return None
        [colour] = facts_or_errors([paints[paint_id].colour])
        paint = paints[paint_id]
        return Swatch(paint_id, paint, colour) if isinstance(colour, ColourFacts) else None

    @property
    def scope(self) -> Scope:
        """To what the choice applies that the deck was opened from."""
        panel = self.decks.desk.panel
        return panel.scope if isinstance(panel, ChoosingPanel) else HERE

    def _now(self, swatch: Swatch) -> drawing.Now | None:
        target, house, own = self.target, self.session.house, self._own()
        if target is None or target.room not in house.rooms:
            return None
        there, tried = target.paint_in(house), target.paint_in(self.session.shown)
        coat = shades_of(self.session).on(target.room, target.surface, there)
        now = drawing.Now(
            self.scope.words or target.name_in(house),
            house.paints[there].name if there else "no paint yet", coat,
            tried=self.session.shown.paints[tried].name if tried and tried != there else "",
        )  # fmt: skip
        if own is None:
            return now
        [metameric] = metameric_pairs([own], [swatch])
        [[apart]] = self.shades.apart([own], [swatch])
        return now._replace(metameric=metameric, apart=apart)

    def _picked(self, swatch: Swatch) -> Sequence[drawing.Beside]:
        picks = self.browser.picks
        return self._beside(swatch, picks, metameric_pairs([swatch] * len(picks), picks))

    def _nearest(self, swatch: Swatch) -> Sequence[drawing.Beside]:
        """The paints of the house that are most like a chip, under the light that is shown."""
        report = self.session.report
        swatches = report.study.swatches.values() if report else ()
        own = [one for one in swatches if isinstance(one.entity, Paint)]
        near = nearest_of(swatch, own, 2 * MOST_NEAREST)
        found = self._beside(swatch, [n.swatch for n in near], [n.metameric for n in near])
        return sorted(found, key=lambda one: one.apart)[:MOST_NEAREST]

    def _beside(
        self, swatch: Swatch, others: Sequence[Swatch], found: Sequence[MetamericPair]
    ) -> Sequence[drawing.Beside]:
        [apart] = self.shades.apart([swatch], others) if others else [[]]
        every = zip(others, self.shades.coats(others), found, apart, strict=True)
        return [drawing.Beside(*each) for each in every]

    def _does(self, row: int) -> str:
        """What a chip would do on the chosen surface, where it has been weighed."""
        weighing = self.browser.weighing
        if weighing is None:
            return ""
        if row in weighing.at_least:
            return f"Penalty here at least {weighing.at_least[row]:.1f}: others do better."
        titles = {check.id: check.title.lower() for check in CHECKS}
        return drawing.does_text(weighing.best[row], titles) if row in weighing.best else ""

    def action_view(self) -> None:
        self.browser.arrange(None)
        self.follow()

    def action_near(self) -> None:
        self.browser.turn_near()
        self.follow()

    def action_back(self) -> None:
        if self.has_field:
            self.browser.search("")
            self._close_field()
        elif self.browser.asks:
            self.browser.ask_nothing()
            self.follow()
        else:
            self.dismiss()

    @property
    def has_field(self) -> bool:
        return bool(self.query(SearchField))

    def action_search(self) -> None:
        field = SearchField(self.browser.text, typed=self._searched)
        self.query_one("#asked").mount(field)
        self.set_focus(field)

    def _close_field(self) -> None:
        self.query(SearchField).remove()
        self.follow()
        self.set_focus(self.chips_shown)

    def _searched(self, text: str) -> None:
        if text != self.browser.text:
            own = self._own()
            self.browser.now = own.colour.lab100 if own else None
            self.browser.search(text)
            self.follow()

    def on_input_submitted(self, message: Input.Submitted) -> None:
        """Go to what was found."""
        message.stop()
        self._close_field()

    def action_findings(self) -> None:
        self.say("Findings are of the house: press esc, then f.")

    def action_best(self) -> None:
        self._to_the_best = True
        self.browser.arrange("list")
        self.browser.order_by("cost")
        self.follow()

    def _weigh(self) -> None:
        target, base, chips = self.target, self.session.base, self.browser.chips
        known = base is not None and self.session.base_is_current and self.browser.done
        if target is None or base is None or not known:
            return
        rows, deck = np.sort(self.browser.rows), self.browser.deck.name
        asked = base, target, chips, rows.tobytes()
        if asked == self._asked:
            if self._to_the_best and self.browser.weighing is not None and len(rows):
                self._to_the_best = False
                self.browser.choose(int(self.browser.rows[0]))
                self._show()
            return
        self._asked = asked

        def weighed() -> Weighing:
            return weigh(SurfaceTrial(base, *target), options_of(base.house, chips, deck), rows)

        def show(weighing: Weighing) -> None:
            if asked == self._asked:
                self.browser.take_weighing(weighing)
                if self.message.startswith(WEIGHING):
                    self.say("")
                self.follow()

        if self._to_the_best:
            self.say(f"{WEIGHING} {len(rows):,} paints for {target.name_in(base.house)} ...")
        work_beside(self, WEIGHING, weighed, show)

    def action_surface(self, surface: Surface) -> None:
        self.session.select_surface(surface)
        self.decks.desk.follow_selection()
        self.follow()

    def _edit(self, change: Callable[[House], House], label: str, done: str) -> str:
        desk = self.decks.desk
        desk.say("")
        if desk.paint(change, label):
            return f"{done}; {ASK_FOR_A_SAMPLE}."
        return desk.message or f"{done} already."

    def take(self, swatch: Swatch) -> str:
        label = f"{swatch.name} taken from {self.browser.deck.name}"
        done = f"{swatch.name} added to the house's paints"
        return self._edit(lambda house: self._taken(house, swatch)[0], label, done)

    def _taken(self, house: House, swatch: Swatch) -> tuple[House, str]:
        assert isinstance(swatch.entity, Paint)
        return take(house, swatch.id, swatch.entity, self.browser.deck.name)

    def action_more(self, by: int) -> None:
        """Copy the paint into the house (above 0)."""
        if by > 0 and (swatch := self.browser.swatch):
            self.say(self.take(swatch))

    def action_open(self) -> None:
        if swatch := self.browser.swatch:
            self.say(self.put(swatch))

    def put(self, swatch: Swatch) -> str:
        """Put it on the surface, or wherever the choice applies that the deck was opened from."""
        target = self.target
        if target is None:
            return self.take(swatch)
        scope, house = self.scope, self.session.house
        label = f"{where_painted(house, target, scope)}: {swatch.name}"

        def put(house: House) -> House:
            taken, own_id = self._taken(house, swatch)
            return painted(taken, target, scope, own_id)

        return self._edit(put, label, f"{left_out(house, scope)} {label}".lstrip())

    def action_undo(self) -> None:
        self._on_map("files.undo")

    def action_save(self) -> None:
        if self.session.file is None:
            self.say("The house has no file yet: press esc, then ctrl+s.")
        else:
            self._on_map("files.save")

    def _on_map(self, command: str) -> None:
        self.decks.desk.run(command)
        self.say(self.decks.desk.message)

    def action_copy(self) -> None:
        if swatch := self.browser.swatch:
            code = paint_code(swatch.entity)
            self.app.copy_to_clipboard(code)
            self.say(f"Copied {code}. {NOT_COPIED}")

    def action_around(self) -> None:
        if swatch := self.browser.swatch:
            self.dismiss()
            self.decks.desk.run("suggest.build", swatch)

    def action_advice(self) -> None:
        browser, chips = self.browser, self.browser.chips
        name = browser.deck.name
        if browser.asks and len(browser.rows):
            picked = [chips.rows[chip] for chip in browser.picked]
            rows = [*dict.fromkeys([*browser.rows.tolist(), *picked])]
            chips, name = chips.taken(rows), f"{name}: the {len(rows):,} shown"
        known = chips if browser.done else None
        self.dismiss()
        source = PaintSource(name, browser.deck, known)
        self.decks.desk.run("suggest.open_from", source, frozenset(browser.picked))

    def action_mark(self) -> None:
        if not self.browser.pick():
            self.say(f"At most {MOST_PICKED} paints lie beside each other. x puts one back.")
            return
        if self.in_list:
            self.list.show_rows()
        else:
            self.chart.redraw_marks()
        self._draw_rest()

    def action_side_by_side(self) -> None:
        if len(self.browser.picked) < 2:  # noqa: PLR2004 - fewer are not beside each other
            self.say("Pick two to six paints with x first; then lay them side by side.")
            return
        own, picks = self._own(), self.browser.picks
        same = own and (own.name, own.entity.colour)
        others = [each for each in picks if (each.name, each.entity.colour) != same]
        beside = BesideScreen(self.session, own, others, self.put)
        self.app.push_screen(beside, lambda _: self.follow())

    def action_shelf(self) -> None:
        self.app.push_screen(ShelfScreen(self.session, self.browser.deck, self.open_deck))

    def action_add_paint(self) -> None:
        browser = self.browser
        self.decks.add_paint(self.say, browser.text if browser.swatch is None else "")

    def action_faults(self) -> None:
        self.say("looking the deck through ...")

        def show(found: tuple[str, dict[str, list[str]]]) -> None:
            self.say("")
            title, sections = found
            self.app.push_screen(PageScreen(title, partial(section_rows, sections)))

        work_beside(self, "faults", lambda: find_faults(self.browser), show)


class DecksTask(Task):
    """Opens decks and readings over the house, and finds them again as they were left."""

    def __init__(self, desk: HouseScreen) -> None:
        super().__init__(desk)
        self.browser: DeckBrowser | None = None
        """The deck that was open last, once all its colours are known."""
        self._typed = Typed()
        """What stands in the form for a new paint."""

    def open(self) -> None:
        self.desk.push(DeckScreen(self, self.browser or DeckBrowser(DeckFile(NAME, None))))

    def add_paint(self, kept: Callable[[str], None] | None = None, not_found: str = "") -> None:
        """Open the form for a new paint, as it was left; `kept` is called with what became of it.

        An empty form begins with what was searched for and not found.
        """
        panel = self.desk.panel
        if isinstance(panel, SearchPanel) and panel.chosen is None:
            not_found = panel.search
        if self._typed == Typed():
            self._typed.text = not_found
        self.desk.push(PaintForm(self.desk, self._typed, self.browser, kept or self.say))

    def deck_for_remedies(self) -> Deck | None:
        browser = self.browser
        return None if browser is None else Deck(browser.chips, browser.deck.name)
