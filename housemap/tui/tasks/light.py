"""The page of a room's light."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from housemap.tui.commands import LIGHT
from housemap.tui.describe import told_of_light
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.navigation import next_room, rooms_in_order
from housemap.tui.program_screen import ReadingScreen
from housemap.tui.render.cells import Row
from housemap.tui.render.light_view import by_light
from housemap.tui.render.look import Look
from housemap.tui.render.shades import shades_of
from housemap.tui.scroller import Rows
from housemap.tui.task import Desk, Task
from housemap.tui.tasks.light_drawing import light_rows
from housemap.workbench.session import Session


class LightRows(Rows, can_focus=True):
    """The page of the selected room."""

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(look, id="page")
        self._session = session
        self.tried: str | None = None

    def draw(self, width: int) -> Sequence[Row]:
        room = self._session.selection.room
        if room is None:
            return ()
        return light_rows(shades_of(self._session), room, self.tried, self.look, width)


class LightScreen(ReadingScreen):
    """Shows the light of one room; steps through the rooms, and through paints on its walls."""

    CONTEXT: ClassVar[str] = LIGHT
    BAR: ClassVar[tuple[str, ...]] = ("right", "left", "next", "light", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(LIGHT)]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk

    @property
    def session(self) -> Session:
        return self._desk.session

    @property
    def rows(self) -> LightRows:
        return self.query_one(LightRows)

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield LightRows(self.session, self.look)
        yield Foot()

    def on_mount(self) -> None:
        self.rows.focus()
        self.session_changed()
        self.draw_keys()

    def session_changed(self) -> None:
        """Draw it all again."""
        session = self.session
        rooms, room = rooms_in_order(session), session.selection.room
        if room is None:
            return
        name = f"{session.shown.rooms[room].name}: light"
        notes = [told_of_light(session)]
        right = f"room {rooms.index(room) + 1} of {len(rooms)}"
        self.show_head(name, notes, right)
        self.draw_status()
        self.rows.redraw()

    def look_changed(self) -> None:
        self.rows.look = self.look
        self.session_changed()
        super().look_changed()

    # What the user does

    def action_next(self, step: int) -> None:
        room = next_room(rooms_in_order(self.session), self.session.selection.room, step)
        if room is not None:
            self.rows.tried = None
            self.session.select(room)  # the map below follows when this page is left
            self._desk.request_detail()
            self.session_changed()

    def action_go(self, way: str) -> None:
        if way in {"left", "right"}:
            self._try(1 if way == "right" else -1)
        else:
            super().action_go(way)

    def _try(self, step: int) -> None:
        """Try the next lighter paint (above 0) on the walls, or the next darker one."""
        shades, room = shades_of(self.session), self.session.selection.room
        paints = by_light(shades.plain.lrv)
        if room is None or not paints:
            return
        now = self.rows.tried or shades.house.rooms[room].paints.walls
        at = paints.index(now) if now in paints else len(paints) // 2
        self.rows.tried = paints[min(max(at - step, 0), len(paints) - 1)]
        self.rows.redraw()


# The page of the selected room's light.


class LightTask(Task):
    """Opens the page of the selected room's light; the map follows when it closes."""

    NAME: ClassVar[str] = "light"

    def open(self) -> None:
        if self.session.selection.room is not None:
            self.desk.push(LightScreen(self.desk), lambda _: self.desk.follow())
