"""From the text of a survey line to its clauses, which stand between semicolons.

A clause is one of these; parts in brackets may be left out, and stand in any order:

- an opening: wall, [doorway cased open glazed stairs], [0.8 [x 2.0]], [at 1.2 [from e]], [shut],
  [stop], [up down], then > and the room behind it. Without its kind it is a doorway.
- a room: Study, [3.1 x 2.8 [x 2.4]], [less 1 x 2 ne], [height 2.4], [use office], [role accent],
  [level 1]; behind an opening also [at 0.5 [from e]] and [wall s], which are its own.
- a window: wall window, or window wall, [1.2 [x 1.1]], [at 0.6 [from e]], [sill 0.9].
- a lamp: lamp, [1400 lm], [2700 K], [down up all], [LED-B1], [at 0.9 2.6 2.4].
- a change of the room: [size 3.1 x 2.8], [height 2.4], [use office], [role accent], [level 1].
"""

from collections.abc import Callable, Mapping, Sequence

from housemap.model.house import Units
from housemap.tui.survey.clauses import (
    ChangeWords,
    Clause,
    Hint,
    LampWords,
    Line,
    OpeningWords,
    RoomWords,
    WindowWords,
)
from housemap.tui.survey.parts import lamp_items, opening_items, window_items
from housemap.tui.survey.reader import Parts, Reader, WordError
from housemap.tui.survey.rooms import change_words, name_of, room_items
from housemap.tui.survey.words import (
    HIGH,
    LAMP_WORDS,
    LEVEL,
    ROLE,
    SIDES,
    SIZE,
    USE,
    WALL,
    WINDOW_AT_A_WALL,
    WINDOW_WORDS,
)

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
        return Line(text, tuple(clauses), error.fault, tuple(reader.hints))
    return Line(text, tuple(clauses), None, tuple(reader.hints))


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
    name = name_of(reader, parts)
    room_items(reader, parts, behind=behind)
    return RoomWords(name, **parts.values, spans=parts.whole(start))


def _window(reader: Reader, parts: Parts, start: int) -> WindowWords:
    reader.take()
    if "wall" not in parts:
        reader.offer(*(Hint(side, "its wall") for side in ("n", "e", "s", "w")))
        if reader.token is None:
            reader.lacks("in which wall? Write n, e, s or w")
        if not _takes_wall(reader, parts):
            reader.fail_word(SIDES, "in which wall? Write n, e, s or w")
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
