"""What a legal house is, in one place: the file reader and the program's forms both ask here.

Ranges, texts, words and ids are judged by the kinds in `housemap.model.schema`; what takes more
than one value is judged here: references, walls that exist, parts that fit, rooms that overlap.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from typing import TypeVar

from housemap.errors import Problem
from housemap.model import geometry
from housemap.model.fieldtypes import KeyPath, Note, below
from housemap.model.house import (
    ROOM_SIDE,
    SURFACES,
    Brief,
    House,
    Lamp,
    Opening,
    Paint,
    Piece,
    Primer,
    Room,
    RoomBrief,
    SpectralPower,
    State,
    Window,
)
from housemap.model.schema import HOUSE, KEY_OF, OPENING, RECORD_OF, TABLES
from housemap.model.text import shown

SLACK_M = 0.001
"""How far a part may stick out before it does not fit: a millimetre of rounding."""
MOST_NOTED = 1000
MOST_CORNER_PAIRS = 2_000_000
"""Of all outlines: each corner is compared with every other one of its outline."""

Held = TypeVar("Held")
Limits = tuple[float | None, float | None, float | None]
"""How far a room reaches in x, y and z; None where nobody measured."""


class TooManyError(Exception):
    """There are more problems than anybody will read: looking for more is a waste of time."""


class Notes:
    """Takes notes of problems; what lies at or below a path of `unread` is not noted again.

    Raises TooManyError with the note that makes MOST_NOTED.
    """

    def __init__(self, unread: Iterable[KeyPath] = ()) -> None:
        self.problems: list[Problem] = []
        self.unread = set(unread)

    def __call__(self, path: KeyPath, phrase: str) -> None:
        if not any(path[: n + 1] in self.unread for n in range(len(path))):
            self.problems.append(Problem(sentence(path, phrase), path))
            if len(self.problems) >= MOST_NOTED:
                raise TooManyError


def problems(house: House, known: Sequence[Problem] = ()) -> tuple[Problem, ...]:
    """Return what keeps a house from being legal, at most MOST_NOTED; () if it is legal.

    `known` is what the reader already found: a value that could not be read is not judged again.
    """
    note = Notes(problem.path for problem in known)
    with suppress(TooManyError):
        _values(house, note)
        _references(house, note)
        paths = [problem.path for problem in (*known, *note.problems)]
        # With every value above them, down to the entity's own keys.
        spoiled = {path[:n] for path in paths for n in {len(path), *range(3, len(path))}}
        shaped = _rooms(house, spoiled, note)
        _openings(house, shaped, spoiled, note)
        for room, wall, path in _named_walls(house):
            if room in shaped and path not in spoiled:
                _wall_exists(house.rooms[room], wall, path, note)
        _bought(house, spoiled, note)
        _brief(house.brief, ("brief",), spoiled, note)
        for key, brief in house.brief.rooms.items():
            _brief(brief, ("brief", "room", key), spoiled, note)
    return tuple(note.problems)


def value_problems(house: House) -> tuple[Problem, ...]:
    """Return what is wrong with single values, whatever they mean beside each other."""
    note = Notes()
    with suppress(TooManyError):
        _values(house, note)
    return tuple(note.problems)


def _values(house: House, note: Note) -> None:
    HOUSE.faults(house, below(note, "house"))
    for table in TABLES:
        table.faults(getattr(house, table.attr), note)


def _sound(spoiled: set[KeyPath], path: KeyPath, *keys: str) -> bool:
    """Whether an entity can be judged as far as it takes `keys`."""
    return path not in spoiled and not any((*path, key) in spoiled for key in keys)


def sentence(path: KeyPath, phrase: str) -> str:
    """Put a problem in words: `room "kitchen", window "front": width must be above 0, found -1`."""
    places, keys = [], list(path)
    if keys[1:] and keys[0] in {"house", "limits", "brief", "client"}:
        places.append(keys.pop(0))
    while len(keys) > 1 and keys[0] in RECORD_OF:
        places.append(f"{keys[0]} {shown(keys[1])}")
        keys = keys[2:]
    where = ", ".join(places)
    what = _spoken(keys)
    return f"{where}: {what}{phrase}" if where else f"{what}{phrase}"


def _spoken(keys: list[str]) -> str:
    words = ""
    for i, key in enumerate(keys):
        if i and key.isdecimal():
            words += f" (item {int(key) + 1})"
        else:
            plain = key.isascii() and key.replace("_", "").replace("-", "").isalnum()
            words += ("." if words else "") + (key if plain and len(key) <= 40 else shown(key))  # noqa: PLR2004 - as `shown`
    return words and words + " "


def _references(house: House, note: Notes) -> None:
    """What names nothing; into a table that could not be read, nobody knows."""
    for table in TABLES:
        for path, into, ref in table.refs(getattr(house, table.attr)):
            if ref not in getattr(house, into) and (KEY_OF[into],) not in note.unread:
                note(path, f"names the {KEY_OF[into]} {shown(ref)}, which is not in the file")


def _rooms(house: House, spoiled: set[KeyPath], note: Note) -> set[str]:
    """Judge shapes, parts and places; return the rooms whose shape can be built on."""
    if sum(len(room.outline_m or ()) ** 2 for room in house.rooms.values()) > MOST_CORNER_PAIRS:
        note(("room",), "outlines have more corners than can be judged")
        return set()
    shaped = set()
    for key, room in house.rooms.items():
        path, inside = ("room", key), below(note, "room", key)
        if _sound(spoiled, path, "size", "outline", "height") and _room_shape(room, inside):
            shaped.add(key)
            _room_parts(room, path, spoiled, inside)
    _places(house, shaped, spoiled, note)
    return shaped


def _places(house: House, shaped: set[str], spoiled: set[KeyPath], note: Note) -> None:
    pinned = [
        (room.level, key, geometry.moved(outline, room.at_m))
        for key, room in house.rooms.items()
        if key in shaped and room.at_m and _sound(spoiled, ("room", key), "at", "level")
        if (outline := geometry.floor_outline_m(room))
    ]
    try:
        for one, other, share in geometry.same_place(pinned):
            phrase = f"puts it over room {shown(one)}: {share:.0%} of the smaller one is shared"
            note(("room", other, "at"), phrase)
    except geometry.TooIntricateError:
        note(("room",), "outlines overlap in more places than can be judged")


def _room_shape(room: Room, note: Note) -> bool:
    """Note what is wrong with the floor's shape; return whether it can be built on."""
    if len(set(room.fixed)) < len(room.fixed):
        note(("fixed",), "must name each finish once")
    if room.size_m is not None and room.outline_m is not None:
        note(("outline",), "is given beside size; keep one of them")
        return False
    if room.outline_m is None:
        return True
    west, south, east, north = geometry.box_of(room.outline_m)
    side, area, fault = min(east - west, north - south), geometry.signed_area_m2(room.outline_m), ""
    if not geometry.is_simple(room.outline_m):
        fault = "must not touch or cross itself, nor repeat a point"
    elif area < 0:
        fault = "must run counter-clockwise, found clockwise"
    elif side < ROOM_SIDE.least:
        fault = f"must be at least {ROOM_SIDE.least:g} wide and deep, found {side:g}"
    elif area < ROOM_SIDE.least**2:
        fault = "must enclose a floor, found next to none"
    if fault:
        note(("outline",), fault)
    return not fault


def _room_parts(room: Room, path: KeyPath, spoiled: set[KeyPath], note: Note) -> None:
    limits = (*(geometry.box_m(room) or (None, None)), room.height_m)
    for key in room.accents:
        _wall_exists(room, key, (), below(note, "accent", key))
    for key, state in room.states.items():
        _state_fits(room, key, state, below(note, "state", key))
    for window, inside in _sound_parts(room.windows, (*path, "window"), spoiled, note):
        _window_fits(room, window, inside)
    for lamp, inside in _sound_parts(room.lamps, (*path, "lamp"), spoiled, note):
        _lamp_fits(lamp, limits, inside)
    for piece, inside in _sound_parts(room.pieces, (*path, "piece"), spoiled, note):
        _piece_inside(piece, limits, inside)
    for part, inside in _sound_parts(room.parts, (*path, "part"), spoiled, note):
        if part.wall is not None:
            _wall_exists(room, part.wall, ("wall",), inside)
    for key in room.parts.keys() & SURFACES:
        note(("part", key), f"its id must not be {key}: that is a surface of every room")


def _sound_parts(
    held: Mapping[str, Held], path: KeyPath, spoiled: set[KeyPath], note: Note
) -> Iterator[tuple[Held, Note]]:
    """Yield the parts of a kind that can be judged, each with a note of its own."""
    for key, each in held.items():
        if _sound(spoiled, (*path, key)):
            yield each, below(note, path[-1], key)


def _window_fits(room: Room, window: Window, note: Note) -> None:
    if _wall_exists(room, window.wall, ("wall",), note):
        _fits(room, window.wall, ("along", window.along_m), window.width_m, note)
    top = window.sill_m + window.height_m
    if room.height_m is not None and top > room.height_m + SLACK_M:
        note(("height",), f"and sill reach {top:g}, and the room is {room.height_m:g} high")


def _lamp_fits(lamp: Lamp, limits: Limits, note: Note) -> None:
    if lamp.power is not None and lamp.spectrum is not None:
        note(("power",), "is given beside spectrum; keep one of them")
    if lamp.power is not None and not _shines(lamp.power):
        note(("power",), "must have light from 400 to 700 nm")
    if lamp.kelvin is None and lamp.power is None and lamp.spectrum is None:
        note(("kelvin",), "is missing: give kelvin, or a spectrum")
    for axis, (value, most) in enumerate(zip(lamp.at_m or (), limits, strict=False)):
        if most is not None and not -SLACK_M <= value <= most + SLACK_M:
            note(("at", str(axis)), f"must lie in the room, 0 to {most:g}, found {value:g}")


def _shines(power: SpectralPower) -> bool:
    """Whether it is given from 400 to 700 nm, with some light there."""
    nm = [power.start_nm + n * power.step_nm for n in range(len(power.values))]
    near = 150.0 + power.step_nm
    lit = any(v > 0.0 for at, v in zip(nm, power.values, strict=True) if abs(at - 550.0) < near)
    return lit and nm[0] <= 400.0 and nm[-1] >= 700.0  # noqa: PLR2004 - as it says


def _piece_inside(piece: Piece, limits: Limits, note: Note) -> None:
    starts = (*piece.at_m, 0.0)
    for axis, (start, size, most) in enumerate(zip(starts, piece.size_m, limits, strict=True)):
        if most is not None and not -SLACK_M <= start <= most + SLACK_M - size:
            end = start + size
            reach = f"{start:g} to {end:g}, and the room ends at {most:g}"
            note(("size", str(axis)), f"puts it at {reach}")


def _state_fits(room: Room, key: str, state: State, note: Note) -> None:
    if key not in SURFACES and key not in room.parts:
        known = ", ".join((*SURFACES, *sorted(room.parts)))
        note((), f"its id must be a surface or a part of the room: {known}")
    if state.paint is not None and state.colour is not None:
        note(("paint",), "is given beside a colour; keep one of them")


def _wall_exists(room: Room, key: str, path: KeyPath, note: Note) -> bool:
    """Note a wall that the room has not got; return whether it is there to be measured."""
    if not geometry.is_measured(room) or geometry.wall_of(room, key):
        return geometry.is_measured(room)
    outline = room.outline_m or ()
    walls = "n, e, s and w" if room.size_m is not None else f"the edges 0 to {len(outline) - 1}"
    note(path, f"must be a wall of the room, which has {walls}, found {shown(key)}")
    return False


def _fits(room: Room, key: str, along: tuple[str, float], width: float, note: Note) -> None:
    wall = geometry.wall_of(room, key)
    end = along[1] + width
    if wall and end > wall.length_m + SLACK_M:
        note((along[0],), f"and width reach {end:g}, and the wall is {wall.length_m:.4g} long")


def _openings(house: House, shaped: set[str], spoiled: set[KeyPath], note: Note) -> None:
    for key, opening in house.openings.items():
        if _sound(spoiled, ("opening", key), *OPENING.by_key):
            inside = below(note, "opening", key)
            _opening_alone(opening, inside)
            near = "wall", opening.wall, opening.along_m
            far = "to_wall", opening.to_wall, opening.to_along_m
            for room, place in zip(opening.between, (near, far), strict=True):
                if room in shaped:
                    _opening_in(house.rooms[room], opening, place, inside)
    for key, sightline in house.sightlines.items():
        if _sound(spoiled, ("sightline", key), "between") and len(set(sightline.between)) == 1:
            note(("sightline", key, "between"), "must name two different rooms")


def _opening_alone(opening: Opening, note: Note) -> None:
    if opening.between[0] == opening.between[1]:
        note(("between",), "must name two different rooms")
    said = {"door": opening.door != "open", "hinge": opening.hinge, "into": opening.into}
    for key in [key for key, value in said.items() if value and opening.kind != "doorway"]:
        note((key,), f"goes with a doorway, not with kind {opening.kind}")
    if opening.into is not None and opening.into not in opening.between:
        note(("into",), f"must be one of the two rooms, found {shown(opening.into)}")
    if opening.stop and opening.kind != "open":
        note(("stop",), f"goes with kind open, not with {opening.kind}")
    if opening.along_m is not None and opening.wall is None:
        note(("along",), "needs wall beside it")
    if opening.to_along_m is not None and opening.to_wall is None:
        note(("to_along",), "needs to_wall beside it")


Place = tuple[str, str | None, float | None]
"""In which key a wall is named, which it is, and how far along it."""


def _opening_in(room: Room, opening: Opening, place: Place, note: Note) -> None:
    if opening.height_m and room.height_m and opening.height_m > room.height_m + SLACK_M:
        high = f"{shown(room.name)} is {room.height_m:g} high"
        note(("height",), f"must fit both rooms, {high}, found {opening.height_m:g}")
    name, key, along = place
    if key is not None and _wall_exists(room, key, (name,), note):
        start = name.replace("wall", "along"), along or 0.0
        _fits(room, key, start, opening.width_m or 0.0, note)


def _named_walls(house: House) -> Iterator[tuple[str, str, KeyPath]]:
    """The walls that samples and schemes name: room, wall, and where they name it."""
    for key, sample in house.samples.items():
        if sample.wall:
            yield sample.room, sample.wall, ("sample", key, "wall")
    for key, scheme in house.schemes.items():
        for room, paints in scheme.paints.items():
            for wall in paints.accents or ():
                yield room, wall, ("scheme", key, "paints", room, "accents")


def _bought(house: House, spoiled: set[KeyPath], note: Note) -> None:
    """Judge what is sold in tins: a price each."""
    sold: dict[str, Mapping[str, Paint] | Mapping[str, Primer]]
    sold = {"paint": house.paints, "primer": house.primers}
    for table, held in sold.items():
        for key, one in held.items():
            path, tins = (table, key), len(one.tins)
            if one.prices and len(one.prices) != tins and _sound(spoiled, path, "prices", "tins"):
                note((*path, "prices"), f"must be one a tin, {tins}, found {len(one.prices)}")


def _brief(brief: Brief | RoomBrief, path: KeyPath, spoiled: set[KeyPath], note: Note) -> None:
    if brief.lrv and brief.lrv[0] > brief.lrv[1] and (*path, "lrv") not in spoiled:
        low, high = brief.lrv
        note((*path, "lrv"), f"must be the darkest, then the lightest, found {low:g} and {high:g}")
    for hue in set(brief.like or ()) & set(brief.avoid or ()):
        note((*path, "avoid"), f"must not name {shown(hue)}, which is liked")
