"""What a palette is to be."""

from dataclasses import dataclass

from housemap.choose.deck.chips import Chips
from housemap.choose.house_problem import rooms_to_fill
from housemap.errors import EditError
from housemap.model.house import House

USUAL = 5
"""Wall paints of a palette (our assumption)."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is wanted, and what stays."""

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

    def check(self, house: House, chips: Chips) -> None:
        """Raises EditError for a pinned paint that is not there."""
        for wanted, known in ((self.own, house.paints), (self.chips, chips.rows)):
            for paint in sorted(wanted):
                if paint not in known:
                    raise EditError(f'there is no paint "{paint}" to pin')


def usual_paints(house: House, keep: frozenset[str] | None) -> int:
    """How many wall paints to begin with: USUAL, or two more than those that stay."""
    stay = house.rooms.keys() - rooms_to_fill(house, keep)
    return max(USUAL, len({house.rooms[room].paints.walls for room in stay} - {None}) + 2)
