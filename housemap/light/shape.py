"""From a room and its openings to the shape that light sees, and what had to be left out."""

from dataclasses import dataclass, replace

from housemap.light.enclosure import Hole, Shape
from housemap.light.inputs import RoomInputs, RoomOpening
from housemap.model.house import Room, Window
from housemap.model.shape import Wall, floor_outline_m, wall_of

CORNERS = 64
"""An outline with more corners is not computed."""
MOST_M = 200.0
"""Nor is a room longer than this."""
_EDGES_OF_BOX = ("s", "e", "n", "w")
_AGAINST_EDGE = {"n", "w"}
"""Walls of a size room that are measured the other way round than the outline runs."""


@dataclass(frozen=True, slots=True)
class Holes:
    """`openings` by hole name; `missing` are the openings that have no place in a wall."""

    all: tuple[Hole, ...]
    windows: tuple[str, ...]
    openings: dict[str, RoomOpening]
    missing: tuple[str, ...]


def why_not(room: Room) -> str | None:
    """Why light in this room is not computed, or None."""
    outline = floor_outline_m(room)
    if outline is None:
        return "Not measured: light is not computed. Give the room a size or an outline."
    if room.height_m is None:
        return "No height: light is not computed."
    if room.use == "outdoor":
        return "Outdoors: light is not computed."
    if len(outline) > CORNERS:
        return f"The outline has more than {CORNERS} corners: light is not computed."
    if max(max(point) for point in outline) > MOST_M or room.height_m > MOST_M:
        return f"The room is larger than {MOST_M:.0f} m: light is not computed."
    return None


def holes_of(inputs: RoomInputs) -> Holes:
    """Windows and openings as holes in the walls, cut to fit them; windows come first."""
    room = inputs.room
    windows = {key: _window_hole(room, key, window) for key, window in room.windows.items()}
    openings = {each.name: _opening_hole(room, each) for each in inputs.openings}
    by_name = {each.name: each for each in inputs.openings}
    return Holes(
        all=tuple(hole for hole in (*windows.values(), *openings.values()) if hole),
        windows=tuple(key for key, hole in windows.items() if hole),
        openings={hole.name: by_name[name] for name, hole in openings.items() if hole},
        missing=tuple(name for name, hole in openings.items() if hole is None),
    )


def shape_of(room: Room, holes: tuple[Hole, ...]) -> Shape:
    """The shape of a measured room (see `why_not`)."""
    outline = floor_outline_m(room)
    assert outline is not None
    assert room.height_m is not None
    keys = _EDGES_OF_BOX if room.size_m else tuple(str(i) for i in range(len(outline)))
    return Shape(outline, keys, room.height_m, holes)


Size = tuple[float, float, float, float]
"""Along, sill, width, height."""


def _window_hole(room: Room, key: str, window: Window) -> Hole | None:
    size = (window.along_m, window.sill_m, window.width_m, window.height_m)
    hole = _hole(room, f"window {key}", window.wall, size)
    return hole and replace(hole, shines=True)


def _opening_hole(room: Room, opening: RoomOpening) -> Hole | None:
    along, width, height = opening.along_m, opening.width_m, opening.height_m
    if opening.wall is None or along is None or width is None or height is None:
        return None
    return _hole(room, f"opening {opening.name}", opening.wall, (along, 0.0, width, height))


def _hole(room: Room, name: str, wall_key: str, size: Size) -> Hole | None:
    """None where nothing of it lies in the wall."""
    wall = wall_of(room, wall_key)
    if wall is None or room.height_m is None:
        return None
    along, sill, width, height = size
    near, far = max(along, 0.0), min(along + width, wall.length_m)
    low, high = max(sill, 0.0), min(sill + height, room.height_m)
    if far <= near or high <= low:
        return None
    start = wall.length_m - far if _is_against_edge(wall) else near
    return Hole(name, wall_key, start, low, far - near, high - low)


def _is_against_edge(wall: Wall) -> bool:
    return wall.key in _AGAINST_EDGE
