"""A panel with a list of any length, of which only the rows in view are ever made."""

from collections.abc import Hashable, Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.events import Click
from textual.widgets import Input

from housemap.tui.commands import LIST
from housemap.tui.keys import bindings_of
from housemap.tui.panel import Panel
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import scrollbar
from housemap.tui.scroller import LineByLine
from housemap.workbench.session import Session


class ListPanel(Panel, LineByLine, can_focus=True):
    """Rows of a head, then entries of `ENTRY_ROWS` rows, one of them chosen.

    A subclass overrides `head`, `entry`, `nothing` and `moved`, and shows entries by their keys.
    """

    CONTEXT: ClassVar[str] = LIST
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(LIST)]
    ENTRY_ROWS: ClassVar[int] = 2
    WHEEL: ClassVar[int] = 2

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(look)
        self.session = session
        self._keys: Sequence[Hashable] = ()
        self._at = self._top = 0
        self._head: Sequence[Row] = ()

    # To be overridden

    def head(self, width: int, height: int) -> Sequence[Row]:
        """The rows above the list, for a panel of that size."""
        raise NotImplementedError

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        """The ENTRY_ROWS rows of an entry."""
        raise NotImplementedError

    def nothing(self, width: int) -> Sequence[Row]:
        """What stands in the place of a list without entries."""
        raise NotImplementedError

    def moved(self) -> None:
        """Another entry is chosen."""

    def picked(self) -> None:
        """Enter was pressed on the chosen entry, or it was clicked once more."""

    # The entries

    @property
    def chosen(self) -> Hashable | None:
        """The key of the chosen entry; None where there is none."""
        return self._keys[self._at] if self._keys else None

    @property
    def chosen_number(self) -> int | None:
        """Its place in the list."""
        return self._at if self._keys else None

    @property
    def top(self) -> int:
        """The place of the first entry in view."""
        return self._top

    @property
    def chosen_row(self) -> int:
        """How many entries in view stand above the chosen one."""
        return self._at - self._top

    def show_entries(self, keys: Sequence[Hashable], chosen: Hashable | None) -> None:
        """Show other entries, or in another order; the chosen one keeps its row if it can."""
        row = self._at - self._top
        first = not self._keys
        self._keys = keys
        self._at = keys.index(chosen) if chosen in keys else 0
        self._top = 0 if first else self._at - row
        self._reveal()

    def step(self, by: int) -> None:
        """Choose another entry, so many further down (above 0) or up."""
        before = self._at
        self._at = min(max(before + by, 0), max(len(self._keys) - 1, 0))
        if self._at == before:
            return
        if not self.is_fitted:
            self.redraw()
        elif self._reveal():
            self.forget_all()
        for number in (before, self._at):
            self.forget(len(self._head) + (number - self._top) * self.ENTRY_ROWS, self.ENTRY_ROWS)
        self.moved()
        self.redraw_head()

    # Drawing

    @property
    def fitting(self) -> int:
        """How many entries fit below the head."""
        return max((self.size.height - len(self._head)) // self.ENTRY_ROWS, 1)

    def _reveal(self) -> bool:
        """Scroll until the chosen entry is in view; whether anything moved."""
        if not self.size.height:
            return False
        lowest = max(len(self._keys) - self.fitting, 0)
        wanted = min(max(self._top, self._at - self.fitting + 1), self._at)
        top = min(max(wanted, 0), lowest)
        moved, self._top = top != self._top, top
        return moved

    def fit(self) -> None:
        self._head = self.head(self.size.width, self.size.height)
        self._reveal()
        self._strips.clear()

    def redraw_head(self) -> None:
        """Draw the rows above the list again, and what changed in it."""
        if not self.is_fitted:
            self.redraw()
            return
        before, self._head = len(self._head), self.head(self.size.width, self.size.height)
        if len(self._head) == before:
            self.forget(0, before)
        else:
            self.redraw()

    def show_look(self, look: Look) -> None:
        self.look = look
        self.redraw()

    def row_at(self, y: int) -> Row:
        width, below = self.size.width, y - len(self._head)
        if below < 0:
            return self._head[y]
        if not self._keys:
            rows = self.nothing(width)
            return rows[below] if below < len(rows) else ()
        place, part = divmod(below, self.ENTRY_ROWS)
        number = place + self._top
        if place >= self.fitting or number >= len(self._keys):
            return ()
        bar = scrollbar(place, self.fitting, self._top, len(self._keys), self.look)
        return *self.entry(number, width - 1, chosen=number == self._at)[part], bar

    # What the user does

    def action_open(self) -> None:
        self.picked()

    def action_go(self, way: str) -> None:
        """Up or down the list; left and right change what the chosen entry offers."""
        step = {"up": -1, "left": -1}.get(way, 1)
        if way in {"up", "down"}:
            self.step(step)
        else:
            self.step_aside(step)

    def step_aside(self, by: int) -> None:
        """Show the next of what the chosen entry offers (above 0), or the one before."""

    def action_page(self, by: int) -> None:
        self.step(by * max(self.fitting - 1, 1))

    def action_end(self, end: int) -> None:
        """Go to the first entry (below 0) or the last."""
        self.step(end * len(self._keys))

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        below = at.y - len(self._head) if at else -1
        number = below // self.ENTRY_ROWS + self._top
        if below < 0 or number >= len(self._keys):
            return
        if number == self._at:
            self.picked()
        else:
            self.step(number - self._at)

    def wheel(self, by: int) -> None:
        """Look further down or up; the chosen entry stays chosen, in view or not."""
        lowest = max(len(self._keys) - self.fitting, 0)
        self._top = min(max(self._top + by, 0), lowest)
        self.forget_all()


# A list with a search line that becomes a field while something is typed into it.


class SearchField(Input):
    """Lies over the search line, the second row of the panel; the panel's keys work in it too."""

    def __init__(self, text: str) -> None:
        super().__init__(text, compact=True, select_on_focus=False)
        self.cursor_blink = False


class SearchPanel(ListPanel):
    """A subclass draws `search` as its second row and overrides `searched` and `search_done`."""

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(session, look)
        self.search = ""
        """What was typed."""

    def searched(self, text: str) -> None:
        """Another text is sought."""
        raise NotImplementedError

    def search_done(self) -> None:
        """Enter was pressed in the field, and something is chosen."""
        raise NotImplementedError

    def open_search(self) -> None:
        if self._field is None:
            field = SearchField(self.search)
            self.mount(field)
            self.screen.set_focus(field)  # at once: the next key is meant for it

    def leave_search(self) -> bool:
        """Close the field and seek nothing; False where there was nothing to leave."""
        if self._field is None and not self.search:
            return False
        self._close()
        self._seek("")
        return True

    @property
    def _field(self) -> SearchField | None:
        return next(iter(self.query(SearchField)), None)

    def _close(self) -> None:
        field = self._field
        if field is not None:
            self.screen.set_focus(self)
            field.remove()

    def _seek(self, text: str) -> None:
        if text != self.search:
            self.search = text
            self.searched(text)

    def on_input_changed(self, message: Input.Changed) -> None:
        message.stop()
        if self._field is message.input:
            self._seek(message.value)

    def on_input_submitted(self, message: Input.Submitted) -> None:
        """Go on with what is chosen; where nothing fits, the panel's own keys are to hand."""
        message.stop()
        self._seek(message.value)
        self._close()
        if self.chosen_number is not None:
            self.search_done()
