"""The map of one level: shows a house, follows the selected room, reports keys and clicks."""

import asyncio
from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING

from textual.events import Click, MouseScrollDown, MouseScrollUp
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip

from housemap.tui.map.drawing import Drawing, Looking, Part, Scene, Sight, View
from housemap.tui.map.layout import Geometry
from housemap.tui.map.picture import Selected
from housemap.tui.panels import Stage
from housemap.tui.render.cells import Ink, Stamp
from housemap.tui.strips import full_strip, strip_of
from housemap.tui.terminal import Drawing as PixelDrawing
from housemap.workbench.session import Standing

if TYPE_CHECKING:
    from housemap.tui.map.graph import GraphPicture
    from housemap.tui.pixel_layer import PixelLayer

ZOOM_STEP = 1.3
MOST_STEPS = 12


class HouseMap(Stage, can_focus=True):
    """Draws a scene; keeps what has not changed since the last one."""

    CONTEXT = "map"

    class Shown(Message):
        """The map has been on the screen for the first time."""

    def __init__(
        self, scene: Scene, go: Callable[[str], None], choose: Callable[[str], None],
        drawing: Drawing | None = None,
    ) -> None:  # fmt: skip
        """`go` is called at once with "left", "right", "up", "down", "next" or "previous".

        A message would come after the next key where two are typed at once, and that key would be
        for the room left behind. `choose` is called with a room that was clicked. `drawing`: with
        which the same map was drawn ahead.
        """
        super().__init__(id="map")
        self._go, self._choose, self.scene = go, choose, scene
        self._was_shown = False
        self.steps = 0
        """How many steps it is enlarged."""
        self._drawing = drawing or Drawing()
        self._strips: dict[int, dict[tuple[Stamp, ...], Strip]] = {}
        """By row and what is laid over it."""
        self._room: str | None = None
        self.looking = Looking()
        self._graph: GraphPicture | None = None
        """As drawn; None while the plan is shown."""
        self._pixels: PixelLayer | None = None
        """Over the cells, where the terminal draws pictures."""

    @property
    def geometry(self) -> Geometry | None:
        """As drawn last; None where a level has no rooms."""
        return self._drawing.geometry

    def show(
        self, scene: Scene, room: str | None, sights: tuple[Sight, ...],
        standing: Standing | None = None,
    ) -> None:  # fmt: skip
        """Show a scene; `sights` are the rooms that are seen from the selected one.

        `standing`: where one stands, and what is seen from there.
        """
        self.scene, self._room = scene, room
        self.look_from(sights, standing)

    def select(self, room: str | None) -> None:
        """Move the selection; the lines of sight stay as they are until `look_from`."""
        self._room = room
        self._show()

    def look_from(self, sights: tuple[Sight, ...], standing: Standing | None = None) -> None:
        """Draw the lines of sight of the selected room, and what is seen from a point."""
        self.looking = Looking(self._room, sights, standing)
        self._show()

    def zoom(self, steps: int) -> None:
        """Enlarge (above 0) or reduce; 0 fits the level into the map."""
        self.steps = 0 if steps == 0 else min(max(self.steps + steps, 0), MOST_STEPS)
        self._show()

    def _show(self) -> None:
        """Draw what changed; all of it once there is a size again."""
        self._moved()
        if self.is_fitted:
            parts = self._draw() or ()
            self.refresh(*(Region(start, row, end - start, 1) for row, start, end in parts))
        else:
            self.redraw()

    def fit(self) -> None:
        self._draw()
        self._moved()
        if not self._was_shown:
            self._was_shown = True
            self.call_after_refresh(self._first_shown)

    def _first_shown(self) -> None:
        self.post_message(self.Shown())
        drawing = self.app.drawing  # type: ignore[attr-defined]  # every program of ours has it
        if drawing.protocol != "blocks":
            self.run_worker(self._lay_pixels_over(drawing))

    async def _lay_pixels_over(self, drawing: PixelDrawing) -> None:
        # It needs numpy, and the first frame does not wait for that.
        module = await asyncio.to_thread(import_module, "housemap.tui.map.pixel_map")
        self._pixels = module.layer_over(self, drawing, lambda: self._in_cells)
        self._moved()

    @property
    def _in_cells(self) -> "tuple[Selected, View] | None":
        """What is drawn; None for a graph, and without colour."""
        drawn, view = self._drawing.selected, self._drawing.view
        if self._graph is not None or not drawn or not view or not view.scene.look.colour:
            return None
        return drawn, view

    def _moved(self) -> None:
        if self._pixels:
            self._pixels.moved()

    def on_show(self) -> None:
        self._moved()

    def on_hide(self) -> None:
        if self._pixels:
            self._pixels.end()

    def on_unmount(self) -> None:
        self.on_hide()

    def _draw(self) -> list[Part] | None:
        """Draw as it is to be now; what changed, or None for all of it."""
        size, enlarged = (self.size.width, self.size.height), ZOOM_STEP**self.steps
        was_graph = self._graph is not None
        self._graph = None
        if self.scene.graph is not None and self.scene.plan.rooms:
            from housemap.tui.map.graph import GraphPicture  # noqa: PLC0415 - numpy, not at first

            graph, between = self.scene.graph, self.scene.between
            self._graph = GraphPicture(self.scene, graph, between, self._room, size)
            return None
        before = self._drawing.selected
        parts = self._drawing.draw(View(self.scene, self._room, self.looking, size, enlarged))
        now = self._drawing.selected
        if parts is None or was_graph:
            parts = None
            self._strips.clear()
        elif before and now and before.picture is not now.picture:
            for row, _, _ in parts:
                self._strips.pop(row, None)
        return parts

    def render_line(self, y: int) -> Strip:
        if self._graph is not None and y < len(self._graph.rows):
            return strip_of(self._graph.rows[y], self.size.width)
        drawn = self._drawing.selected
        if drawn is None or y >= drawn.picture.geometry.port.rows:
            return strip_of((), self.size.width, Ink(None, self.scene.look.greys.ground))
        # Kept: what Textual has made of a strip, it finds there again.
        kept, stamps = self._strips.setdefault(y, {}), tuple(drawn.stamps.get(y, ()))
        strip = kept.get(stamps)
        if strip is None:
            strip = kept[stamps] = full_strip(drawn.row(y), self.size.width)
        return strip

    def action_go(self, way: str) -> None:
        self._go(way)

    def action_next(self, step: int) -> None:
        self._go("next" if step > 0 else "previous")

    def on_click(self, event: Click) -> None:
        at, shown = event.get_content_offset(self), self._graph or self.geometry
        room = shown.room_at(at.x, at.y) if at and shown else None
        if room is not None:
            self._choose(room)

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        event.stop()
        self.zoom(1)

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        event.stop()
        if self.steps:
            self.zoom(-1)
