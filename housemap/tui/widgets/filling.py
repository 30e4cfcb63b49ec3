"""The rooms that are being filled as a list, with what is asked for and how far the search is."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.tui.fill_commands import FILLING
from housemap.tui.keys import bindings_of
from housemap.tui.render.filling import Fill, Wish, fill_head, fill_rows
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import Shades
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session


class FillPanel(ListPanel):
    """Reports what is asked for; searches and decides nothing by itself."""

    CONTEXT: ClassVar[str] = FILLING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FILLING)]

    @dataclass
    class Wished(Message):
        """Something else is asked for."""

        wish: Wish

    @dataclass
    class Looked(Message):
        """A room is to be shown."""

        room: str

    @dataclass
    class Asked(Message):
        """take, leave, stop, or before."""

        what: str

    @dataclass
    class FromDeck(Message):
        """The same is to be chosen out of a deck."""

        keep: frozenset[str] | None
        """None: only the rooms without a wall paint are to be painted."""
        limit: int | None

    def __init__(self, session: Session, look: Look, shades: Shades, wish: Wish) -> None:
        super().__init__(session, look)
        self._shades = shades
        self.wish, self.fill = wish, Fill()
        rooms = shades.house.rooms
        self.show_entries([r for r in rooms if rooms[r].use != "outdoor"], None)

    def show_fill(self, wish: Wish, fill: Fill) -> None:
        self.wish, self.fill = wish, fill
        self.redraw()

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return fill_head(self.wish, self.fill, self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        room, line = str(self._keys[number]), Line(self.look, width, chosen)
        return fill_rows(room, self._shades, self.fill.house, self.wish, line)

    def nothing(self, width: int) -> Sequence[Row]:
        return [*Page(self.look, width).text("No room to fill.")]

    def moved(self) -> None:
        if self.chosen:
            self.post_message(self.Looked(str(self.chosen)))

    # What the user asks

    def action_fill_take(self) -> None:
        self.post_message(self.Asked("take"))

    def action_fill_leave(self) -> None:
        self.post_message(self.Asked("leave"))

    def action_fill_before(self) -> None:
        self.post_message(self.Asked("before"))

    def action_fill_stop(self) -> None:
        self.post_message(self.Asked("stop"))

    def action_fill_deck(self) -> None:
        keep = self.wish.kept if self.wish.every else None
        self.post_message(self.FromDeck(keep, self.wish.limit))

    def action_fill_scope(self) -> None:
        self._wish(Wish(not self.wish.every, self.wish.kept, self.wish.limit))

    def action_fill_keep(self) -> None:
        room = str(self.chosen)
        if self.chosen and self._shades.house.rooms[room].paints.walls:
            self._wish(Wish(self.wish.every, self.wish.kept ^ {room}, self.wish.limit))

    def action_fill_limit(self, by: int) -> None:
        """From no limit, the first step down is to the paints in use."""
        paints = len(self._shades.house.paints)
        limit = paints if self.wish.limit is None else self.wish.limit
        limit = max(limit + by, 1)
        self._wish(Wish(self.wish.every, self.wish.kept, limit if limit < paints else None))

    def _wish(self, wish: Wish) -> None:
        self.wish = wish  # at once: the next key builds on it
        self.post_message(self.Wished(wish))
