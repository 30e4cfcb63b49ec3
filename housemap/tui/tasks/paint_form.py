"""The one form for a new paint: its name, and whatever is known of it, read at every key."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

from textual.app import ComposeResult
from textual.widgets import Input

from housemap.choose.chips import Chips, take
from housemap.choose.metameric_pairs import Neighbour, nearest, nearest_of
from housemap.colorimetry.facts import ColourFacts, facts_or_errors
from housemap.deck.notation_deck import NAME
from housemap.errors import EditError
from housemap.file.deck_file import DeckFile
from housemap.model.edits import new_id, put
from housemap.model.house import Finish, House, Paint
from housemap.study import Swatch
from housemap.tui.background import steps_beside
from housemap.tui.describe import as_sentence
from housemap.tui.house_screen import HouseScreen
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.render.cells import Row, fit, wrap
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.shades import Coat
from housemap.tui.scroller import Bar, DrawnRows, TooSmall
from housemap.tui.tasks.deck_drawing import APART, Beside, fact_rows, neighbour_rows
from housemap.tui.tasks.deck_files import grow_deck
from housemap.tui.tasks.edit import lrv_choices
from housemap.tui.text_fields import Area, SearchField
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.session import Session
from housemap.workbench.typed_paint import Entry, TypedPaint, contradiction, typed_paint

TALL = 30
"""Lines from which on there is room for more of everything."""
EXAMPLES = """\
Type or paste what you know of it:
  #c9ccc4
  5Y 7/1
  lrv 62
  L 62.1 a 1.2 b 8.3 D50/2
A line for each reading of a meter:
their mean counts. A line such as
D50/2 holds for all of them. Or
paste a spectrum:
  400 0.31
  410 0.33 ..."""


class PaintFormView(NamedTuple):
    """Everything beside what is typed."""

    typed: TypedPaint
    colour: ColourFacts | None
    question: str
    """What has to be asked."""
    deck: str
    near_deck: Sequence[Neighbour]
    near_house: Sequence[Neighbour]


def paint_form_rows(view: PaintFormView, page: Page, height: int) -> list[Row]:
    most = 6 if height >= TALL else 3
    return [
        *_colour(view, page, 5 if height >= TALL else 3),
        *_entries(view.typed.readings.entries, page),
        *neighbour_rows(f"nearest in {view.deck}", _beside(view.near_deck[:most]), page),
        *neighbour_rows("nearest in the house", _beside(view.near_house[:most]), page),
        *page.texts(view.typed.assumed, quiet=True),
    ]


def _beside(found: Sequence[Neighbour]) -> list[Beside]:
    """Under the reference light."""
    made = []
    for one in found:
        coat = Coat("known", one.swatch.colour.srgb_hex)
        made.append(Beside(one.swatch, coat, one.metameric, one.metameric.de00))
    return made


def _colour(view: PaintFormView, page: Page, lines: int) -> Iterator[Row]:
    typed, colour = view.typed, view.colour
    if not typed.readings.entries and typed.lrv is None:
        yield from (page.line(line, quiet=True, tidy=False) for line in EXAMPLES.splitlines())
        return
    if colour is None:
        yield from page.text(typed.fault or "There is no such colour.")
        return
    run = page.patch(Coat("known", colour.srgb_hex), page.inner)
    yield from [(page.run(" "), run, page.run(" "))] * (lines if page.look.colour else 0)
    if typed.readings.widest is not None:
        count = len(typed.readings.entries)
        yield page.line(f"Mean of {count} readings, within {typed.readings.widest:.2f}")
    yield from fact_rows(colour, typed.lrv, page)
    if view.question:
        yield from (page.line(line, strong=True) for line in wrap(view.question, page.inner))


def _entries(entries: Sequence[Entry], page: Page) -> Iterator[Row]:
    """Each reading with its colour and how far from the mean it is, or what is wrong with it."""
    if len(entries) < 2:  # noqa: PLR2004 - a single one is shown above
        return
    yield from page.heading(f"{fit('readings', page.inner - APART)}{'apart':>{APART}}", tidy=False)
    for entry in entries:
        lead = f" {entry.line:>3} "
        if entry.colour is None:
            for line in wrap(entry.fault, max(page.width - len(lead) - 1, 1)):
                yield page.run(lead, quiet=True), page.run(line, strong=True)
                lead = " " * len(lead)
            continue
        apart = f"{entry.apart:>{APART}.2f}" if entry.apart is not None else ""
        room = max(page.width - len(lead) - SWATCH - len(apart) - 2, 1)
        yield (
            page.run(lead, quiet=True),
            page.swatch(Coat("known", entry.colour.srgb_hex)),
            page.run(f" {fit(entry.colour.notation.text, room)}"),
            page.run(apart),
        )


MOST_NEAREST = 6


@dataclass(slots=True)
class Typed:
    """What is typed: it outlives the screen, until it is kept."""

    text: str = ""
    name: str = ""


class PaintForm(ProgramScreen):
    """Shows what is made of what is typed, and keeps it in the house."""

    CONTEXT = "new-paint"
    TITLE = "Add a paint"
    BAR = ("save", "next", "back")
    session: Session

    def __init__(
        self, desk: HouseScreen, typed: Typed, browser: DeckBrowser | None,
        kept: Callable[[str], None],
    ) -> None:  # fmt: skip
        """`browser`: the deck in which paints near it are looked for; else built in.

        `kept` is called with what became of it once the form is closed.
        """
        super().__init__()
        self._desk, self.session, self._typed, self._kept = desk, desk.session, typed, kept
        self._deck = browser.deck.name if browser else NAME
        self._chips = browser.chips if browser else Chips()
        self._view = PaintFormView(TypedPaint(), None, "", self._deck, (), ())

    def body(self) -> ComposeResult:
        yield Bar(lambda width: (Page(self.look, width).run(" Name ", strong=True),), id="called")
        area = Area(partial(self._type, "text"))
        area.id = "typed"
        yield area
        yield DrawnRows(self._draw, self.look, id="chip")
        yield TooSmall(id="small")

    def on_mount(self) -> None:
        self.query_one(Area).write(self._typed.text)
        field = SearchField(self._typed.name, typed=partial(self._type, "name"))
        self.query_one("#called").mount(field)
        self.set_focus(field)
        self._read()
        if not len(self._chips):
            steps_beside(self, "deck", lambda: grow_deck(DeckFile(NAME, None)), self._grow)

    def _read(self) -> None:
        """Make of what is typed what can be made of it."""
        typed = typed_paint(self._typed.text, self._typed.name)
        source, made, report = typed.colour, typed.paint, self.session.report
        [colour] = facts_or_errors([source]) if source else [None]
        found = contradiction(made) if made else None
        asked = found.question if found else ""
        if source and isinstance(colour, ColourFacts):
            one = Swatch("", Paint("reading", source), colour)
            own = [*report.study.swatches.values()] if report else []
            near = nearest(one, self._chips, MOST_NEAREST) if len(self._chips) else ()
            near_here = nearest_of(one, own, MOST_NEAREST)
            self._view = PaintFormView(typed, colour, asked, self._deck, near, near_here)
        else:
            self._view = PaintFormView(typed, None, asked, self._deck, (), ())
        self.query_one(DrawnRows).redraw()
        self.say("")
        self.draw_keys()

    def _draw(self, page: Page, height: int) -> Sequence[Row]:
        return paint_form_rows(self._view, page, height)

    def _type(self, of: str, text: str) -> None:
        """Take what was typed of the name, or of the text."""
        if text != getattr(self._typed, of):
            setattr(self._typed, of, text)
            self._read()

    def on_input_submitted(self, message: Input.Submitted) -> None:
        """Go on to the colour, or keep the paint where it is whole."""
        message.stop()
        if self._view.typed.paint is None:
            self.action_next(1)
        else:
            self.action_save()

    def _grow(self, grown: tuple[int, Chips]) -> None:
        _, self._chips = grown
        self._read()

    def action_next(self, _step: int) -> None:
        name, area = self.query_one(SearchField), self.query_one(Area)
        self.set_focus(area if name.has_focus else name)

    def action_save(self) -> None:
        self._keep(self._view.typed.paint)

    def action_finish(self) -> None:
        self._keep(self._view.typed.finish)

    def _keep(self, entity: Paint | Finish | None) -> None:
        """Put it into the house, once an LRV that contradicts the colour is settled."""
        if entity is None or self._view.colour is None:
            self.say(self._view.typed.fault or "There is no such colour.")
            return
        if found := contradiction(entity):
            self.ask(found.question, lrv_choices(found, self._put), "go on typing")
        else:
            self._put(entity)

    def _put(self, entity: Paint | Finish) -> None:
        what = "paint" if isinstance(entity, Paint) else "finish"

        def put_in(house: House) -> House:
            if isinstance(entity, Paint):
                return take(house, entity.name, entity)[0]
            if entity in house.finishes.values():
                return house
            return put(house, "finishes", new_id(house, "finishes", entity.name), entity)

        try:
            changed = self.session.apply(put_in, f"{what.capitalize()} {entity.name} added")
        except EditError as error:
            self.say(as_sentence(error))
            return
        self._typed.text = self._typed.name = ""
        self._desk.follow()
        self.dismiss()
        self._kept(f"{entity.name} is a {what} of the house{'' if changed else ' already'}.")
