"""The open house joined with another copy of it: what both changed, and what came in."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from housemap.errors import ChangedOnDiskError, HouseFileError
from housemap.file.atomic import backup_of
from housemap.file.earlier_saves import houses_before
from housemap.file.merge import (
    EVERYTHING,
    SIDES,
    Change,
    Conflict,
    Merge,
    Side,
    diff,
    merge,
    replaced,
    unsettled,
    value_text,
)
from housemap.file.reader import load_house
from housemap.model.fieldtypes import KeyPath, Record
from housemap.model.house import House
from housemap.model.schema import RECORD_OF
from housemap.plan.floor_plan import short_wall_name
from housemap.workbench.folders import state_folder
from housemap.workbench.forms.targets import Target
from housemap.workbench.session import Session


class Sent(NamedTuple):
    """What both sides started from."""

    house: House
    words: str
    """As in "the save of 29 November, 16:22"."""


def _kept(path: Path) -> Iterator[Sent]:
    """What a house file is known to have been, the newest first."""
    for when, house in houses_before(state_folder(), path):
        yield Sent(house, f"the save of {when.astimezone():%-d %B, %H:%M}")


def _saves(session: Session) -> list[Sent]:
    """What the open house is known to have been: first the file as last read or written."""
    opened = Sent(session.opened, "the house as you opened it")
    if session.file is None:
        return [opened]
    held, kept = session.file.held.house, [*_kept(session.file.path)]
    words = next((sent.words for sent in kept if sent.house == held), "the file as last opened")
    return [Sent(held, words), *kept, opened]


def _known(theirs: House, path: Path) -> Iterator[House]:
    """What a colleague's copy is known to have been, the newest first; last what it is now."""
    for sent in _kept(path):
        if sent.house != theirs:
            yield sent.house
    with suppress(HouseFileError):
        yield load_house(backup_of(path.resolve())).house
    yield theirs


class Sides(NamedTuple):
    """The house that both edits grew from, and what each has made of it."""

    base: House
    mine: House
    theirs: House

    def of(self, side: Side) -> House:
        house: House = getattr(self, side)
        return house


class Joining:
    """Two copies of a house, with the side chosen so far for each thing that is to be chosen.

    `sent` is what both are known to have been once. Where nothing is known, each difference is to
    be chosen. `earlier` is what mine is known to have been: what has changed since any of these is
    never replaced without being asked.
    """

    def __init__(
        self, sides: Sides, take: Callable[[House], None], sent: Sent | None,
        earlier: Iterable[House] = (),
    ) -> None:  # fmt: skip
        self.sides, self._take, self.sent = sides, take, sent
        self.choices: Mapping[KeyPath, Side] = {}
        self._ask: AbstractSet[KeyPath] = frozenset() if sent else EVERYTHING
        found = self._merge()
        if own := replaced((sides.base, *earlier), sides.mine, found.house) - self._ask:
            self._ask |= own
            found = self._merge()
        self.conflicts: tuple[Conflict, ...] = found.conflicts

    @classmethod
    def with_file(cls, session: Session) -> "Joining":
        """With what somebody else has saved meanwhile; taking it writes the file.

        Raises HouseFileError where their file cannot be read.
        """
        assert session.file is not None
        theirs = load_house(session.file.path)
        saves = _saves(session)
        take = partial(session.save_settled, theirs=theirs)
        sides = Sides(saves[0].house, session.house, theirs.house)
        return cls(sides, take, saves[0], [each.house for each in saves])

    @classmethod
    def with_copy(cls, session: Session, path: Path) -> "Joining":
        """With a colleague's copy, which is left as it is; taking it is one edit of the house.

        Raises HouseFileError where it cannot be read or is another house.
        """
        theirs = load_house(path).house
        if session.house.rooms and not session.house.rooms.keys() & theirs.rooms.keys():
            text = "has no room of this house; bring in a copy of it"
            raise HouseFileError.of(text, file=path.name)

        def take(house: House) -> None:
            session.apply(house, f"Changes of {path.name} brought in")

        saves = _saves(session)
        both = (s for house in _known(theirs, path) for s in saves if s.house == house)
        sent = next(both, None)
        base = sent.house if sent else session.house
        return cls(Sides(base, session.house, theirs), take, sent)

    @classmethod
    def in_file(cls, session: Session) -> "Joining | None":
        """Of a file that shows both sides, what is still open in it; None where it shows none."""
        houses = unsettled(session.file.held.data) if session.file else None
        if houses is None:
            return None
        return cls(Sides(*houses), session.save_settled, Sent(houses[0], "the file as sent"))

    @property
    def left(self) -> int:
        """How many are still to be chosen."""
        return len(self.conflicts) - len(self.choices)

    @property
    def joined(self) -> House:
        """The house as chosen so far."""
        return self._merge(self.choices).house

    @property
    def came_in(self) -> tuple[Change, ...]:
        """What the house as chosen so far has that yours had not."""
        return diff(self.sides.mine, self.joined)

    @property
    def kept(self) -> tuple[Change, ...]:
        """Where the house as chosen so far is not as theirs."""
        return diff(self.sides.theirs, self.joined)

    @property
    def to_show(self) -> bool:
        """Whether they differ in more than what was chosen one by one as it was in your house."""
        return bool(self.came_in) or any(each.path not in self.choices for each in self.kept)

    def choose(self, side: Side, *paths: KeyPath) -> House:
        """Take a side of these, and return the house as chosen so far.

        Raises EditError, with the choices as they were, where the house would not be a legal one.
        """
        choices = {**self.choices, **dict.fromkeys(paths, side)}
        house = self._merge(choices).house
        self.choices = choices
        return house

    def take(self) -> None:
        """Go on with the house as chosen. Raises HouseFileError, with nothing written."""
        self._take(self.joined)

    def _merge(self, choices: Mapping[KeyPath, Side] | None = None) -> Merge:
        return merge(*self.sides, choices, ask=self._ask)


def save_joined(session: Session) -> Joining:
    """Join with what is on disk and save both, unless something has to be chosen first.

    Raises HouseFileError.
    """
    while True:
        found = Joining.with_file(session)
        if found.left:
            return found
        try:
            found.take()
        except ChangedOnDiskError:
            continue  # once more meanwhile
        return found


# In words


def place_text(path: KeyPath, house: House) -> str:
    """As in "Kitchen walls" or "Hall to Kitchen, width": by what a person calls it."""
    table, *rest = path
    if table not in RECORD_OF or not rest:
        return _with_keys(table.capitalize(), rest)
    target = Target(table, rest[0])
    name = target.name_in(house) or rest[0]
    if table != "room":
        return _with_keys(f"{table.capitalize()} {name}", rest[1:])
    match rest[1:]:
        case ["paints" | "sheens" as what, surface]:
            return f"{name} {surface}{', sheen' * (what == 'sheens')}"
        case ["accent", wall, *keys] if rest[0] in house.rooms:
            side = short_wall_name(house, rest[0], wall)
            return _with_keys(f"{name}, {side}", [key for key in keys if key != "paint"])
        case keys:
            return _with_keys(name, keys)


def _with_keys(name: str, keys: list[str]) -> str:
    return f"{name}, {' '.join(keys)}" if keys else name


def side_text(item: Change | Conflict, value: Any, house: House) -> str:
    """A value of one side: a paint by its name."""
    if names_paint(item.path) and not value:
        return "unpainted"
    if value is None or value == "":
        return "not there" if isinstance(item.field.kind, Record) else "not set"
    if names_paint(item.path) and value in house.paints:
        return house.paints[value].name
    return value_text(item.field, value)


def names_paint(path: KeyPath) -> bool:
    return "paints" in path or path[-1] == "paint"


def change_text(change: Change, before: House, after: House) -> str:
    """As in "Kitchen walls: Barley Tin, was Pond Glass"."""
    whole = isinstance(change.field.kind, Record)
    if whole and change.after is None:
        return f"{place_text(change.path, before)}: gone"
    place = place_text(change.path, after)
    if whole and change.before is None:
        return f"{place}: new"
    old, new = side_text(change, change.before, before), side_text(change, change.after, after)
    return f"{place}: {new}, was {old}"


def kept_text(change: Change, theirs: House, joined: House) -> str:
    """As in "Kitchen walls: yours Barley Tin, theirs Pond Glass"."""
    whole_of_theirs = change.after is None and isinstance(change.field.kind, Record)
    place = place_text(change.path, theirs if whole_of_theirs else joined)
    yours, other = side_text(change, change.after, joined), side_text(change, change.before, theirs)
    return f"{place}: yours {yours}, theirs {other}"


def conflict_text(conflict: Conflict, sides: Sides) -> str:
    """As in "Kitchen walls: yours Barley Tin, theirs Pond Glass, sent as Oat Ladle"."""
    sent, yours, theirs = (
        side_text(conflict, getattr(conflict, side), sides.of(side)) for side in SIDES
    )
    place = place_text(conflict.path, sides.mine)
    return f"{place}: yours {yours}, theirs {theirs}, sent as {sent}"
