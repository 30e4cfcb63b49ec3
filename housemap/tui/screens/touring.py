"""Views of other rooms and of findings, the stops of the route, ticks and notes."""

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from housemap.model.edits import put, remove
from housemap.model.house import Visit
from housemap.model.text import NOTES_LENGTH, clean_text
from housemap.tui.questions import Prompt
from housemap.tui.screens.walk_tasks import WalkTasks
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.checks import Matter
    from housemap.plan.view import Camera
    from housemap.tui.tasks.walk_panels import PlacesPanel


class Touring(WalkTasks):
    """Takes one from view to view."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._came_from: Camera | str | None = None
        """Where one stood, or the room selected on the map, before a list showed others."""

    def tasks(self) -> Mapping[str, Callable[[], object]]:
        return {
            **super().tasks(),
            "views": self._open_views,
            "next stop": lambda: self._go_to_stop(1),
            "stop before": lambda: self._go_to_stop(-1),
            "next finding": lambda: self._go_to_finding(1),
            "finding before": lambda: self._go_to_finding(-1),
            "why": self._open_finding,
        }

    # Lists to walk by

    def _open_views(self) -> None:
        assert self.walk is not None
        found = self.walk.walker.views()
        if found is None or not found.best:
            self.say("No other room is seen from here.")
            return
        from housemap.tui.tasks.walk_panels import ViewsPanel  # noqa: PLC0415 - when first needed

        camera = self.walk.walker.camera
        self.open_panel(ViewsPanel(self.session, self.look, camera.room, found))
        self._came_from = camera

    def action_route(self) -> None:
        room = self.session.selection.room
        if room is None:
            return
        from housemap.tui.tasks.walk_panels import RoutePanel  # noqa: PLC0415 - when first needed

        walker = self.walker_in(room)
        self.open_panel(RoutePanel(self.session, self.look, walker.route, room))
        self._came_from = walker.camera if self.walk else room

    def on_places_panel_tried(self, message: "PlacesPanel.Tried") -> None:
        from housemap.tui.tasks.walk_panels import ViewsPanel  # noqa: PLC0415 - it is there by now

        if isinstance(self.panel, ViewsPanel) and self.walk is not None:
            self.walk.walker.look_to(message.room)
            self.walk.moved()
        else:
            self.select(message.room)

    def on_places_panel_left(self, message: "PlacesPanel.Left") -> None:
        before, self._came_from = self._came_from, None
        self.close_panel()
        if message.stay or before is None:
            return
        if isinstance(before, str):
            self.select(before)
        elif self.walk is not None:
            self.walk.move(before)

    # The route

    def _go_to_stop(self, step: int) -> None:
        assert self.walk is not None
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

    def action_tick(self) -> None:
        """Tick the selected room off with today's date, or take that back."""
        room_id = self.session.selection.room
        if room_id is None:
            return
        name = self.session.house.rooms[room_id].name
        if room_id in self.session.house.visits:
            self._untick(room_id, name)
        elif self._put_visit(room_id, Visit(_today()), f"{name} ticked off"):
            self.say(f"{name} ticked off, o adds a note; {self._ticked()}.")

    def _untick(self, room_id: str, name: str) -> None:
        label = f"{name} is not ticked off"
        note = self.session.house.visits[room_id].notes
        if self.apply(lambda house: remove(house, "visits", room_id), label) and note:
            self.say(f"{label}, and its note is gone; u brings both back.")

    def action_note(self) -> None:
        """Ask for the note on the visit to the selected room, which ticks it off."""
        room_id = self.session.selection.room
        if room_id is None:
            return
        name = self.session.house.rooms[room_id].name
        visit = self.session.house.visits.get(room_id) or Visit(_today())

        def noted(text: str | None) -> None:
            if text is not None:
                note = clean_text(text, NOTES_LENGTH)
                self._put_visit(room_id, replace(visit, notes=note), f"{name}: visit noted")

        line = " ".join(visit.notes.split())
        self.app.push_screen(Prompt(f"Note on the visit to {name}:", line, self.look), noted)

    def _put_visit(self, room: str, visit: Visit, label: str) -> bool:
        return self.apply(lambda house: put(house, "visits", room, visit), label)

    # Findings

    def _go_to_finding(self, step: int) -> None:
        """To the view that shows the next finding best."""
        report = self.session.report
        if report is None or self.walk is None:
            self.say("The house is being looked at.")
            return
        from housemap.tui.tasks.walk_drawing import matters_to_show  # noqa: PLC0415 - numpy

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
        self.say(f"{at % len(matters) + 1} of {len(matters)}: {matter.tell(report.house)}")

    def _look_at(self, matter: "Matter") -> None:
        """Beside the list of findings, show each; a view that shows it already stays."""
        walk = self.walk
        if walk is None:
            super()._look_at(matter)
            return
        shown = {finding.key for each in self._matters() for finding in each.findings}
        camera, self._finding = walk.walker.camera, matter.first.key
        super()._look_at(matter)
        walk.walker.camera = camera
        if matter.first.key not in shown:
            walk.walker.look_at(matter.first)
        walk.moved()

    def _open_finding(self) -> None:
        """The finding of this view that was asked for last, or the gravest."""
        matters = self._matters()
        keys = [matter.first.key for matter in matters]
        if not keys:
            self.say("Nothing was found in this view.")
            return
        from housemap.tui.tasks.findings import FindingPanel  # noqa: PLC0415 - the same
        from housemap.tui.tasks.findings_drawing import Sifting  # noqa: PLC0415 - when first needed

        key = self._finding if self._finding in keys else keys[0]
        self._sifting = None
        self.open_panel(FindingPanel(self.session, self.look, Sifting(), key))


def _today() -> dt.date:
    return dt.datetime.now().astimezone().date()
