"""The open house joined with another copy of it: what both changed, and what came in."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from housemap.errors import ChangedOnDiskError, HouseFileError
from housemap.file.earlier_saves import houses_before
from housemap.file.merge import (
    SIDES,
    Change,
    Conflict,
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
    """What both sides may have started from."""

    house: House
    words: str
    """As in "your save of 29 November, 16:22"."""


def sent_for(saves: Iterable[Sent], mine: House, theirs: House) -> Sent:
    """The earlier save, or the house as opened, that theirs differs from in the fewest values.

    Of several like that, the one where most of what still differs between the two sides has a third
    value, so that a later save of mine is not taken for what was sent; then the newest.
    """
    apart = [change.path for change in diff(mine, theirs)]

    def unlike(sent: Sent) -> tuple[int, int]:
        changed = {change.path for change in diff(sent.house, theirs)}
        own = {change.path for change in diff(sent.house, mine)}
        return len(changed), -sum(path in changed and path in own for path in apart)

    return min(saves, key=unlike)


def _saves(session: Session) -> list[Sent]:
    """The newest first."""
    saves = []
    if session.file:
        for when, house in houses_before(state_folder(), session.file.path):
            saves.append(Sent(house, f"your save of {when.astimezone():%-d %B, %H:%M}"))
        if session.file.held.house != session.opened:
            saves.append(Sent(session.file.held.house, "the file as last saved"))
    saves.append(Sent(session.opened, "the house as you opened it"))
    return saves


class Sides(NamedTuple):
    """The house that both edits grew from, and what each has made of it."""

    base: House
    mine: House
    theirs: House

    def of(self, side: Side) -> House:
        house: House = getattr(self, side)
        return house


class Joining:
    """Two copies of a house, with the side chosen so far for each thing that both changed.

    What the user changed since the house was opened is never replaced without being asked, saved or
    not: `opened` is the house as it was then.
    """

    def __init__(
        self, sides: Sides, take: Callable[[House], None], sent: Sent, opened: House | None = None
    ) -> None:
        self.sides, self._take, self.sent = sides, take, sent
        found = merge(sides.base, sides.mine, sides.theirs)
        self._ask = replaced(opened or sides.base, sides.mine, found.house)
        if self._ask:
            found = merge(sides.base, sides.mine, sides.theirs, ask=self._ask)
        self.conflicts: tuple[Conflict, ...] = found.conflicts
        self.choices: Mapping[KeyPath, Side] = {}

    @classmethod
    def with_file(cls, session: Session) -> "Joining":
        """With what somebody else has saved meanwhile; taking it writes the file.

        Raises HouseFileError where their file cannot be read.
        """
        assert session.file is not None
        theirs = load_house(session.file.path)
        return cls._with(session, theirs.house, lambda house: session.save_settled(house, theirs))

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

        return cls._with(session, theirs, take)

    @classmethod
    def _with(cls, session: Session, theirs: House, take: Callable[[House], None]) -> "Joining":
        sent = sent_for(_saves(session), session.house, theirs)
        return cls(Sides(sent.house, session.house, theirs), take, sent, session.opened)

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
        return self._merged(self.choices)

    @property
    def came_in(self) -> tuple[Change, ...]:
        """What the house as chosen so far has that yours had not."""
        return diff(self.sides.mine, self.joined)

    def choose(self, path: KeyPath, side: Side) -> House:
        """Take a side of one, and return the house as chosen so far.

        Raises EditError, with the choices as they were, where the house would not be a legal one.
        """
        choices = {**self.choices, path: side}
        house = self._merged(choices)
        self.choices = choices
        return house

    def take(self) -> None:
        """Go on with the house as chosen. Raises HouseFileError, with nothing written."""
        self._take(self.joined)

    def _merged(self, choices: Mapping[KeyPath, Side]) -> House:
        sides = self.sides
        return merge(sides.base, sides.mine, sides.theirs, choices, ask=self._ask).house


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
        case ["paints", surface]:
            return f"{name} {surface}"
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


def conflict_text(conflict: Conflict, sides: Sides) -> str:
    """As in "Kitchen walls: yours Barley Tin, theirs Pond Glass, sent as Oat Ladle"."""
    sent, yours, theirs = (
        side_text(conflict, getattr(conflict, side), sides.of(side)) for side in SIDES
    )
    place = place_text(conflict.path, sides.mine)
    return f"{place}: yours {yours}, theirs {theirs}, sent as {sent}"
