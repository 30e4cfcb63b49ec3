"""The house in first person, in the place of the map: turns and steps at each key."""

import asyncio
import time
from dataclasses import dataclass, replace
from typing import ClassVar

from textual.binding import BindingType
from textual.events import Click, MouseScrollDown, MouseScrollUp
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip

from housemap.plan.pixels import coloured, painted_as
from housemap.plan.view import FIELD_DEG, Camera
from housemap.plan.viewpoints import gone_through, opening_ahead, stepped, turned, zoomed
from housemap.tui.keys import bindings_of
from housemap.tui.render.half_blocks import PIXELS, outline_rows, picture_rows
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Ink, Row
from housemap.tui.render.shades import Shades
from housemap.tui.render.walk_colours import face_colours
from housemap.tui.strips import full_strip, strip_of
from housemap.tui.textual_fixes import output_waits
from housemap.tui.walk_commands import WALK
from housemap.tui.widgets.drawn import Drawn
from housemap.workbench.walker import Walker

TURN_DEG, STEP_M, ZOOM = 10.0, 0.25, 1.2
BETWEEN_S = 0.015
"""From the end of one picture to the beginning of the next at least: keys go first."""

UNMEASURED = (
    "This room has no measures, so there is nothing to stand in. With a size or an outline, and"
    " openings that lead to it, it can be walked through."
)


class Walk(Drawn, can_focus=True):
    """Draws what a walker sees. Keys only move the walker: of pictures that are not drawn yet,
    the last one is drawn.
    """  # noqa: D205 - one sentence

    CONTEXT: ClassVar[str] = WALK
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(WALK)]

    @dataclass
    class Moved(Message):
        """One stands elsewhere, or looks elsewhere."""

    @dataclass
    class Asked(Message):
        """A key asked for what only the screen can do, named as its command."""

        what: str

    @dataclass
    class Picked(Message):
        """A surface of a room was clicked."""

        room: str
        surface: str

    @dataclass
    class Told(Message):
        """Something to tell the user."""

        text: str

    def __init__(self, walker: Walker, shades: Shades, look: Look, *, shaded: bool) -> None:
        super().__init__(id="walk")
        self.walker, self._shades, self._look, self.shaded = walker, shades, look, shaded
        self._rows: list[Row] = []
        self._strips: dict[int, Strip] = {}
        self._due: asyncio.TimerHandle | None = None
        self._drawn_at = 0.0

    # What to show

    def show(self, shades: Shades, look: Look) -> None:
        """Show the house in these colours."""
        self._shades, self._look = shades, look
        self.draw_soon()

    def move(self, camera: Camera) -> None:
        """Stand or look elsewhere."""
        if camera != self.walker.camera:
            self.walker.camera = camera
            self.moved()

    def moved(self) -> None:
        self.draw_soon()
        self.post_message(self.Moved())

    def draw_soon(self) -> None:
        """Draw at once if there was no picture just now, else as soon as may be."""
        if self._due is None:
            wait = self._drawn_at + BETWEEN_S - time.monotonic()
            if wait <= 0 and not output_waits(self.app):
                self._draw()
            else:
                self._later(max(wait, 0.0))

    def _later(self, wait: float) -> None:
        # The event loop's own timer: one of Textual's costs a tenth of a key.
        self._due = asyncio.get_running_loop().call_later(wait, self._draw_due)

    def _draw_due(self) -> None:
        """Draw, unless the terminal has not taken the pictures before."""
        self._due = None
        if not self.is_attached:
            return
        if output_waits(self.app):
            self._later(BETWEEN_S)
        else:
            self._draw()

    def _draw(self) -> None:
        if self.is_fitted:
            self._draw_changes()
        else:
            self.redraw()
        self._drawn_at = time.monotonic()

    def _draw_changes(self) -> None:
        """Draw the rows that look different now; a room without measures has few."""
        before, self._rows = self._rows, self._new_rows()
        if len(before) != len(self._rows):
            self._strips.clear()
            self.refresh()
            return
        changed = [y for y, row in enumerate(self._rows) if row != before[y]]
        for y in changed:
            self._strips.pop(y, None)
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    def _new_rows(self) -> list[Row]:
        width, height = self.size
        view = self.walker.view(width, height * PIXELS)
        if view is None:
            page = Page(self._look, width)
            return [page.blank(), *page.text(UNMEASURED)][:height]
        if not self._look.colour:
            return outline_rows(view, self._look)
        colours = face_colours(self._shades, view.faces, self.walker.camera.room, self._look)
        return picture_rows(coloured(view, colours, shaded=self.shaded), self._look)

    def fit(self) -> None:
        self._rows = self._new_rows()
        self._strips.clear()
        self.post_message(self.Moved())

    def on_unmount(self) -> None:
        if self._due:
            self._due.cancel()

    def render_line(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            strip = self._strips[y] = self._new_strip(y)
        return strip

    def _new_strip(self, y: int) -> Strip:
        if y < len(self._rows) == self.size.height:
            return full_strip(self._rows[y], self.size.width)
        fill = Ink(self._look.greys.text, self._look.greys.panel)
        return strip_of(self._rows[y] if y < len(self._rows) else (), self.size.width, fill)

    # What the user does

    def action_turn(self, turns: int) -> None:
        self.move(turned(self.walker.camera, turns * TURN_DEG))

    def action_turn_round(self) -> None:
        self.move(turned(self.walker.camera, 180.0))

    def action_step(self, aside_deg: int) -> None:
        """A step so far to the right of the way one looks."""
        camera = stepped(self.walker.space, self.walker.camera, aside_deg, STEP_M)
        if camera == self.walker.camera:
            self.post_message(self.Told("A wall is in the way."))
        self.move(camera)

    def action_go_through(self) -> None:
        elevations = self.walker.elevations
        opening = opening_ahead(elevations, self.walker.camera)
        if opening is None:
            self.post_message(self.Told("There is no opening ahead: turn until one is."))
        else:
            self.move(gone_through(elevations, self.walker.camera, opening))

    def action_lens(self, steps: int) -> None:
        """A narrower field of view (above 0), a wider one, or the usual one (0)."""
        camera = self.walker.camera
        usual = replace(camera, field_deg=FIELD_DEG)
        self.move(zoomed(camera, ZOOM**-steps) if steps else usual)

    def action_exact(self) -> None:
        """Leave the shading out, or draw it again."""
        self.shaded = not self.shaded
        self.draw_soon()
        words = "shaded to show the space" if self.shaded else "without shading, exactly as seen"
        self.post_message(self.Told(f"Colours {words}."))

    def action_ask(self, what: str) -> None:
        self.post_message(self.Asked(what))

    def on_click(self, event: Click) -> None:
        at, view = event.get_content_offset(self), self.walker.last_view
        if at is None or view is None:
            return
        face = view.faces[int(view.face[at.y * PIXELS, at.x])]
        place = painted_as(self._shades.house, face)
        if place:
            self.post_message(self.Picked(*place))

    def on_mouse_scroll_up(self, event: MouseScrollUp) -> None:
        event.stop()
        self.action_step(0)

    def on_mouse_scroll_down(self, event: MouseScrollDown) -> None:
        event.stop()
        self.action_step(180)
