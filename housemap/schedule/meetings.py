"""Where one colour ends and the next begins: open-plan edges, and the edges of doors."""

from collections.abc import Iterator
from dataclasses import dataclass

from housemap.model.house import House, Opening


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two colours that meet at an opening, and what the painter does there."""

    opening: str
    rooms: tuple[str, str]
    paints: tuple[str, str]
    """Of the first and of the second room."""
    surface: str
    """walls or doors."""
    instruction: str


def meetings(house: House) -> tuple[Meeting, ...]:
    return tuple(m for key, opening in house.openings.items() for m in _at(house, key, opening))


def _at(house: House, key: str, opening: Opening) -> Iterator[Meeting]:
    walls = tuple(house.rooms[room].paints.walls for room in opening.between)
    first, second = (house.rooms[room].name for room in opening.between)
    if opening.kind == "open" and walls[0] and walls[1] and walls[0] != walls[1]:
        place = (
            "at the corner or trim between the rooms"
            if opening.stop
            else "nowhere to stop: make a line or carry one colour through"
        )
        yield Meeting(key, opening.between, (walls[0], walls[1]), "walls", place)
    if opening.kind == "cased" and walls[0] and walls[1] and walls[0] != walls[1]:
        text = "each wall colour ends at its own side of the casing; the lining takes the trim"
        yield Meeting(key, opening.between, (walls[0], walls[1]), "walls", text)
    doors = tuple(house.rooms[room].paints.doors for room in opening.between)
    if opening.kind == "doorway" and doors[0] and doors[1] and doors[0] != doors[1]:
        yield Meeting(
            key, opening.between, (doors[0], doors[1]), "doors",
            f"each side of the leaf takes its own room's colour; the latch edge that of the room"
            f" that the door opens into, the hinge edge the other ({first} or {second};"
            " common practice)",
        )  # fmt: skip
