"""Compare and merge houses by meaning, and save a house together with what others saved meanwhile.

Houses are walked side by side, down to the values that are compared and merged whole. What is
divided: the house into its fields and tables, tables by id, entities and the surfaces of a room by
field. What is not: a number, a text, a list, a colour.

In a merge, what one side changed is taken, what both changed alike is taken once, and lists of
equal rank (tins, fixed finishes) take what either added and lose what either removed. Values that
both changed apart are for somebody to choose. So is whatever else would make the merged house
illegal, such as a room on one side in a paint that the other side removed: it is held at its base.
What is to be chosen does not depend on which side is called mine.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import field as attribute
from typing import Any, Literal, NamedTuple

from housemap.errors import EditError, HouseFileError, Problem
from housemap.file.reader import HouseFile, decode, parse_house, parse_toml, read_values
from housemap.file.writer import (
    Comment,
    comments_for,
    comments_of,
    dump_with_comments,
    literal,
    merged_comments,
)
from housemap.model import schema
from housemap.model.edits import renamed, renames
from housemap.model.fieldtypes import Key, KeyPath, ListOf, Record, Ref, TableOf
from housemap.model.house import House
from housemap.model.text import shown
from housemap.model.validation import problems, sentence, value_problems

Values = tuple[Any, ...]
"""One value of each house; None where it has none."""


def house_parts(houses: Sequence[House]) -> Iterator[tuple[KeyPath, Key, Values]]:
    """Yield the path, field and values of each part of the houses, in file order."""
    for each in schema.HOUSE.fields:
        yield ("house", each.key), each, _attrs(houses, each)
    for table in schema.TABLES:
        yield (table.key,), table, _attrs(houses, table)


def parts(of: Key, values: Values) -> Iterator[tuple[Key, Values]] | None:
    """Return the parts that the values divide into, None where they are compared whole."""
    if any(value is None for value in values):
        return None
    if isinstance(of.kind, TableOf):
        return _entries(of.kind, values)
    if isinstance(of.kind, Record):
        return ((each, _attrs(values, each)) for each in of.kind.fields)
    return None


def whole(of: Key, divided: Mapping[str, Any]) -> Any:
    """Put together what `parts` divided, from values by attribute or id; a table drops None."""
    if isinstance(of.kind, Record):
        return of.kind.entity(**divided)
    return {key: value for key, value in divided.items() if value is not None}


def _attrs(holders: Sequence[Any], of: Key) -> Values:
    return tuple(getattr(holder, of.attr) for holder in holders)


def _entries(kind: TableOf, tables: Values) -> Iterator[tuple[Key, Values]]:
    for key in sorted({key for table in tables for key in table}):
        yield Key(key, key, kind.entry, None), tuple(table.get(key) for table in tables)


# Differences

LONGEST_VALUE = 60


class Change(NamedTuple):
    """A value that differs; None means that it is not there.

    A whole entity that came or went is one change, and so is a colour.
    """

    path: KeyPath
    """As in the file, such as ("room", "hall", "height"); a colour's last key is "colour"."""
    before: Any
    after: Any
    field: Key = attribute(compare=False, repr=False)


def described(house: House) -> tuple[str, ...]:
    """Return a line for each value of a house that is not the usual one, in file order."""
    blank = House()
    return tuple(
        line
        for path, field, (value,) in house_parts((house,))
        for line in _described(path, field, value, getattr(blank, field.attr))
    )


def _described(path: KeyPath, field: Key, value: Any, usual: Any) -> Iterator[str]:
    inner = None if value is None or value == usual else parts(field, (value,))
    if inner is not None:
        for part, (held,) in inner:
            yield from _described((*path, part.key), part, held, part.default)
    elif value is not None and value != usual:
        yield sentence(path, value_text(field, value))


def diff(before: House, after: House) -> tuple[Change, ...]:
    """Return everything that differs, in file order; () for equal houses."""
    every = house_parts((before, after))
    return tuple(change for part in every for change in _changes(*part))


def _changes(path: KeyPath, field: Key, values: Values) -> Iterator[Change]:
    before, after = values
    if before == after:
        return
    inner = parts(field, values)
    if inner is None:
        yield Change(path, before, after, field)
    else:
        for part, held in inner:
            yield from _changes((*path, part.key), part, held)


def value_text(field: Key, value: Any) -> str:
    """Write a value for a list: an entity by its name, all else as in the file but on one line."""
    if value is None:
        return "nothing"
    if isinstance(field.kind, Ref) and not value:
        return "unpainted"
    if isinstance(field.kind, Record) and hasattr(value, "name"):
        return shown(value.name)
    if isinstance(field, schema.ColourField):
        return ", ".join(f"{key} {_cut(literal(raw))}" for key, raw in field.write(value).items())
    return _cut(literal(field.kind.write(value)))


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_VALUE else text[: LONGEST_VALUE - 1] + "…"


# The merge

Houses = tuple[House, House, House]
"""Base, mine, theirs."""
Side = Literal["base", "mine", "theirs"]
SIDES: tuple[Side, ...] = ("base", "mine", "theirs")
EVERYTHING: frozenset[KeyPath] = frozenset({("house",), *((table.key,) for table in schema.TABLES)})


class Conflict(NamedTuple):
    """A value that somebody must choose; None means that it is not there."""

    path: KeyPath
    base: Any
    mine: Any
    theirs: Any
    field: Key = attribute(compare=False, repr=False)


class Merge(NamedTuple):
    """A legal house, and what is still to be chosen in it.

    At a conflict the house has my value where all of mine are legal together, else the base's.
    """

    house: House
    conflicts: tuple[Conflict, ...]


def merge(
    base: House, mine: House, theirs: House, choices: Mapping[KeyPath, Side] | None = None,
    *, ask: AbstractSet[KeyPath] = frozenset(),
) -> Merge:  # fmt: skip
    """Merge three legal houses. `choices` settles conflicts of an earlier merge by their path.

    Where the sides differ at a path of `ask`, that is a conflict even if one side alone changed it.
    Raises EditError where choices do not fit together.
    """
    choices = choices or {}
    houses = _same_ids(base, mine, theirs)
    held = ask
    while True:
        merging = _Merging(held, choices)
        house = merging.run(houses)
        found = problems(house)
        if not found:
            if merging.conflicts:
                with_mine = _Merging(held, choices, mine=True).run(houses)
                house = house if problems(with_mine) else with_mine
            return Merge(house, tuple(merging.conflicts))
        wider = held | _involved(found, house, held)
        if wider != held:
            held = wider
        elif choices:
            raise EditError("\n".join(problem.text for problem in found))
        else:  # no mix of the three is legal: my house whole
            merging = _Merging(EVERYTHING, {})
            merging.run(houses)
            return Merge(houses[1], tuple(merging.conflicts))


def replaced(earlier: Iterable[House], mine: House, merged: House) -> frozenset[KeyPath]:
    """Return where a merge would replace, not only add to, what I changed since any of these."""
    own = {change.path for before in earlier for change in diff(before, mine)}
    found = set()
    for change in diff(mine, merged):
        path = change.path
        adds_alone = _is_a_set(change.field) and all(e in change.after for e in change.before)
        # One lies in the other.
        if not adds_alone and any(p[: len(path)] == path[: len(p)] for p in own):
            found.add(path)
    return frozenset(found)


class _Merging:
    """One try at a merge; afterwards `conflicts` holds what it could not decide.

    A value at or below a path of `held` is not taken from one side where the sides differ.
    """

    def __init__(
        self, held: AbstractSet[KeyPath], choices: Mapping[KeyPath, Side], *, mine: bool = False
    ) -> None:
        self.held, self.choices, self.mine = held, choices, mine
        self.above = {path[:n] for path in (*held, *choices) for n in range(1, len(path))}
        self.conflicts: list[Conflict] = []

    def run(self, houses: Houses) -> House:
        values: dict[str, Any] = {}
        for path, field, each in house_parts(houses):
            inside = any(path[:n] in self.held for n in range(1, len(path)))
            values[field.attr] = self.value(path, field, each, held=inside)
        return House(**values)

    def value(self, path: KeyPath, field: Key, values: Values, *, held: bool) -> Any:
        base, mine, theirs = values
        if mine == theirs:
            return mine
        if path in self.choices:
            return values[SIDES.index(self.choices[path])]
        held = held or path in self.held
        if not held and path not in self.above and base in (mine, theirs):
            return theirs if mine == base else mine
        inner = parts(field, values)
        if inner is None:
            return self._single(path, field, values, held=held)
        divided = {
            part.attr: self.value((*path, part.key), part, each, held=held) for part, each in inner
        }
        return whole(field, divided)

    def _single(self, path: KeyPath, field: Key, values: Values, *, held: bool) -> Any:
        """Decide on a value that does not divide and differs between the sides."""
        base, mine, theirs = values
        if not held and _is_a_set(field) and None not in values:
            return _joined(base, mine, theirs)
        self.conflicts.append(Conflict(path, base, mine, theirs, field))
        if self.mine:
            return mine
        both_added = base is None and mine is not None and theirs is not None
        return min(mine, theirs, key=repr) if both_added and not held else base


def _involved(
    found: Sequence[Problem], house: House, held: AbstractSet[KeyPath]
) -> AbstractSet[KeyPath]:
    """Return what to hold so that the problems go: the values, else their entities, else all."""
    values: set[KeyPath] = set()
    entities: set[KeyPath] = set()
    for problem in found:
        refs = _refs(problem.path[:2], house)
        values |= {problem.path} | {into for path, into in refs if path == problem.path}
        entities |= {problem.path[:2]} | {into for _, into in refs}
    for step in (values, entities):
        if any(held.isdisjoint(path[:n] for n in range(1, len(path) + 1)) for path in step):
            return step
    return EVERYTHING


def _refs(entity: KeyPath, house: House) -> list[tuple[KeyPath, KeyPath]]:
    """Return where an entity refers to others: the path of each reference and what it names."""
    for table in schema.ENTITIES:
        if table.key == entity[0]:
            one = {entity[1]: getattr(house, table.attr)[entity[1]]}
            return [(path, (schema.KEY_OF[into], ref)) for path, into, ref in table.refs(one)]
    return []


def _is_a_set(field: Key) -> bool:
    """Whether the values of a list have neither order nor number."""
    return isinstance(field.kind, ListOf) and not field.kind.low


def _joined(base: Values, mine: Values, theirs: Values) -> Values:
    kept = [each for each in mine if each in theirs or each not in base]
    return (*kept, *(each for each in theirs if each not in base and each not in mine))


def _same_ids(base: House, mine: House, theirs: House) -> Houses:
    """Give an entity that has another id on one side that id in all three houses."""
    of_mine, of_theirs = renames(base, mine), renames(base, theirs)
    moves: tuple[dict[KeyPath, str], ...] = ({}, {}, {})
    for key, old in of_mine.keys() | of_theirs.keys():
        in_mine, in_theirs = (moved.get((key, old), old) for moved in (of_mine, of_theirs))
        new = min({in_mine, in_theirs} - {old})
        if _may_become(mine, (key, in_mine), new) and _may_become(theirs, (key, in_theirs), new):
            for each, now in zip(moves, (old, in_mine, in_theirs), strict=True):
                each[key, now] = new
    return renamed(base, moves[0]), renamed(mine, moves[1]), renamed(theirs, moves[2])


def _may_become(house: House, place: KeyPath, new: str) -> bool:
    """Whether an entity is there and its new id is free or its own."""
    table = getattr(house, schema.ATTR_OF[place[0]])
    return place[1] in table and (new == place[1] or new not in table)


# Files


def merge_files(base: HouseFile, mine: HouseFile, theirs: HouseFile) -> tuple[str, Merge]:
    """Merge three files; return the text of the merged one, comments included, and the merge.

    What both changed is in a comment above its place: see `unsettled`.
    """
    merged = merge(base.house, mine.house, theirs.house)
    sides = (comments_for(merged.house, each.data) for each in (base, mine, theirs))
    comments = [*merged_comments(*sides)]
    for each in merged.conflicts:
        values = dict(zip(WORDS, (each.base, each.mine, each.theirs), strict=True))
        written = {k: {} if v is None else each.field.write(v) for k, v in values.items()}
        comments.append(Comment(MARK + literal({"at": list(each.path), **written}), each.path))
    return dump_with_comments(merged.house, comments), merged


# A file in which both sides are shown: a comment for each value that both changed, such as
# # Both changed it: { at = ["room", "hall", "height"], sent = { height = 2.4 }, ... }

MARK = "# Both changed it: "
WORDS = ("sent", "yours", "theirs")


def unsettled(data: bytes) -> Houses | None:
    """Return the house as sent, as yours and as theirs, of a file in which both sides are shown.

    None where nothing is to be settled, or where its comments no longer make three houses.
    """
    try:
        text = decode(data, "")
        marks = [each.text for each in comments_of(text) if each.text.startswith(MARK)]
        if not marks:
            return None
        sides = [parse_toml(f"it = {mark.removeprefix(MARK)}", "")["it"] for mark in marks]
        sent, yours, theirs = (_side_of(text, sides, word) for word in WORDS)
        house = parse_house(text)
    except (HouseFileError, LookupError, TypeError, ValueError, AttributeError):
        return None
    return (sent, yours, theirs) if merge(sent, yours, theirs).house == house else None


def without_marks(data: bytes) -> bytes:
    """Return the bytes of a house file without the comments that show both sides."""
    file = HouseFile(parse_house(decode(data, "")), data)
    comments = [each for each in comments_of(file.text) if not each.text.startswith(MARK)]
    return dump_with_comments(file.house, comments).encode()


def _side_of(text: str, sides: Sequence[Mapping[str, Any]], word: str) -> House:
    """Return the house of a text with the values of one side put in. Raises HouseFileError.

    It need not be legal: what the other side alone changed is in it as well.
    """
    raw = parse_toml(text, "")
    for side in sides:
        *above, last = side["at"]
        holder = raw
        for key in above:
            holder = holder.setdefault(key, {})
        for key in (*schema.COLOUR_KEYS, schema.OBSERVED) if last == "colour" else (last,):
            holder.pop(key, None)
        holder.update(side[word])
    house, found = read_values(raw)
    if wrong := (*found, *value_problems(house)):
        raise HouseFileError(wrong)
    return house
