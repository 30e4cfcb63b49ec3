"""The decks that there are: open one, open any file of paints, or bring one in."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from housemap.deck.notation_deck import NAME
from housemap.errors import InputError
from housemap.file.deck_file import DeckFile, deck_files, find_deck
from housemap.file.paths import typed_path
from housemap.tui.commands import SHELF
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.list_panel import ListPanel
from housemap.tui.questions import Prompt
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line
from housemap.tui.screens.base import ProgramScreen
from housemap.workbench.folders import data_folder
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.tui.screens.deck_base import DeckBase

BUILT_IN = "built in: ASTM D1535 notations, every half step of value"
HINT = "A file of paints (a table, CGATS, CxF) is brought in once; then it is a deck here."


class ShelfList(ListPanel):
    """A deck on two lines: its name, and where it is."""

    def __init__(self, session: Session, decks: Sequence[DeckFile], look: Look) -> None:
        super().__init__(session, look)
        self.id = "list"
        self.decks = decks

    def head(self, width: int, height: int) -> Sequence[Row]:  # noqa: ARG002 - it has one height
        return [Line(self.look, width).row((), "")]

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        deck, line = self.decks[number], Line(self.look, width, chosen)
        gap = line.run("  ")
        where = str(deck.path) if deck.path else BUILT_IN
        return (
            line.row((line.mark(), line.run(" ")), deck.name, strong=True),
            line.row((gap,), where, quiet=True),
        )


class ShelfScreen(ProgramScreen):
    """Lets the user choose a deck."""

    CONTEXT: ClassVar[str] = SHELF
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SHELF)]

    def __init__(self, deck: "DeckBase") -> None:
        super().__init__()
        self._deck = deck
        self._decks = deck_files(data_folder(), NAME)

    @property
    def session(self) -> Session:
        return self._deck.session

    @property
    def list(self) -> ShelfList:
        return self.query_one(ShelfList)

    def compose(self) -> ComposeResult:
        look = self.look
        yield Bar(lambda width: head_line("Decks of paints", (), "", width, look), id="head")
        yield ShelfList(self.session, self._decks, look)
        yield Foot()

    def on_mount(self) -> None:
        open_one = self._deck.desk.deck
        self.list.show_entries([*range(len(self._decks))], _place(self._decks, open_one))
        self.list.focus()
        self.say("")

    def say(self, text: str) -> None:
        look, words = self.look, self.program.depth.words
        told, loud = text or HINT, bool(text)
        self.query_one(Foot).show_status(
            lambda width: status_line(told, words, width, look, loud=loud)
        )

    def look_changed(self) -> None:
        self.list.look = self.look
        self.list.redraw()
        super().look_changed()

    # What the user does

    def action_shelf_open(self) -> None:
        self._open(self._decks[self.list.chosen_number or 0])

    def action_shelf_file(self) -> None:
        """Open a deck or house file by its name, without keeping it here."""
        self._ask("Open the paints of which deck or house file?", self._open_named)

    def action_shelf_bring(self) -> None:
        """Bring in a file of paints."""
        self._ask("Bring in which file of paints (CSV, TSV, CGATS, CxF)?", self._bring)

    def action_shelf_leave(self) -> None:
        self.dismiss()

    def _ask(self, text: str, then: Callable[[str], None]) -> None:
        def answered(answer: str | None) -> None:
            if answer:
                then(answer)

        self.app.push_screen(Prompt(text, "", self.look), answered)

    def _open_named(self, name: str) -> None:
        try:
            deck = find_deck(name, data_folder(), NAME)
        except InputError as error:
            self.say(str(error))
            return
        self._open(deck)

    def _open(self, deck: DeckFile) -> None:
        self.dismiss()
        self._deck.open_deck(deck)

    def _bring(self, name: str) -> None:
        from housemap.tui.screens.intake import IntakeScreen  # noqa: PLC0415 - seldom needed

        def kept(deck: DeckFile | None) -> None:
            if deck is not None:
                self._open(deck)

        screen = IntakeScreen(typed_path(name), kept)
        self.app.push_screen(screen)


def _place(decks: Sequence[DeckFile], deck: DeckFile) -> int:
    return decks.index(deck) if deck in decks else 0
