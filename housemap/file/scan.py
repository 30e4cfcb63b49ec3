"""Where the keys and comments of a TOML text stand; tomllib tells values but no places.

The text must be one that tomllib accepts: nothing is checked again here.
"""

import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache, partial

Path = tuple[str, ...]

DEEPEST = 32
"""Keys are told apart down to this depth; what lies deeper stands at its ancestor."""


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


@dataclass(frozen=True, slots=True)
class Entry:
    """A header or a key with its value, and the lines (from 1) that it takes."""

    path: Path
    first: int
    last: int


@dataclass(slots=True)
class Places:
    """Where everything stands in a TOML text."""

    lines: dict[Path, int] = field(default_factory=dict)
    """The line of every key and list item."""
    entries: list[Entry] = field(default_factory=list)
    """Headers and keys outside of values, in order."""
    comments: list[tuple[int, str]] = field(default_factory=list)
    """(line, text from the # on), in order."""

    def line_of(self, path: Path) -> int | None:
        """Return the line of the value at `path`, or of the nearest one around it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.lines:
                return self.lines[path[:length]]
        return None


def scan(text: str) -> Places:
    """Find the places of all keys, list items and comments of a TOML text."""
    walk = _Walk(text)
    table: Path = ()
    while walk.word:
        if walk.word == "\n":
            walk.step()
        elif walk.word == "[":
            table = walk.entry(walk.header)
        else:
            walk.entry(partial(walk.pair, table, 0))
    return walk.places


def has_comments(text: str) -> bool:
    """Whether a TOML text holds comments."""
    return "#" in text and any(found.lastgroup == "comment" for found in tokens().finditer(text))


class _Walk:
    """One pass over the tokens; `word` and `line` are those under the eye, "" at the end."""

    def __init__(self, text: str) -> None:
        self.places = Places()
        self.items: dict[Path, int] = {}
        self.words = self._split(text)
        self.at = -1
        self.step()

    def _split(self, text: str) -> list[tuple[str, int]]:
        """Return the tokens with their lines; keep the comments apart."""
        words, line = [], 1
        for found in tokens().finditer(text):
            if found.lastgroup == "comment":
                self.places.comments.append((line, found[0]))
            elif found.lastgroup != "space":
                words.append((found[0], line))
                line += found[0].count("\n")
        return words

    def step(self) -> None:
        self.at += 1
        self.word, self.line = self.words[self.at] if self.at < len(self.words) else ("", 0)

    def skip_newlines(self) -> None:
        while self.word == "\n":
            self.step()

    def entry(self, read: Callable[[], Path]) -> Path:
        """Read a header or a pair and note the lines it takes."""
        first = self.line
        path = read()
        token, last = self.words[self.at - 1]
        self.places.entries.append(Entry(path, first, last + token.count("\n")))
        return path

    def header(self) -> Path:
        """Read `[a.b]` or `[[a.b]]`."""
        line = self.line
        self.step()
        several = self.word == "["
        if several:
            self.step()
        keys = self.key()
        path: Path = ()
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

    def key(self) -> Path:
        parts = [self._plain()]
        self.step()
        while self.word == ".":
            self.step()
            parts.append(self._plain())
            self.step()
        return tuple(parts)

    def pair(self, table: Path, depth: int) -> Path:
        """Read `key = value`."""
        line = self.line
        path = (*table, *self.key())
        self._define(path, line)
        self.step()
        self.value(path, depth)
        return path

    def value(self, path: Path, depth: int) -> None:
        """Pass over a value and note the places inside."""
        if depth >= DEEPEST and self.word in {"[", "{"}:
            self._pass_over()
        elif self.word == "[":
            self._within("]", lambda count: self._item((*path, str(count)), depth + 1))
        elif self.word == "{":
            self._within("}", lambda _count: self.pair(path, depth + 1))
        else:
            while self.word not in {"\n", ",", "]", "}", ""}:
                self.step()

    def _within(self, end: str, read: Callable[[int], object]) -> None:
        """Read what stands between brackets with commas between."""
        self.step()
        self.skip_newlines()
        count = 0
        while self.word != end:
            read(count)
            count += 1
            self.skip_newlines()
            if self.word == ",":
                self.step()
                self.skip_newlines()
        self.step()

    def _item(self, path: Path, depth: int) -> None:
        self.places.lines[path] = self.line
        self.value(path, depth)

    def _pass_over(self) -> None:
        depth = 0
        while True:
            depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(self.word, 0)
            self.step()
            if not depth:
                return

    def _define(self, path: Path, line: int) -> None:
        for length in range(1, len(path)):
            self.places.lines.setdefault(path[:length], line)
        self.places.lines[path] = line

    def _plain(self) -> str:
        if self.word[0] not in "\"'":
            return self.word
        plain: str = tomllib.loads(f"key = {self.word}")["key"]
        return plain
