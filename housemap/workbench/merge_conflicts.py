"""What two edits of a house file both changed, chosen one by one and saved together."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from housemap.file.merge import Conflict, Side, merge, unsettled
from housemap.file.reader import HouseFile
from housemap.model.fieldtypes import KeyPath
from housemap.model.house import House
from housemap.workbench.session import Session


@dataclass(frozen=True, slots=True)
class Sides:
    """The house that both edits grew from, and what each has made of it."""

    base: House
    mine: House
    theirs: House

    def of(self, side: Side) -> House:
        house: House = getattr(self, side)
        return house


class MergeConflicts:
    """The conflicts of two edits and the side chosen for each so far; nothing is saved before."""

    def __init__(self, sides: Sides, save: Callable[[House], None]) -> None:
        self.sides, self._save = sides, save
        self.conflicts: tuple[Conflict, ...] = tuple(
            merge(sides.base, sides.mine, sides.theirs).conflicts
        )
        self.choices: Mapping[KeyPath, Side] = {}

    @classmethod
    def with_file(cls, session: Session, theirs: HouseFile) -> "MergeConflicts":
        """Between the open house and what somebody else has saved meanwhile."""
        assert session.file is not None
        sides = Sides(session.file.held.house, session.house, theirs.house)
        return cls(sides, lambda house: session.save_settled(house, theirs))

    @classmethod
    def in_file(cls, session: Session) -> "MergeConflicts | None":
        """Those still open in a file that shows both sides; None where it shows none."""
        houses = unsettled(session.file.held.data) if session.file else None
        return cls(Sides(*houses), session.save_settled) if houses else None

    @property
    def left(self) -> int:
        """How many are still to be chosen."""
        return len(self.conflicts) - len(self.choices)

    @property
    def merged(self) -> House:
        """The house as chosen so far."""
        return self._merged(self.choices)

    def choose(self, path: KeyPath, side: Side) -> House:
        """Take a side of one, and return the house as chosen so far.

        Raises EditError, with the choices as they were, where the house would not be a legal one.
        """
        choices = {**self.choices, path: side}
        house = self._merged(choices)
        self.choices = choices
        return house

    def save(self) -> None:
        """Write the house as chosen. Raises HouseFileError, with nothing written."""
        self._save(self.merged)

    def _merged(self, choices: Mapping[KeyPath, Side]) -> House:
        sides = self.sides
        return merge(sides.base, sides.mine, sides.theirs, choices).house
