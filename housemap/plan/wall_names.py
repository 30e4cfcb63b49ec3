"""What a wall is called: by its side, its length and what is in it."""

from collections.abc import Iterator, Mapping

from housemap.model.geometry import wall_of, walls
from housemap.model.house import House, OpeningKind, Room
from housemap.model.lengths import FOOT_M, format_length
from housemap.plan.house_graph import HouseGraph, graph_of
from housemap.plan.schematic import compass_side

SIDES: Mapping[str, str] = {"n": "north", "e": "east", "s": "south", "w": "west"}
WAYS: Mapping[OpeningKind, str] = {
    "doorway": "door", "cased": "opening", "open": "opening", "glazed": "glass door",
    "stairs": "stairs",
}  # fmt: skip
MOST_NAMED = 2
"""Openings and windows that are named; more would be no name."""


def wall_side(room: Room, key: str) -> str:
    """As in "west wall"."""
    side = compass_side(room, key)
    return f"{SIDES[side]} wall" if side is not None and side in SIDES else f"wall {key}"


def wall_name(house: House, room: str, key: str, graph: HouseGraph | None = None) -> str:
    """As in "west wall, 5.3 m, door to Living room"; what is not known is left out."""
    name = short_wall_name(house, room, key, always=True)
    return ", ".join((name, *_contents(graph or graph_of(house), house, room, key)))


def short_wall_name(house: House, room: str, key: str, *, always: bool = False) -> str:
    """Its side, and its length where the room has another wall on that side, or `always`."""
    held = house.rooms[room]
    name, wall = wall_side(held, key), wall_of(held, key)
    same = sum(wall_side(held, each.key) == name for each in walls(held))
    if wall is None or not (always or same > 1):
        return name
    return f"{name}, {_rough(wall.length_m, house)}"


def _rough(metres: float, house: House) -> str:
    """A length as one says it: to a tenth of a metre, or to an inch."""
    if house.units == "m":
        return f"{metres:.1f} m"
    return format_length(round(metres / FOOT_M * 12) * FOOT_M / 12, house.units)


def _contents(graph: HouseGraph, house: House, room: str, key: str) -> list[str]:
    ways = list(_ways(graph, house, room, key))
    count = sum(window.wall == key for window in house.rooms[room].windows.values())
    windows = [f"{count} windows" if count > 1 else "window"] if count else []
    return [*ways, *windows][:MOST_NAMED]


def _ways(graph: HouseGraph, house: House, room: str, key: str) -> Iterator[str]:
    for opening_id, other in graph.exits(room):
        opening = house.openings[opening_id]
        if key == (opening.wall if room == opening.between[0] else opening.to_wall):
            yield f"{WAYS[opening.kind]} to {house.rooms[other].name}"
