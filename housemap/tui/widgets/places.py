"""Lists to walk by: moving through one shows each view, enter stays there, escape goes back."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.plan.route import Route
from housemap.plan.visibility import Views
from housemap.tui.keys import bindings_of
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.places import route_head, stop_rows, view_rows, views_head
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import shades_of
from housemap.tui.walk_commands import ROUTE, VIEWS
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session


class PlacesPanel(ListPanel):
    """Rooms to look at; reports and shows nothing by itself."""

    @dataclass
    class Tried(Message):
        """A room is to be shown, for now."""

        room: str

    @dataclass
    class Left(Message):
        """The list is to be closed, where one was shown (`stay`) or where one stood before."""

        stay: bool

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(session, look)
        self._rooms: Sequence[str] = ()

    def _list(self, rooms: Sequence[str], chosen: Hashable | None) -> None:
        self._rooms = [room for room in rooms if room in self.session.shown.rooms]
        self.show_entries(self._rooms, chosen)

    @property
    def room(self) -> str | None:
        """The chosen one."""
        number = self.chosen_number
        return None if number is None else self._rooms[number]

    def moved(self) -> None:
        if self.room:
            self.post_message(self.Tried(self.room))

    def picked(self) -> None:
        self.action_leave_places(1)

    def action_leave_places(self, stay: int) -> None:
        self.post_message(self.Left(bool(stay)))

    def nothing(self, width: int) -> Sequence[Row]:
        return [*Page(self.look, width).text("No other room is seen from here.")]


class ViewsPanel(PlacesPanel):
    """The rooms that are seen from one."""

    CONTEXT: ClassVar[str] = VIEWS
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(VIEWS)]

    def __init__(self, session: Session, look: Look, eye: str, views: Views) -> None:
        super().__init__(session, look)
        self._eye, self._views = eye, views
        self._list(self._by_share(), None)

    def _by_share(self) -> list[str]:
        return sorted(self._views.best, key=lambda room: -self._views.best[room].share)

    def enter(self) -> None:
        """Show the first view at once."""
        super().enter()
        self.moved()

    def follow(self, session: Session) -> None:
        if self._eye not in session.shown.rooms:
            self.post_message(self.Left(stay=True))
            return
        self._list(self._by_share(), self.chosen)
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return views_head(self.session.shown, self._eye, len(self._rooms), self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        shades, line = shades_of(self.session), Line(self.look, width, chosen)
        return view_rows(shades, self._eye, self._rooms[number], self._views, line)


class RoutePanel(PlacesPanel):
    """The stops of the route, with their ticks and notes."""

    CONTEXT: ClassVar[str] = ROUTE
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(ROUTE)]

    @dataclass
    class Asked(Message):
        """A room is to be ticked off or not any more, or its note is to be changed."""

        what: str

    def __init__(self, session: Session, look: Look, route: Route, room: str) -> None:
        super().__init__(session, look)
        self._route = route
        self._stops = [stop.room for stop in route.stops]
        self._list(self._stops, room)

    def follow(self, session: Session) -> None:
        del session
        self._list(self._stops, self.chosen)
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return route_head(self.session.shown, self._route, self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        line = Line(self.look, width, chosen)
        return stop_rows(self.session.shown, number + 1, self._rooms[number], line)

    def action_ask(self, what: str) -> None:
        self.post_message(self.Asked(what))
