"""The map of one level: shows a house, follows the selected room, reports keys and clicks."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType
from textual.events import Click, MouseScrollDown, MouseScrollUp
from textual.geometry import Offset, Region
from textual.message import Message
from textual.strip import Strip

from housemap.model.house import House
from housemap.plan.placed import Plan
from housemap.tui.commands import MAP
from housemap.tui.keys import bindings_of
from housemap.tui.render.canvas import Stamp
from housemap.tui.render.frame import Frame, enlarged_frame, fitting_frame
from housemap.tui.render.geometry import Geometry, geometry_of, rooms_of_level
from housemap.tui.render.grid import Port
from housemap.tui.render.house_map import Picture, Selected, changed_parts
from housemap.tui.render.look import Look
from housemap.tui.render.port import follow
from housemap.tui.render.runs import Ink
from housemap.tui.render.scene import Block
from housemap.tui.render.sightlines import Sight, paths_of
from housemap.tui.render.standing import Standing, standing_stamps
from housemap.tui.strips import full_strip, strip_of
from housemap.tui.widgets.drawn import Drawn

ZOOM_STEP = 1.3
MOST_STEPS = 12


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything that the map shows."""

    house: House
    plan: Plan
    level: int
    blocks: Mapping[str, Block]
    look: Look


class HouseMap(Drawn, can_focus=True):
    """Draws a scene; keeps what has not changed since the last one."""

    CONTEXT: ClassVar[str] = MAP
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(MAP)]

    @dataclass
    class Chosen(Message):
        """A room was clicked."""

        room: str

    @dataclass
    class Asked(Message):
        """A key asked to go "left", "right", "up", "down", "next" or "previous"."""

        way: str

    class Shown(Message):
        """The map has been on the screen for the first time."""

    @dataclass
    class PaintAsked(Message):
        """A key asked for another paint in the selected room."""

    def __init__(self, scene: Scene, *, id: str | None = None) -> None:  # noqa: A002 - Textual's name
        super().__init__(id=id)
        self._scene = scene
        self._was_shown = False
        self._steps = 0
        self._port: Port | None = None
        self._frame: Frame | None = None
        self._geometry: Geometry | None = None
        self._selected: Selected | None = None
        self._strips: dict[tuple[int, tuple[Stamp, ...]], Strip] = {}
        self._room: str | None = None
        self._sights: tuple[Sight, ...] = ()
        self._standing: Standing | None = None

    # What to show

    @property
    def scene(self) -> Scene:
        return self._scene

    def show(
        self, scene: Scene, room: str | None, sights: tuple[Sight, ...],
        standing: Standing | None = None,
    ) -> None:  # fmt: skip
        """Show a scene; `sights` are the rooms that are seen from the selected one.

        `standing`: where one stands, and what is seen from there.
        """
        before, self._scene = self._scene, scene
        moved = scene.plan is not before.plan or scene.level != before.level
        if moved:
            self._frame = self._geometry = None
        self._room, self._sights, self._standing = room, sights, standing
        self._draw(anew=moved or scene != before)

    def select(self, room: str | None) -> None:
        """Move the selection; the lines of sight stay as they are until `look_from`."""
        self._room = room
        self._draw(anew=False)

    def look_from(self, sights: tuple[Sight, ...], standing: Standing | None = None) -> None:
        """Draw the lines of sight of the selected room, and what is seen from a point."""
        self._sights, self._standing = sights, standing
        self._draw(anew=False, lines_anew=True)

    def zoom(self, steps: int) -> None:
        """Enlarge (above 0) or reduce; 0 fits the level into the map."""
        wanted = 0 if steps == 0 else min(max(self._steps + steps, 0), MOST_STEPS)
        if wanted != self._steps:
            self._steps = wanted
            self._frame = self._geometry = self._port = None
            self._draw(anew=True)

    @property
    def enlarged(self) -> bool:
        return self._steps > 0

    def on_resize(self) -> None:
        self._frame = self._geometry = self._port = None
        self._draw(anew=True)
        if not self._was_shown:
            self._was_shown = True
            self.call_after_refresh(self.post_message, self.Shown())

    # Drawing

    def _draw(self, *, anew: bool, lines_anew: bool = False) -> None:
        geometry = self._layout()
        if geometry is None:
            self._selected = None
            self.refresh()
            return
        before = self._selected
        if before is None or anew or before.picture.geometry is not geometry:
            units = self._scene.house.units if self._is_to_scale else None
            picture = Picture(geometry, self._scene.blocks, self._scene.look, units)
            self._strips.clear()
            self._selected = Selected(picture, self._room, self._lines(picture))
        elif lines_anew:
            self._selected = Selected(before.picture, self._room, self._lines(before.picture))
        else:
            self._selected = Selected(before.picture, self._room, before.lines)
        self._refresh(before, self._selected)

    @property
    def _is_to_scale(self) -> bool:
        rooms = self._scene.plan.rooms.values()
        return any(room.measured for room in rooms if room.level == self._scene.level)

    def _lines(self, picture: Picture) -> tuple[Stamp, ...]:
        paths = paths_of(picture.geometry, self._scene.plan, self._room, self._sights)
        return *picture.lines(paths), *standing_stamps(picture, self._scene.plan, self._standing)

    def _layout(self) -> Geometry | None:
        """Where everything goes; made anew where the port had to move."""
        scene, size = self._scene, self.size
        rooms = rooms_of_level(scene.plan, scene.level)
        if not rooms or not size.width or not size.height:
            return None
        if self._frame is None:
            self._frame = self._new_frame([scene.plan.rooms[room].outline_m for room in rooms])
        outline = scene.plan.rooms[self._room].outline_m if self._room in rooms else None
        port = follow(self._frame, outline, self._port, size.width, size.height)
        if self._geometry is None or port != self._port:
            self._port = port
            self._geometry = geometry_of(scene.house, scene.plan, scene.level, self._frame, port)
        return self._geometry

    def _new_frame(self, outlines: list[tuple[tuple[float, float], ...]]) -> Frame:
        thickness = self._scene.house.wall_thickness_m
        fitting = fitting_frame(outlines, self.size.width - 2, self.size.height - 1, thickness)
        if not self._steps:
            return fitting
        return enlarged_frame(outlines, fitting, ZOOM_STEP**self._steps, thickness)

    def _refresh(self, before: Selected | None, now: Selected) -> None:
        if before is None or before.picture is not now.picture:
            self.refresh()
            return
        parts = changed_parts(before, now)
        self.refresh(*(Region(start, row, end - start, 1) for row, start, end in parts))

    def render_line(self, y: int) -> Strip:
        ground = Ink(None, self._scene.look.greys.ground)
        if self._selected is None or y >= self._selected.picture.geometry.port.rows:
            return strip_of((), self.size.width, ground)
        return self._strip(self._selected, y)

    def _strip(self, selected: Selected, row: int) -> Strip:
        """A row as Textual draws it. Kept: what it has made of a strip, it finds there again."""
        key = row, tuple(selected.stamps.get(row, ()))
        strip = self._strips.get(key)
        if strip is None:
            strip = self._strips[key] = full_strip(selected.row(row), self.size.width)
        return strip

    # What the user does

    def action_go(self, way: str) -> None:
        self.post_message(self.Asked(way))

    def action_next_room(self) -> None:
        self.post_message(self.Asked("next"))

    def action_previous_room(self) -> None:
        self.post_message(self.Asked("previous"))

    def action_choose(self) -> None:
        self.post_message(self.PaintAsked())

    def on_click(self, event: Click) -> None:
        room = self._room_at(event.get_content_offset(self))
        if room is not None:
            self.post_message(self.Chosen(room))

    def _room_at(self, at: Offset | None) -> str | None:
        return self._geometry.room_at(at.x, at.y) if at and self._geometry else None

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        event.stop()
        self.zoom(1)

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        event.stop()
        if self._steps:
            self.zoom(-1)
