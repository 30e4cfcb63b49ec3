"""The grammar of the survey language: a line of text to its clauses, parted by semicolons.

A clause is one of these; parts in brackets may be left out, and stand in any order:

- a front or back door: wall front door, or front door wall, then as an opening; > may be left out.
- an opening: wall, [doorway cased open glazed stairs], [0.8 [x 2.0]], [at 1.2 [from e]], [shut],
  [stop], [up down], then > and the room behind it. Without its kind it is a doorway.
- a room: Study, [3.1 x 2.8 [x 2.4]], [less 1 x 2 ne], [height 2.4], [use office], [role accent],
  [level 1]; behind an opening also [at 0.5 [from e]] and [wall s], which are its own.
- a window: wall window, or window wall, [1.2 [x 1.1]], [at 0.6 [from e]], [sill 0.9].
- a lamp: lamp, [1400 lm or 100 watt], [2700 K], [down up all], [LED-B1], [at 0.9 2.6 2.4].
- a change of the room: [size] 3.1 x 2.8, [height 2.4], [use office], [role accent], [level 1].
- what is kept: floor, or worktop, tiles and their like, then its name and perhaps a colour; keep
  before anything else: keep oak table 10YR 5/4.
- what is there now: walls, ceiling, trim or doors, now, then a paint, a colour, or papered, worn.
"""

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from difflib import get_close_matches
from itertools import takewhile
from typing import Any, Literal, NamedTuple, NoReturn, TypeVar

from housemap.errors import InputError
from housemap.model.fieldtypes import ILLUMINANTS
from housemap.model.house import AIMS, OPENING_KINDS, ROLES, USES, Units
from housemap.model.lengths import inches_question, parse_length_m
from housemap.model.text import clean_text, shown
from housemap.workbench.survey.vocabulary import (
    COATED,
    CORNERS,
    FIXED_WORDS,
    FLOOR,
    KEEP,
    KINDS,
    LAMP_WORDS,
    LUMENS_OF_WATTS,
    MOST_HEIGHT_M,
    MOST_LENGTH_M,
    NOW,
    OUTER_DOORS,
    OUTSIDE,
    SIDES,
    WINDOW_AT_A_WALL,
    WINDOW_WORDS,
    Along,
    Clause,
    Cut,
    Fault,
    FinishWords,
    Hint,
    LampWords,
    Line,
    NowWords,
    OpeningWords,
    RoomWords,
    Span,
    Spans,
    WindowWords,
    in_units,
    lumens_of,
    nearest,
    which_unit,
    word,
)

# Tokens: every text can be cut into them

Choice = TypeVar("Choice")
TokenKind = Literal["word", "number", "quoted", "sign", "other"]
Unit = Literal["", "length", "lm", "K", "watt"]

_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_INCHES = r"(?:\d+(?:[.,]\d+)?(?:(?:\s+|-)\d+/\d+)?|\d+/\d+)"
_FOOT_MARK = "['′’]"  # noqa: RUF001 - as typed on phones and tablets
_INCH_MARK = "(?:[\"″”]|'')"
_ENDS = r"(?!(?!x\s*[\d.,])[^\W\d_])"
"""No letter follows, unless it is the x of a size."""
_UNIT_FEET = rf"(?:\s*{_FOOT_MARK}|\s*(?:ft|feet|foot){_ENDS})"
_UNIT_INCHES = rf"(?:\s*{_INCH_MARK}|\s*(?:inches|inch|in){_ENDS})"
_SPECTRA = "|".join(sorted(map(re.escape, ILLUMINANTS), key=len, reverse=True))
_TOKEN = re.compile(
    rf"""(?P<length>{_NUMBER}{_UNIT_FEET}(?:\s*{_INCHES}{_UNIT_INCHES}|{_INCHES}(?!\s*['′’\d]))?
        |{_INCHES}{_UNIT_INCHES}
        |{_NUMBER}\s*(?:mm|cm|m){_ENDS})
    |(?P<spectrum>(?<![\w.])(?:{_SPECTRA})(?![\w.'’&/-]))
    |(?P<lumens>{_NUMBER})\s*(?:lumens|lumen|lm){_ENDS}
    |(?P<watts>{_NUMBER})\s*(?:watts|watt){_ENDS}
    |(?P<kelvin>{_NUMBER})\s*(?:kelvin|k){_ENDS}
    |(?P<bare>{_NUMBER})
    |(?P<outer>(?:front|back)\s+door{_ENDS})
    |(?P<word>[^\W\d_]+(?:[-'’&/.][^\W\d_]+)*)
    |"(?P<quoted>[^"]*)(?:"|$)
    |(?P<sign>->|[>;@→×*])
    |(?P<other>\S)""",  # noqa: RUF001 - the same
    re.VERBOSE | re.IGNORECASE,
)
_NUMBERS: Mapping[str, Unit] = {
    "length": "length", "lumens": "lm", "watts": "watt", "kelvin": "K", "bare": "",
}  # fmt: skip
"""The groups of the pattern that are numbers, with their units."""
_KINDS: Mapping[str, TokenKind] = {
    "word": "word", "spectrum": "word", "outer": "word", "quoted": "quoted",
}  # fmt: skip
_SIGNS = {"->": ">", "→": ">", "×": "x", "*": "x"}  # noqa: RUF001 - the sign of a product
OF_LAMPS = {"lm", "K", "watt"}
_THOUSANDS = re.compile(r"(\d{1,3}),(\d{3})")
_METRIC = re.compile(r"\d\s*(?:mm|cm|m)$", re.IGNORECASE)
COMMA = ","
"""Stands between parts of a clause, or ends one as a semicolon does."""


class Token(NamedTuple):
    """A piece of the line from `start` up to `end`."""

    kind: TokenKind
    text: str
    """Of a quoted name without its quotes; of a sign in its plain spelling."""
    start: int
    end: int
    unit: Unit = ""
    """Of a number; "" where none was written."""

    @property
    def sign(self) -> str:
        """The sign that it is; "" where it is none."""
        return self.text.casefold() if self.kind == "sign" else ""

    @property
    def value(self) -> float:
        plain = _THOUSANDS.sub(r"\1\2", self.text) if self.unit in OF_LAMPS else self.text
        return float(plain.replace(",", "."))


def tokens_of(line: str) -> Iterator[Token]:
    for found in _TOKEN.finditer(line):
        group = found.lastgroup or "other"
        text, (start, end) = found[group], found.span()
        if group == "outer":
            text = " ".join(text.split())
        if group in _NUMBERS:
            yield Token("number", text, start, end, _NUMBERS[group])
        elif group == "sign" or (group == "word" and text.casefold() == "x"):
            yield Token("sign", _SIGNS.get(text, text), start, end)
        else:
            yield Token(_KINDS.get(group, "other"), text, start, end)


class WordError(Exception):
    """A line cannot be read on: where, and why."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.text)
        self.fault = fault


def fault(span: Span, text: str, *, unfinished: bool = False) -> NoReturn:
    raise WordError(Fault(*span, text, unfinished))


class Reader:
    """The tokens of a line, taken one after the other; a semicolon ends a clause."""

    def __init__(self, text: str, units: Units, names: Sequence[str]) -> None:
        self.text, self.units, self.names = text, units, names
        self.tokens = tuple(tokens_of(text))
        self.place = 0
        self.hints: list[Hint] = []
        self.values: dict[str, Any] = {}
        """What the clause has said so far, by part."""
        self.spans: dict[str, Span] = {}
        """Where it has said that."""
        self._typed: set[Units] = set()
        """The units of the lengths read so far."""

    # Taking

    @property
    def ended(self) -> bool:
        return self.place >= len(self.tokens)

    @property
    def token(self) -> Token | None:
        """The next of this clause; None at its end."""
        if self.ended or self.tokens[self.place].sign == ";":
            return None
        return self.tokens[self.place]

    @property
    def following(self) -> Token | None:
        """The token behind the next one, in this clause."""
        behind = self.tokens[self.place + 1 : self.place + 2]
        return behind[0] if self.token and behind and behind[0].sign != ";" else None

    @property
    def word(self) -> str:
        """The next word in the grammar's spelling; "" where none comes."""
        token = self.token
        return word(token.text) if token and token.kind in {"word", "sign"} else ""

    def rest_of_clause(self) -> Sequence[Token]:
        rest = self.tokens[self.place :]
        end = next((i for i, token in enumerate(rest) if token.sign == ";"), len(rest))
        return rest[:end]

    def is_name(self, text: str) -> bool:
        return any(text.casefold() == name.casefold() for name in self.names)

    def take(self) -> Token:
        token = self.token
        assert token is not None
        self.place += 1
        return token

    def take_word(self, expected: str) -> Token | None:
        """The next token if it is that word."""
        return self.take() if self.word == expected else None

    def choose(self, words: Mapping[str, Choice], expected: str) -> Choice:
        """What one of some words means, which must come now."""
        if self.token is None:
            self.lacks(expected)
        if self.word not in words:
            self.fail_word(words, expected)
        return words[word(self.take().text)]

    def take_comma(self) -> bool:
        token = self.token
        comma = token is not None and token.kind == "other" and token.text == COMMA
        self.place += comma
        return comma

    def next_part(self, known: Collection[str], stop: str) -> Token | None:
        """The next token, or the one behind a comma; None where `stop` or the clause's end comes.

        A comma ends the clause, unless a number or a known word comes behind it.
        """
        follows = self.following
        if self.take_comma() and not (
            follows and (follows.kind == "number" or word(follows.text) in known)
        ):
            self.place -= 1
            return None
        token = self.token
        return None if token is None or (stop and token.sign == stop) else token

    def take_parts(
        self,
        known: Mapping[str, "Item"],
        expected: str,
        *,
        stop: str = "",
        also: Collection[str] = (),
    ) -> None:
        """Take parts in any order, up to the end of the clause or a sign.

        `also` are further words that may come, or that a misspelt one may mean.
        """
        every = (*known, *also)
        while (token := self.next_part(every, stop)) is not None:
            if token.kind == "number":
                known["0"](self, token)
            elif self.word in known:
                name = self.word
                self.take()
                known[name](self, token)
            else:
                self.fail_word((key for key in every if len(key) > 1), expected)

    @property
    def typed_units(self) -> Units:
        """What the lengths were typed in; the units of the house where that is not one."""
        return next(iter(self._typed)) if len(self._typed) == 1 else self.units

    def length_m(self, example: str, what: str, most_m: float = MOST_LENGTH_M) -> float:
        """A length, which must come now; one above `most_m` only with its unit."""
        self.offer(Hint(example, what, example=True))
        token, metres = self.token, None
        if token is None:
            self.lacks(f"a length is missing: {what}, such as {example}")
        if token.kind == "number" and token.unit not in OF_LAMPS:
            with suppress(InputError):
                metres = parse_length_m(token.text, self.units)
        if metres is None:
            wrong = f"no length; {what}, such as {example}"
            self.fail(token, inches_question(token.text) or wrong)
        if not token.unit and (question := which_unit(token.text, metres, self.units, most_m)):
            fault((token.start, token.end), question)
        written: Units = "m" if _METRIC.search(token.text) else "ft"
        self._typed.add(written if token.unit else self.units)
        self.place += 1
        return metres

    # Saying

    def say(self, key: str, value: Any, start: Token, end: Token | None = None) -> None:
        """Take note of a part; it may be said once. `start` and `end` are its tokens."""
        span = (start.start, (end or self.tokens[self.place - 1]).end)
        if key in self.values:
            fault(span, f"{shown(self.text[slice(*span)])} is said twice")
        self.values[key] = value
        self.spans[key] = span

    def whole(self, start: int) -> Spans:
        """The spans, with that of the whole clause."""
        return self.spans | {"whole": (start, self.tokens[self.place - 1].end)}

    def offer(self, *hints: Hint) -> None:
        """What may come next, where the line ends here: examples, then words as they are typed."""
        if self.ended:
            made = [
                h._replace(text=in_units(h.text, self.units)) if h.example else h for h in hints
            ]
            self.hints += sorted(made, key=lambda hint: not hint.example)

    def offer_missing(self, hints: Mapping[str, Sequence[Hint]]) -> None:
        """Say what may come next, by the part that has not been said yet."""
        for key, several in hints.items():
            if key not in self.values:
                self.offer(*several)

    def lacks(self, text: str) -> NoReturn:
        """Something must follow: at the end of the line it has only not been typed yet."""
        end = len(self.text) if self.ended else self.tokens[self.place].start
        fault((end, end), in_units(text, self.units), unfinished=self.ended)

    def fail(self, token: Token, expected: str) -> NoReturn:
        """Something else stands where `expected` should."""
        fault((token.start, token.end), f"{shown(token.text)}: {in_units(expected, self.units)}")

    def fail_word(self, known: Iterable[str], expected: str) -> NoReturn:
        """The next word is not among those known; part of one may be on its way to it."""
        token = self.take()
        plain, options = word(token.text), sorted(set(known))
        last = self.ended and token.end == len(self.text) and token.kind == "word"
        if last and any(option.startswith(plain) for option in options):
            fault((token.start, token.end), in_units(expected, self.units), unfinished=True)
        near = get_close_matches(plain, options, 1, 0.7)
        self.fail(token, f"did you mean {near[0]}?" if near else expected)


# Parts of a clause

Item = Callable[[Reader, Token], None]
"""Takes what follows its word, which has been taken; of a number, the number itself."""

MOST_LEVELS = 200
FROM_AN_END = Hint("from e", "the end of the wall that is meant", example=True)


def sides(reader: Reader, token: Token) -> None:
    """A width, and a height behind an x."""
    width = reader.length_m("0.8", "how wide")
    reader.say("width_m", width, token)
    if by := reader.take_word("x"):
        reader.say("height_m", reader.length_m("2.0", "how high", MOST_HEIGHT_M), by)


def number_to(key: str, example: str, what: str) -> Item:
    most_m = MOST_LENGTH_M if key == "width_m" else MOST_HEIGHT_M
    return lambda reader, token: reader.say(key, reader.length_m(example, what, most_m), token)


def along(reader: Reader, token: Token) -> None:
    """Behind "at": a length, and the end of the wall from which it is counted."""
    metres = reader.length_m("1.2", "how far from the end of the wall")
    end = None
    reader.offer(FROM_AN_END)
    if reader.take_word("from"):
        end = reader.choose(SIDES, "from which end? Write n, e, s or w")
    reader.say("along", Along(metres, end), token)


def size(reader: Reader, token: Token) -> None:
    """Across the map, then up it, then perhaps the height: 3.1 x 2.8 x 2.4."""
    across = reader.length_m("3.1", "across the map")
    reader.offer(Hint("x", "2.8, up the map"))
    if reader.take_word("x") is None:
        reader.lacks("a size is two lengths: 3.1 x 2.8, across the map by up it")
    up = reader.length_m("2.8", "up the map")
    reader.say("size_m", (across, up), token)
    if by := reader.take_word("x"):
        reader.say("height_m", reader.length_m("2.4", "how high", MOST_HEIGHT_M), by)


def less(reader: Reader, token: Token) -> None:
    """The corner that an L-shaped room lacks: less 1 x 2 ne."""
    across = reader.length_m("1", "across the map")
    if reader.take_word("x") is None:
        reader.lacks("what is left out is two lengths and a corner: less 1 x 2 ne")
    up = reader.length_m("2", "up the map")
    reader.offer(*(Hint(corner, "which corner") for corner in CORNERS))
    corner = reader.choose(CORNERS, "which corner? Write ne, nw, se or sw")
    reader.say("cut", Cut((across, up), corner), token)


def flag(key: str, value: object) -> Item:
    return lambda reader, token: reader.say(key, value, token)


def choice(key: str, words: tuple[str, ...]) -> Item:
    offer, known = ", ".join(words), {each: each for each in words}

    def take(reader: Reader, token: Token) -> None:
        reader.offer(*map(Hint, words))
        reader.say(key, reader.choose(known, f"which? One of {offer}"), token)

    return take


def level(reader: Reader, token: Token) -> None:
    sign, number = 1, reader.token
    if number is not None and number.text in {"-", "\N{MINUS SIGN}"}:
        reader.take()
        sign, number = -1, reader.token
    if number is None:
        reader.lacks("which level? A whole number, 0 at the ground")
    if not number.text.isdecimal() or int(number.text[:4]) > MOST_LEVELS:
        reader.fail(number, "no level: a whole number, 0 at the ground")
    reader.take()
    reader.say("level", sign * int(number.text), token)


def wall_key(text: str) -> str:
    """The key of a wall that is named by its side or number; empty for anything else."""
    is_number = text.isdecimal() and len(text) < 5  # noqa: PLR2004 - digits
    return SIDES.get(text.casefold(), str(int(text)) if is_number else "")


def wall(reader: Reader, _token: Token) -> None:
    """The wall in which one comes in."""
    must_name_wall(reader, "which wall? Write n, e, s, w or its number")


def must_name_wall(reader: Reader, question: str) -> None:
    if not takes_wall(reader):
        reader.choose(SIDES, question)


def takes_wall(reader: Reader) -> bool:
    """Take a wall, if one comes: a side, or the number of an outline's edge but not of a size."""
    start, follows = reader.token, reader.following
    if start is None:
        return False
    if reader.word == "wall" and follows and wall_key(follows.text):
        reader.take()
    elif reader.word not in SIDES:
        is_number = start.kind == "number" and wall_key(start.text) and not start.unit
        if not is_number or (follows and follows.sign == "x"):
            return False
    named = reader.take()
    reader.say("wall", wall_key(named.text), start, named)
    return True


# A room, and its name

SHORTEST_MISSPELT = 4
"""Letters of a word for which a misspelling is looked for."""
NAME_ENDS = frozenset({"at", "less", "high", "wide", "use", "role", "level", "wall", "size"})
"""Words that end a name without quotes."""
_LONG_ENDS = [*(end for end in NAME_ENDS if len(end) >= SHORTEST_MISSPELT), "height"]

_BEHIND: Mapping[str, Item] = {"at": along, "wall": wall}
_ROOM: Mapping[str, Item] = {
    "0": size, "less": less, "high": number_to("height_m", "2.4", "how high"),
    "use": choice("use", USES), "role": choice("role", ROLES), "level": level,
    **{use: flag("use", use) for use in USES},
    **{role: flag("role", role) for role in ROLES if role != "room"},
}  # fmt: skip
_ROOM_HINTS = {"height_m": [Hint("height", "of the room")], "use": [Hint("use", "what it is for")]}
_SIZE_IF_NEW = Hint("3.1 x 2.8", "its size, if it is new", example=True)
_AT_THERE = Hint("at 0.5", "how far along its own wall", example=True)
_CHANGE: Mapping[str, Item] = {
    "0": size, "size": size,
    **{word: _ROOM[word] for word in ("less", "high", "use", "role", "level")},
}  # fmt: skip


def _room(reader: Reader, start: int, *, behind: bool = False) -> RoomWords:
    """What is said of a room; one `behind` an opening may say where it is come into."""
    first = reader.tokens[reader.place]
    if not behind:
        _not_misspelt(reader, first)
    name = name_of(reader)
    known = reader.is_name(reader.text[slice(*reader.spans["name"])])
    expected = "a room has a size, at, height, use, level: 3.1 x 2.8 at 0.5 height 2.4"
    reader.take_parts({**_ROOM, **_BEHIND} if behind else _ROOM, expected)
    its_place = {"along": [_AT_THERE]} if behind else {}
    if known:
        reader.offer_missing(its_place)
    elif "size_m" not in reader.values:
        reader.offer_missing({"size_m": [_SIZE_IF_NEW], **its_place})
    else:
        reader.offer_missing({**its_place, **_ROOM_HINTS})
        reader.offer(Hint(";", "then its window or lamp"))
    quoted = first.kind == "quoted"
    return RoomWords(name, **reader.values, quoted=quoted, spans=reader.whole(start))


def name_of(reader: Reader) -> str:
    """A name: in quotes, or up to a size or a word that ends it."""
    first = reader.take()
    if first.kind == "sign" or first.unit:
        reader.fail(first, "a room's name is needed")
    if first.kind != "quoted":
        rest, parts = reader.rest_of_clause(), (*WINDOW_WORDS, *LAMP_WORDS[:2])
        if first in reader.tokens[:1] and rest and word(rest[0].text) in parts:
            wall = "which wall? Write n, e, s or w, or put the name of a room in quotes"
            reader.fail(first, wall)
        if _takes_known(reader, first) and (near := nearest(reader.word, _LONG_ENDS)):
            reader.fail(reader.take(), f"did you mean {near}?")
        while (token := reader.token) is not None and _goes_on(reader, token):
            reader.take()
    last = reader.tokens[reader.place - 1]
    name = clean_text(first.text if first.kind == "quoted" else reader.text[first.start : last.end])
    if not name:
        reader.fail(first, "a room needs a name")
    reader.spans["name"] = (first.start, last.end)
    typed = reader.text[first.start :].casefold().strip()
    for known in reader.names:
        if known.casefold().startswith(typed) and known.casefold() != typed:
            reader.offer(Hint(known, "is there already", first.start))
    return name


def _goes_on(reader: Reader, token: Token) -> bool:
    """Whether a token is part of the name before it."""
    if token.kind == "number":
        follows = reader.following
        is_size = follows is not None and follows.sign == "x"
        return token.text.isdecimal() and not token.unit and not is_size
    if token.kind == "word":
        return word(token.text) not in NAME_ENDS
    return token.kind == "other" and token.text != COMMA


def _takes_known(reader: Reader, first: Token) -> bool:
    """Take all of a room's name that begins with a token, beyond a word that would end it too."""
    here = reader.text[first.start :].casefold()
    ends = {token.end: place for place, token in enumerate(reader.tokens, 1)}
    names = (first.start + len(name) for name in reader.names if here.startswith(name.casefold()))
    place = max((ends[end] for end in names if end in ends), default=0)
    reader.place = max(reader.place, place)
    return bool(place)


def _not_misspelt(reader: Reader, first: Token) -> None:
    """Raise WordError where a clause begins with what is nearly one of our words."""
    words = [each for each in (*MAKERS, *KINDS) if len(each) >= SHORTEST_MISSPELT]
    near = nearest(first.text, words) if first.kind == "word" else None
    begun = [first.text.casefold()]
    begins_a_name = any(name.casefold().split()[:1] == begun for name in reader.names)
    if near and len(reader.rest_of_clause()) > 1 and not begins_a_name:
        reader.fail(first, f"did you mean {near}? Put the name of a room in quotes")


# Openings, windows, lamps and changes


def _outer_door(reader: Reader, token: Token) -> None:
    reader.say("outer", True, token)  # noqa: FBT003 - the value
    _its_wall(reader)


def _its_wall(reader: Reader) -> None:
    """Which must be named now, unless it has been."""
    if "wall" not in reader.values:
        reader.offer(*(Hint(side, "its wall") for side in ("n", "e", "s", "w")))
        must_name_wall(reader, "in which wall? Write n, e, s or w")


_AT = Hint("at 1.2", "how far from the end of the wall", example=True)
_OPENING: Mapping[str, Item] = {
    "0": sides, "at": along, "wide": number_to("width_m", "0.8", "how wide"),
    "high": number_to("height_m", "2.0", "how high"),
    "shut": flag("shut", True), "stop": flag("stop", True),  # noqa: FBT003 - the values
    "up": flag("rise", 1), "down": flag("rise", -1),
    **{name: flag("kind", kind) for name, kind in KINDS.items()},
    **dict.fromkeys(OUTER_DOORS, _outer_door),
}  # fmt: skip
_OF_KIND: Mapping[str, Sequence[Hint]] = {
    "doorway": [Hint("shut", "how it usually stands")],
    "stairs": [Hint("up", "to the level above"), Hint("down", "to the level below")],
}


def _opening(reader: Reader, start: int) -> OpeningWords:
    """Up to the >, then the room behind it."""
    expected = "write doorway, cased, open, glazed, stairs or front door, then >"
    reader.take_parts(_OPENING, expected, stop=">", also=WINDOW_WORDS)
    values, spans = reader.values, reader.spans
    if "outer" not in values:
        outer = [Hint(each, "to the outside") for each in OUTER_DOORS]
        reader.offer_missing({"kind": [*map(Hint, OPENING_KINDS), *outer]})
    if values.keys() == {"wall"}:
        reader.offer(Hint("window", "in this wall"))
    reader.offer_missing({"width_m": [Hint("0.8", "how wide", example=True)], "along": [_AT]})
    if "along" in values and values["along"].end is None:
        reader.offer(FROM_AN_END)
    reader.offer(*_OF_KIND.get(values.get("kind", "doorway"), ()))
    reader.offer(Hint(">", "the room behind it"))
    if "outer" in values and (reader.token is None or reader.token.sign != ">"):
        named = spans["outer"]
        into = RoomWords(OUTSIDE, spans={"name": named, "whole": named})
        return OpeningWords(into, **values, spans=reader.whole(start))
    if reader.token is None:
        reader.lacks("into which room? Write > and its name, with its size if it is new")
    reader.take()
    known = [Hint(name, "is there already") for name in reader.names]
    reader.offer(Hint("Study 3.1 x 2.8", "a new room and its size", example=True), *known)
    if reader.token is None:
        reader.lacks("into which room? Write its name, with its size if it is new")
    reader.values, reader.spans = {}, {}
    into = _room(reader, reader.token.start, behind=True)
    reader.values, reader.spans = values, spans
    if "rise" in values:
        values.setdefault("kind", "stairs")
    return OpeningWords(into, **values, spans=reader.whole(start))


_WINDOW: Mapping[str, Item] = {
    "0": sides, "at": along, "wide": number_to("width_m", "1.2", "how wide"),
    "high": number_to("height_m", "1.1", "how high"),
    "sill": number_to("sill_m", "0.9", "how far above the floor"),
}  # fmt: skip
_WINDOW_HINTS = {
    "width_m": [Hint("1.2 x 1.1", "its width and height", example=True)],
    "along": [_AT],
    "sill_m": [Hint("sill 0.9", "its sill above the floor", example=True)],
}


def _window(reader: Reader, start: int) -> WindowWords:
    reader.take()
    _its_wall(reader)
    reader.take_parts(_WINDOW, "a window has a size, at and sill: 1.2 x 1.1 at 0.6 sill 0.9")
    height = [Hint("x", "1.1, its height")] if "width_m" in reader.values else []
    reader.offer_missing({"height_m": height, **_WINDOW_HINTS})
    return WindowWords(**reader.values, spans=reader.whole(start))


def _brightness(reader: Reader, token: Token) -> None:
    """Lumens first, then kelvin, unless their units say which; watts as lumens."""
    if token.unit == "length":
        reader.fail(token, "a lamp has lumens and kelvin, 1400 lm 2700 K")
    if token.unit == "watt" and token.value < LUMENS_OF_WATTS[0][0]:
        reader.fail(token, "watts are those of the old bulb that a lamp replaces; else give lumens")
    reader.take()
    kelvin = token.unit == "K" or (token.unit == "" and "lumens" in reader.values)
    value = lumens_of(token.value) if token.unit == "watt" else token.value
    reader.say("kelvin" if kelvin else "lumens", value, token)


def _place(reader: Reader, token: Token) -> None:
    east = reader.length_m("0.9", "from the west wall")
    north = reader.length_m("2.6", "from the south wall")
    up = reader.length_m("2.4", "above the floor", MOST_HEIGHT_M)
    reader.say("at_m", (east, north, up), token)


_LAMP: Mapping[str, Item] = {
    "0": _brightness, "at": _place, **{aim: flag("aim", aim) for aim in AIMS},
    **{each.casefold(): flag("spectrum", each) for each in ILLUMINANTS},
}  # fmt: skip
_LAMP_HINTS = {
    "lumens": [
        Hint("1400 lm", "how bright", example=True),
        Hint("60 watt", "as an old bulb", example=True),
    ],
    "kelvin": [Hint("2700 K", "how warm", example=True)],
    "aim": [*map(Hint, AIMS)],
}


def _lamp(reader: Reader, start: int) -> LampWords:
    reader.take()
    expected = "a lamp has lumens, kelvin and an aim: 1400 lm 2700 K down"
    reader.take_parts(_LAMP, expected)
    reader.offer_missing(_LAMP_HINTS)
    return LampWords(**reader.values, spans=reader.whole(start))


def _change(reader: Reader, start: int) -> RoomWords:
    """What is to be changed of the room at hand."""
    reader.take_parts(_CHANGE, "of a room change size, height, use, role or level")
    return RoomWords("", **reader.values, spans=reader.whole(start))


# What is kept, and what is there now


def _rest_said(reader: Reader, example: str) -> str:
    """The words up to the end of the clause, which must be some; a colon before them is no word."""
    if (token := reader.token) is not None and token.text == ":":
        reader.take()
    first = reader.token
    if first is None:
        reader.lacks(example)
    last, begin_another = first, (*SIDES, *MAKERS)
    while (token := reader.token) is not None:
        follows = reader.following
        if token.text == COMMA and follows and word(follows.text) in begin_another:
            break
        last = reader.take()
    reader.spans["text"] = (first.start, last.end)
    return clean_text(reader.text[first.start : last.end])


def _finish(reader: Reader, start: int) -> FinishWords:
    first = reader.take()
    reader.offer(Hint("oak 10YR 6/4", "its name and colour", example=True))
    said = _rest_said(reader, f"which? Write its name and colour: {first.text} oak 10YR 6/4")
    is_floor = word(first.text) == FLOOR
    if not is_floor and word(first.text) != KEEP:
        said = f"{said} {first.text}" if said[:1].isalpha() else f"{first.text} {said}"
    return FinishWords(said, is_floor, spans=reader.whole(start))


def _now(reader: Reader, start: int) -> NowWords:
    surface = COATED[word(reader.take().text)] if reader.word in COATED else "walls"
    reader.take_word(NOW)
    reader.offer(
        Hint("pale yellow", "its colour", example=True), Hint("papered"), Hint("bare plaster")
    )
    said = _rest_said(reader, "what is there? A paint, a colour such as 5Y 9/2, or papered")
    return NowWords(surface, said, spans=reader.whole(start))


Maker = Callable[[Reader, int], Clause]

MAKERS: Mapping[str, Maker] = {
    **dict.fromkeys(WINDOW_WORDS, _window), **dict.fromkeys(LAMP_WORDS, _lamp),
    **dict.fromkeys(("size", "high", "use", "role", "level"), _change),
}  # fmt: skip
"""By the word with which a clause begins."""
KEEPERS: Mapping[str, Maker] = {
    **dict.fromkeys((FLOOR, *FIXED_WORDS, KEEP), _finish), NOW: _now,
}  # fmt: skip
"""The same, unless a size says that it is a room."""

# The line

MOST_CHARACTERS = 2000
"""More is nothing that a person types."""

BEGINNINGS = (
    Hint("n", "or e, s, w: a wall, n up on the map"), Hint("window", "in a wall"),
    Hint("lamp", "of this room"), Hint("front door", "to the outside"),
    Hint("height", "of this room"), Hint("floor", "what it is, and its colour"),
    Hint("walls now", "what is on them today"),
)  # fmt: skip


def parse_line(text: str, units: Units = "m", names: Sequence[str] = ()) -> Line:
    """Read a line as far as it can be read; `names` are those of the rooms there are.

    A bare length is in `units`. Nothing is raised: what is wrong is the line's fault.
    """
    reader = Reader(text[:MOST_CHARACTERS], units, names)
    clauses: list[Clause] = []
    wrong = None
    try:
        while not reader.ended:
            if reader.token is None:
                reader.place += 1
                continue
            clauses.append(_clause(reader, reader.token.start))
            if reader.token is not None and not reader.take_comma():
                reader.fail(reader.token, "it does not belong here; a ; begins the next thing")
        if not reader.tokens or reader.tokens[-1].sign == ";":
            first = Hint("Hall 1.8 x 5.2", "a room and its size", example=True)
            known = [Hint(name, "go there") for name in names]
            reader.hints += [*BEGINNINGS, *known] if names else [first]
    except WordError as error:
        wrong = error.fault
    return Line(text, tuple(clauses), wrong, tuple(reader.hints), reader.typed_units)


def _clause(reader: Reader, start: int) -> Clause:
    """The name of a room there is, whatever else its words may mean; else by how it begins."""
    reader.values, reader.spans = {}, {}
    rest = reader.rest_of_clause()
    make: Maker = _room
    if not reader.is_name(reader.text[rest[0].start : rest[-1].end]):
        if takes_wall(reader):
            make = _window if reader.word in (*WINDOW_WORDS, WINDOW_AT_A_WALL) else _opening
        elif reader.word in OUTER_DOORS or any(token.sign == ">" for token in rest):
            make = _opening
        elif rest[0].kind == "number" and [token.sign for token in rest[1:2]] == ["x"]:
            make = _change
        else:
            make = MAKERS.get(reader.word) or _keeper(reader, rest) or _room
    return make(reader, start)


def _keeper(reader: Reader, rest: Sequence[Token]) -> Maker | None:
    """How what is kept or there now is read; None where the clause is about something else."""
    said = takewhile(lambda token: token.text != COMMA, rest)
    if any(token.sign == "x" for token in said):
        return None
    second = word(rest[1].text) if len(rest) > 1 else ""
    return _now if reader.word in COATED and second == NOW else KEEPERS.get(reader.word)
