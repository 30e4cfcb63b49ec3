"""A deck read and its colours computed beside the screen, block by block."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path

from textual.app import ComposeResult

from housemap.choose.chips import Chips, growing_chips
from housemap.deck.columns import MEANINGS
from housemap.deck.notation_deck import NAME, notation_deck
from housemap.deck.reading import DeckReading
from housemap.deck.report import mapping_lines
from housemap.errors import HousemapError, InputError
from housemap.file.deck_file import (
    LONGEST_NAME,
    DeckFile,
    deck_files,
    deck_path,
    find_deck,
    read_deck_file,
    save_deck,
)
from housemap.file.paths import typed_path
from housemap.file.save import NEW_FILE
from housemap.model.text import clean_text, counted
from housemap.tui.background import work_beside
from housemap.tui.panels import ListPanel
from housemap.tui.program_screen import PageScreen, ProgramScreen
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.workbench.deck_import import read_paints
from housemap.workbench.folders import data_folder
from housemap.workbench.session import Session


def grow_deck(deck: DeckFile) -> Iterator[tuple[int, Chips]]:
    """How many paints a deck has, and more of its chips each time. Raises HouseFileError."""
    paints = read_deck_file(deck, {} if deck.path else notation_deck())
    return ((len(paints), chips) for chips in growing_chips(paints))


# What a file of paints holds, before it is taken as a deck.

MOST_FIRST = 8


def intake_rows(reading: DeckReading, page: Page) -> Iterator[Row]:
    """The mapping, what had to be assumed, every rejected row, and the first paints."""
    rejected = [f"{row} | {row.text}" if row.text else str(row) for row in reading.rejected]
    first = []
    for paint in [*reading.paints.values()][:MOST_FIRST]:
        lrv = "" if paint.lrv is None else f", LRV {paint.lrv:g}"
        first.append(f"{paint.name} {paint.code}".strip() + lrv)
    yield from page.heading(f"{counted(len(reading.paints), 'paint')}, read as {reading.format}")
    yield from page.texts(reading.notes, indent=2)
    sections = {
        "What its columns are taken to mean": [*mapping_lines(reading.mapping)],
        f"Rejected: {counted(len(rejected), 'row')}": rejected,
        "Its first paints": first,
    }
    yield from section_rows({name: each for name, each in sections.items() if each}, page)


def section_rows(sections: Mapping[str, Sequence[str]], page: Page) -> Iterator[Row]:
    for title, lines in sections.items():
        yield from page.heading(title)
        yield from page.texts(lines, indent=2)


# Bringing in a file of paints: what it holds is shown before anything is kept.


class IntakeScreen(PageScreen):
    """Shows what is in a file, lets the user say what was guessed wrong, and keeps it."""

    CONTEXT = "intake"
    BAR = ("open", "edit", "light", "back")
    HINT = "enter keeps it as a deck; until then nothing is written."

    def __init__(self, path: Path, kept: Callable[[DeckFile], None]) -> None:
        super().__init__(f"Bring in {path.name}", self._draw)
        self._path, self._kept = path, kept
        self._columns: Mapping[str, str] = {}
        self._observed = ""
        self._reading: DeckReading | None = None
        self._faults: Sequence[str] = ()

    def on_mount(self) -> None:
        self._read()

    def _read(self) -> None:
        """Read the file in a thread, with what was said of it so far."""
        path, columns, observed = self._path, self._columns, self._observed

        def read() -> DeckReading | Sequence[str]:
            try:
                return read_paints(path, columns=columns, observed=observed or None)
            except InputError as error:
                return [str(problem) for problem in error.problems]

        self.say("reading ...")
        work_beside(self, "intake", read, self._take_reading)

    def _take_reading(self, found: DeckReading | Sequence[str]) -> None:
        """Show a file that was read, or what is wrong with it."""
        if isinstance(found, DeckReading):
            self._reading, self._faults = found, ()
        elif self._reading is not None:
            self.say(found[0])  # what was said last does not fit: all is kept as it was
            return
        else:
            self._faults = found
        self.rows.redraw()
        self.say("" if self._reading else "esc goes back.")
        self.draw_keys()

    def _draw(self, page: Page) -> Iterator[Row]:
        if self._reading is not None:
            return intake_rows(self._reading, page)
        faults = {"Nothing can be taken": self._faults} if self._faults else {}
        return section_rows(faults, page)

    def action_edit(self) -> None:
        if self._reading is None or not self._reading.mapping:
            self.say("Only a table has columns. Press enter to keep these paints.")
            return

        def answered(answer: str) -> None:
            header, equals, meaning = answer.rpartition("=")
            if equals:
                self._columns = {**self._columns, header.strip(): meaning.strip()}
                self._read()

        text = f"HEADER = meaning, one of: {', '.join(MEANINGS)}; nothing leaves it out"
        self.ask_line(text, f"{self._reading.mapping[0].header} = ", answered)

    def action_measured_under(self) -> None:
        def answered(answer: str) -> None:
            self._observed = answer
            self._read()

        text = "Lab and XYZ were measured under which illuminant and observer, such as D50/2?"
        self.ask_line(text, self._observed, answered)

    def action_open(self) -> None:
        if self._reading is None:
            return
        name = clean_text(self._path.stem, LONGEST_NAME)
        self.ask_line("Keep it among your decks under which name?", name, self._keep, replaces=True)

    def _keep(self, name: str, *, over: bool = False) -> None:
        assert self._reading is not None
        try:
            path = deck_path(data_folder(), name, NAME)
            if path.exists() and not over:
                there = f"There is a deck {name} already"
                text = f"{there} (keeping this one leaves it as {name}.toml~)."
                keep = Choice(
                    "o", "keep this one in its place", partial(self._keep, name, over=True)
                )
                self.ask(text, [keep], "leave it")
                return
            path.parent.mkdir(parents=True, exist_ok=True)
            save_deck(self._reading.paints, path, expected=None if over else NEW_FILE)
        except (HousemapError, OSError) as error:
            self.say(str(error))
            return
        self.dismiss()
        self._kept(DeckFile(name, path))


# The decks that there are: open one, open any file of paints, or bring one in.

BUILT_IN = "built in: ASTM D1535 notations, every half step of value"


class ShelfList(ListPanel[DeckFile]):
    """A deck on two lines: its name, and where it is."""

    def head(self, page: Page) -> Sequence[Row]:
        return [page.blank()]

    def entry(self, item: DeckFile, page: Page) -> Sequence[Row]:
        where = str(item.path) if item.path else BUILT_IN
        return (
            page.row((page.mark(), page.run(" ")), item.name, strong=True),
            page.row((page.run("  "),), where, quiet=True),
        )


class ShelfScreen(ProgramScreen):
    CONTEXT = "shelf"
    TITLE = "Decks of paints"
    BAR = ("open", "new", "back")
    HINT = "n brings in a file of paints (a table, CGATS, CxF): then it is a deck here."
    session: Session

    def __init__(
        self, session: Session, deck: DeckFile, open_deck: Callable[[DeckFile], None]
    ) -> None:
        super().__init__()
        self.session, self._deck, self._open_deck = session, deck, open_deck

    def body(self) -> ComposeResult:
        self.list = ShelfList(self, id="list")
        yield self.list

    def on_mount(self) -> None:
        self.list.show_entries(deck_files(data_folder(), NAME), self._deck)
        self.list.focus()

    def action_open(self) -> None:
        if self.list.item is not None:
            self._open(self.list.item)

    def action_file(self) -> None:
        self.ask_line(
            "Open the paints of which deck or house file?", "",
            lambda name: self._open(find_deck(name, data_folder(), NAME)),
        )  # fmt: skip

    def action_new(self) -> None:
        self.ask_line(
            "Bring in which file of paints (CSV, TSV, CGATS, CxF)?", "",
            lambda name: self.app.push_screen(IntakeScreen(typed_path(name), self._open)),
        )  # fmt: skip

    def _open(self, deck: DeckFile) -> None:
        self.dismiss()
        self._open_deck(deck)
