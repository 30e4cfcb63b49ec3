"""The picked paints of a deck side by side, under the light of the moment."""

from collections.abc import Sequence
from itertools import combinations
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from housemap.choose.deck.metameric_pairs import metameric_pairs
from housemap.tui.commands import BESIDE
from housemap.tui.describe import SCREEN_IS_NOT_PAINT
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.beside import BesideView, beside_rows
from housemap.tui.render.cells import Row
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.scroller import DeckCard
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.tui.screens.deck_taking import DeckTaking


class BesideScreen(ProgramScreen):
    """Shows paints that touch, and how far apart they are."""

    CONTEXT: ClassVar[str] = BESIDE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(BESIDE)]

    def __init__(self, deck: "DeckTaking") -> None:
        super().__init__()
        self._deck = deck

    @property
    def session(self) -> Session:
        return self._deck.session

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield DeckCard(self._draw, self.look)
        yield Foot()

    def on_mount(self) -> None:
        self._show()
        self.draw_keys()

    def session_changed(self) -> None:
        self._show()

    def _show(self) -> None:
        look, picks = self.look, self._deck.desk.picks
        self.query_one("#head", Bar).show(
            lambda width: head_line("Side by side", (), f"{len(picks)} paints", width, look)
        )
        self.say("")
        self.query_one(DeckCard).redraw()

    def look_changed(self) -> None:
        self.query_one(DeckCard).look = self.look
        self._show()
        super().look_changed()

    def say(self, text: str) -> None:
        look, words = self.look, self.program.depth.words
        told, loud = text or SCREEN_IS_NOT_PAINT, bool(text)
        self.query_one(Foot).show_status(
            lambda width: status_line(told, words, width, look, loud=loud)
        )

    def _draw(self, width: int, height: int) -> Sequence[Row]:
        desk, shades = self._deck.desk, self._deck.shades
        picks = desk.picks
        rows = [desk.chips.rows[swatch.id] for swatch in picks]
        pairs = list(combinations(range(len(picks)), 2))
        found = metameric_pairs([picks[i] for i, _ in pairs], [picks[j] for _, j in pairs])
        view = BesideView(
            picks, [shades.coat(desk.chips, row) for row in rows], shades.apart(desk.chips, rows),
            dict(zip(pairs, found, strict=True)), shades.told, self.look,
        )  # fmt: skip
        return beside_rows(view, width, height)

    # What the user does

    def action_beside_take(self, number: int) -> None:
        """Take one of the paints into the house."""
        picks = self._deck.desk.picks
        if number <= len(picks):
            self.say(self._deck.take(picks[number - 1]))

    def action_beside_leave(self) -> None:
        self.dismiss()
