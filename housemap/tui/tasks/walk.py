"""Walking through the house: the map gives way to what one sees, and everything else remains.

Views of other rooms and of findings, the stops of the route, ticks and notes.
"""

import asyncio
from dataclasses import replace

from housemap.checks import Cause, Finding
from housemap.model.edits import put, remove
from housemap.model.house import Visit
from housemap.model.text import NOTES_LENGTH, clean_text
from housemap.plan.pixels import in_view
from housemap.plan.view import Camera
from housemap.tui.house_screen import HouseScreen, Task
from housemap.tui.render.shades import shades_of
from housemap.tui.tasks.choose import ChooseTask
from housemap.tui.tasks.findings import FindingsTask
from housemap.tui.tasks.walk_drawing import (
    Place,
    WalkView,
    has_finish,
    matters_in,
    matters_to_show,
)
from housemap.tui.tasks.walk_panels import (
    RoutePanel,
    Seen,
    ViewsPanel,
    Walk,
    WalkCard,
)
from housemap.tui.textual_fixes import output_waits
from housemap.workbench.choosing import Target
from housemap.workbench.session import Standing, today
from housemap.workbench.walker import Walker

TRAILING_S = 0.05
"""How long after a step the card beside the walk follows."""


class WalkTask(Task):
    """Puts the walk in the place of the map and takes it away again; follows where one goes."""

    def __init__(self, desk: HouseScreen) -> None:
        super().__init__(desk)
        self._walker: Walker | None = None
        self._walk: Walk | None = None
        self._walk_card: WalkCard | None = None
        self._picked: Place | None = None
        self._finding: tuple[object, ...] | None = None
        """The key of the one that was asked for last."""
        self._next_look: tuple[Camera, Finding | None] | None = None
        """From where a finding that is about to be selected is looked at."""
        self._came_from: Camera | str | None = None
        """Where one stood, or the room selected on the map, before a list showed others."""
        self._card_due = False
        self._region_on = False

    def walker_in(self, room: str) -> Walker:
        """Whoever walks, standing in a room: where they stood last, or at its stop."""
        if self._walker is None:
            self._walker = Walker(self.session, room)
        elif self._walker.settle() and self._walker.camera.room != room:
            self._walker.go_to(room)
        return self._walker

    # In and out

    @property
    def walk(self) -> Walk | None:
        """What is in the place of the map while one walks."""
        return self._walk

    def enter_or_leave(self) -> None:
        self.desk.close_panel()
        room = self.session.selection.room
        if self._walk is not None:
            self.leave()
        elif room is not None:
            self._enter(self.walker_in(room))

    def _enter(self, walker: Walker) -> None:
        # With few colours each shade of a paint would come out as another colour.
        exact = self.desk.program.depth.exact
        drawing = self.desk.program.drawing
        self._walk = Walk(self, walker, shades_of(self.session), drawing, shaded=exact)
        self._walk_card = WalkCard(self, self._seen)
        self.desk.set_stage(self._walk, self._walk_card)

    def leave(self) -> None:
        """Go back to the map."""
        if self._walk is None:
            return
        self._walk = self._walk_card = self._picked = None
        self.desk.remove_class("-picture")
        self.desk.close_panel()
        self.desk.clear_stage()

    # Following the session, and where one goes

    def selecting(self) -> None:
        """Stand in the selected room, where another one than before was selected."""
        room, walk, look = self.session.selection.room, self._walk, self._next_look
        self._next_look = None
        if walk is None:
            return
        if room is None or not walk.walker.settle():
            self.leave()
        elif look is not None:
            self._look_at(walk, *look)
        elif walk.walker.camera.room != room:
            walk.walker.go_to(room)
            walk.moved()

    def following(self) -> None:
        if self._walk is not None:
            self._walk.show(shades_of(self.session), self.look)

    def follow_walk(self) -> None:
        """Select the room that one stands in; what is beside the walk follows."""
        if self._walk is None:
            return
        room = self._walk.walker.camera.room
        if room != self.session.selection.room:
            self.session.select(room)
            self.desk.follow_selection()
        if not self._card_due:
            self._card_due = True
            self._draw_card_later()

    def _draw_card_later(self) -> None:
        call_next = self.desk.call_next
        asyncio.get_running_loop().call_later(TRAILING_S, call_next, self._draw_card_due)

    def _draw_card_due(self) -> None:
        """Draw what is beside the walk, once the terminal has taken the picture."""
        if output_waits(self.desk.app):
            self._draw_card_later()
        else:
            self._card_due = False
            self._draw_card()

    def _draw_card(self) -> None:
        if self._walk_card is not None and self.desk.panel is self._walk_card:
            self._walk_card.redraw()

    # What is seen

    def _seen(self) -> Seen | None:
        if self._walk is None:
            return None
        return self._walk_view(), self.desk.map.scene, self._walk.walker.standing()

    def _walk_view(self) -> WalkView:
        assert self._walk is not None
        walker, session = self._walk.walker, self.session
        view = walker.last_view
        shares = in_view(view) if view else {}
        if self._picked not in shares:
            self._picked = None
        return WalkView(
            shades_of(session), session.report if session.report_is_current else None,
            walker.camera, shares, self._target(), self._matters(), self._finding,
            f"stop {walker.stop + 1} of {len(walker.route.stops)}", self.look,
        )  # fmt: skip

    def _target(self) -> Place:
        """The place that a paint is chosen for: picked, or the chosen surface of the room."""
        assert self._walk is not None
        return self._picked or (self._walk.walker.camera.room, self.session.selection.surface)

    def _matters(self) -> tuple[Cause, ...]:
        """What was found and can be seen from where one stands."""
        report = self.session.report
        view = self._walk.walker.last_view if self._walk else None
        if report is None or view is None or not self.session.report_is_current:
            return ()
        return matters_in(report, view)

    # Picking in what is seen

    def pick_place(self, place: Place) -> None:
        """Pick what was clicked; choose for it at the second click."""
        if self._walk is None:
            return
        if place == self._target():
            self.choose_picked()
        else:
            self._picked = place
            self._draw_card()

    def pick(self, step: int) -> None:
        """Pick the next surface in view, or the one before."""
        listed = self._walk_view().listed() if self._walk is not None else ()
        if not listed:
            return
        before = self._target()
        at = listed.index(before) + step if before in listed else min(step, 0)
        self._picked = listed[at % len(listed)]
        self._draw_card()

    def choose_picked(self) -> None:
        """Choose a paint for the picked surface."""
        if self._walk is None:
            return
        room, surface = self._target()
        if has_finish(surface):
            self.say("Floors and furniture keep their finish: pick what has a paint.")
        else:
            self.desk.remove_class("-picture")
            self.desk.find_task(ChooseTask).choose_for(Target(room, surface))

    def surface_chosen(self) -> None:
        self._picked = None

    def picture_alone(self) -> None:
        """The picture alone, or with what is in view beside it."""
        if self._walk is not None:
            self.desk.toggle_class("-picture")

    def scroll(self, pages: int) -> None:
        """Scroll what is beside the walk."""
        if self._walk_card is not None:
            self._walk_card.scroll_pages(pages)

    def turn(self, turns: int) -> None:
        """Turn also while a panel has the keys."""
        if self._walk is not None:
            self._walk.turn(turns)
        else:
            self.say("Press w to walk first.")

    # On the map

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

    def open_views(self) -> None:
        """List the rooms that are seen from here; moving through them shows each."""
        if self.walk is None:
            return
        found = self.walk.walker.views()
        if found is None or not found.best:
            self.say("No other room is seen from here.")
            return
        camera = self.walk.walker.camera
        self.desk.open_panel(ViewsPanel(self, camera.room, found))
        self._came_from = camera

    def open_route(self) -> None:
        """List the stops of the route."""
        room = self.session.selection.room
        if room is None:
            return
        walker = self.walker_in(room)
        self.desk.open_panel(RoutePanel(self, walker.route, room))
        self._came_from = walker.camera if self.walk else room

    def try_place(self, room: str) -> None:
        if isinstance(self.desk.panel, ViewsPanel) and self.walk is not None:
            self.walk.walker.look_to(room)
            self.walk.moved()
        else:
            self.desk.select(room)

    def leave_places(self, *, stay: bool) -> None:
        before, self._came_from = self._came_from, None
        self.desk.close_panel()
        if stay or before is None:
            return
        if isinstance(before, str):
            self.desk.select(before)
        elif self.walk is not None:
            self.walk.move(before)

    # The route

    def go_to_stop(self, step: int) -> None:
        """Go to the next stop of the route, or the one before."""
        if self.walk is None:
            return
        walker = self.walk.walker
        stops, at = walker.route.stops, walker.stop + step
        if 0 <= at < len(stops):
            walker.go_to(stops[at].room)
            self.walk.moved()
        else:
            self.say(f"This is the {'last' if step > 0 else 'first'} stop; {self._ticked()}.")

    def _ticked(self) -> str:
        house = self.session.house
        return f"{len(house.visits)} of {len(house.rooms)} rooms are ticked off"

    def tick(self) -> None:
        """Tick the selected room off with today's date, or take that back."""
        room_id = self.session.selection.room
        if room_id is None:
            return
        name = self.session.house.rooms[room_id].name
        if room_id in self.session.house.visits:
            self._untick(room_id, name)
        elif self._put_visit(room_id, Visit(today()), f"{name} ticked off"):
            self.say(f"{name} ticked off; {self._ticked()}. Press o for a note.")

    def _untick(self, room_id: str, name: str) -> None:
        label = f"{name} is not ticked off"
        note = self.session.house.visits[room_id].notes
        if self.desk.apply(lambda house: remove(house, "visits", room_id), label) and note:
            self.say(f"{label}, and its note is gone; u brings both back.")

    def note(self) -> None:
        """Ask for the note on the visit to the selected room, which ticks it off."""
        room_id = self.session.selection.room
        if room_id is None:
            return
        name = self.session.house.rooms[room_id].name
        visit = self.session.house.visits.get(room_id) or Visit(today())

        def noted(text: str) -> None:
            note = clean_text(text, NOTES_LENGTH)
            self._put_visit(room_id, replace(visit, notes=note), f"{name}: visit noted")

        line = " ".join(visit.notes.split())
        self.desk.ask_line(f"Note on the visit to {name}:", line, noted, empty=True)

    def _put_visit(self, room: str, visit: Visit, label: str) -> bool:
        return self.desk.apply(lambda house: put(house, "visits", room, visit), label)

    # Findings

    def go_to_finding(self, step: int) -> None:
        """To the view that shows the next finding best."""
        report = self.session.report
        if report is None or self.walk is None:
            self.say("The house is being looked at.")
            return
        matters = matters_to_show(report)
        keys = [matter.first.key for matter in matters]
        if not keys:
            self.say("Nothing was found.")
            return
        at = keys.index(self._finding) + step if self._finding in keys else min(step, 0)
        matter = matters[at % len(matters)]
        self._finding = matter.first.key
        self.walk.walker.look_at(matter.first)
        self.walk.moved()
        self.say(f"{at % len(matters) + 1} of {len(matters)}: {matter.describe(report.house)}")

    def matter_chosen(self, matter: Cause) -> None:
        """Beside the list of findings, show each; a view that shows it already remains."""
        if self._walk is not None:
            shown = {finding.key for each in self._matters() for finding in each.findings}
            self._finding = matter.first.key
            finding = None if matter.first.key in shown else matter.first
            self._next_look = self._walk.walker.camera, finding

    def _look_at(self, walk: Walk, camera: Camera, finding: Finding | None) -> None:
        walk.walker.camera = camera
        if finding is not None:
            walk.walker.look_at(finding)
        walk.moved()

    def open_finding(self) -> None:
        """The finding of this view that was asked for last, or the gravest."""
        keys = [matter.first.key for matter in self._matters()]
        if not keys:
            self.say("Nothing was found in this view.")
            return
        key = self._finding if self._finding in keys else keys[0]
        self.desk.find_task(FindingsTask).open_one(key)
