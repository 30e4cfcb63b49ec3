"""The main screen: the map of the open house, and one panel beside it."""

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Horizontal

from housemap.errors import EditError, HousemapError
from housemap.model.house import House, Surface
from housemap.session import Edit, Reporter, Session
from housemap.tui.commands import HOUSE
from housemap.tui.keys import bindings_of
from housemap.tui.render.bars import head_line, status_line
from housemap.tui.render.scene import blocks_of
from housemap.tui.render.sightlines import Sight
from housemap.tui.reporting import Reported, Reporting
from housemap.tui.screens.base import ProgramScreen
from housemap.tui.steering import next_room, room_that_way
from housemap.tui.widgets.bar import Bar
from housemap.tui.widgets.card import Card
from housemap.tui.widgets.house_map import HouseMap, Scene
from housemap.tui.widgets.panel import Panel

SCREEN_IS_NOT_PAINT = "A screen is a poor judge of paint: decide by a sample on the wall."


class HouseScreen(ProgramScreen):
    """Shows a session, and is the only one to change it.

    Panels and the map report by message; `apply`, `try_out` and `select` are what their handlers
    call. Whatever changes the session ends in `follow`.
    """

    CONTEXT: ClassVar[str] = HOUSE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(HOUSE)]

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__()
        self._session = session
        self._reporting = Reporting(self, session, reporter)
        self._message = ""
        self._sights_on = True
        self._panel: Panel | None = None

    @property
    def session(self) -> Session:
        return self._session

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        with Horizontal(id="body"):
            yield HouseMap(self._scene(), id="map")
            with Container(id="side"):
                yield Card(self._session, self.look, id="card")
        yield Bar(id="status")
        yield Bar(id="keys")

    def on_mount(self) -> None:
        self.map.focus()
        self.follow()

    @property
    def map(self) -> HouseMap:
        return self.query_one("#map", HouseMap)

    @property
    def panel(self) -> Panel:
        """What stands beside the map."""
        return self._panel or self.query_one("#card", Card)

    # Showing the session

    def follow(self) -> None:
        """Show the session as it is now, and have it reported on."""
        self.map.show(self._scene(), self._session.selection.room, self._sights())
        self._draw_rest()
        self._reporting.request()

    def _follow_selection(self) -> None:
        if self._session.selection.level != self._shown_level:
            self.follow()
            return
        self.map.select(self._session.selection.room, self._sights())
        self._draw_rest()

    def _draw_rest(self) -> None:
        self.panel.follow(self._session)
        self._draw_head()
        self._draw_status()
        self.draw_keys()

    def _scene(self) -> Scene:
        session = self._session
        self._shown_level = session.selection.level
        blocks = blocks_of(session.shown, session.report)
        return Scene(session.shown, session.plan, session.selection.level, blocks, self.look)

    def _sights(self) -> tuple[Sight, ...]:
        session = self._session
        if not self._sights_on or session.report is None:
            return ()
        return tuple(_sights(session))

    def _draw_head(self) -> None:
        session, look = self._session, self.look
        notes = [*_notes(session)]
        name = session.house.name or "House without a name"
        right = _place(session)
        self.query_one("#head", Bar).show(lambda width: head_line(name, notes, right, width, look))

    def _draw_status(self) -> None:
        text, loud = (self._message, True) if self._message else (SCREEN_IS_NOT_PAINT, False)
        words, look = self.program.depth.words, self.look
        self.query_one("#status", Bar).show(
            lambda width: status_line(text, words, width, look, loud=loud)
        )

    def say(self, text: str) -> None:
        """Tell something in the status line, until the next key."""
        self._message = text
        self._draw_status()

    def on_key(self) -> None:
        if self._message:
            self.say("")

    def on_reported(self, message: Reported) -> None:
        message.stop()
        self._reporting.take(message)
        if message.fault:
            self.say(message.fault)
        elif self._session.report_is_current:
            self.follow()

    def look_changed(self) -> None:
        self.query_one("#card", Card).look = self.look
        self.follow()

    # Changing the session

    def apply(self, change: Edit | House, label: str) -> bool:
        """Make an edit; tells why not where it does not fit."""
        try:
            changed = self._session.apply(change, label)
        except EditError as error:
            self.say(f"{error}")
            return False
        self.follow()
        if changed:
            self.say(label)
        return changed

    def try_out(self, house: House | None) -> None:
        """Show a house that is not decided on; None shows the decided one again."""
        self._session.try_out(house)
        self.follow()

    def select(self, room: str) -> None:
        if room in self._session.shown.rooms:
            self._session.select(room)
            self._follow_selection()

    # Panels

    def open_panel(self, panel: Panel) -> None:
        """Put a panel in the place of the card, with the focus on it."""
        self.close_panel()
        self._panel = panel
        self.query_one("#card").display = False
        self.query_one("#side", Container).mount(panel)
        panel.focus()
        panel.call_after_refresh(panel.follow, self._session)

    def close_panel(self) -> None:
        """Show the card again, and what is decided."""
        if self._panel is None:
            return
        self._panel.remove()
        self._panel = None
        self.query_one("#card").display = True
        self.map.focus()
        self._session.try_out(None)
        self.follow()

    # Moving about

    def on_house_map_asked(self, message: HouseMap.Asked) -> None:
        room = self._room_to(message.way)
        if room is not None:
            self.select(room)

    def on_house_map_chosen(self, message: HouseMap.Chosen) -> None:
        self.select(message.room)

    def _room_to(self, way: str) -> str | None:
        session = self._session
        room = session.selection.room
        if way in {"next", "previous"} or room is None:
            return next_room(walk(session), room, -1 if way == "previous" else 1)
        middles = {
            name: _middle(placed.box_m)
            for name, placed in session.plan.rooms.items()
            if placed.level == session.selection.level
        }
        return room_that_way(middles, room, way)

    def action_level_up(self) -> None:
        self._step_level(1)

    def action_level_down(self) -> None:
        self._step_level(-1)

    def _step_level(self, step: int) -> None:
        levels = self._session.plan.levels()
        level = self._session.selection.level
        wanted = levels.index(level) + step if level in levels else 0
        if 0 <= wanted < len(levels):
            self._session.select_level(levels[wanted])
            self.follow()
        else:
            self.say("There is no level above." if step > 0 else "There is no level below.")

    def action_surface(self, surface: Surface) -> None:
        self._session.select_surface(surface)
        self._draw_rest()

    def action_zoom_in(self) -> None:
        self.map.zoom(1)

    def action_zoom_out(self) -> None:
        self.map.zoom(-1)

    def action_zoom_fit(self) -> None:
        self.map.zoom(0)

    def action_sightlines(self) -> None:
        self._sights_on = not self._sights_on
        self._follow_selection()

    # Undo and redo

    def action_undo(self) -> None:
        self._step_history("Undone", self._session.undo)

    def action_redo(self) -> None:
        self._step_history("Done again", self._session.redo)

    def _step_history(self, word: str, step: object) -> None:
        try:
            label = step()  # type: ignore[operator]
        except HousemapError as error:
            self.say(str(error))
            return
        self.follow()
        self.say(f"{word}: {label}")


def walk(session: Session) -> Sequence[str]:
    """Every room: level by level from the lowest, in the order of the file."""
    rooms = session.shown.rooms
    return sorted(rooms, key=lambda room: rooms[room].level)


def _middle(box: tuple[float, float, float, float]) -> tuple[float, float]:
    west, south, east, north = box
    return (west + east) / 2, (south + north) / 2


def _sights(session: Session) -> Iterator[Sight]:
    """What the selected room sees, with the openings in the order in which they are passed."""
    room, report = session.selection.room, session.report
    if report is None or room is None:
        return
    for other in report.study.neighbours.get(room, ()):
        sighting = report.study.sightings[min(room, other), max(room, other)]
        way = sighting.through if sighting.rooms[0] == room else sighting.through[::-1]
        yield Sight(other, way)


def _notes(session: Session) -> Iterator[str]:
    if session.unsaved:
        yield "not saved"
    if session.read_only:
        yield "read-only"
    if session.changed_on_disk:
        yield "changed on disk"
    if session.tried is not None:
        yield "trying out"


def _place(session: Session) -> str:
    levels = session.plan.levels()
    rooms = len(session.shown.rooms)
    if len(levels) < 2:  # noqa: PLR2004 - one level goes without saying
        return f"{rooms} rooms"
    return f"level {session.selection.level} of {levels[0]} to {levels[-1]}, {rooms} rooms"
