"""Bringing in a file of paints: what it holds is shown before anything is kept."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.message import Message

from housemap.choose.deck.importing import read_paints
from housemap.deck.notation_deck import NAME
from housemap.deck.reading import DeckReading
from housemap.errors import HousemapError, InputError
from housemap.file import NEW_FILE
from housemap.file.deck_file import LONGEST_NAME, DeckFile, deck_path, save_deck
from housemap.model.text import clean_text
from housemap.tui.background import work_beside
from housemap.tui.commands import INTAKE
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.questions import Choice, Prompt, Question
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import Row
from housemap.tui.render.intake import fault_rows, intake_rows, meaning_words
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.screens.page import PageRows
from housemap.workbench.folders import data_folder

HINT = "enter keeps it as a deck; until then nothing is written."


@dataclass
class Read(Message):
    """The file was read, or could not be."""

    reading: DeckReading | None
    faults: Sequence[str] = ()


class IntakeScreen(ProgramScreen):
    """Shows what is in a file, lets the user say what was guessed wrong, and keeps it."""

    CONTEXT: ClassVar[str] = INTAKE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(INTAKE)]

    def __init__(self, path: Path, kept: Callable[[DeckFile], None]) -> None:
        super().__init__()
        self._path, self._kept = path, kept
        self._columns: Mapping[str, str] = {}
        self._observed = ""
        self._reading: DeckReading | None = None
        self._faults: Sequence[str] = ()

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield PageRows(self._draw, self.look)
        yield Foot()

    def on_mount(self) -> None:
        look, name = self.look, self._path.name
        self.query_one("#head", Bar).show(
            lambda width: head_line(f"Bring in {name}", (), "", width, look)
        )
        self.query_one(PageRows).focus()
        self._read()

    def say(self, text: str) -> None:
        look, words = self.look, self.program.depth.words
        told, loud = text or HINT, bool(text)
        self.query_one(Foot).show_status(
            lambda width: status_line(told, words, width, look, loud=loud)
        )

    def look_changed(self) -> None:
        self.query_one(PageRows).look = self.look
        self.query_one(PageRows).redraw()
        super().look_changed()

    # Reading

    def _read(self) -> None:
        """Read the file in a thread, with what was told of it so far."""
        path, columns, observed = self._path, self._columns, self._observed

        def steps() -> Iterator[Message]:
            try:
                yield Read(read_paints(path, columns=columns, observed=observed or None))
            except InputError as error:
                yield Read(None, [str(problem) for problem in error.problems])

        self.say("reading ...")
        work_beside(self, "intake", steps)

    def on_read(self, message: Read) -> None:
        message.stop()
        if message.reading is None and self._reading is not None:
            self.say(message.faults[0])  # what was told last does not fit: all stays as it was
            return
        self._reading, self._faults = message.reading, message.faults
        self.query_one(PageRows).redraw()
        self.say("" if message.reading else "esc goes back.")
        self.draw_keys()

    def _draw(self, width: int) -> Sequence[Row]:
        if self._reading is not None:
            return intake_rows(self._reading, self.look, width)
        return fault_rows(self._faults, self.look, width) if self._faults else ()

    # Telling what was guessed wrong

    def action_intake_column(self) -> None:
        """Ask for a column and what it means."""
        if self._reading is None or not self._reading.mapping:
            self.say("Only the columns of a table can be told what they mean.")
            return

        def told(answer: str | None) -> None:
            header, equals, meaning = (answer or "").rpartition("=")
            if equals:
                self._columns = {**self._columns, header.strip(): meaning.strip()}
                self._read()

        text = f"HEADER = meaning, one of: {meaning_words()}; nothing leaves it out"
        self.app.push_screen(Prompt(text, f"{self._reading.mapping[0].header} = ", self.look), told)

    def action_intake_light(self) -> None:
        """Ask under which light Lab and XYZ were measured."""

        def told(answer: str | None) -> None:
            if answer:
                self._observed = answer
                self._read()

        text = "Lab and XYZ were measured under which illuminant and observer, such as D50/2?"
        self.app.push_screen(Prompt(text, self._observed, self.look), told)

    # Keeping it

    def action_intake_keep(self) -> None:
        """Ask for a name, and keep the paints as a deck."""
        if self._reading is None:
            return
        name = clean_text(self._path.stem, LONGEST_NAME)
        text = "Keep it among your decks under which name?"

        def named(answer: str | None) -> None:
            if answer:
                self._keep(answer)

        self.app.push_screen(Prompt(text, name, self.look), named)

    def _keep(self, name: str, *, over: bool = False) -> None:
        assert self._reading is not None
        try:
            path = deck_path(data_folder(), name, NAME)
            if path.exists() and not over:
                self._ask_over(name)
                return
            path.parent.mkdir(parents=True, exist_ok=True)
            save_deck(self._reading.paints, path, expected=None if over else NEW_FILE)
        except (HousemapError, OSError) as error:
            self.say(str(error))
            return
        self.dismiss()
        self._kept(DeckFile(name, path))

    def _ask_over(self, name: str) -> None:
        def answered(answer: str | None) -> None:
            if answer == "over":
                self._keep(name, over=True)

        text = f"There is a deck {name} already (keeping this one leaves it as {name}.toml~)."
        choices = (Choice("o", "keep this one in its place", "over"),)
        self.app.push_screen(Question(text, choices, "leave it", self.look), answered)

    def action_intake_leave(self) -> None:
        self.dismiss()

    def action_intake_line(self, lines: int) -> None:
        self.query_one(PageRows).scroll_rows(lines)

    def action_intake_page(self, pages: int) -> None:
        self.query_one(PageRows).scroll_pages(pages)
