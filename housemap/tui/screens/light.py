"""The page of a room's light."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from housemap.tui.commands import LIGHT
from housemap.tui.describe import SCREEN_IS_NOT_PAINT, told_of_light
from housemap.tui.keys import bindings_of
from housemap.tui.lines import Bar, Foot
from housemap.tui.navigation import next_room
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.cells import Row
from housemap.tui.render.light_view import by_light
from housemap.tui.render.look import Look
from housemap.tui.render.shades import shades_of
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.screens.lighting import Lighting
from housemap.tui.screens.moving import walk
from housemap.tui.scroller import Rows
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


class LightScreen(ProgramScreen):
    """Shows the light of one room; steps through the rooms, and through paints on its walls."""

    CONTEXT: ClassVar[str] = LIGHT
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(LIGHT)]

    def __init__(self, house: Lighting) -> None:
        super().__init__()
        self._house = house

    @property
    def session(self) -> Session:
        return self._house.session

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
        session, look = self.session, self.look
        rooms, room = walk(session), session.selection.room
        if room is None:
            return
        name = f"{session.shown.rooms[room].name}: light"
        notes = [told_of_light(session)]
        right = f"room {rooms.index(room) + 1} of {len(rooms)}"
        self.query_one("#head", Bar).show(lambda width: head_line(name, notes, right, width, look))
        self._tell(SCREEN_IS_NOT_PAINT)
        self.rows.redraw()

    def look_changed(self) -> None:
        self.rows.look = self.look
        self.session_changed()
        super().look_changed()

    def _tell(self, text: str, *, loud: bool = False) -> None:
        look, words = self.look, self.program.depth.words
        self.query_one(Foot).show_status(
            lambda width: status_line(text, words, width, look, loud=loud)
        )

    # What the user does

    def action_room(self, step: int) -> None:
        room = next_room(walk(self.session), self.session.selection.room, step)
        if room is not None:
            self.rows.tried = None
            self._house.select_beneath(room)
            self.session_changed()

    def action_try(self, step: int) -> None:
        """Try the next lighter paint (above 0) on the walls, or the next darker one."""
        shades, room = shades_of(self.session), self.session.selection.room
        paints = by_light(shades.plain.lrv)
        if room is None or not paints:
            return
        now = self.rows.tried or shades.house.rooms[room].paints.walls
        at = paints.index(now) if now in paints else len(paints) // 2
        self.rows.tried = paints[min(max(at - step, 0), len(paints) - 1)]
        self.rows.redraw()

    def action_page(self, pages: int) -> None:
        self.rows.scroll_pages(pages)

    def action_line(self, lines: int) -> None:
        self.rows.scroll_rows(lines)

    def action_back(self) -> None:
        self.dismiss()
