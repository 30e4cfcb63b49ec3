"""Lines of sight on the map: from the selected room through openings to the rooms it sees."""

from collections.abc import Sequence
from dataclasses import dataclass

from housemap.model.house import Point
from housemap.plan.floor_plan import Plan
from housemap.tui.render.geometry import Geometry
from housemap.tui.render.selection import Path


@dataclass(frozen=True, slots=True)
class Sight:
    """A room that is seen from the selected one, and the openings on the way, in their order."""

    room: str
    through: tuple[str, ...] = ()


def paths_of(
    geometry: Geometry, plan: Plan, room: str | None, sights: Sequence[Sight]
) -> tuple[Path, ...]:
    """The lines to the seen rooms of this level, in cells of the port."""
    if room not in geometry.rooms:
        return ()
    start = _middle(geometry, plan, str(room))
    return tuple(
        (start, *_ways(geometry, plan, sight.through), _middle(geometry, plan, sight.room))
        for sight in sights
        if sight.room in geometry.rooms
    )


def _ways(geometry: Geometry, plan: Plan, through: Sequence[str]) -> list[tuple[float, float]]:
    placed = (plan.openings[opening] for opening in through if opening in plan.openings)
    return [
        _in_port(geometry, _between(end, start))
        for opening in placed
        for end, start in ((opening.near_m[0], opening.far_m[1]),)
    ]


def _between(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _middle(geometry: Geometry, plan: Plan, room: str) -> tuple[float, float]:
    """The middle of the room's label where it has one on the screen, else of its outline."""
    box = geometry.boxes.get(room)
    if box:
        return box.column + box.columns / 2, box.row + box.rows / 2
    west, south, east, north = plan.rooms[room].box_m
    return _in_port(geometry, ((west + east) / 2, (south + north) / 2))


def _in_port(geometry: Geometry, point: Point) -> tuple[float, float]:
    column, row = geometry.frame.at(point)
    return column - geometry.port.column, row - geometry.port.row
