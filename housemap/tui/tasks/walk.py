"""Walking through the house: the map gives way to what one sees, and everything else remains.

Views of other rooms and of findings, the stops of the route, ticks and notes.
"""

import asyncio
import time
from collections.abc import Hashable, Sequence
from dataclasses import replace

from textual.events import Click
from textual.geometry import Region
from textual.strip import Strip

from housemap.checks import Cause, Finding
from housemap.model.edits import put, remove
from housemap.model.house import Visit
from housemap.model.text import NOTES_LENGTH, clean_text, counted
from housemap.plan.pixels import Pixels, coloured, in_view, painted_as
from housemap.plan.route import Route
from housemap.plan.view import FIELD_DEG, Camera
from housemap.plan.viewpoints import gone_through, opening_ahead, stepped, turned, zoomed
from housemap.plan.visibility import Views
from housemap.tui.background import Outcome
from housemap.tui.house_screen import Task
from housemap.tui.map.drawing import Scene, inset_geometry, inset_rows
from housemap.tui.map.picture import Picture
from housemap.tui.panels import ListPanel, RowsPanel, Stage
from housemap.tui.pixel_layer import WALK as WALK_PICTURE
from housemap.tui.pixel_layer import PixelLayer
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.other_eyes import rgb_seen_with
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades, shades_of
from housemap.tui.scroller import LineByLine
from housemap.tui.strips import full_strip
from housemap.tui.tasks import walk_drawing
from housemap.tui.tasks.choose import ChooseTask
from housemap.tui.tasks.findings import FindingsTask
from housemap.tui.terminal import Drawing
from housemap.tui.textual_fixes import output_waits
from housemap.workbench.choosing import Target
from housemap.workbench.session import Standing, today
from housemap.workbench.walker import Walker

TURN_DEG, STEP_M, ZOOM = 10.0, 0.25, 1.2
BETWEEN_S = 0.015
"""From the end of one picture to the beginning of the next at least: keys go first."""

UNMEASURED = (
    "This room has no measures, so there is nothing to stand in. With a size or an outline, and"
    " openings that lead to it, it can be walked through."
)


class Walk(Stage, LineByLine, can_focus=True):
    """Draws what a walker sees. Keys only move the walker: of pictures that are not drawn yet,
    the last one is drawn.
    """  # noqa: D205 - one sentence

    CONTEXT = "walk"
    bar = ("left", "up", "through", "open", "next", "findings", "back")

    def __init__(
        self, owner: "WalkTask", walker: Walker, shades: Shades, drawing: Drawing, *, shaded: bool
    ) -> None:
        super().__init__(owner.look, id="walk")
        self._owner, self._session = owner, owner.session
        self.card: WalkCard = WalkCard(owner, id="walk-card")
        self.picked: walk_drawing.Place | None = None
        """In view, for a paint; None: the chosen surface of the room is."""
        self._pixels = PixelLayer(self, drawing, self._in_pixels, WALK_PICTURE)
        self.walker, self._shades, self.shaded = walker, shades, shaded
        self._rows: list[Row] = []
        self._due: asyncio.TimerHandle | None = None
        self._drawn_at = 0.0

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
        self.post_message(Outcome(self._owner.follow_walk))

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
        view = self.walker.view(width, height * walk_drawing.PIXELS, exact=not self.shaded)
        if view is None:
            page = Page(self.look, width)
            return [page.blank(), *page.text(UNMEASURED)][:height]
        if not self.look.colour:
            return walk_drawing.outline_rows(view, self.look)
        colours = walk_drawing.face_colours(self._shades, self.walker, view.faces, self.look)
        if self.shaded:
            view = self.walker.lit(view, self.walker.camera)
        return walk_drawing.picture_rows(coloured(view, colours, shaded=self.shaded), self.look)

    def fit(self) -> None:
        self._rows = self._new_rows()
        self._strips.clear()
        self._pixels.moved()
        self.post_message(Outcome(self._owner.follow_walk))

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
        colours = walk_drawing.face_colours(self._shades, walker, view.faces, self.look)
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

    def action_go(self, way: str) -> None:
        if way in {"left", "right"}:
            self.turn(-1 if way == "left" else 1)
        else:
            self.action_step(0 if way == "up" else 180)

    def turn(self, turns: int) -> None:
        self.move(turned(self.walker.camera, turns * TURN_DEG))

    def action_page(self, pages: int) -> None:
        """Scroll what is beside it."""
        self.card.scroll_pages(pages)

    def action_turn_round(self) -> None:
        self.move(turned(self.walker.camera, 180.0))

    def action_step(self, aside_deg: int) -> None:
        """A step so far to the right of the way one looks."""
        camera = stepped(self.walker.space, self.walker.camera, aside_deg, STEP_M)
        if camera == self.walker.camera:
            self._owner.say("A wall is in the way.")
        self.move(camera)

    def action_through(self) -> None:
        elevations = self.walker.elevations
        opening = opening_ahead(elevations, self.walker.camera)
        if opening is None:
            self._owner.say("There is no opening ahead: turn until one is.")
        else:
            self.move(gone_through(elevations, self.walker.camera, opening))

    def zoom(self, steps: int) -> None:
        """A narrower field of view (above 0), a wider one, or the usual one (0)."""
        camera = self.walker.camera
        usual = camera._replace(field_deg=FIELD_DEG)
        self.move(zoomed(camera, ZOOM**-steps) if steps else usual)

    def action_view(self) -> None:
        """Leave the shading out, or draw it again."""
        self.shaded = not self.shaded
        self.draw_soon()
        words = "shaded to show the space" if self.shaded else "without shading, exactly as seen"
        self._owner.say(f"Colours {words}.")

    def wheel(self, by: int) -> None:
        self.action_step(0 if by < 0 else 180)

    # What is seen, and picked in it

    def view(self) -> walk_drawing.WalkView:
        session, walker, view = self._session, self.walker, self.walker.last_view
        shares = in_view(view) if view else {}
        if self.picked not in shares:
            self.picked = None
        return walk_drawing.WalkView(
            shades_of(session), session.report if session.report_is_current else None,
            walker.camera, shares, self.target, self._matters(), self._owner.finding,
            f"stop {walker.stop + 1} of {len(walker.route.stops)}", self._owner.look,
        )  # fmt: skip

    @property
    def target(self) -> walk_drawing.Place:
        """The place that a paint is chosen for: picked, or the chosen surface of the room."""
        return self.picked or (self.walker.camera.room, self._session.selection.surface)

    def _matters(self) -> tuple[Cause, ...]:
        """What was found and can be seen from where one stands."""
        report, view = self._session.report, self.walker.last_view
        known = report is not None and view is not None and self._session.report_is_current
        return walk_drawing.matters_in(report, view) if known and report and view else ()

    def on_click(self, event: Click) -> None:
        """Pick what was clicked; choose for it at the second click."""
        at, view = event.get_content_offset(self), self.walker.last_view
        if at is None or view is None:
            return
        face = view.faces[int(view.face[at.y * walk_drawing.PIXELS, at.x])]
        place = painted_as(self.walker.elevations.graph, face)
        if place and place == self.target:
            self.action_open()
        elif place:
            self.picked = place
            self._owner.draw_card()

    def action_pick(self, step: int) -> None:
        """Pick the next surface in view, or the one before."""
        listed, before = self.view().listed(), self.target
        if listed:
            at = listed.index(before) + step if before in listed else min(step, 0)
            self.picked = listed[at % len(listed)]
            self._owner.draw_card()

    def action_open(self) -> None:
        """Choose a paint for what is picked."""
        room, surface = self.target
        if walk_drawing.has_finish(surface):
            self._owner.say("Floors and furniture keep their finish: pick what has a paint.")
        else:
            self._owner.desk.remove_class("-picture")
            self._owner.desk.find_task(ChooseTask).choose_for(Target(room, surface))

    def action_picture_alone(self) -> None:
        """The picture alone, or with what is in view beside it."""
        self._owner.desk.toggle_class("-picture")

    def action_views(self) -> None:
        """List the rooms that are seen from here; moving through them shows each."""
        found = self.walker.views()
        if found is None or not found.best:
            self._owner.say("No other room is seen from here.")
        else:
            panel = ViewsPanel(self._owner, self.walker.camera.room, found)
            self._owner.desk.open_panel(panel)

    def action_next(self, step: int) -> None:
        """Go to the next stop of the route, or the one before."""
        stops, at = self.walker.route.stops, self.walker.stop + step
        if 0 <= at < len(stops):
            self.walker.go_to(stops[at].room)
            self.moved()
        else:
            end, ticked = "last" if step > 0 else "first", self._owner.ticked()
            self._owner.say(f"This is the {end} stop; {ticked}.")

    # What was found

    def will_show(self, matter: Cause) -> Finding | None:
        """What to look at for a matter; None where this view shows it already."""
        shown = {finding.key for each in self._matters() for finding in each.findings}
        return None if matter.first.key in shown else matter.first

    def action_findings(self) -> None:
        """Open the finding of this view that was asked for last, or the gravest."""
        keys = [matter.first.key for matter in self._matters()]
        if keys:
            key = self._owner.finding if self._owner.finding in keys else keys[0]
            self._owner.desk.find_task(FindingsTask).show_finding(key)
        else:
            self._owner.say("Nothing was found in this view.")


# The panel beside the walk: a small map, what is in view, and what was found there.

INSET_SHARE = 0.32
"""Of the panel's height."""
LEAST_ROWS = 5
LEAST_PLACES, ROWS_OF_A_PLACE = 4, 2


class WalkCard(RowsPanel, can_focus=False):
    """Shows nothing once the walk is over."""

    owner: "WalkTask"
    _inset: tuple[Scene, tuple[int, int], Picture] | None = None

    def draw(self, width: int) -> Sequence[Row]:
        if self.owner.walk is None:
            return ()
        view, scene = self.owner.walk.view(), self.owner.desk.map.scene
        picture, standing = self._picture(scene, width), self.owner.walk.walker.standing()
        self.look = view.look
        above = [*walk_drawing.walk_head(view, width), *inset_rows(picture, scene.plan, standing)]
        most = max((self.size.height - len(above)) // 2 // ROWS_OF_A_PLACE, LEAST_PLACES)
        return [*above, *walk_drawing.walk_rows(view, width, most)]

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

    owner: "WalkTask"
    CONTEXT = "places"
    BAR = ("open", "back")
    NOTHING = "No other room is seen from here."

    def __init__(self, owner: "WalkTask", rooms: Sequence[str], chosen: str | None = None) -> None:
        super().__init__(owner)
        self._rooms, self._walk = rooms, owner.walk
        self._came_from = self._walk.walker.camera if self._walk else chosen
        """Where one stood, or the room selected on the map, before the list showed others."""
        self._list(chosen)

    def follow(self) -> None:
        self._list(self.chosen)
        self.redraw()

    def _list(self, chosen: Hashable | None) -> None:
        rooms = self.session.shown.rooms
        self.show_entries([room for room in self._rooms if room in rooms], chosen)

    def moved(self) -> None:
        if self.item:
            self.owner.desk.select(self.item)

    def picked(self) -> None:
        self.owner.desk.close_panel()

    def action_back(self) -> None:
        before = self._came_from
        self.owner.desk.close_panel()
        if isinstance(before, str):
            self.owner.desk.select(before)
        elif self._walk is not None and before is not None:
            self._walk.move(before)


class ViewsPanel(PlacesPanel):
    def __init__(self, owner: "WalkTask", eye: str, views: Views) -> None:
        super().__init__(owner, sorted(views.best, key=lambda room: -views.best[room].share))
        self._eye, self._views = eye, views

    def enter(self) -> None:
        """Show the first view at once."""
        super().enter()
        self.moved()

    def moved(self) -> None:
        if self.item and self._walk is not None:
            self._walk.walker.look_to(self.item)
            self._walk.moved()

    def follow(self) -> None:
        if self._eye not in self.session.shown.rooms:
            self.call_later(self.owner.desk.close_panel)
        else:
            super().follow()

    def head(self, page: Page) -> Sequence[Row]:
        summary = "Of all that is round one: at the best place, on average"
        seen = counted(len(self.items), "room")
        return page.head(f"Seen from {self.session.shown.rooms[self._eye].name}", seen, summary)

    def entry(self, item: str, page: Page) -> Sequence[Row]:
        """A room: its walls as seen from here, its name, the best share."""
        gap, house = page.run(" "), self.session.shown
        swatch = page.swatch(
            walk_drawing.coat_on(shades_of(self.session), item, "walls", self._eye)
        )
        paint = house.paints.get(house.rooms[item].paints.walls or "")
        best = f"{100 * self._views.best[item].share:.0f} %"
        mean = f"{100 * self._views.shares[item]:.0f} %"
        return (
            page.row((page.mark(), swatch, gap), house.rooms[item].name, best, strong=page.chosen),
            page.row((gap, swatch, gap), paint.name if paint else "no paint yet", mean, quiet=True),
        )


class RoutePanel(PlacesPanel):
    """The stops of the route, with their ticks and notes."""

    def __init__(self, owner: "WalkTask", route: Route, room: str) -> None:
        super().__init__(owner, [stop.room for stop in route.stops], room)
        self._route = route

    def head(self, page: Page) -> Sequence[Row]:
        """How far the route is, and how much of it has been walked."""
        stops, visits = [stop.room for stop in self._route.stops], self.session.shown.visits
        done = sum(room in visits for room in stops)
        ticked = f"{done} of {len(stops)} ticked off"
        length = f"{self._route.length_m:.0f} m on foot, with little back and forth."
        return page.head("Route", ticked, length)

    def entry(self, item: str, page: Page) -> Sequence[Row]:
        """A stop: its number, whether it is ticked off, and the note."""
        house, number = self.session.shown, self.items.index(item) + 1
        visit = house.visits.get(item)
        tick = page.look.glyphs.visited if visit else " "
        lead = (page.mark(), page.run(f"{number:>2} {tick} ", strong=bool(visit)))
        when = f"{visit.when:%-d %B %Y}" if visit and visit.when else ""
        note = (visit.notes or "no note") if visit else "still to walk"
        level = f"level {house.rooms[item].level}"
        return (
            page.row(lead, house.rooms[item].name, when, strong=page.chosen),
            page.row((page.run("      "),), note, level, quiet=True),
        )


# The task

TRAILING_S = 0.05
"""How long after a step the card beside the walk follows."""


class WalkTask(Task):
    """Puts the walk in the place of the map and takes it away again; follows where one goes."""

    _walker: Walker | None = None
    walk: Walk | None = None
    """What is in the place of the map while one walks."""
    finding: tuple[object, ...] | None = None
    """The key of the one that was asked for last."""
    _next_look: tuple[Camera, Finding | None] | None = None
    """From where a finding that is about to be selected is looked at."""
    _card_due = _region_on = False

    def walker_in(self, room: str) -> Walker:
        """Whoever walks, standing in a room: where they stood last, or at its stop."""
        if self._walker is None:
            self._walker = Walker(self.session, room)
        elif self._walker.settle() and self._walker.camera.room != room:
            self._walker.go_to(room)
        return self._walker

    def enter_or_leave(self) -> None:
        self.desk.close_panel()
        if self.walk is not None:
            self.leave()
        else:
            program, walker = self.desk.program, self.walker_in(self.room)
            # With few colours each shade of a paint would come out as another colour.
            shaded, shades = program.depth.exact, shades_of(self.session)
            self.walk = Walk(self, walker, shades, program.drawing, shaded=shaded)
            self.desk.set_stage(self.walk)

    def leave(self) -> None:
        if self.walk is not None:
            self.walk = None
            self.desk.remove_class("-picture")
            self.desk.close_panel()
            self.desk.clear_stage()

    # Following the session, and where one goes

    def selecting(self) -> None:
        """Stand in the selected room, where another one than before was selected."""
        room, walk, look = self.session.selection.room, self.walk, self._next_look
        self._next_look = None
        if walk is None:
            return
        if room is None or not walk.walker.settle():
            self.leave()
        elif look is not None:
            walk.walker.camera, finding = look
            if finding is not None:
                walk.walker.look_at(finding)
            walk.moved()
        elif walk.walker.camera.room != room:
            walk.walker.go_to(room)
            walk.moved()

    def following(self) -> None:
        if self.walk is not None:
            self.walk.show(shades_of(self.session), self.look)

    def surface_chosen(self) -> None:
        if self.walk is not None:
            self.walk.picked = None

    def matter_chosen(self, matter: Cause) -> None:
        """Beside the list of findings, show each; a view that shows it already remains."""
        if self.walk is not None:
            self.finding = matter.first.key
            self._next_look = self.walk.walker.camera, self.walk.will_show(matter)

    def sun_seen(self) -> str:
        """Why the picture is the same at this hour; empty where the sun is in it."""
        walk = self.walk
        view = walk.walker.last_view if walk else None
        if walk is None or view is None:
            return ""
        if not walk.shaded:
            return "it is drawn with shading only: press v."
        if self.session.selection.light == "evening":
            return "the walk shows lamplight now: press t."
        lit = walk.walker.lit(view, walk.walker.camera)
        return "" if (lit.shade != view.shade).any() else "none in this view: turn with the arrows."

    def follow_walk(self) -> None:
        """Select the room that one stands in; what is beside the walk follows."""
        if self.walk is None:
            return
        room = self.walk.walker.camera.room
        if room != self.session.selection.room:
            self.session.select(room)
            self.desk.follow_selection()
        if not self._card_due:
            self._card_due = True
            self._draw_card_later()

    def _draw_card_later(self) -> None:
        """Draw what is beside the walk, once the terminal has taken the picture."""

        def due() -> None:
            if output_waits(self.desk.app):
                self._draw_card_later()
            else:
                self._card_due = False
                self.draw_card()

        asyncio.get_running_loop().call_later(TRAILING_S, self.desk.call_next, due)

    def draw_card(self) -> None:
        if self.walk is not None and self.desk.panel is self.walk.card:
            self.walk.card.redraw()

    # On the map, or while a panel has the keys

    def turn(self, turns: int) -> None:
        if self.walk is not None:
            self.walk.turn(turns)
        else:
            self.say("Press w to walk first.")

    def show_region(self) -> None:
        """Show or hide on the map what is seen of the floor from the selected room."""
        self._region_on = not self._region_on
        self.desk.follow_selection()

    def standing(self) -> Standing | None:
        room = self.session.selection.room
        if not self._region_on or room is None:
            return None
        return self.walker_in(room).standing(all_round=True)

    # Lists to walk by

    def open_route(self) -> None:
        self.desk.open_panel(RoutePanel(self, self.walker_in(self.room).route, self.room))

    # Ticks and notes

    def ticked(self) -> str:
        house = self.session.house
        return f"{len(house.visits)} of {len(house.rooms)} ticked off"

    def tick(self) -> None:
        """Tick the selected room off with today's date, or take that back."""
        house, room_id = self.session.house, self.room
        name = house.rooms[room_id].name
        if room_id not in house.visits:
            if self._put_visit(room_id, Visit(today()), f"{name} ticked off"):
                self.say(f"{name} ticked off; {self.ticked()}. Press o for a note.")
            return
        note, label = house.visits[room_id].notes, f"{name} is not ticked off"
        if self.desk.apply(lambda house: remove(house, "visits", room_id), label) and note:
            self.say(f"{label}, and its note is gone; u brings both back.")

    def note(self) -> None:
        """Ask for the note on the visit to the selected room, which ticks it off."""
        room_id, name = self.room, self.session.house.rooms[self.room].name
        visit = self.session.house.visits.get(room_id) or Visit(today())

        def noted(text: str) -> None:
            note = clean_text(text, NOTES_LENGTH)
            self._put_visit(room_id, replace(visit, notes=note), f"{name}: visit noted")

        line = " ".join(visit.notes.split())
        self.desk.ask_line(f"Note on the visit to {name}:", line, noted, empty=True)

    def _put_visit(self, room: str, visit: Visit, label: str) -> bool:
        return self.desk.apply(lambda house: put(house, "visits", room, visit), label)
