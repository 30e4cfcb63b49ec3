"""A deck screened for a house: a trial house with the paints that are weighed for its rooms."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from housemap.checks import Report
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.taking import take_all
from housemap.choose.house_problem import problem_of, rooms_to_fill
from housemap.choose.optimiser.problem import Problem
from housemap.choose.palettes.asked import Asked
from housemap.choose.palettes.shortlist import SHORTLIST, Shortlist, of_role, shortlist
from housemap.colorimetry.arrays import Floats, Indices
from housemap.errors import EditError
from housemap.model.edits import assign
from housemap.model.house import House, Paint, Role

APART = 5.0
"""CAM16-UCS distance by which every new wall paint of a palette differs from all that earlier
palettes brought in (our assumption: told apart at a glance)."""


@dataclass(frozen=True, slots=True)
class Source:
    """What a palette is chosen from and for."""

    report: Report
    """Of the house as it is."""
    asked: Asked
    deck: str
    chips: Chips
    rooms: tuple[str, ...]
    """Those to be painted."""


@dataclass(frozen=True, eq=False)
class Screened:
    """A trial house that has the screened paints, and which of them each role may have."""

    source: Source
    report: Report
    """Of the trial house."""
    shortlist: Shortlist
    ids: Mapping[str, str]
    """By id in the deck, the id in the trial house, in the order in which they were taken."""
    pinned: tuple[str, ...]
    """Ids in the trial house."""

    @property
    def told(self) -> str:
        """What was screened."""
        return f"weighed of {len(self.source.chips):,} paints: {self.shortlist.told}"

    @property
    def from_deck(self) -> Mapping[str, str]:
        """By id in the trial house, the id in the deck."""
        return {own: chip for chip, own in self.ids.items()}

    def problem(self, earlier: Sequence[str] = ()) -> Problem | None:
        """The problem of the walls, without what is like paints that earlier palettes brought in.

        None where a room would have no paint left. A pinned paint is in every palette: a room of
        its own stands for it, beside the rooms of the house.
        """
        new = self.unlike(earlier)
        among = {
            role: tuple(
                dict.fromkeys((*self.pinned, *(self._id(row) for row in rows if row in new)))
            )
            for role, rows in self.shortlist.rows.items()
        }
        if not all(among.values()):
            return None
        asked = self.source.asked
        return _pinned(problem_of(self.report, asked.keep, asked.paints, among), self.pinned)

    def unlike(self, earlier: Sequence[str]) -> frozenset[int]:
        """Rows of the deck that lie APART from all those paints of the trial house."""
        ucs = self.source.chips.colours.ucs
        others = [self.report.study.paint(paint).colour.ucs for paint in earlier]
        return frozenset(_apart(ucs, np.array(others).reshape(-1, 3)).tolist())

    def suiting(self, roles: Iterable[Role | None], earlier: Sequence[str]) -> Indices:
        """Rows of the whole deck that suit all the roles and are unlike those paints."""
        rows = np.array(sorted(self.unlike(earlier)), dtype=np.intp)
        for role in roles:
            rows = np.intersect1d(rows, of_role(role, self.source.chips))
        return rows

    def joined(self, more: Mapping[int, Iterable[Role | None]]) -> "Screened":
        """With further rows of the deck, each for some roles."""
        found = self.shortlist
        for row, roles in more.items():
            found = found.joined(roles, row)
        rows = [self.source.chips.rows[chip] for chip in self.ids]
        return _screened(self.source, found, [*rows, *more])

    def _id(self, row: int) -> str:
        return self.ids[self.source.chips.swatches[row].id]


def screen(
    report: Report, chips: Chips, deck: str, asked: Asked, most: int = SHORTLIST
) -> Screened:
    """The deck screened for the house.

    Raises EditError for a room to keep or a pinned paint that is not there, and for nothing to
    paint.
    """
    house = report.house
    rooms = tuple(r for r in house.rooms if r in rooms_to_fill(house, asked.keep))
    if not rooms or not len(chips):
        raise EditError("there is no room to paint" if not rooms else "the deck has no paint")
    asked.check(house, chips)
    found = shortlist(report, rooms, chips, most)
    pins = [row for chip, row in chips.rows.items() if chip in asked.chips]
    return _screened(Source(report, asked, deck, chips, rooms), found, [*pins, *found.every])


def _screened(source: Source, found: Shortlist, rows: Sequence[int]) -> Screened:
    """The trial house has the paints of those rows, taken in their order."""
    asked, house = source.asked, source.report.house
    swatches = [source.chips.swatches[row] for row in rows]
    wanted = {swatch.id: swatch.entity for swatch in swatches if isinstance(swatch.entity, Paint)}
    trial, ids = take_all(house, wanted, source.deck)
    report = source.report.after(_stripped(trial, source.rooms, trim=asked.trim))
    pins = (own for chip, own in ids.items() if chip in asked.chips)
    pinned = tuple(dict.fromkeys([*sorted(asked.own), *pins]))
    return Screened(source, report, found, ids, pinned)


def _stripped(house: House, rooms: Iterable[str], *, trim: bool) -> House:
    """Without the trim that is to be replaced."""
    for room in rooms if trim else ():
        house = assign(house, room, "trim", None)
    return house


def _apart(ucs: Floats, others: Floats) -> Indices:
    """Rows that lie APART from all the others."""
    if not len(others):
        return np.arange(len(ucs))
    nearest = np.sqrt(((ucs[:, np.newaxis] - others) ** 2).sum(-1)).min(axis=1)
    return np.flatnonzero(nearest >= APART)


def _pinned(problem: Problem, pinned: Sequence[str]) -> Problem:
    """With a room for each pinned paint that costs nothing by itself.

    Its name has a space, as no room of a house has.
    """
    rooms = {f"pinned {paint}": paint for paint in pinned}
    return replace(
        problem,
        rooms=(*problem.rooms, *rooms),
        candidates={**problem.candidates, **{room: (paint,) for room, paint in rooms.items()}},
        own={**problem.own, **{room: np.zeros(1) for room in rooms}},
    )
