"""What parts of a survey line's clauses are made of: lengths, sizes, words of a list."""

from collections.abc import Callable, Mapping
from typing import NoReturn

from housemap.tui.survey.clauses import Along, Cut, Hint
from housemap.tui.survey.reader import Parts, Reader
from housemap.tui.survey.tokens import Token
from housemap.tui.survey.words import CORNERS, FROM, SIDES

Item = Callable[[Reader, Parts, Token], None]
"""Takes what follows its word, which has been taken; of a number, the number itself."""

MOST_LEVELS = 200
FROM_AN_END = Hint("from e", "the end of the wall that is meant", example=True)


def items(
    reader: Reader, parts: Parts, known: Mapping[str, Item], wanted: str, *, stop: str = ""
) -> None:
    """Take parts in any order, up to the end of the clause or a sign."""
    while (token := reader.next_part(known, stop)) is not None:
        if token.kind == "number":
            known["0"](reader, parts, token)
        elif reader.word in known:
            name = reader.word
            reader.take()
            known[name](reader, parts, token)
        else:
            reader.fail_word((key for key in known if len(key) > 1), wanted)


# Lengths


def sides(reader: Reader, parts: Parts, token: Token) -> None:
    """A width, and a height behind an x."""
    width = reader.length_m("0.8", "how wide")
    parts.say("width_m", width, token)
    if by := reader.take_word("x"):
        parts.say("height_m", reader.length_m("2.0", "how high"), by)


def number_to(key: str, example: str, what: str) -> Item:
    def take(reader: Reader, parts: Parts, token: Token) -> None:
        parts.say(key, reader.length_m(example, what), token)

    return take


def along(reader: Reader, parts: Parts, token: Token) -> None:
    """Behind "at": a length, and the end of the wall from which it is counted."""
    metres = reader.length_m("1.2", "how far from the end of the wall")
    end = None
    reader.offer(FROM_AN_END)
    if reader.take_word(FROM):
        end = SIDES.get(reader.word)
        if reader.token is None:
            reader.lacks("from which end? Write n, e, s or w")
        if end is None:
            reader.fail_word(SIDES, "from which end? Write n, e, s or w")
        reader.take()
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
        parts.say("height_m", reader.length_m("2.4", "how high"), by)


def less(reader: Reader, parts: Parts, token: Token) -> None:
    """The corner that an L-shaped room lacks: less 1 x 2 ne."""
    across = reader.length_m("1", "from west to east")
    if reader.take_word("x") is None:
        reader.lacks("what is left out is two lengths and a corner: less 1 x 2 ne")
    up = reader.length_m("2", "from south to north")
    reader.offer(*(Hint(corner, "which corner") for corner in CORNERS))
    corner = CORNERS.get(reader.word)
    if reader.token is None:
        reader.lacks("which corner? Write ne, nw, se or sw")
    if corner is None:
        reader.fail_word(CORNERS, "which corner? Write ne, nw, se or sw")
    reader.take()
    parts.say("cut", Cut((across, up), corner), token)


# Words


def flag(key: str, *, value: object) -> Item:
    return lambda _, parts, token: parts.say(key, value, token)


def choice(key: str, words: tuple[str, ...]) -> Item:
    offer = ", ".join(words)

    def take(reader: Reader, parts: Parts, token: Token) -> None:
        reader.offer(*(Hint(each) for each in words))
        if reader.token is None:
            reader.lacks(f"which? One of {offer}")
        if reader.word not in words:
            reader.fail_word(words, f"one of {offer}")
        value = reader.word
        reader.take()
        parts.say(key, value, token)

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
