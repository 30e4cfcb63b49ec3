"""A survey line cut into words, numbers and signs; every text can be cut."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from housemap.errors import InputError
from housemap.model.house import Units
from housemap.model.measure import parse_length_m

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
