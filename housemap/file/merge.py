"""Merge two houses that grew from one, by meaning.

What one side changed is taken, what both changed alike is taken once, lists of equal rank (tins,
fixed finishes) take what either added and lose what either removed. Values that both changed
apart are conflicts. So is whatever else would make the merged house illegal, such as a room on
one side in a paint that the other side removed: it is held at its base until somebody chooses.
The conflicts do not depend on which side is called mine.
"""

from collections.abc import Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from dataclasses import field as attribute
from typing import Any, Literal

from housemap.errors import EditError, Problem
from housemap.file.diff import value_text
from housemap.file.parts import Values, house_parts, parts, place_of, whole
from housemap.model.house import House
from housemap.model.kinds import Path
from housemap.model.records import Field, Key, ListOf
from housemap.model.renames import renamed, renames
from housemap.model.rules import problems, sentence
from housemap.model.schema import ATTR_OF, ENTITIES, KEY_OF, TABLES

Houses = tuple[House, House, House]
"""Base, mine, theirs."""
Side = Literal["base", "mine", "theirs"]
SIDES: tuple[Side, ...] = ("base", "mine", "theirs")
EVERYTHING: frozenset[Path] = frozenset({("house",), *((table.key,) for table in TABLES)})


@dataclass(frozen=True, slots=True)
class Conflict:
    """A value that somebody must choose; None stands for one that is not there."""

    path: Path
    base: Any
    mine: Any
    theirs: Any
    field: Field = attribute(compare=False, repr=False)

    def __str__(self) -> str:
        values = (self.base, self.mine, self.theirs)
        base, mine, theirs = (value_text(self.field, value) for value in values)
        return sentence(self.path, f"was {base}, mine is {mine}, theirs is {theirs}")


@dataclass(frozen=True, slots=True)
class Merge:
    """A legal house, and what is still to be chosen in it.

    At a conflict the house has my value where all of mine are legal together, else the base's.
    """

    house: House
    conflicts: tuple[Conflict, ...]


def merge(
    base: House, mine: House, theirs: House, choices: Mapping[Path, Side] | None = None
) -> Merge:
    """Merge three legal houses. `choices` settles conflicts of an earlier merge by their path.

    Raises EditError where choices cannot stand together.
    """
    choices = choices or {}
    houses = _same_ids(base, mine, theirs)
    held: AbstractSet[Path] = frozenset()
    while True:
        merging = _Merging(held, choices)
        house = merging.run(houses)
        found = problems(house)
        if not found:
            return Merge(_with_mine(house, houses, merging), tuple(merging.conflicts))
        wider = held | _involved(found, house, held)
        if wider == held:
            return _all_in_conflict(houses, choices, found)
        held = wider


class _Merging:
    """One try at a merge; afterwards `conflicts` holds what it could not decide.

    A value at or below a path of `held` is not taken from one side where the sides differ.
    """

    def __init__(
        self, held: AbstractSet[Path], choices: Mapping[Path, Side], *, mine: bool = False
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

    def value(self, path: Path, field: Field, values: Values, *, held: bool) -> Any:
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
            part.attr: self.value((*path, place_of(part)), part, each, held=held)
            for part, each in inner
        }
        return whole(field, divided)

    def _single(self, path: Path, field: Field, values: Values, *, held: bool) -> Any:
        """Decide on a value that does not divide and differs between the sides."""
        base, mine, theirs = values
        if not held and _is_a_set(field) and None not in values:
            return _joined(base, mine, theirs)
        self.conflicts.append(Conflict(path, base, mine, theirs, field))
        if self.mine:
            return mine
        both_added = base is None and mine is not None and theirs is not None
        return min(mine, theirs, key=repr) if both_added and not held else base


def _with_mine(house: House, houses: Houses, merging: _Merging) -> House:
    """Return the merged house with my values at its conflicts, if they are legal together."""
    if not merging.conflicts:
        return house
    other = _Merging(merging.held, merging.choices, mine=True).run(houses)
    return house if problems(other) else other


def _all_in_conflict(
    houses: Houses, choices: Mapping[Path, Side], found: Sequence[Problem]
) -> Merge:
    """Give my house whole, where no mix of the three is legal."""
    if choices:
        raise EditError("\n".join(problem.text for problem in found))
    merging = _Merging(EVERYTHING, {})
    merging.run(houses)
    return Merge(houses[1], tuple(merging.conflicts))


def _involved(found: Sequence[Problem], house: House, held: AbstractSet[Path]) -> AbstractSet[Path]:
    """Return what to hold so that the problems go: the values, else their entities, else all."""
    values: set[Path] = set()
    entities: set[Path] = set()
    for problem in found:
        refs = _refs(problem.path[:2], house)
        values |= {problem.path} | {into for path, into in refs if path == problem.path}
        entities |= {problem.path[:2]} | {into for _, into in refs}
    for step in (values, entities):
        if any(not _is_held(path, held) for path in step):
            return step
    return EVERYTHING


def _refs(entity: Path, house: House) -> list[tuple[Path, Path]]:
    """Return where an entity refers to others: the path of each reference and what it names."""
    table = next((each for each in ENTITIES if each.key == entity[0]), None)
    if table is None:
        return []
    one = {entity[1]: getattr(house, table.attr)[entity[1]]}
    return [(path, (KEY_OF[into], ref)) for path, into, ref in table.refs(one)]


def _is_held(path: Path, held: AbstractSet[Path]) -> bool:
    return any(path[:n] in held for n in range(1, len(path) + 1))


def _is_a_set(field: Field) -> bool:
    """Whether the values of a list stand beside each other without order or number."""
    return isinstance(field, Key) and isinstance(field.kind, ListOf) and not field.kind.low


def _joined(base: Values, mine: Values, theirs: Values) -> Values:
    kept = [each for each in mine if each in theirs or each not in base]
    return (*kept, *(each for each in theirs if each not in base and each not in mine))


def _same_ids(base: House, mine: House, theirs: House) -> Houses:
    """Give an entity that has another id on one side that id in all three houses."""
    of_mine, of_theirs = renames(base, mine), renames(base, theirs)
    moves: tuple[dict[Path, str], ...] = ({}, {}, {})
    for key, old in of_mine.keys() | of_theirs.keys():
        in_mine, in_theirs = (moved.get((key, old), old) for moved in (of_mine, of_theirs))
        new = min({in_mine, in_theirs} - {old})
        if _may_become(mine, (key, in_mine), new) and _may_become(theirs, (key, in_theirs), new):
            for each, now in zip(moves, (old, in_mine, in_theirs), strict=True):
                each[key, now] = new
    return renamed(base, moves[0]), renamed(mine, moves[1]), renamed(theirs, moves[2])


def _may_become(house: House, place: Path, new: str) -> bool:
    """Whether an entity is there and its new id is free or its own."""
    table = getattr(house, ATTR_OF[place[0]])
    return place[1] in table and (new == place[1] or new not in table)
