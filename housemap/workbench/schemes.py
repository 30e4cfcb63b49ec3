"""Building a scheme around a paint, and comparing schemes of the house, without a screen."""

from dataclasses import dataclass, replace
from itertools import cycle
from typing import TYPE_CHECKING

from housemap.choose.chips import Chips, all_chips, take
from housemap.choose.schemes.card import reason
from housemap.choose.schemes.compare import Compared, compared
from housemap.choose.schemes.computed import computed_chips
from housemap.choose.schemes.sets import Basis, ColourSet, alternatives, more_like, sets_around
from housemap.model.edits import change
from housemap.model.house import House, Paint, SurfacePaints
from housemap.schedule.document import schedule_of

if TYPE_CHECKING:
    import datetime as dt

    from housemap.checks import Report
    from housemap.study import Swatch


@dataclass(frozen=True, eq=False)
class SchemeBuilder:
    """Sets around a paint: which is looked at, and which of its colours; every step gives another.

    The colours come from a deck, else from the house's paints, else they are computed.
    """

    basis: Basis
    sets: tuple[ColourSet, ...]
    number: int = 0
    """Of the set looked at."""
    place: int = 0
    """Of the colour looked at in it."""
    others: tuple[ColourSet, ...] = ()
    """The set with other colours at that place, best first; the set itself leads."""
    other: int = 0

    @classmethod
    def around(
        cls, neutral: "Swatch", house: "House", deck: Chips | None = None
    ) -> "SchemeBuilder":
        chips = deck if deck is not None else all_chips(house.paints)
        basis = Basis(neutral, chips if len(chips) else computed_chips(neutral), house.brief)
        return cls(basis, sets_around(basis))

    @property
    def shown(self) -> ColourSet | None:
        """The set as it is looked at; None where there was nothing to choose from."""
        if self.others:
            return self.others[self.other]
        return self.sets[self.number] if self.sets else None

    @property
    def reasons(self) -> tuple[str, ...]:
        """One sentence for each colour of the set."""
        shown = self.shown
        return tuple(reason(one, shown) for one in shown.colours) if shown else ()

    def look_at(self, number: int) -> "SchemeBuilder":
        """Another set, the first after the last."""
        return replace(self, number=number % max(len(self.sets), 1), others=(), other=0, place=0)

    def choose(self, place: int) -> "SchemeBuilder":
        """A colour of the set, of which `swap` shows the alternatives; what was swapped stays."""
        shown = self.shown
        if shown is None:
            return self
        sets = (*self.sets[: self.number], shown, *self.sets[self.number + 1 :])
        return replace(self, sets=sets, place=place % len(shown.colours), others=(), other=0)

    def swap(self, by: int) -> "SchemeBuilder":
        """The next alternative for the colour that is chosen, or the one before."""
        shown = self.shown
        if shown is None:
            return self
        others = self.others or (shown, *alternatives(shown, self.place))
        return replace(self, others=others, other=(self.other + by) % len(others))

    def more_like_this(self) -> "SchemeBuilder":
        """Further sets of the kind that is looked at, behind it."""
        shown = self.shown
        if shown is None:
            return self
        return SchemeBuilder(self.basis, (shown, *more_like(shown)))


def painted_in(house: House, shown: ColourSet) -> House:
    """The house with a set on its walls, ceilings, trim and doors; kept rooms stay as they are.

    The backbone goes on rooms that link, accents on accent rooms, the neutral and the room colours
    in turn on the others; trim, ceilings and doors get the trim (common practice, no source).
    """
    parts: dict[str, list[str]] = {}
    for one in shown.colours:
        assert isinstance(one.swatch.entity, Paint)
        house, paint = take(house, one.swatch.id, one.swatch.entity)
        parts.setdefault(one.part, []).append(paint)
    neutral = parts["neutral"]
    backbone = cycle(parts.get("backbone", neutral))
    rooms = cycle([*neutral, *parts.get("room", ())])
    accents = cycle(parts.get("accent", neutral))
    trim = parts.get("trim", [None])[0]
    painted = {}
    for key, room in house.rooms.items():
        if room.use == "outdoor" or (key in house.brief.rooms and house.brief.rooms[key].keep):
            continue
        links = room.role == "backbone" or room.use in LINKING
        walls = next(accents if room.role == "accent" else backbone if links else rooms)
        painted[key] = replace(room, paints=SurfacePaints(walls, trim, trim, trim), accents={})
    return change(house, rooms={**house.rooms, **painted})


LINKING = frozenset({"hall", "stair"})
"""Uses of rooms that link others."""


@dataclass(frozen=True, slots=True)
class SchemeRow:
    """One scheme of the house beside the others."""

    scheme: Compared
    cost: float | None
    """Of paint and primer that has a price, in the house's currency; None where none has."""


def scheme_rows(report: "Report", today: "dt.date") -> tuple[SchemeRow, ...]:
    """The house as it is, then each of its schemes, with what the paint costs."""
    return tuple(
        SchemeRow(each, schedule_of(each.report, today).quantities.cost)
        for each in compared(report)
    )
