"""The house in first person, in the place of the map: turns and steps at each key."""

import asyncio
import time
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from typing import Protocol

from textual.events import Click
from textual.geometry import Region
from textual.strip import Strip

from housemap.plan.pixels import Pixels, coloured, painted_as
from housemap.plan.route import Route
from housemap.plan.view import FIELD_DEG, Camera
from housemap.plan.viewpoints import gone_through, opening_ahead, stepped, turned, zoomed
from housemap.plan.visibility import Views
from housemap.tui.background import Outcome
from housemap.tui.map.drawing import Scene, inset_geometry, inset_rows
from housemap.tui.map.picture import Picture
from housemap.tui.panels import ListPanel, RowsPanel, Stage
from housemap.tui.pictures import Drawing
from housemap.tui.pixel_layer import WALK as WALK_PICTURE
from housemap.tui.pixel_layer import PixelLayer
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.other_eyes import rgb_seen_with
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades, shades_of
from housemap.tui.scroller import LineByLine
from housemap.tui.strips import full_strip
from housemap.tui.tasks.walk_drawing import (
    PIXELS,
    Place,
    WalkView,
    face_colours,
    outline_rows,
    picture_rows,
    route_head,
    stop_rows,
    view_rows,
    views_head,
    walk_head,
    walk_rows,
)
from housemap.tui.textual_fixes import output_waits
from housemap.workbench.session import Session, Standing
from housemap.workbench.walker import Walker

TURN_DEG, STEP_M, ZOOM = 10.0, 0.25, 1.2
BETWEEN_S = 0.015
"""From the end of one picture to the beginning of the next at least: keys go first."""

UNMEASURED = (
    "This room has no measures, so there is nothing to stand in. With a size or an outline, and"
    " openings that lead to it, it can be walked through."
)


class Walking(Protocol):
    """The task of the walk, as its widgets see it."""

    session: Session

    @property
    def look(self) -> Look: ...
    def say(self, text: str) -> None: ...
    def follow_walk(self) -> None:
        """One stands elsewhere, or looks elsewhere."""

    def pick_place(self, place: Place) -> None:
        """A surface of a room was clicked."""

    def try_place(self, room: str) -> None:
        """Show a room, for now."""

    def leave_places(self, *, stay: bool) -> None:
        """Close the list, where a room was shown or where one stood before."""


class Walk(Stage, LineByLine, can_focus=True):
    """Draws what a walker sees. Keys only move the walker: of pictures that are not drawn yet,
    the last one is drawn.
    """  # noqa: D205 - one sentence

    CONTEXT = "walk"
    bar = ("left", "up", "through", "open", "next", "findings", "back")

    def __init__(
        self, walking: Walking, walker: Walker, shades: Shades, drawing: Drawing, *, shaded: bool
    ) -> None:
        super().__init__(walking.look, id="walk")
        self._walking = walking
        self._pixels = PixelLayer(self, drawing, self._in_pixels, WALK_PICTURE)
        self.walker, self._shades, self.shaded = walker, shades, shaded
        self._rows: list[Row] = []
        self._due: asyncio.TimerHandle | None = None
        self._drawn_at = 0.0

    # What to show

    def show(self, shades: Shades, look: Look) -> None:
        """Show the house in these colours."""
        if look.eyes != self.look.eyes:
            self._rows = []  # the same inks look different now
        self._shades, self.look = shades, look
        self.draw_soon()

    def move(self, camera: Camera) -> None:
        """Stand or look elsewhere."""
        if camera != self.walker.camera:
            self.walker.camera = camera
            self.moved()

    def moved(self) -> None:
        self.draw_soon()
        self.post_message(Outcome(self._walking.follow_walk))

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
        self._pixels.moved()

    def _draw_changes(self) -> None:
        """Draw the rows that look different now; a room without measures has few."""
        before, self._rows = self._rows, self._new_rows()
        if len(before) != len(self._rows):
            self.forget_all()
            return
        changed = [y for y, row in enumerate(self._rows) if row != before[y]]
        for y in changed:
            self._strips.pop(y, None)
        if changed:
            self.refresh(*(Region(0, y, self.size.width, 1) for y in changed))

    def _new_rows(self) -> list[Row]:
        width, height = self.size
        view = self.walker.view(width, height * PIXELS, exact=not self.shaded)
        if view is None:
            page = Page(self.look, width)
            return [page.blank(), *page.text(UNMEASURED)][:height]
        if not self.look.colour:
            return outline_rows(view, self.look)
        colours = face_colours(self._shades, view.faces, self.walker.camera.room, self.look)
        if self.shaded:
            view = self.walker.lit(view, self.walker.camera)
        return picture_rows(coloured(view, colours, shaded=self.shaded), self.look)

    def fit(self) -> None:
        self._rows = self._new_rows()
        self._strips.clear()
        self._pixels.moved()
        self.post_message(Outcome(self._walking.follow_walk))

    async def _in_pixels(self, size: tuple[int, int]) -> Pixels | None:
        """The same view as large as the terminal can show it."""
        if not self.look.colour:
            return None
        walker, shaded = self.walker, self.shaded
        camera = walker.camera
        view = await asyncio.to_thread(walker.picture, camera, *size, exact=not shaded)
        if view is None:
            return None
        if shaded:
            view = await asyncio.to_thread(walker.lit, view, camera)
        colours = face_colours(self._shades, view.faces, walker.camera.room, self.look)
        if self.look.eyes:  # what is drawn in cells is turned into theirs by `strips`
            colours = [rgb_seen_with(self.look.eyes, colour) for colour in colours]
        return await asyncio.to_thread(coloured, view, colours, shaded=shaded, dithered=True)

    def on_unmount(self) -> None:
        self._pixels.end()
        if self._due:
            self._due.cancel()

    def render_line(self, y: int) -> Strip:
        """A picture fills its line, so nothing is to be measured."""
        if y not in self._strips and y < len(self._rows) == self.size.height:
            self._strips[y] = full_strip(self._rows[y], self.size.width)
        return super().render_line(y)

    def row_at(self, y: int) -> Row:
        return self._rows[y] if y < len(self._rows) else ()

    # What the user does

    def action_go(self, way: str) -> None:
        if way in {"left", "right"}:
            self.turn(-1 if way == "left" else 1)
        else:
            self.action_step(0 if way == "up" else 180)

    def turn(self, turns: int) -> None:
        self.move(turned(self.walker.camera, turns * TURN_DEG))

    def action_turn_round(self) -> None:
        self.move(turned(self.walker.camera, 180.0))

    def action_step(self, aside_deg: int) -> None:
        """A step so far to the right of the way one looks."""
        camera = stepped(self.walker.space, self.walker.camera, aside_deg, STEP_M)
        if camera == self.walker.camera:
            self._walking.say("A wall is in the way.")
        self.move(camera)

    def action_through(self) -> None:
        elevations = self.walker.elevations
        opening = opening_ahead(elevations, self.walker.camera)
        if opening is None:
            self._walking.say("There is no opening ahead: turn until one is.")
        else:
            self.move(gone_through(elevations, self.walker.camera, opening))

    def zoom(self, steps: int) -> None:
        """A narrower field of view (above 0), a wider one, or the usual one (0)."""
        camera = self.walker.camera
        usual = replace(camera, field_deg=FIELD_DEG)
        self.move(zoomed(camera, ZOOM**-steps) if steps else usual)

    def action_view(self) -> None:
        """Leave the shading out, or draw it again."""
        self.shaded = not self.shaded
        self.draw_soon()
        words = "shaded to show the space" if self.shaded else "without shading, exactly as seen"
        self._walking.say(f"Colours {words}.")

    def on_click(self, event: Click) -> None:
        at, view = event.get_content_offset(self), self.walker.last_view
        if at is None or view is None:
            return
        face = view.faces[int(view.face[at.y * PIXELS, at.x])]
        place = painted_as(self._shades.house, face)
        if place:
            self._walking.pick_place(place)

    def wheel(self, by: int) -> None:
        self.action_step(0 if by < 0 else 180)


# The panel beside the walk: a small map, what is in view, and what was found there.

INSET_SHARE = 0.32
"""Of the panel's height."""
LEAST_ROWS = 5
LEAST_PLACES, ROWS_OF_A_PLACE = 4, 2

Seen = tuple[WalkView, Scene, Standing]


class WalkCard(RowsPanel, can_focus=False):
    """Shows what `seen` gives; nothing once the walk is over."""

    def __init__(self, owner: Walking, seen: Callable[[], Seen | None]) -> None:
        super().__init__(owner, id="walk-card")
        self._seen = seen
        self._inset: tuple[Scene, tuple[int, int], Picture] | None = None

    def draw(self, width: int) -> Sequence[Row]:
        seen = self._seen()
        if seen is None:
            return ()
        view, scene, standing = seen
        self.look = view.look
        picture = self._picture(scene, width)
        above = [*walk_head(view, width), *inset_rows(picture, scene.plan, standing)]
        most = max((self.size.height - len(above)) // 2 // ROWS_OF_A_PLACE, LEAST_PLACES)
        return [*above, *walk_rows(view, width, most)]

    def _picture(self, scene: Scene, width: int) -> Picture:
        """The map without where one stands; kept while one only moves."""
        rows = max(int(self.size.height * INSET_SHARE), LEAST_ROWS)
        kept = self._inset
        if kept is None or kept[0] is not scene or kept[1] != (width, rows):
            geometry = inset_geometry(scene.house, scene.plan, scene.level, width, rows)
            picture = Picture(geometry, scene.blocks, scene.look)
            self._inset = kept = scene, (width, rows), picture
        return kept[2]


# Lists to walk by: moving through one shows each view, enter stays there, escape goes back.


class PlacesPanel(ListPanel[str]):
    """Rooms to look at."""

    owner: Walking
    CONTEXT = "places"
    BAR = ("open", "back")
    NOTHING = "No other room is seen from here."

    def _list(self, rooms: Sequence[str], chosen: Hashable | None) -> None:
        self.show_entries([room for room in rooms if room in self.session.shown.rooms], chosen)

    def moved(self) -> None:
        if self.item:
            self.owner.try_place(self.item)

    def picked(self) -> None:
        self.owner.leave_places(stay=True)

    def action_back(self) -> None:
        self.owner.leave_places(stay=False)


class ViewsPanel(PlacesPanel):
    """The rooms that are seen from one."""

    def __init__(self, owner: Walking, eye: str, views: Views) -> None:
        super().__init__(owner)
        self._eye, self._views = eye, views
        self._list(self._by_share(), None)

    def _by_share(self) -> list[str]:
        return sorted(self._views.best, key=lambda room: -self._views.best[room].share)

    def enter(self) -> None:
        """Show the first view at once."""
        super().enter()
        self.moved()

    def follow(self) -> None:
        if self._eye not in self.session.shown.rooms:
            self.call_later(self.owner.leave_places, stay=True)
            return
        self._list(self._by_share(), self.chosen)
        self.redraw()

    def head(self, page: Page) -> Sequence[Row]:
        return views_head(self.session.shown, self._eye, len(self.items), page)

    def entry(self, item: str, page: Page) -> Sequence[Row]:
        return view_rows(shades_of(self.session), self._eye, item, self._views, page)


class RoutePanel(PlacesPanel):
    """The stops of the route, with their ticks and notes."""

    def __init__(self, owner: Walking, route: Route, room: str) -> None:
        super().__init__(owner)
        self._route = route
        self._stops = [stop.room for stop in route.stops]
        self._list(self._stops, room)

    def follow(self) -> None:
        self._list(self._stops, self.chosen)
        self.redraw()

    def head(self, page: Page) -> Sequence[Row]:
        return route_head(self.session.shown, self._route, page)

    def entry(self, item: str, page: Page) -> Sequence[Row]:
        return stop_rows(self.session.shown, self.items.index(item) + 1, item, page)
