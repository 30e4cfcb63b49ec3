"""The field for readings of a meter, of any number of lines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Input, TextArea

from housemap.choose.chips import Chips, take
from housemap.choose.metameric_pairs import MetamericPair, Neighbour, nearest, nearest_of
from housemap.colorimetry.facts import ColourFacts
from housemap.deck.notation_deck import NAME
from housemap.errors import EditError
from housemap.file.deck_file import DeckFile
from housemap.model.edits import new_id, put
from housemap.model.house import DEFAULT_OBSERVED, Finish, House, Lab, Paint, Xyz
from housemap.model.text import clean_text
from housemap.study import Swatch
from housemap.tui.background import WorkFailed, work_beside
from housemap.tui.commands import METER
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.list_panel import SearchField
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.render.cells import Row, cut, fit, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, patch
from housemap.tui.render.shades import Coat
from housemap.tui.scroller import DeckCard, TooSmall
from housemap.tui.task import Desk
from housemap.tui.tasks.deck_drawing import lab_text, title_of
from housemap.tui.tasks.deck_files import DeckGrown, grow_deck
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.meter_readings import Entry, Metered, metered
from housemap.workbench.session import Edit, Session


class ReadingsField(TextArea):
    """Plain text; tab leaves it."""

    def __init__(self, text: str) -> None:
        super().__init__(
            text, id="typed", tab_behavior="focus", show_line_numbers=False,
            highlight_cursor_line=False, compact=True,
        )  # fmt: skip
        self.cursor_blink = False


# What typed readings come to: each one, their mean, and the paints nearest to it.

TALL = 30
"""Lines from which on there is room for more of everything."""
APART = 7
"""Columns of a difference."""
EXAMPLES = """\
Type a reading on each line:
  L 62.1 a 1.2 b 8.3 D50/2
  XYZ 30.1 31.2 25.0 D65/10
or paste a spectrum over several:
  400 0.31
  410 0.33 ...
A blank line keeps spectra apart."""


@dataclass(frozen=True, slots=True)
class MeterView:
    """Everything beside the readings."""

    metered: Metered
    observed: str
    """Illuminant and observer of readings that do not say."""
    deck: str
    near_deck: Sequence[Neighbour]
    near_house: Sequence[Neighbour]
    look: Look


def meter_rows(view: MeterView, width: int, height: int) -> list[Row]:
    page = Page(view.look, width)
    most = 6 if height >= TALL else 3
    return [
        *_mean(view, page, 5 if height >= TALL else 3),
        *_entries(view.metered, page),
        *_nearest(f"nearest in {view.deck}", view.near_deck[:most], page),
        *_nearest("nearest in the house", view.near_house[:most], page),
        *_assumed(view, page),
    ]


def _mean(view: MeterView, page: Page, lines: int) -> Iterator[Row]:
    found, colour = view.metered, view.metered.colour
    if not found.entries:
        yield from (page.line(line, quiet=True, tidy=False) for line in EXAMPLES.splitlines())
        return
    if colour is None:
        yield from page.text(found.fault or "A line cannot be read yet; nothing is lost.")
        return
    run = patch(Coat("known", colour.srgb_hex), page.inner, page.look)
    yield from [(page.run(" "), run, page.run(" "))] * (lines if page.look.colour else 0)
    yield from _colour_lines(_what(found), colour, page)


def _what(found: Metered) -> str:
    count = len(found.entries)
    if found.widest is None:
        return "One reading"
    return f"Mean of {count} readings, within {found.widest:.2f}"


def _colour_lines(title: str, colour: ColourFacts, page: Page) -> Iterator[Row]:
    yield page.line(title, strong=True)
    yield page.line(f"LRV {colour.lrv:.1f}, {colour.notation.text}")
    yield page.line(f"{colour.undertone.name}, {colour.undertone.temperature}")
    yield page.line(lab_text(colour.lab100), quiet=True, tidy=False)


def _entries(found: Metered, page: Page) -> Iterator[Row]:
    """Each reading with its colour and how far from the mean it is, or what is wrong with it."""
    if not found.entries or (found.colour and len(found.entries) == 1):
        return
    yield from page.heading(_with_apart("readings", "apart", page), tidy=False)
    for entry in found.entries:
        yield from _entry_rows(entry, page)


def _entry_rows(entry: Entry, page: Page) -> Iterator[Row]:
    lead = f" {entry.line:>3} "
    if entry.colour is None:
        room = max(page.width - len(lead) - 1, 1)
        for line in wrap(entry.fault, room):
            yield page.run(lead, quiet=True), page.run(line, strong=True)
            lead = " " * len(lead)
        return
    apart = f"{entry.apart:>{APART}.2f}" if entry.apart is not None else ""
    room = max(page.width - len(lead) - SWATCH - len(apart) - 2, 1)
    yield (
        page.run(lead, quiet=True),
        page.swatch(Coat("known", entry.colour.srgb_hex)),
        page.run(f" {fit(entry.colour.notation.text, room)}"),
        page.run(apart),
    )


def _assumed(view: MeterView, page: Page) -> Iterator[Row]:
    """What was taken for granted."""
    yield page.blank()
    if view.metered.entries:
        for note in view.metered.notes:
            yield from page.text(note, quiet=True)
    else:
        yield from page.text(f"Readings that do not say: {view.observed}.", quiet=True)


def _nearest(title: str, found: Sequence[Neighbour], page: Page) -> Iterator[Row]:
    if not found:
        return
    yield from page.heading(_with_apart(title, "apart", page), tidy=False)
    for one in found:
        lamp = _lamp_text(one.metameric)
        room = max(page.inner - SWATCH - APART - len(lamp) - 1, 1)
        name = fit(cut(title_of(one.swatch), room, page.more), room)
        yield (
            page.run(" "),
            page.swatch(Coat("known", one.swatch.colour.srgb_hex)),
            page.run(f" {name}"),
            page.run(lamp, strong=True),
            page.run(f"{one.metameric.de00:>{APART}.2f}"),
        )


def _lamp_text(metameric: MetamericPair) -> str:
    """A warning in a few characters: the lamp that parts them, and by how much."""
    if not metameric.warns:
        return ""
    about = "~" if metameric.known == "estimate" else ""
    return f" {metameric.worst} {about}{metameric.lamps[metameric.worst]:.1f}"


def _with_apart(title: str, right: str, page: Page) -> str:
    return f"{fit(title, page.inner - APART)}{right:>{APART}}"


# Readings of a colour meter, typed or pasted: averaged, compared, kept as a paint or a finish.

OBSERVED = (DEFAULT_OBSERVED, "D65/2", "D50/2", "D50/10", "A/10", "C/2")
MOST_NEAREST = 6


@dataclass(slots=True)
class Readings:
    """What is typed: it outlives the screen."""

    text: str = ""
    name: str = ""
    observed: str = DEFAULT_OBSERVED


class MeterScreen(ProgramScreen):
    """A form that is read at every key."""

    CONTEXT: ClassVar[str] = METER
    BAR: ClassVar[tuple[str, ...]] = ("save", "next", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(METER)]

    def __init__(self, desk: Desk, form: Readings, browser: DeckBrowser | None) -> None:
        """`browser`: the deck in which paints near the reading are looked for; else built in."""
        super().__init__()
        self._desk, self._form = desk, form
        self._deck = browser.deck.name if browser else NAME
        self._chips = browser.chips if browser else Chips()
        self._metered = Metered()
        self._near: tuple[Sequence[Neighbour], Sequence[Neighbour]] = ((), ())

    @property
    def session(self) -> Session:
        return self._desk.session

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield ReadingsField(self._form.text)
        yield DeckCard(self._draw, self.look)
        yield Bar(self._name_row, id="called")
        yield TooSmall(id="small")
        yield Foot()

    def on_mount(self) -> None:
        field = SearchField(self._form.name)
        self.query_one("#called").mount(field)
        self._typed.move_cursor(self._typed.document.end)
        self._typed.focus()
        self._read()
        if not len(self._chips):
            work_beside(self, "deck", lambda: grow_deck(DeckFile(NAME, None)))

    @property
    def _typed(self) -> ReadingsField:
        return self.query_one(ReadingsField)

    # Showing

    def _read(self) -> None:
        """Make of what is typed what can be made of it."""
        self._metered = metered(self._form.text, self._form.observed)
        self._near = self._nearest()
        self._show()

    def _nearest(self) -> tuple[Sequence[Neighbour], Sequence[Neighbour]]:
        found = self._metered
        if found.mean is None or found.colour is None:
            return (), ()
        one = Swatch("", Paint("reading", found.mean), found.colour)
        report = self.session.report
        own = report.study.swatches.values() if report else ()
        in_deck = nearest(one, self._chips, MOST_NEAREST) if len(self._chips) else ()
        return in_deck, nearest_of(one, [*own], MOST_NEAREST)

    def _show(self) -> None:
        self.show_head("Readings of a meter", [f"readings that do not say: {self._form.observed}"])
        self.query_one("#called", Bar).show(self._name_row)
        self.query_one(DeckCard).redraw()
        self.say("")
        self.draw_keys()

    def _name_row(self, width: int) -> Row:
        line = Line(self.look, width)
        return line.row((line.run(" Name ", strong=True),), "")

    def _draw(self, width: int, height: int) -> Sequence[Row]:
        near_deck, near_house = self._near
        view = MeterView(
            self._metered, self._form.observed, self._deck, near_deck, near_house, self.look
        )
        return meter_rows(view, width, height)

    def look_changed(self) -> None:
        self.query_one(DeckCard).look = self.look
        self._show()
        super().look_changed()

    # What comes

    def on_text_area_changed(self, message: TextArea.Changed) -> None:
        message.stop()
        if self._typed.text != self._form.text:
            self._form.text = self._typed.text
            self._read()

    def on_input_changed(self, message: Input.Changed) -> None:
        message.stop()
        self._form.name = message.value

    def on_input_submitted(self, message: Input.Submitted) -> None:
        message.stop()
        self.action_save()

    def on_deck_grown(self, message: DeckGrown) -> None:
        message.stop()
        self._deck, self._chips = message.deck.name, message.chips
        self._read()

    def on_work_failed(self, message: WorkFailed) -> None:
        message.stop()
        self.say(message.fault)

    # What the user does

    def action_next(self, _step: int) -> None:
        name = self.query_one(SearchField)
        (self._typed if name.has_focus else name).focus()

    def action_measured_under(self) -> None:
        at = OBSERVED.index(self._form.observed)
        self._form.observed = OBSERVED[(at + 1) % len(OBSERVED)]
        self._read()
        self.say(f"Readings that do not say are taken as {self._form.observed}.")

    def action_clear(self) -> None:
        self._form.name = ""
        self.query_one(SearchField).value = ""
        self._typed.clear()

    def action_back(self) -> None:
        self.dismiss()

    def action_save(self) -> None:
        found, name = self._metered, self._name_typed()
        if found.mean is None or not name:
            return
        paint = Paint(name, found.mean, notes=self._notes())
        self._keep(lambda house: take(house, name, paint)[0], "paint")

    def action_finish(self) -> None:
        found, name = self._metered, self._name_typed()
        if found.mean is None or not name:
            return
        finish = Finish(name, found.mean, notes=self._notes())

        def keep(house: House) -> House:
            if finish in house.finishes.values():
                return house
            return put(house, "finishes", new_id(house, "finishes", name), finish)

        self._keep(keep, "finish")

    def _name_typed(self) -> str:
        """The name that was typed; without one, or without a mean, tell what is missing."""
        name = clean_text(self._form.name)
        if self._metered.mean is None:
            self.say("There is no reading yet that can be kept.")
        elif not name:
            self.query_one(SearchField).focus()
            self.say("Give it a name first; enter then keeps it.")
        return name

    def _notes(self) -> str:
        """How it was measured, for whoever reads the house file."""
        found = self._metered
        told = f"mean of {len(found.entries)} readings" if found.widest else "one reading"
        if isinstance(found.mean, Lab | Xyz):
            told += f" under {found.mean.observed}"
        if found.widest:
            told += f", at most {found.widest:.2f} CIEDE2000 from it"
        return told

    def _keep(self, change: Edit, what: str) -> None:
        name = clean_text(self._form.name)
        try:
            changed = self.session.apply(change, f"Reading kept as {what} {name}")
        except EditError as error:
            self.say(str(error))
            return
        self._desk.follow()
        self._read()
        self.say(f"{name} is a {what} of the house{'' if changed else ' already'}.")
