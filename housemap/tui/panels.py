"""What may take the place of the map, and what is beside it: panels of rows, and lists."""

from collections.abc import Hashable, Mapping, Sequence
from typing import ClassVar, Generic, Protocol, TypeVar, cast

from textual.events import Click

from housemap.tui.keys import Keyed
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page, scrollbar
from housemap.tui.scroller import Drawn, LineByLine, Rows
from housemap.workbench.session import Session

T = TypeVar("T")


class Stage(Keyed, Drawn):
    """What takes the largest place of the screen: the map, or the walk in its place."""

    card: "Panel"
    """Beside it while no panel is open."""

    def zoom(self, steps: int) -> None:
        """Enlarge (above 0) or reduce; 0 shows it as usual."""
        raise NotImplementedError


class Owner(Protocol):
    """The task or the screen that a panel belongs to."""

    @property
    def session(self) -> Session: ...
    @property
    def look(self) -> Look: ...


class Panel(Keyed, Drawn):
    """What is beside the map, one at a time."""

    BAR: ClassVar[tuple[str, ...]] = ()
    """The commands that the key bar shows while it has the keys."""
    DECIDES: ClassVar[bool] = False
    """Whether a colour is decided in it."""

    owner: Owner

    @property
    def decides(self) -> bool:
        return self.DECIDES

    def __init__(self, owner: Owner, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(owner.look, id=id)
        self.owner, self.session = owner, owner.session

    @property
    def bar(self) -> Sequence[str]:
        """Those of them that matter now."""
        return self.BAR

    @property
    def bar_words(self) -> Mapping[str, str]:
        """By command, what the key bar says of it now in the place of the table's word."""
        return {}

    def follow(self) -> None:
        """The house, the selection or the report changed."""
        self.redraw()

    def enter(self) -> None:
        """Take the focus, unless a field of the panel has it: a key may have come before."""
        focused = self.screen.focused
        if focused is None or self not in focused.ancestors:
            self.focus()


class RowsPanel(Panel, Rows, can_focus=True):
    """A panel that shows rows of runs."""


class ListRows(LineByLine, Generic[T]):
    """Rows of a head, then entries of `ENTRY_ROWS` rows, one of them chosen.

    Of a list of any length only the rows in view are ever made. A subclass draws `head` and
    `entry`, and shows items by `show_entries`.
    """

    ENTRY_ROWS: ClassVar[int] = 2
    WHEEL: ClassVar[int] = 2
    NOTHING: ClassVar[str] = ""
    """What is said in the place of a list without entries."""

    items: Sequence[T] = ()
    _keys: Sequence[Hashable] = ()
    _head: Sequence[Row] = ()
    _at = 0

    def head(self, page: Page) -> Sequence[Row]:
        del page
        return ()

    def entry(self, item: T, page: Page) -> Sequence[Row]:
        raise NotImplementedError

    def nothing(self, page: Page) -> Sequence[Row]:
        return [*page.text(self.NOTHING)]

    def foot(self, page: Page) -> Sequence[Row]:
        del page
        return ()

    def moved(self) -> None:
        """Another entry is chosen."""

    def picked(self) -> None:
        """Enter was pressed on the chosen entry, or it was clicked once more."""

    @property
    def item(self) -> T | None:
        """The chosen one; None where there is none."""
        return self.items[self._at] if self.items else None

    @property
    def chosen(self) -> Hashable | None:
        """The key of the chosen item."""
        return self._keys[self._at] if self._keys else None

    @property
    def chosen_number(self) -> int | None:
        return self._at if self._keys else None

    def show_entries(
        self, items: Sequence[T], chosen: object = None, keys: Sequence[Hashable] | None = None
    ) -> None:
        """Show other items, or in another order; the chosen one keeps its row if it can.

        `keys` identify them where they do not do so themselves; `chosen` is the key of one.
        """
        row = self._at - self._top
        first = not self._keys
        self.items, self._keys = items, cast("Sequence[Hashable]", items) if keys is None else keys
        self._at = self._keys.index(chosen) if chosen in self._keys else 0
        self._top = 0 if first else self._at - row
        self.redraw()

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

    @property
    def fitting(self) -> int:
        return max((self.size.height - len(self._head)) // self.ENTRY_ROWS, 1)

    @property
    def lowest(self) -> int:
        return max(len(self._keys) - self.fitting, 0)

    def _reveal(self) -> bool:
        """Scroll until the chosen entry is in view; whether anything moved."""
        top = min(max(self._top, self._at - self.fitting + 1), self._at)
        return bool(self.size.height) and self.show_from(top)

    def fit(self) -> None:
        self._head = self.head(Page(self.look, self.size.width))
        self._reveal()
        self._strips.clear()

    def redraw_head(self) -> None:
        """Draw the rows above the list again, and what changed in it."""
        if not self.is_fitted:
            self.redraw()
            return
        before, self._head = len(self._head), self.head(Page(self.look, self.size.width))
        if len(self._head) == before:
            self.forget(0, before)
        else:
            self.redraw()

    def row_at(self, y: int) -> Row:
        width, below = self.size.width, y - len(self._head)
        if below < 0:
            return self._head[y]
        place, part = divmod(below, self.ENTRY_ROWS)
        number, count = place + self._top, len(self._keys)
        if number >= count:
            page = Page(self.look, width)
            rows = self.foot(page) if count else self.nothing(page)
            return next(iter(rows[below - (count - self._top) * self.ENTRY_ROWS :]), ())
        if place >= self.fitting:
            return ()
        bar = scrollbar(place, self.fitting, self._top, count, self.look)
        page = Page(self.look, width - 1, number == self._at)
        return *self.entry(self.items[number], page)[part], bar

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


class ListPanel(Panel, ListRows[T], can_focus=True):
    """A list that has the keys."""

    CONTEXT: ClassVar[str] = "list"

    @property
    def bar(self) -> Sequence[str]:
        return [command for command in self.BAR if self.items or command != "open"]

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
