"""Read a house file: everything wrong with it at once, each with its line; or the house.

tomli gives values but no places, so a scan of the tokens finds where keys and comments are. It
checks nothing again: the text must be one that tomli accepts.
"""

import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import field, replace
from functools import cache
from os import PathLike, fspath
from pathlib import Path
from typing import Any, NamedTuple

import tomli

from housemap.errors import HouseFileError, Problem
from housemap.model.fieldtypes import KeyPath, below, unknown_keys
from housemap.model.frozen import frozen
from housemap.model.house import FORMAT, House
from housemap.model.schema import HOUSE, TABLES
from housemap.model.text import codepoint, is_hidden, shown
from housemap.model.validation import MOST_NOTED, Notes, TooManyError, problems

DEEPEST = 32
"""Keys are distinguished down to this depth; what lies deeper has the place of its ancestor."""


@cache
def tokens() -> re.Pattern[str]:
    """Return the pattern of one token; compiled only for a file that needs it."""
    return re.compile(
        r"""
        (?P<space>[ \t\r]+)
        | (?P<newline>\n)
        | (?P<comment>\#[^\r\n]*)
        | (?P<string>
            \"\"\" (?: [^"\\]++ | \\. | "(?!"") )*+ \"\"\" "{0,2}
            | ''' (?: [^']++ | '(?!'') )*+ ''' '{0,2}
            | " (?: [^"\\\n]++ | \\. )*+ "
            | ' [^'\n]*+ '
        )
        | (?P<mark>[\[\]{},=.])
        | (?P<bare>[^\s\[\]{},=."'\#]++)
        """,
        re.VERBOSE | re.DOTALL,
    )


class Entry(NamedTuple):
    """A header or a key with its value, and the lines (from 1) that it takes."""

    path: KeyPath
    first: int
    last: int


@frozen(eq=False)
class Places:
    """Where everything is in a TOML text."""

    lines: dict[KeyPath, int] = field(default_factory=dict)
    """The line of every key and list item."""
    entries: list[Entry] = field(default_factory=list)
    """Headers and keys outside of values, in order."""
    comments: list[tuple[int, str]] = field(default_factory=list)
    """(line, text from the # on), in order."""

    def line_of(self, path: KeyPath) -> int | None:
        """Return the line of the value at `path`, or of the nearest one around it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.lines:
                return self.lines[path[:length]]
        return None


def scan(text: str) -> Places:
    """Find the places of all keys, list items and comments of a TOML text."""
    walk = _Walk(text)
    table: KeyPath = ()
    while walk.word:
        first = walk.line
        if walk.word == "\n":
            walk.step()
            continue
        if walk.word == "[":
            path = table = walk.header()
        else:
            path = walk.pair(table, 0)
        token, last = walk.words[walk.at - 1]
        walk.places.entries.append(Entry(path, first, last + token.count("\n")))
    return walk.places


def has_comments(text: str) -> bool:
    if "#" not in re.sub(r'"[^"\\\n]*"', "", text):  # most are colours, in quotes
        return False
    return any(found.lastgroup == "comment" for found in tokens().finditer(text))


class _Walk:
    """One pass over the tokens; `word` and `line` are those under the eye, "" at the end."""

    def __init__(self, text: str) -> None:
        self.places = Places()
        self.items: dict[KeyPath, int] = {}
        self.words: list[tuple[str, int]] = []
        line = 1
        for found in tokens().finditer(text):
            if found.lastgroup == "comment":
                self.places.comments.append((line, found[0]))
            elif found.lastgroup != "space":
                self.words.append((found[0], line))
                line += found[0].count("\n")
        self.at = -1
        self.step()

    def step(self) -> None:
        self.at += 1
        self.word, self.line = self.words[self.at] if self.at < len(self.words) else ("", 0)

    def header(self) -> KeyPath:
        """Read `[a.b]` or `[[a.b]]`."""
        line = self.line
        self.step()
        several = self.word == "["
        if several:
            self.step()
        keys = self.key()
        path: KeyPath = ()
        for depth, key in enumerate(keys, start=1):
            path = (*path, key)
            if several and depth == len(keys):
                self.items[path] = self.items.get(path, -1) + 1
            if path in self.items:
                self.places.lines.setdefault(path, line)
                path = (*path, str(self.items[path]))
        self._define(path, line)
        while self.word == "]":
            self.step()
        return path

    def key(self) -> KeyPath:
        parts: list[str] = []
        while True:
            quoted = self.word[0] in "\"'"
            parts.append(tomli.loads(f"key = {self.word}")["key"] if quoted else self.word)
            self.step()
            if self.word != ".":
                return tuple(parts)
            self.step()

    def pair(self, table: KeyPath, depth: int) -> KeyPath:
        """Read `key = value`."""
        line = self.line
        path = (*table, *self.key())
        self._define(path, line)
        self.step()
        self.value(path, depth)
        return path

    def value(self, path: KeyPath, depth: int) -> None:
        """Pass over a value and note the places inside."""
        if depth >= DEEPEST and self.word in {"[", "{"}:
            self._pass_over()
        elif self.word == "[":
            for count in self._within("]"):
                inside = (*path, str(count))
                self.places.lines[inside] = self.line
                self.value(inside, depth + 1)
        elif self.word == "{":
            for _ in self._within("}"):
                self.pair(path, depth + 1)
        else:
            while self.word not in {"\n", ",", "]", "}", ""}:
                self.step()

    def _pass_over(self) -> None:
        depth = 0
        while True:
            depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(self.word, 0)
            self.step()
            if not depth:
                return

    def _within(self, end: str) -> Iterator[int]:
        """Count what is between brackets; whoever counts reads each."""
        self.step()
        count = 0
        while True:
            while self.word in {"\n", ","}:
                self.step()
            if self.word == end:
                break
            yield count
            count += 1
        self.step()

    def _define(self, path: KeyPath, line: int) -> None:
        for length in range(1, len(path)):
            self.places.lines.setdefault(path[:length], line)
        self.places.lines[path] = line


MOST_BYTES = 2 * 2**20
"""The largest house file that is read: 4,000 rooms with windows and doors. What is made to be
slow to read at this size takes some seconds and up to 400 MB, and is refused."""
MOST_PROBLEMS = 200
"""The most problems reported at once; a last line says how many more there are."""
MOST_DOTS = 6
"""The most parts of one dotted key: tomli takes memory for each, and time by their cube."""


class HouseFile(NamedTuple):
    """A house with the bytes of the file that it was read from."""

    house: House
    data: bytes

    @property
    def text(self) -> str:
        return self.data.decode("utf-8-sig")

    @property
    def fingerprint(self) -> str:
        """Distinguishes the file from any other; `save_house` compares it."""
        return fingerprint(self.data)


def read_house(path: str | PathLike[str]) -> House:
    """Read the house in a file. Raises HouseFileError with all problems."""
    return load_house(path).house


def load_house(path: str | PathLike[str]) -> HouseFile:
    """Read a house and keep the bytes of its file. Raises HouseFileError with all problems."""
    name = fspath(path)
    data = read_bytes(name)
    return HouseFile(parse_house(decode(data, name), name), data)


def parse_house(text: str, file_name: str = "") -> House:
    """Read a house from the text of a file. Raises HouseFileError with all problems."""
    place = printable(file_name)
    raw = parse_toml(text, place)
    check_format(raw, text, place)
    house, found = read_values(raw)
    if len(found) < MOST_NOTED:
        found += problems(house, known=found)
    if not found and not text.isascii():
        found = list(_hidden_in_comments(text))
    if found:
        raise HouseFileError(placed(found, text, place))
    return house


def read_bytes(name: str, most: int = MOST_BYTES, what: str = "a house file") -> bytes:
    """Read a file of at most `most` bytes. Raises HouseFileError."""
    try:
        with Path(name).open("rb") as file:
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise HouseFileError.of(f"cannot be read: {reason}", file=printable(name)) from error
    if len(data) > most:
        text = f"is too large: {what} is at most {most // 2**20} MiB"
        raise HouseFileError.of(text, file=printable(name))
    return data


def decode(data: bytes, name: str) -> str:
    """Decode UTF-8, with or without a byte order mark. Raises HouseFileError."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        text = f"is not UTF-8 text: byte 0x{data[error.start]:02x} is here"
        raise HouseFileError.of(text, file=printable(name), line=line) from error


def fingerprint(data: bytes) -> str:
    """Return what distinguishes these bytes from any others (SHA-256)."""
    from hashlib import sha256  # noqa: PLC0415 - a slow import

    return sha256(data).hexdigest()


def parse_toml(text: str, place: str) -> dict[str, Any]:
    """Parse TOML; what is wrong has its line. Raises HouseFileError."""
    line: int | None = None
    try:
        if found := _long_key(text):
            reason, line = f"a key has more than {MOST_DOTS} parts", found
        else:
            return tomli.loads(text)
    except RecursionError:
        reason = "values are nested too deeply"
    except tomli.TOMLDecodeError as error:
        reason, line = f"not TOML: {error.msg}, at column {error.colno}", error.lineno
        if error.pos >= len(text):
            reason, line = (
                f"not TOML: {error.msg}, at the end of the file",
                text.count("\n", 0, -1) + 1,
            )
    except ValueError as error:  # a number too long for int(), a date that is none
        reason = "not TOML: " + str(error).partition(";")[0]
    raise HouseFileError.of(reason, file=place, line=line)


def _long_key(text: str) -> int | None:
    """Return the line of a dotted key of more than MOST_DOTS parts."""
    dotted = [line for line in text.split("\n") if line.count(".") > MOST_DOTS]
    if not any(part.count(".") > MOST_DOTS for line in dotted for part in line.split(",")):
        return None
    dots = 0
    for found in tokens().finditer(text):
        if found[0] == ".":
            dots += 1
            if dots > MOST_DOTS:
                return text.count("\n", 0, found.start()) + 1
        elif found[0] in {"\n", "=", ","}:
            dots = 0
    return None


def check_format(raw: dict[str, Any], text: str, place: str) -> None:
    """Refuse another format than ours. Raises HouseFileError."""
    number = raw.get("format")
    path: KeyPath = ("format",)
    if number == FORMAT and isinstance(number, int) and not isinstance(number, bool):
        return
    if number is None:
        problem = Problem(f"format is missing: write format = {FORMAT} first", path, place, 1)
        raise HouseFileError([problem])
    if isinstance(number, int) and number > FORMAT:
        text_ = f"format {shown(number)} is newer than this program, which reads format {FORMAT}"
    else:
        text_ = f"format must be {FORMAT}, found {shown(number)}"
    raise HouseFileError(placed([Problem(text_, path)], text, place))


def read_values(raw: dict[str, Any]) -> tuple[House, list[Problem]]:
    """Read parsed TOML as far as it goes; whether the values fit together is not asked."""
    note = Notes()
    house = House()
    known = ["format", "house", *(table.key for table in TABLES)]
    with suppress(TooManyError):
        unknown_keys(raw, known, note, "table")
        house = HOUSE.read(raw.get("house", {}), below(note, "house"))
        tables: dict[str, Any] = {table.attr: table.read(raw, note) for table in TABLES}
        house = replace(house, **tables)
    return house, note.problems


def _hidden_in_comments(text: str) -> Iterator[Problem]:
    """Yield each line that holds a hidden character: no value does, so a comment must."""
    letters = {letter for letter in set(text) if not letter.isascii() and is_hidden(letter)}
    if letters:
        for line, row in enumerate(text.split("\n"), start=1):
            for letter in letters.intersection(row):
                fault = f"a comment must not hold the hidden character {codepoint(letter)}"
                yield Problem(fault, line=line)


def placed(found: Iterable[Problem], text: str, place: str) -> list[Problem]:
    """Give each problem its file and line, in the order of the lines, MOST_PROBLEMS at most."""
    places = scan(text)
    result = [
        each
        if each.file
        else each._replace(file=place, line=each.line or places.line_of(each.path))
        for each in found
    ]
    result.sort(key=lambda each: each.line or 0)
    if len(result) > MOST_PROBLEMS:
        rest = "many" if len(result) >= MOST_NOTED else len(result) - MOST_PROBLEMS
        more = Problem(f"and {rest} more problems", file=place)
        result = [*result[:MOST_PROBLEMS], more]
    return result


def printable(file_name: str) -> str:
    """Return a file's name as it may be printed."""
    return file_name if file_name.isprintable() else shown(file_name, 200)
