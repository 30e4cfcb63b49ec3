"""A survey line cut into tokens, and the reader that takes them one after the other.

Every text can be cut. The reader knows what was needed, what went wrong and what may come next.
"""

import re
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any, Literal, NoReturn, TypeVar

from housemap.errors import InputError
from housemap.model.house import Units
from housemap.model.lengths import parse_length_m
from housemap.model.text import shown
from housemap.workbench.survey.words import (
    MOST_HEIGHT_M,
    MOST_LENGTH_M,
    Fault,
    Hint,
    Spans,
    which_unit,
    word,
)

Choice = TypeVar("Choice")
TokenKind = Literal["word", "number", "quoted", "sign", "other"]

_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_INCHES = r"(?:\d+(?:[.,]\d+)?(?:(?:\s+|-)\d+/\d+)?|\d+/\d+)"
_FOOT_MARK = "['′’]"  # noqa: RUF001 - as typed on phones and tablets
_INCH_MARK = "(?:[\"″”]|'')"
_ENDS = r"(?!(?!x\s*[\d.,])[^\W\d_])"
"""No letter follows, unless it is the x of a size."""
_UNIT_FEET = rf"(?:\s*{_FOOT_MARK}|\s*(?:ft|feet|foot){_ENDS})"
_UNIT_INCHES = rf"(?:\s*{_INCH_MARK}|\s*(?:inches|inch|in){_ENDS})"
_TOKEN = re.compile(
    rf"""(?P<length>{_NUMBER}{_UNIT_FEET}(?:\s*{_INCHES}{_UNIT_INCHES}|{_INCHES}(?!\s*['′’\d]))?
        |{_INCHES}{_UNIT_INCHES}
        |{_NUMBER}\s*(?:mm|cm|m){_ENDS})
    |(?P<lumens>{_NUMBER})\s*(?:lumens|lumen|lm){_ENDS}
    |(?P<kelvin>{_NUMBER})\s*(?:kelvin|k){_ENDS}
    |(?P<bare>{_NUMBER})
    |(?P<word>[^\W\d_]+(?:[-'’&/.][^\W\d_]+)*)
    |"(?P<quoted>[^"]*)(?:"|$)
    |(?P<sign>->|[>;@→×*])
    |(?P<other>\S)""",  # noqa: RUF001 - the same
    re.VERBOSE | re.IGNORECASE,
)
_SIGNS = {"->": ">", "→": ">", "×": "x", "*": "x"}  # noqa: RUF001 - the sign of a product
_THOUSANDS = re.compile(r"(\d{1,3}),(\d{3})")


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the line from `start` up to `end`."""

    kind: TokenKind
    text: str
    """Of a quoted name without its quotes; of a sign in its plain spelling."""
    start: int
    end: int
    unit: Literal["", "length", "lm", "K"] = ""
    """Of a number; "" where none was written."""

    @property
    def sign(self) -> str:
        """The sign that it is; "" where it is none."""
        return self.text.casefold() if self.kind == "sign" else ""

    @property
    def value(self) -> float:
        """Of a number, as it is written."""
        plain = _THOUSANDS.sub(r"\1\2", self.text) if self.unit in {"lm", "K"} else self.text
        return float(plain.replace(",", "."))

    def length_m(self, units: Units) -> float | None:
        """Of a number, read as a length; None where it is none."""
        if self.kind != "number" or self.unit in {"lm", "K"}:
            return None
        try:
            return parse_length_m(self.text, units)
        except InputError:
            return None


def tokens_of(line: str) -> tuple[Token, ...]:
    return tuple(_tokens(line))


def _tokens(line: str) -> Iterator[Token]:
    for found in _TOKEN.finditer(line):
        start, end = found.span()
        match found.lastgroup:
            case "length":
                yield Token("number", found["length"], start, end, "length")
            case "lumens":
                yield Token("number", found["lumens"], start, end, "lm")
            case "kelvin":
                yield Token("number", found["kelvin"], start, end, "K")
            case "bare":
                yield Token("number", found["bare"], start, end)
            case "quoted":
                yield Token("quoted", found["quoted"], start, end)
            case "sign":
                yield Token("sign", _SIGNS.get(found["sign"], found["sign"]), start, end)
            case "word":
                is_x = found["word"].casefold() == "x"
                yield Token("sign" if is_x else "word", found["word"], start, end)
            case _:
                yield Token("other", found[0], start, end)


_SIZE = re.compile(r"(?<![\w.-])\d+\.\d\b")
IN_FEET: Mapping[str, str] = {
    "0.5": "1'8\"", "0.6": "2'", "0.8": "2'8\"", "0.9": "3'", "1.1": "3'6\"", "1.2": "4'",
    "1.8": "6'", "2.0": "6'8\"", "2.4": "8'", "2.6": "8'6\"", "2.8": "9'4\"", "3.1": "10'2\"",
    "5.2": "17'",
}  # fmt: skip
"""The sizes of our examples."""


COMMA = ","
"""Stands between parts of a clause, or ends one as a semicolon does."""


_METRIC = re.compile(r"\d\s*(?:mm|cm|m)$", re.IGNORECASE)


def _units_of(length: Token) -> Units | None:
    """The units that a length was written in; None for a bare number."""
    if not length.unit:
        return None
    return "m" if _METRIC.search(length.text) else "ft"


class WordError(Exception):
    """A line cannot be read on: where, and why."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.text)
        self.fault = fault


class Reader:
    """The tokens of a line, taken one after the other; a semicolon ends a clause."""

    def __init__(self, text: str, units: Units, names: Sequence[str]) -> None:
        self.text, self.units, self.names = text, units, names
        self.tokens = tokens_of(text)
        self.place = 0
        self.hints: list[Hint] = []
        self._typed: set[Units] = set()
        """The units of the lengths read so far."""

    # Taking

    @property
    def ended(self) -> bool:
        """Whether the whole line has been taken."""
        return self.place >= len(self.tokens)

    @property
    def token(self) -> Token | None:
        """The next of this clause; None at its end."""
        if self.ended or self.tokens[self.place].sign == ";":
            return None
        return self.tokens[self.place]

    @property
    def word(self) -> str:
        """The next word in the grammar's spelling; "" where none comes."""
        token = self.token
        return word(token.text) if token and token.kind in {"word", "sign"} else ""

    def after(self, count: int = 1) -> Token | None:
        """The token `count` places behind the next one, in this clause."""
        rest = self.tokens[self.place : self.place + count + 1]
        return rest[count] if len(rest) > count and all(t.sign != ";" for t in rest) else None

    def rest_of_clause(self) -> Sequence[Token]:
        rest = self.tokens[self.place :]
        end = next((i for i, token in enumerate(rest) if token.sign == ";"), len(rest))
        return rest[:end]

    def take(self) -> Token:
        token = self.token
        assert token is not None
        self.place += 1
        return token

    def take_word(self, wanted: str) -> Token | None:
        """The next token if it is that word."""
        return self.take() if self.word == wanted else None

    def choose(self, words: Mapping[str, Choice], wanted: str) -> Choice:
        """What one of some words means, which must come now."""
        if self.token is None:
            self.lacks(wanted)
        if self.word not in words:
            self.fail_word(words, wanted)
        return words[word(self.take().text)]

    def take_comma(self) -> bool:
        """Take a comma, if one comes."""
        token = self.token
        comma = token is not None and token.kind == "other" and token.text == COMMA
        self.place += comma
        return comma

    def next_part(self, known: Container[str], stop: str = "") -> Token | None:
        """The next token, or the one behind a comma; None where `stop` or the clause's end comes.

        A comma ends the clause, unless a number or a known word comes behind it.
        """
        if self._comma_ends(known):
            return None
        token = self.token
        return None if token is None or (stop and token.sign == stop) else token

    def _comma_ends(self, known: Container[str]) -> bool:
        token, follows = self.token, self.after()
        if token is None or token.kind != "other" or token.text != COMMA:
            return False
        if follows is None or not (follows.kind == "number" or word(follows.text) in known):
            return True
        return not self.take_comma()

    @property
    def typed_units(self) -> Units:
        """What the lengths were typed in; the units of the house where that is not one."""
        return next(iter(self._typed)) if len(self._typed) == 1 else self.units

    def height_m(self, example: str, what: str) -> float:
        return self.length_m(example, what, MOST_HEIGHT_M)

    def length_m(self, example: str, what: str, most_m: float = MOST_LENGTH_M) -> float:
        """A length, which must come now; one above `most_m` only with its unit."""
        self.offer(Hint(example, what, example=True))
        token = self.token
        if token is None:
            self.lacks(f"a length is missing: {what}, such as {example}")
        metres = token.length_m(self.units)
        if metres is None:
            self.fail(token, f"no length; {what}, such as {example}")
        if not token.unit and (question := which_unit(token.text, metres, self.units, most_m)):
            raise WordError(Fault(token.start, token.end, question))
        self._typed.add(_units_of(token) or self.units)
        self.place += 1
        return metres

    # Telling

    def offer(self, *hints: Hint) -> None:
        """What may come next, where the line ends here."""
        if self.ended:
            told = (replace(hint, text=self._example(hint.text)) for hint in hints if hint.example)
            self.hints += [*told, *(hint for hint in hints if not hint.example)]

    def lacks(self, text: str) -> NoReturn:
        """Something must follow: at the end of the line it has only not been typed yet."""
        end = len(self.text) if self.ended else self.tokens[self.place].start
        raise WordError(Fault(end, end, self._example(text), unfinished=self.ended))

    def fail(self, token: Token, wanted: str) -> NoReturn:
        """Something else stands where `wanted` should."""
        text = f"{shown(token.text)}: {self._example(wanted)}"
        raise WordError(Fault(token.start, token.end, text))

    def _example(self, text: str) -> str:
        """Our own words, with their sizes as they are where people measure in feet."""
        if self.units == "m":
            return text
        return _SIZE.sub(lambda found: IN_FEET.get(found[0], found[0]), text)

    def fail_word(self, known: Iterable[str], wanted: str) -> NoReturn:
        """The next word is not among those known; part of one may be on its way to it."""
        token = self.take()
        plain, options = word(token.text), sorted(set(known))
        last = self.ended and token.end == len(self.text) and token.kind == "word"
        if last and any(option.startswith(plain) for option in options):
            fault = Fault(token.start, token.end, self._example(wanted), unfinished=True)
            raise WordError(fault)
        near = get_close_matches(plain, options, 1, 0.7)
        self.fail(token, f"did you mean {near[0]}?" if near else wanted)


class Parts:
    """What a clause has said so far, and where."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader
        self.values: dict[str, Any] = {}
        self.spans: dict[str, tuple[int, int]] = {}

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def say(self, key: str, value: Any, start: Token, end: Token | None = None) -> None:
        """Take note of a part; it may be said once. `start` and `end` are its tokens."""
        reader = self._reader
        if key in self.values:
            end = end or reader.tokens[reader.place - 1]
            text = reader.text[start.start : end.end]
            fault = Fault(start.start, end.end, f"{shown(text)} is said twice")
            raise WordError(fault)
        last = end or reader.tokens[reader.place - 1]
        self.values[key] = value
        self.spans[key] = (start.start, last.end)

    def whole(self, start: int) -> Spans:
        """The spans, with that of the whole clause."""
        reader = self._reader
        end = reader.tokens[reader.place - 1].end if reader.place else 0
        return self.spans | {"whole": (start, end)}
