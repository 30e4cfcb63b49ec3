"""Readings of a colour meter, typed or pasted: averaged, compared, kept as a paint or a finish."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import Input, TextArea

from housemap.choose.deck.chips import Chips
from housemap.choose.deck.metameric_pairs import Neighbour, nearest, nearest_of
from housemap.choose.deck.meter_readings import Metered, metered
from housemap.choose.deck.taking import take
from housemap.deck.notation_deck import NAME
from housemap.errors import EditError
from housemap.file.deck_file import DeckFile
from housemap.model.edits import new_id, put
from housemap.model.house import DEFAULT_OBSERVED, Finish, House, Lab, Paint, Xyz
from housemap.model.text import clean_text
from housemap.study import Swatch
from housemap.tui.background import WorkFailed, work_beside
from housemap.tui.commands import METER
from housemap.tui.deck_loading import DeckGrown, grow_deck
from housemap.tui.describe import SCREEN_IS_NOT_PAINT
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.list_panel import SearchField
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Line
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.screens.decks import Decks
from housemap.tui.scroller import DeckCard, TooSmall
from housemap.tui.tasks.meter import MeterView, ReadingsField, meter_rows
from housemap.workbench.session import Edit, Session

OBSERVED = (DEFAULT_OBSERVED, "D65/2", "D50/2", "D50/10", "A/10", "C/2")
MOST_NEAREST = 6


@dataclass(slots=True)
class Form:
    """What is typed: it outlives the screen."""

    text: str = ""
    name: str = ""
    observed: str = DEFAULT_OBSERVED


class MeterScreen(ProgramScreen):
    """A form that is read at every key."""

    CONTEXT: ClassVar[str] = METER
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(METER)]

    def __init__(self, house: Decks, form: Form) -> None:
        super().__init__()
        self._house, self._form = house, form
        desk = house.desk
        self._deck, self._chips = (desk.deck.name, desk.chips) if desk else (NAME, Chips())
        self._metered = Metered()
        self._near: tuple[Sequence[Neighbour], Sequence[Neighbour]] = ((), ())

    @property
    def session(self) -> Session:
        return self._house.session

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
        look, observed = self.look, self._form.observed
        notes = [f"readings that do not say: {observed}"]
        self.query_one("#head", Bar).show(
            lambda width: head_line("Readings of a meter", notes, "", width, look)
        )
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

    def say(self, text: str) -> None:
        look, words = self.look, self.program.depth.words
        told, loud = text or SCREEN_IS_NOT_PAINT, bool(text)
        self.query_one(Foot).show_status(
            lambda width: status_line(told, words, width, look, loud=loud)
        )

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
        self.action_meter_paint()

    def on_deck_grown(self, message: DeckGrown) -> None:
        message.stop()
        self._deck, self._chips = message.deck.name, message.chips
        self._read()

    def on_work_failed(self, message: WorkFailed) -> None:
        message.stop()
        self.say(message.fault)

    # What the user does

    def action_meter_field(self) -> None:
        name = self.query_one(SearchField)
        (self._typed if name.has_focus else name).focus()

    def action_meter_light(self) -> None:
        at = OBSERVED.index(self._form.observed)
        self._form.observed = OBSERVED[(at + 1) % len(OBSERVED)]
        self._read()
        self.say(f"Readings that do not say are taken as {self._form.observed}.")

    def action_meter_clear(self) -> None:
        self._form.name = ""
        self.query_one(SearchField).value = ""
        self._typed.clear()

    def action_meter_leave(self) -> None:
        self.dismiss()

    def action_meter_paint(self) -> None:
        found, name = self._metered, self._name_typed()
        if found.mean is None or not name:
            return
        paint = Paint(name, found.mean, notes=self._notes())
        self._keep(lambda house: take(house, name, paint)[0], "paint")

    def action_meter_finish(self) -> None:
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
        self._house.follow()
        self._read()
        self.say(f"{name} is a {what} of the house{'' if changed else ' already'}.")
