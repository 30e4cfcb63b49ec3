"""New rooms, windows and lamps out of their words, with what is taken where nothing is said."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from housemap.model.edits import free_id
from housemap.model.geometry import box_m, wall_of
from housemap.model.house import House, Lamp, Point, Room, Units, Window
from housemap.model.lengths import format_length
from housemap.model.validation import SLACK_M
from housemap.plan.floor_plan import plan_side
from housemap.workbench.survey.openings import (
    along_m,
    along_words,
    fault,
    wall_meant,
)
from housemap.workbench.survey.words import (
    USUAL_KELVIN,
    USUAL_LUMENS,
    Along,
    ChangeWords,
    Cut,
    LampWords,
    RoomWords,
    WindowWords,
    room_word,
    use_of,
    usual_m,
)


def size_words(size_m: Point, units: Units) -> str:
    return " x ".join(format_length(each, units) for each in size_m)


def outline_of(size_m: Point, cut: Cut) -> tuple[Point, ...]:
    """The corners of an L: a box less one of its corners, counter-clockwise."""
    (x, y), (a, b) = size_m, cut.size_m
    match cut.corner:
        case "ne":
            return (0, 0), (x, 0), (x, y - b), (x - a, y - b), (x - a, y), (0, y)
        case "nw":
            return (0, 0), (x, 0), (x, y), (a, y), (a, y - b), (0, y - b)
        case "se":
            return (0, 0), (x - a, 0), (x - a, b), (x, b), (x, y), (0, y)
        case "sw":
            return (a, 0), (x, 0), (x, y), (0, y), (0, b), (a, b)


def _shape(room: Room, words: RoomWords | ChangeWords, units: Units) -> dict[str, Any]:
    """The size or outline that was said; nothing where none was."""
    if words.size_m is None and words.cut is None:
        return {}
    size = words.size_m or box_m(room)
    if size is None:
        fault(words.spans["cut"], f"{room.name} has no size yet: write it before less")
    if words.cut is None:
        return {"size_m": size, "outline_m": None}
    if any(a >= whole - SLACK_M for a, whole in zip(words.cut.size_m, size, strict=True)):
        text = f"what is left out must be smaller than the room, {size_words(size, units)}"
        fault(words.spans["cut"], text)
    outline = outline_of(size, words.cut)
    rounded = tuple((round(x, 7) + 0.0, round(y, 7) + 0.0) for x, y in outline)
    return {"size_m": None, "outline_m": rounded}


# Rooms


def new_room(house: House, words: RoomWords, here: Room | None, level: int) -> tuple[Room, str]:
    """A new room beside `here`, and how it was understood."""
    units = house.units
    room = Room(words.name, level if words.level is None else words.level)
    room = replace(room, **_shape(room, words, units))
    said = [_shape_words(room, words, units)]
    height, source = _height(words, here, units)
    if height is not None:
        said.append(f"{format_length(height, units)} high{source}")
    use = words.use or use_of(words.name)
    said.append(use if words.use else f"{use} ({_why(words)})")
    if words.role:
        said.append(words.role)
    if room.level != (here.level if here else 0):
        said.append(f"level {room.level}")
    room = replace(room, height_m=height, use=use, role=words.role)
    return room, f"{words.name}, {', '.join(said)}"


def _why(words: RoomWords) -> str:
    near = None if words.quoted else room_word(words.name)
    return f"by its name: did you mean {near}?" if near else "by its name"


def _height(words: RoomWords, here: Room | None, units: Units) -> tuple[float | None, str]:
    """As said, as the room that one comes from, or as is usual."""
    if words.height_m is not None:
        return words.height_m, ""
    if here is not None:
        return here.height_m, f" (as {here.name})"
    return usual_m("room high", units), " (usual)"


def _shape_words(room: Room, words: RoomWords | ChangeWords, units: Units) -> str:
    size = box_m(room)
    if size is None:
        return "not measured"
    less = f" less {size_words(words.cut.size_m, units)} {words.cut.corner}" if words.cut else ""
    return f"{size_words(size, units)}{less}"


def changed(house: House, room: Room, words: RoomWords | ChangeWords) -> tuple[Room, str]:
    """A room with what was said of it changed, and the changes in words."""
    units = house.units
    values = _shape(room, words, units)
    for attr in ("height_m", "use", "role", "level"):
        value = getattr(words, attr)
        if value is not None:
            values[attr] = value
    after = replace(room, **values)
    return after, ", ".join(_changes(room, after, words, units)) or "as it is"


def _changes(
    room: Room, after: Room, words: RoomWords | ChangeWords, units: Units
) -> Iterator[str]:
    if (room.size_m, room.outline_m) != (after.size_m, after.outline_m):
        box = box_m(room)
        was = f", was {size_words(box, units)}" if box else ""
        yield f"{_shape_words(after, words, units)}{was}"
    if room.height_m != after.height_m and after.height_m is not None:
        was = f", was {format_length(room.height_m, units)}" if room.height_m is not None else ""
        yield f"{format_length(after.height_m, units)} high{was}"
    for attr in ("use", "role", "level"):
        if getattr(room, attr) != getattr(after, attr):
            yield f"{attr} {getattr(after, attr)}"


# Windows and lamps


@dataclass(frozen=True, slots=True)
class Made:
    """A part of a room that was made of its words, and how they were understood."""

    key: str
    entity: Window | Lamp
    said: str
    label: str


def window(house: House, room: Room, words: WindowWords) -> Made:
    units, spans = house.units, words.spans
    key = wall_meant(room, words.wall, spans["wall"])
    wall = wall_of(room, key)
    width = usual_m("window", units) if words.width_m is None else words.width_m
    sill = usual_m("sill", units) if words.sill_m is None else words.sill_m
    height = words.height_m or _window_height(room, sill, units)
    if words.along is not None:
        along = along_m(words.along, wall, width, spans["along"], units)
        where = along_words(along, wall, key, units)
    elif wall is None:
        fault(spans["whole"], "how far along the wall? Write at 0.6", unfinished=True)
    else:
        middle = Along(round(max(wall.length_m - width, 0.0) / 2, 4))
        along = along_m(middle, wall, width, spans.get("width_m", spans["wall"]), units)
        where = "in the middle (assumed)"
    usual = " (usual)" if words.width_m is None or words.height_m is None else ""
    usual_sill = " (usual)" if words.sill_m is None else ""
    place = f"{plan_side(room, key)} of {room.name}"
    said = (
        f"{place}: window {size_words((width, height), units)}{usual}, {where},"
        f" sill {format_length(sill, units)}{usual_sill}"
    )
    made = Window(key, along, width, height, sill)
    name = free_id(f"window-{key}", room.windows, "window")
    return Made(name, made, said, f"window in {room.name}")


def _window_height(room: Room, sill_m: float, units: Units) -> float:
    """The usual height, or what the room leaves above the sill."""
    usual = usual_m("window high", units)
    space = (room.height_m or usual + sill_m) - sill_m
    return round(min(usual, space), 7) if space > SLACK_M else usual


def lamp(house: House, room: Room, words: LampWords) -> Made:
    lumens = USUAL_LUMENS if words.lumens is None else words.lumens
    usual = None if words.spectrum else USUAL_KELVIN
    kelvin = usual if words.kelvin is None else words.kelvin
    made = Lamp(lumens, kelvin, words.spectrum, words.aim or "all", words.at_m)
    said = [
        f"{lumens:g} lm{' (usual)' if words.lumens is None else ''}",
        *([f"{kelvin:g} K{' (usual)' if words.kelvin is None else ''}"] if kelvin else []),
        {"down": "shining down", "up": "shining up", "all": "shining all round"}[made.aim],
        *([words.spectrum] if words.spectrum else []),
        _lamp_place(words, house.units),
    ]
    name = free_id("lamp", room.lamps, "lamp")
    return Made(name, made, f"{room.name}: lamp, {', '.join(said)}", f"lamp in {room.name}")


def _lamp_place(words: LampWords, units: Units) -> str:
    if words.at_m is None:
        return "in the middle"
    east, north, up = (format_length(each, units) for each in words.at_m)
    return f"{east} from the west wall, {north} from the south wall, {up} up"
