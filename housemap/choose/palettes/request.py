"""What a palette is to be."""

from dataclasses import dataclass

from housemap.choose.deck.chips import Chips
from housemap.choose.house_problem import rooms_to_fill
from housemap.choose.schemes.kinds import Kind
from housemap.errors import EditError
from housemap.model.fieldtypes import unknown_id
from housemap.model.house import House
from housemap.study import Swatch

USUAL = 5
"""Wall paints of a palette (our assumption)."""


@dataclass(frozen=True, slots=True)
class PaletteRequest:
    """What is asked for, and what stays."""

    paints: int | None = None
    """At most so many wall paints, those of kept rooms and pinned ones counted."""
    keep: frozenset[str] | None = None
    """Rooms that stay as they are; None: all that have a wall paint."""
    own: frozenset[str] = frozenset()
    """Pinned paints of the house, by id."""
    chips: frozenset[str] = frozenset()
    """Pinned paints of the deck, by their id there."""
    trim: bool = True
    """Whether a trim paint is chosen too; else the trim stays."""
    around: Swatch | None = None
    """The paint to build around; None: one that suits the house."""
    kind: Kind | None = None
    """The kind of scheme; None: each in turn."""

    def check(self, house: House, chips: Chips) -> None:
        """Raises EditError for a pinned paint that is not there."""
        for pinned, known in ((self.own, house.paints), (self.chips, chips.rows)):
            for paint in sorted(pinned):
                if paint not in known:
                    raise EditError(unknown_id("paint", paint, known))


def usual_paints(house: House, keep: frozenset[str] | None) -> int:
    """How many wall paints to begin with: USUAL, or two more than those that stay."""
    stay = house.rooms.keys() - rooms_to_fill(house, keep)
    return max(USUAL, len({house.rooms[room].paints.walls for room in stay} - {None}) + 2)
