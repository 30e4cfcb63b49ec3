"""Write a house: the same house always gives the same text, and comments keep their places.

tomli-w writes each string and date, the layout is ours: tables in the order of the schema, ids
sorted, one line a key, lists and small tables on one line, defaults left out, whole numbers
without a point. Reading what was written gives an equal house.

A comment belongs to the entry (a header or a key) on whose lines it is, or else to the next
entry below. It goes where its entry goes. The comment of a key that is no longer written goes
above the header around it; where that is gone as well it moves to the head of the file. One
comment fits beside an entry; further ones go above it.
"""

from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from housemap.errors import HouseFileError
from housemap.file.reader import decode, has_comments, parse_house, scan
from housemap.model.edits import Renames, renames
from housemap.model.fieldtypes import KeyPath, Record, TableOf, by_number
from housemap.model.house import FORMAT, House
from housemap.model.schema import HOUSE, TABLES


class Row(NamedTuple):
    """A header or a key with its value; the text may run over several lines."""

    path: KeyPath
    text: str

    @property
    def is_header(self) -> bool:
        return self.text.startswith("[")


def dump_house(house: House) -> str:
    """Return the canonical text of a house file, an empty line before each header."""
    return "".join(("\n" if row.is_header else "") + row.text + "\n" for row in rows(house))


def rows(house: House) -> Iterator[Row]:
    yield Row(("format",), f"format = {FORMAT}")
    yield from _record(("house",), HOUSE, house)
    for table in TABLES:
        held = getattr(house, table.attr)
        if isinstance(table.kind, TableOf):
            yield from _table((table.key,), table.kind, held)
        elif held != table.default:
            yield from _record((table.key,), table.kind, held)


def _table(path: KeyPath, kind: Any, held: Mapping[str, Any]) -> Iterator[Row]:
    for key in sorted(held, key=by_number):
        if isinstance(kind.entry, Record):
            yield from _record((*path, key), kind.entry, held[key])
        else:
            yield from _header((*path, key))
            yield from _keys((*path, key), kind.entry.write(held[key]))


def _record(path: KeyPath, record: Any, held: Any) -> Iterator[Row]:
    yield from _header(path)
    tables = []
    for field in record.fields:
        value = getattr(held, field.attr)
        if isinstance(field.kind, TableOf) and not field.kind.inline:
            tables.append(((*path, field.key), field.kind, value))
        else:
            yield from _keys(path, field.write(value))
    for table in tables:
        yield from _table(*table)


def _header(path: KeyPath) -> Iterator[Row]:
    yield Row(path, f"[{'.'.join(path)}]")


def _keys(path: KeyPath, pairs: Mapping[str, Any]) -> Iterator[Row]:
    for key, value in pairs.items():
        yield Row((*path, key), f"{key} = {literal(value, lines=True)}")


def literal(value: Any, *, lines: bool = False) -> str:
    """Write one TOML value on one line; with `lines`, text of several lines on several."""
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return repr(value)
        case list():
            return f"[{', '.join(map(literal, value))}]"
        case str() if value.isprintable() and not QUOTED.intersection(value):
            return f'"{value}"'
        case dict():
            pairs = ", ".join(f"{key} = {literal(each)}" for key, each in value.items())
            return f"{{ {pairs} }}" if pairs else "{}"
    written: str = _dumps()({"k": value}, multiline_strings=lines and "\n" in str(value))
    return written[4:-1]


QUOTED = frozenset('"\\')
"""What tomli-w has to escape in text that is printable."""


@cache
def _dumps() -> Any:
    import tomli_w  # noqa: PLC0415 - only when a house is written

    return tomli_w.dumps


# Comments

HEAD: KeyPath = ("format",)
FOOT: KeyPath = ()
BY_ROOM: tuple[KeyPath, ...] = (("visit",), ("brief", "room"), ("scheme", "*", "paints"))
"""The tables whose keys are ids of rooms; * is any key."""


class Comment(NamedTuple):
    """A comment from its # on, and the path of its entry; FOOT is the end of the file."""

    text: str
    at: KeyPath
    beside: bool = False


def comments_of(text: str) -> tuple[Comment, ...]:
    """Return the comments of a TOML text (one that tomli takes), in order."""
    if not has_comments(text):
        return ()
    places = scan(text)
    lasts = [entry.last for entry in places.entries]
    found = []
    for line, comment in places.comments:
        index = bisect_left(lasts, line)
        entry = places.entries[index] if index < len(lasts) else None
        beside = entry is not None and entry.first <= line
        found.append(Comment(comment.rstrip(), entry.path if entry else FOOT, beside))
    return tuple(found)


def carried(comments: Iterable[Comment], before: House, after: House) -> tuple[Comment, ...]:
    """Let comments follow the entries that have another id in `after`."""
    moves = renames(before, after)
    return tuple(each._replace(at=_moved(each.at, moves)) for each in comments)


def comments_for(house: House, data: bytes) -> tuple[Comment, ...]:
    """Return the comments of a file's bytes, carried to `house`; none of what is no house file."""
    try:
        text = decode(data, "")
        if not has_comments(text):
            return ()
        before = parse_house(text)
    except HouseFileError:
        return ()
    return carried(comments_of(text), before, house)


def dump_with_comments(house: House, comments: Iterable[Comment]) -> str:
    """Return the canonical text of a house file with comments in it."""
    written = tuple(rows(house))
    above, beside, foot = _placed(comments, {row.path for row in written})
    lines: list[str] = []
    for row in written:
        lines += [""] if row.is_header else []
        lines += above[row.path]
        lines.append(f"{row.text} {beside[row.path]}" if row.path in beside else row.text)
    return "".join(line + "\n" for line in [*lines, *foot])


def merged_comments(
    base: Sequence[Comment], mine: Sequence[Comment], theirs: Sequence[Comment]
) -> tuple[Comment, ...]:
    """Merge comments three ways: what one side added or took out is added or taken out."""
    in_base, in_mine, in_theirs = Counter(base), Counter(mine), Counter(theirs)
    every = in_mine | in_theirs
    left = {each: _count(in_base[each], in_mine[each], in_theirs[each]) for each in every}
    kept = []
    for comment in (*mine, *theirs):
        if left[comment]:
            left[comment] -= 1
            kept.append(comment)
    return tuple(kept)


def _count(base: int, mine: int, theirs: int) -> int:
    if mine == base:
        return theirs
    return mine if theirs == base else max(mine, theirs)


def _moved(path: KeyPath, moves: Renames) -> KeyPath:
    """Return where an entry is now; some tables have the ids of rooms as keys."""
    path = _with_key(path, 1, moves.get(path[:2]))
    for table in BY_ROOM:
        n = len(table)
        if len(path) > n and all(key in (at, "*") for at, key in zip(path, table, strict=False)):
            path = _with_key(path, n, moves.get(("room", path[n])))
    return path


def _with_key(path: KeyPath, at: int, key: str | None) -> KeyPath:
    return (*path[:at], key, *path[at + 1 :]) if key else path


def _placed(
    comments: Iterable[Comment], written: set[KeyPath]
) -> tuple[Mapping[KeyPath, list[str]], dict[KeyPath, str], list[str]]:
    """Return the comments above and beside each row and those at the foot.

    A comment without a row of its own goes to the nearest row around it, else to the head.
    """
    above: defaultdict[KeyPath, list[str]] = defaultdict(list)
    beside: dict[KeyPath, str] = {}
    foot, homeless = [], []
    for comment in comments:
        at = comment.at
        home = next((at[:n] for n in range(len(at), 0, -1) if at[:n] in written), None)
        if at == FOOT:
            foot.append(comment.text)
        elif home is None:
            homeless.append(comment.text)
        elif comment.beside and home == at and home not in beside:
            beside[home] = comment.text
        else:
            above[home].append(comment.text)
    above[HEAD] += homeless
    return above, beside, foot
