"""The grammar of the survey language: a line of text to its clauses, parted by semicolons.

A clause is one of these; parts in brackets may be left out, and stand in any order:

- an opening: wall, [doorway cased open glazed stairs], [0.8 [x 2.0]], [at 1.2 [from e]], [shut],
  [stop], [up down], then > and the room behind it. Without its kind it is a doorway.
- a room: Study, [3.1 x 2.8 [x 2.4]], [less 1 x 2 ne], [height 2.4], [use office], [role accent],
  [level 1]; behind an opening also [at 0.5 [from e]] and [wall s], which are its own.
- a window: wall window, or window wall, [1.2 [x 1.1]], [at 0.6 [from e]], [sill 0.9].
- a lamp: lamp, [1400 lm], [2700 K], [down up all], [LED-B1], [at 0.9 2.6 2.4].
- a change of the room: [size 3.1 x 2.8], [height 2.4], [use office], [role accent], [level 1].
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from itertools import pairwise
from typing import NoReturn

from housemap.model.fieldtypes import ILLUMINANTS
from housemap.model.house import AIMS, OPENING_KINDS, ROLES, USES, Units
from housemap.model.text import clean_text, shown
from housemap.workbench.survey.reader import COMMA, Parts, Reader, Token, WordError
from housemap.workbench.survey.words import (
    AT,
    CORNERS,
    DOWN,
    FROM,
    HIGH,
    KINDS,
    LAMP_WORDS,
    LESS,
    LEVEL,
    MOST_HEIGHT_M,
    MOST_LENGTH_M,
    ROLE,
    SHUT,
    SIDES,
    SILL,
    SIZE,
    STOP,
    UP,
    USE,
    WALL,
    WIDE,
    WINDOW_AT_A_WALL,
    WINDOW_WORDS,
    Along,
    ChangeWords,
    Clause,
    Cut,
    Fault,
    Hint,
    LampWords,
    Line,
    OpeningWords,
    RoomWords,
    WindowWords,
    nearest,
    word,
)

SHORTEST_MISSPELT = 4
"""Letters of a word for which a misspelling is looked for."""

Item = Callable[[Reader, Parts, Token], None]
"""Takes what follows its word, which has been taken; of a number, the number itself."""

MOST_LEVELS = 200
FROM_AN_END = Hint("from e", "the end of the wall that is meant", example=True)


def items(
    reader: Reader,
    parts: Parts,
    known: Mapping[str, Item],
    wanted: str,
    *,
    stop: str = "",
    also: Collection[str] = (),
    special: Callable[[Reader], tuple[str, str] | None] = lambda _: None,
) -> None:
    """Take parts in any order, up to the end of the clause or a sign.

    `also` are further words that may come, or that a misspelt one may mean; `special` takes a part
    that is no word, and returns its key and value.
    """
    while (token := reader.next_part((*known, *also), stop)) is not None:
        if said := special(reader):
            parts.say(*said, token)
        elif token.kind == "number":
            known["0"](reader, parts, token)
        elif reader.word in known:
            name = reader.word
            reader.take()
            known[name](reader, parts, token)
        else:
            reader.fail_word((key for key in (*known, *also) if len(key) > 1), wanted)


def offer_missing(reader: Reader, parts: Parts, hints: Mapping[str, Sequence[Hint]]) -> None:
    """Say what may come next, by the part that has not been said yet."""
    for key, several in hints.items():
        if key not in parts:
            reader.offer(*several)


# Lengths


def sides(reader: Reader, parts: Parts, token: Token) -> None:
    """A width, and a height behind an x."""
    width = reader.length_m("0.8", "how wide")
    parts.say("width_m", width, token)
    if by := reader.take_word("x"):
        parts.say("height_m", reader.height_m("2.0", "how high"), by)


def number_to(key: str, example: str, what: str) -> Item:
    most_m = MOST_LENGTH_M if key == "width_m" else MOST_HEIGHT_M

    def take(reader: Reader, parts: Parts, token: Token) -> None:
        parts.say(key, reader.length_m(example, what, most_m), token)

    return take


def along(reader: Reader, parts: Parts, token: Token) -> None:
    """Behind "at": a length, and the end of the wall from which it is counted."""
    metres = reader.length_m("1.2", "how far from the end of the wall")
    end = None
    reader.offer(FROM_AN_END)
    if reader.take_word(FROM):
        end = reader.choose(SIDES, "from which end? Write n, e, s or w")
    parts.say("along", Along(metres, end), token)


def size(reader: Reader, parts: Parts, token: Token) -> None:
    """East to west, then south to north, then perhaps the height: 3.1 x 2.8 x 2.4."""
    across = reader.length_m("3.1", "from west to east")
    reader.offer(Hint("x", "2.8, from south to north"))
    if reader.take_word("x") is None:
        reader.lacks("a size is two lengths: 3.1 x 2.8, west to east by south to north")
    up = reader.length_m("2.8", "from south to north")
    parts.say("size_m", (across, up), token)
    if by := reader.take_word("x"):
        parts.say("height_m", reader.height_m("2.4", "how high"), by)


def less(reader: Reader, parts: Parts, token: Token) -> None:
    """The corner that an L-shaped room lacks: less 1 x 2 ne."""
    across = reader.length_m("1", "from west to east")
    if reader.take_word("x") is None:
        reader.lacks("what is left out is two lengths and a corner: less 1 x 2 ne")
    up = reader.length_m("2", "from south to north")
    reader.offer(*(Hint(corner, "which corner") for corner in CORNERS))
    corner = reader.choose(CORNERS, "which corner? Write ne, nw, se or sw")
    parts.say("cut", Cut((across, up), corner), token)


# Words


def flag(key: str, *, value: object) -> Item:
    return lambda _, parts, token: parts.say(key, value, token)


def choice(key: str, words: tuple[str, ...]) -> Item:
    offer, known = ", ".join(words), {each: each for each in words}

    def take(reader: Reader, parts: Parts, token: Token) -> None:
        reader.offer(*(Hint(each) for each in words))
        parts.say(key, reader.choose(known, f"which? One of {offer}"), token)

    return take


def level(reader: Reader, parts: Parts, token: Token) -> None:
    sign = -1 if reader.take_word("-") or _takes_minus(reader) else 1
    number = reader.token
    if number is None:
        reader.lacks("which level? A whole number, 0 at the ground")
    if not number.text.isdecimal() or int(number.text[:4]) > MOST_LEVELS:
        reader.fail(number, "no level: a whole number, 0 at the ground")
    reader.take()
    parts.say("level", sign * int(number.text), token)


def _takes_minus(reader: Reader) -> bool:
    token = reader.token
    if token is not None and token.kind == "other" and token.text in "-\N{MINUS SIGN}":
        reader.take()
        return True
    return False


def wall(reader: Reader, parts: Parts, token: Token) -> None:
    """The wall in which one comes in."""
    key = reader.token
    if key is None:
        reader.lacks("which wall? Write n, e, s, w or its number")
    side = SIDES.get(key.text.casefold())
    if side is None and not (key.text.isdecimal() and len(key.text) < 5):  # noqa: PLR2004 - digits
        reader.fail(key, "which wall? Write n, e, s, w or its number")
    reader.take()
    parts.say("wall", side or str(int(key.text)), token)


def nothing_fits(reader: Reader, parts: Parts, token: Token) -> NoReturn:
    del parts
    reader.fail(token, "a number does not belong here")


NAME_ENDS = frozenset({AT, LESS, HIGH, WIDE, USE, ROLE, LEVEL, WALL, SIZE})
"""Words that end a name without quotes."""

_BEHIND: Mapping[str, Item] = {AT: along, WALL: wall}
_ROOM: Mapping[str, Item] = {
    "0": size, LESS: less, HIGH: number_to("height_m", "2.4", "how high"),
    USE: choice("use", USES), ROLE: choice("role", ROLES), LEVEL: level,
    **{use: flag("use", value=use) for use in USES},
    **{role: flag("role", value=role) for role in ROLES if role != "room"},
}  # fmt: skip
_ROOM_HINTS = {"height_m": [Hint("height", "of the room")], "use": [Hint("use", "what it is for")]}
_SIZE_IF_NEW = Hint("3.1 x 2.8", "its size, if it is new", example=True)
_AT_THERE = Hint("at 0.5", "how far along its own wall", example=True)
_ROOM_WORDS = "a room has a size, at, height, use, level: 3.1 x 2.8 at 0.5 height 2.4"
_CHANGE: Mapping[str, Item] = {
    "0": nothing_fits, SIZE: size,
    LESS: less, HIGH: _ROOM[HIGH], USE: _ROOM[USE], ROLE: _ROOM[ROLE], LEVEL: level,
}  # fmt: skip


def name_of(reader: Reader, parts: Parts) -> str:
    """A name: in quotes, or up to a size or a word that ends it."""
    first = reader.take()
    if first.kind == "sign" or first.unit:
        reader.fail(first, "a room's name is needed")
    if first.kind != "quoted":
        while (token := reader.token) is not None and _goes_on(reader, token):
            _not_misspelt_behind(reader, first, token)
            reader.take()
        _take_known(reader, first)
    last = reader.tokens[reader.place - 1]
    written = first.text if first.kind == "quoted" else reader.text[first.start : last.end]
    name = clean_text(written)
    if not name:
        reader.fail(first, "a room needs a name")
    parts.spans["name"] = (first.start, last.end)
    _offer_names(reader, first)
    return name


def _goes_on(reader: Reader, token: Token) -> bool:
    """Whether a token is part of the name before it."""
    if token.kind == "number":
        follows = reader.after()
        size = follows is not None and follows.sign == "x"
        return token.text.isdecimal() and not token.unit and not size
    if token.kind == "word":
        return word(token.text) not in NAME_ENDS
    return token.kind == "other" and token.text != COMMA


def _not_misspelt_behind(reader: Reader, first: Token, token: Token) -> None:
    """Raise WordError where the name of a room is followed by what is nearly one of our words."""
    name = reader.text[first.start : token.start].strip().casefold()
    ends = [word for word in NAME_ENDS if len(word) >= SHORTEST_MISSPELT]
    near = nearest(token.text, [*ends, "height"]) if token.kind == "word" else None
    if near and name in (each.casefold() for each in reader.names):
        text = f"{shown(token.text)}: did you mean {near}?"
        raise WordError(Fault(token.start, token.end, text))


def _take_known(reader: Reader, first: Token) -> None:
    """Where the name of a room there is goes on beyond a word that would end it, take all of it."""
    here = reader.text[first.start :].casefold()
    for name in sorted(reader.names, key=len, reverse=True):
        end = first.start + len(name)
        if here.startswith(name.casefold()):
            bounds = [i for i, t in enumerate(reader.tokens, 1) if t.end == end]
            if bounds and bounds[0] > reader.place:
                reader.place = bounds[0]
                return


def _offer_names(reader: Reader, first: Token) -> None:
    typed = reader.text[first.start :].casefold().strip()
    for name in reader.names:
        if name.casefold().startswith(typed) and name.casefold() != typed:
            reader.offer(Hint(name, "is there already", first.start))


def _is_known(reader: Reader, parts: Parts) -> bool:
    start, end = parts.spans["name"]
    return any(name.casefold() == reader.text[start:end].casefold() for name in reader.names)


def room_items(reader: Reader, parts: Parts, *, behind: bool) -> None:
    """What is said of a room; one `behind` an opening may say where it is come into."""
    items(reader, parts, {**_ROOM, **_BEHIND} if behind else _ROOM, _ROOM_WORDS)
    its_place = {"along": [_AT_THERE]} if behind else {}
    if _is_known(reader, parts):
        offer_missing(reader, parts, its_place)
    elif "size_m" not in parts:
        offer_missing(reader, parts, {"size_m": [_SIZE_IF_NEW], **its_place})
    else:
        offer_missing(reader, parts, {**its_place, **_ROOM_HINTS})
        reader.offer(Hint(";", "then its window or lamp"))


def change_words(reader: Reader, parts: Parts) -> None:
    items(reader, parts, _CHANGE, "of a room change size, height, use, role or level")


SPECTRA: Mapping[str, str] = {each.casefold(): each for each in ILLUMINANTS}

_WIDTH = Hint("0.8", "how wide", example=True)
_AT = Hint("at 1.2", "how far from the end of the wall", example=True)

# Openings

_OPENING: Mapping[str, Item] = {
    "0": sides, AT: along, WIDE: number_to("width_m", "0.8", "how wide"),
    HIGH: number_to("height_m", "2.0", "how high"),
    SHUT: flag("shut", value=True), STOP: flag("stop", value=True),
    UP: flag("rise", value=1), DOWN: flag("rise", value=-1),
    **{name: flag("kind", value=kind) for name, kind in KINDS.items()},
}  # fmt: skip
_KIND_HINTS: Mapping[str, Sequence[Hint]] = {
    "doorway": [Hint("shut", "how it usually stands")],
    "stairs": [Hint("up", "to the level above"), Hint("down", "to the level below")],
}
_OPENING_WORDS = "an opening is doorway, cased, open, glazed or stairs, then > and a room"


def opening_items(reader: Reader, parts: Parts) -> None:
    """Up to the > before the room behind it."""
    items(reader, parts, _OPENING, _OPENING_WORDS, stop=">", also=WINDOW_WORDS)
    offer_missing(reader, parts, {"kind": [Hint(kind) for kind in OPENING_KINDS]})
    if len(parts.values) == 1 and "wall" in parts:
        reader.offer(Hint("window", "in this wall"))
    offer_missing(reader, parts, {"width_m": [_WIDTH], "along": [_AT]})
    if "along" in parts and parts.values["along"].end is None:
        reader.offer(FROM_AN_END)
    reader.offer(*_KIND_HINTS.get(parts.values.get("kind", "doorway"), ()))
    reader.offer(Hint(">", "the room behind it"))


# Windows and lamps

_WINDOW: Mapping[str, Item] = {
    "0": sides, AT: along, WIDE: number_to("width_m", "1.2", "how wide"),
    HIGH: number_to("height_m", "1.1", "how high"),
    SILL: number_to("sill_m", "0.9", "how far above the floor"),
}  # fmt: skip


_WINDOW_HINTS = {
    "width_m": [Hint("1.2 x 1.1", "its width and height", example=True)],
    "along": [_AT],
    "sill_m": [Hint("sill 0.9", "its sill above the floor", example=True)],
}


def window_items(reader: Reader, parts: Parts) -> None:
    items(reader, parts, _WINDOW, "a window has a size, at and sill: 1.2 x 1.1 at 0.6 sill 0.9")
    height = [Hint("x", "1.1, its height")] if "width_m" in parts else []
    offer_missing(reader, parts, {"height_m": height, **_WINDOW_HINTS})


def _brightness(reader: Reader, parts: Parts, token: Token) -> None:
    """Lumens first, then kelvin, unless their units say which."""
    if token.unit == "length":
        reader.fail(token, "a lamp has lumens and kelvin, 1400 lm 2700 K")
    reader.take()
    kelvin = token.unit == "K" or (token.unit == "" and "lumens" in parts)
    parts.say("kelvin" if kelvin else "lumens", token.value, token)


def _place(reader: Reader, parts: Parts, token: Token) -> None:
    east = reader.length_m("0.9", "from the west wall")
    north = reader.length_m("2.6", "from the south wall")
    parts.say("at_m", (east, north, reader.height_m("2.4", "above the floor")), token)


_LAMP: Mapping[str, Item] = {
    "0": _brightness, AT: _place,
    **{aim: flag("aim", value=aim) for aim in AIMS},
}  # fmt: skip


_LAMP_HINTS = {
    "lumens": [Hint("1400 lm", "how bright", example=True)],
    "kelvin": [Hint("2700 K", "how warm", example=True)],
    "aim": [Hint(aim) for aim in AIMS],
}


def lamp_items(reader: Reader, parts: Parts) -> None:
    wanted = "a lamp has lumens, kelvin and an aim: 1400 lm 2700 K down"
    items(reader, parts, _LAMP, wanted, also=SPECTRA, special=_spectrum)
    offer_missing(reader, parts, _LAMP_HINTS)


def _spectrum(reader: Reader) -> tuple[str, str] | None:
    """Take the name of an illuminant, which may be written in several tokens: LED-B1, FL3.15."""
    rest = reader.rest_of_clause()
    for count in (3, 2, 1):
        pieces = rest[:count]
        joined = all(a.end == b.start for a, b in pairwise(pieces))
        if len(pieces) == count and joined:
            known = SPECTRA.get(reader.text[pieces[0].start : pieces[-1].end].casefold())
            if known and pieces[0].kind == "word":
                reader.place += count
                return "spectrum", known
    return None


MOST_CHARACTERS = 2000
"""More is nothing that a person types."""

BEGINNINGS = (
    Hint("n", "a wall: n, e, s or w"), Hint("window", "in which wall"),
    Hint("lamp", "of this room"), Hint("height", "of this room"),
)  # fmt: skip


def parse_line(text: str, units: Units = "m", names: Sequence[str] = ()) -> Line:
    """Read a line as far as it can be read; `names` are those of the rooms there are.

    A bare length is in `units`. Nothing is raised: what is wrong is the line's fault.
    """
    reader = Reader(text[:MOST_CHARACTERS], units, names)
    clauses: list[Clause] = []
    try:
        while not reader.ended:
            if reader.token is None:
                reader.place += 1
            else:
                clauses.append(_clause(reader))
                _end(reader)
        _offer_beginnings(reader)
    except WordError as error:
        return Line(text, tuple(clauses), error.fault, tuple(reader.hints), reader.typed_units)
    return Line(text, tuple(clauses), None, tuple(reader.hints), reader.typed_units)


def _offer_beginnings(reader: Reader) -> None:
    """Where a clause may begin, say how."""
    if not reader.tokens or reader.tokens[-1].sign == ";":
        first = Hint("Hall 1.8 x 5.2", "a room and its size", example=True)
        known = [Hint(name, "go there") for name in reader.names]
        reader.hints += [*BEGINNINGS, *known] if reader.names else [first]


def _end(reader: Reader) -> None:
    token = reader.token
    if token is not None and not reader.take_comma():
        reader.fail(token, "it does not belong here; a ; begins the next thing")


def _clause(reader: Reader) -> Clause:
    parts, start = Parts(reader), reader.tokens[reader.place].start
    make = _room if _is_a_name(reader) else _maker(reader, parts)
    return make(reader, parts, start)


def _maker(reader: Reader, parts: Parts) -> "Maker":
    """What reads the clause that begins here; its wall is taken already."""
    if _takes_wall(reader, parts):
        return _window if reader.word in (*WINDOW_WORDS, WINDOW_AT_A_WALL) else _opening
    if any(token.sign == ">" for token in reader.rest_of_clause()):
        return _opening
    return MAKERS.get(reader.word, _room)


def _is_a_name(reader: Reader) -> bool:
    """Whether the clause is the name of a room there is, whatever else its words may mean."""
    rest = reader.rest_of_clause()
    text = reader.text[rest[0].start : rest[-1].end]
    return any(text.casefold() == name.casefold() for name in reader.names)


def _takes_wall(reader: Reader, parts: Parts) -> bool:
    """Take a wall, if one comes: a side, or the number of an outline's edge."""
    start = reader.token
    follows = reader.after()
    if start is None:
        return False
    if reader.word == WALL and follows and (_side(follows.text) or follows.text.isdecimal()):
        reader.take()
    elif not (reader.word in SIDES or _is_number(reader)):
        return False
    key = reader.take()
    parts.say("wall", _side(key.text) or str(int(key.text)), start, key)
    return True


def _side(text: str) -> str:
    return SIDES.get(text.casefold(), "")


def _is_number(reader: Reader) -> bool:
    """Whether a wall's number comes, and not a size."""
    token, follows = reader.token, reader.after()
    plain = token is not None and token.kind == "number" and token.text.isdecimal()
    return plain and token is not None and not token.unit and (not follows or follows.sign != "x")


def _opening(reader: Reader, parts: Parts, start: int) -> OpeningWords:
    opening_items(reader, parts)
    if reader.token is None:
        reader.lacks("into which room? Write > and its name, with its size if it is new")
    reader.take()
    into = _into(reader)
    if "rise" in parts:
        parts.values.setdefault("kind", "stairs")
    return OpeningWords(into, **parts.values, spans=parts.whole(start))


def _into(reader: Reader) -> RoomWords:
    known = [Hint(name, "is there already") for name in reader.names]
    reader.offer(Hint("Study 3.1 x 2.8", "a new room and its size", example=True), *known)
    if reader.token is None:
        reader.lacks("into which room? Write its name, with its size if it is new")
    parts, start = Parts(reader), reader.tokens[reader.place].start
    return _room(reader, parts, start, behind=True)


def _room(reader: Reader, parts: Parts, start: int, *, behind: bool = False) -> RoomWords:
    first = reader.tokens[reader.place]
    if not behind:
        _not_misspelt(reader, first)
    name = name_of(reader, parts)
    room_items(reader, parts, behind=behind)
    quoted = first.kind == "quoted"
    return RoomWords(name, **parts.values, quoted=quoted, spans=parts.whole(start))


def _not_misspelt(reader: Reader, first: Token) -> None:
    """Raise WordError where a clause begins with what is nearly one of our words."""
    words = [each for each in (*MAKERS, *KINDS) if len(each) >= SHORTEST_MISSPELT]
    near = nearest(first.text, words) if first.kind == "word" else None
    if near and len(reader.rest_of_clause()) > 1 and not _begins_a_name(reader, first):
        text = f"{shown(first.text)}: did you mean {near}? Put the name of a room in quotes"
        raise WordError(Fault(first.start, first.end, text))


def _begins_a_name(reader: Reader, first: Token) -> bool:
    start = first.text.casefold()
    return any(name.casefold().split()[:1] == [start] for name in reader.names)


def _window(reader: Reader, parts: Parts, start: int) -> WindowWords:
    reader.take()
    if "wall" not in parts:
        reader.offer(*(Hint(side, "its wall") for side in ("n", "e", "s", "w")))
        if not _takes_wall(reader, parts):
            reader.choose(SIDES, "in which wall? Write n, e, s or w")
    window_items(reader, parts)
    return WindowWords(**parts.values, spans=parts.whole(start))


def _lamp(reader: Reader, parts: Parts, start: int) -> LampWords:
    reader.take()
    lamp_items(reader, parts)
    return LampWords(**parts.values, spans=parts.whole(start))


def _change(reader: Reader, parts: Parts, start: int) -> ChangeWords:
    change_words(reader, parts)
    return ChangeWords(**parts.values, spans=parts.whole(start))


Maker = Callable[[Reader, Parts, int], Clause]

MAKERS: Mapping[str, Maker] = {
    **dict.fromkeys(WINDOW_WORDS, _window), **dict.fromkeys(LAMP_WORDS, _lamp),
    **dict.fromkeys((SIZE, HIGH, USE, ROLE, LEVEL), _change),
}  # fmt: skip
"""By the word with which a clause begins."""
