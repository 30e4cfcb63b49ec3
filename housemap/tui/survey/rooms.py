"""The parts of rooms, as a survey line says them."""

from collections.abc import Mapping

from housemap.model.house import ROLES, USES
from housemap.model.text import clean_text
from housemap.tui.survey.clauses import Hint
from housemap.tui.survey.items import (
    Item,
    along,
    choice,
    flag,
    items,
    less,
    level,
    nothing_fits,
    number_to,
    size,
    wall,
)
from housemap.tui.survey.reader import COMMA, Parts, Reader
from housemap.tui.survey.tokens import Token
from housemap.tui.survey.words import (
    AT,
    HIGH,
    LESS,
    LEVEL,
    ROLE,
    SIZE,
    USE,
    WALL,
    WIDE,
    word,
)

NAME_ENDS = frozenset({AT, LESS, HIGH, WIDE, USE, ROLE, LEVEL, WALL, SIZE})
"""Words that end a name without quotes."""

_BEHIND: Mapping[str, Item] = {AT: along, WALL: wall}
_ROOM: Mapping[str, Item] = {
    "0": size, LESS: less, HIGH: number_to("height_m", "2.4", "how high"),
    USE: choice("use", USES), ROLE: choice("role", ROLES), LEVEL: level,
    **{use: flag("use", value=use) for use in USES},
    **{role: flag("role", value=role) for role in ROLES if role != "room"},
}  # fmt: skip
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
    known = {**_ROOM, **_BEHIND} if behind else _ROOM
    items(reader, parts, known, _ROOM_WORDS)
    if _is_known(reader, parts):
        if behind and "along" not in parts:
            reader.offer(Hint("at 0.5", "how far along its own wall", example=True))
        return
    if "size_m" not in parts:
        reader.offer(Hint("3.1 x 2.8", "its size, if it is new", example=True))
        if behind:
            reader.offer(Hint("at 0.5", "how far along its own wall", example=True))
        return
    if behind and "along" not in parts:
        reader.offer(Hint("at 0.5", "how far along its own wall", example=True))
    if "height_m" not in parts:
        reader.offer(Hint("height", "of the room"))
    if "use" not in parts:
        reader.offer(Hint("use", "what it is for"))
    reader.offer(Hint(";", "then its window or lamp"))


def change_words(reader: Reader, parts: Parts) -> None:
    items(reader, parts, _CHANGE, "of a room change size, height, use, role or level")
