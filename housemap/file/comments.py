"""Comments of a house file: found where they stand, carried through edits, written back.

A comment belongs to the entry (a header or a key) on whose lines it stands, or else to the next
entry below. It goes where its entry goes. The comment of a key that is no longer written stands
above the header around it; where that is gone as well it moves to the head of the file. One
comment fits beside an entry; further ones stand above it.
"""

from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from housemap.errors import HouseFileError
from housemap.file.reader import decode, parse_house
from housemap.file.scan import Path, has_comments, scan
from housemap.file.writer import Row, rows
from housemap.model.house import House
from housemap.model.renames import Renames, renames

HEAD: Path = ("format",)
FOOT: Path = ()
BY_ROOM: tuple[Path, ...] = (("visit",), ("brief", "room"), ("scheme", "*", "paints"))
"""The tables whose keys are ids of rooms; * is any key."""


@dataclass(frozen=True, slots=True)
class Comment:
    """A comment from its # on, and the path of its entry; FOOT is the end of the file."""

    text: str
    at: Path
    beside: bool = False


def comments_of(text: str) -> tuple[Comment, ...]:
    """Return the comments of a TOML text (one that tomllib takes), in order."""
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
    return tuple(replace(each, at=_moved(each.at, moves)) for each in comments)


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
    lines = [line for row in written for line in _woven(row, above[row.path], beside.get(row.path))]
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


def _moved(path: Path, moves: Renames) -> Path:
    """Return where an entry stands now; some tables have the ids of rooms as keys."""
    path = _with_key(path, 1, moves.get(path[:2]))
    for table in BY_ROOM:
        n = len(table)
        if len(path) > n and all(key in (at, "*") for at, key in zip(path, table, strict=False)):
            path = _with_key(path, n, moves.get(("room", path[n])))
    return path


def _with_key(path: Path, at: int, key: str | None) -> Path:
    return (*path[:at], key, *path[at + 1 :]) if key else path


def _placed(
    comments: Iterable[Comment], written: set[Path]
) -> tuple[Mapping[Path, list[str]], dict[Path, str], list[str]]:
    """Return the comments above and beside each row and those at the foot."""
    above: defaultdict[Path, list[str]] = defaultdict(list)
    beside: dict[Path, str] = {}
    foot, homeless = [], []
    for comment in comments:
        home = _home(comment.at, written)
        if comment.at == FOOT:
            foot.append(comment.text)
        elif home is None:
            homeless.append(comment.text)
        elif comment.beside and home == comment.at and home not in beside:
            beside[home] = comment.text
        else:
            above[home].append(comment.text)
    above[HEAD] += homeless
    return above, beside, foot


def _home(path: Path, written: set[Path]) -> Path | None:
    """Return the row that a comment stands at, the nearest around it where it has none."""
    return next((path[:n] for n in range(len(path), 0, -1) if path[:n] in written), None)


def _woven(row: Row, above: list[str], beside: str | None) -> Iterator[str]:
    if row.is_header:
        yield ""
    yield from above
    yield f"{row.text} {beside}" if beside else row.text
