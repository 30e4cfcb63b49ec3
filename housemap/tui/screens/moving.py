"""Moving about the house: from room to room, level to level, nearer and farther."""

from collections.abc import Sequence

from housemap.model.house import Surface
from housemap.tui.map.house_map import HouseMap
from housemap.tui.navigation import next_room, room_that_way
from housemap.tui.screens.house_base import HouseBase
from housemap.workbench.session import Session


class Moving(HouseBase):
    """Actions that select."""

    def on_house_map_asked(self, message: HouseMap.Asked) -> None:
        room = _room_to(self.session, message.way)
        if room is not None:
            self.select(room)

    def on_house_map_chosen(self, message: HouseMap.Chosen) -> None:
        self.select(message.room)

    def action_level_up(self) -> None:
        self._step_level(1)

    def action_level_down(self) -> None:
        self._step_level(-1)

    def _step_level(self, step: int) -> None:
        levels = self.session.plan.levels()
        level = self.session.selection.level
        wanted = levels.index(level) + step if level in levels else 0
        if 0 <= wanted < len(levels):
            self.session.select_level(levels[wanted])
            self.follow()
        else:
            self.say(f"There is no level {'above' if step > 0 else 'below'}.")

    def action_surface(self, surface: Surface) -> None:
        self.session.select_surface(surface)
        self.follow_selection()

    def action_zoom_in(self) -> None:
        self.map.zoom(1)

    def action_zoom_out(self) -> None:
        self.map.zoom(-1)

    def action_zoom_fit(self) -> None:
        self.map.zoom(0)

    def action_sightlines(self) -> None:
        self.sightlines_on = not self.sightlines_on
        self.follow_selection()


def walk(session: Session) -> Sequence[str]:
    """Every room: level by level from the lowest, in the order of the file."""
    rooms = session.shown.rooms
    return sorted(rooms, key=lambda room: rooms[room].level)


def _room_to(session: Session, way: str) -> str | None:
    room = session.selection.room
    if way in {"next", "previous"} or room is None:
        return next_room(walk(session), room, -1 if way == "previous" else 1)
    middles = {
        name: _middle(placed.box_m)
        for name, placed in session.plan.rooms.items()
        if placed.level == session.selection.level
    }
    return room_that_way(middles, room, way)


def _middle(box: tuple[float, float, float, float]) -> tuple[float, float]:
    west, south, east, north = box
    return (west + east) / 2, (south + north) / 2
