"""A palette for a whole house out of a deck: wall paints, few of them, and a trim paint.

The deck is screened, what is left is weighed as for filling a house, and the least costly choice
is looked for with a bound. Every bound holds for the screened paints, not for the whole deck. The
walls are chosen first, without the trim that is to be replaced, then a trim that goes with them.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from housemap.checks import Report
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.taking import take_all
from housemap.choose.optimiser.problem import Problem, Progress
from housemap.choose.screening import SHORTLIST, Shortlist, shortlist
from housemap.choose.trim import best_trim
from housemap.choose.whole import filled, problem_of, rooms_to_fill
from housemap.errors import EditError, InputError
from housemap.model.edits import assign
from housemap.model.house import House, Paint

USUAL = 5
"""Wall paints of a palette (our assumption)."""
VARIANTS = 3
APART = 5.0
"""CAM16-UCS distance by which every new wall paint of a variant differs from all of the variants
before it (our assumption: told apart at a glance)."""

Search = Callable[[Problem], Iterable[Progress]]
"""Tells how far it has come, at last its answer."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What the palette is to be."""

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


@dataclass(frozen=True, eq=False)
class Screened:
    """A trial house that has the screened paints, and which of them each role may have."""

    before: House
    report: Report
    """Of the trial house."""
    asked: Asked
    deck: str
    chips: Chips
    shortlist: Shortlist
    ids: Mapping[str, str]
    """By id in the deck, the id in the trial house."""
    rooms: tuple[str, ...]
    """Those to be painted."""
    pinned: tuple[str, ...]
    """Ids in the trial house."""

    @property
    def told(self) -> str:
        """What was screened."""
        return f"weighed of {len(self.chips):,} paints: {self.shortlist.told}"

    @property
    def from_deck(self) -> Mapping[str, str]:
        """By id in the trial house, the id in the deck."""
        return {own: chip for chip, own in self.ids.items()}

    def problem(self, earlier: Sequence["Palette"] = ()) -> Problem | None:
        """The problem of the walls, without what is like an earlier palette.

        None where a room would have no paint left. A pinned paint is in every palette: a room of
        its own stands for it, beside the rooms of the house.
        """
        free = _unlike(self, earlier)
        among = {
            role: tuple(dict.fromkeys((*self.pinned, *(p for p in self._of(rows) if p in free))))
            for role, rows in self.shortlist.rows.items()
        }
        if not all(among.values()):
            return None
        problem = problem_of(self.report, self.asked.keep, self.asked.paints, among)
        return _pinned(problem, self.pinned)

    def _of(self, rows: Iterable[int]) -> Iterator[str]:
        return (self.ids[self.chips.swatches[row].id] for row in rows)


@dataclass(frozen=True, eq=False)
class Palette:
    """A choice for the house, as far as it has come."""

    number: int
    """Of the variant, from 0."""
    problem: Problem
    progress: Progress
    house: House
    """In these paints; of the deck it has those that it uses."""
    shares: Mapping[str, float]
    """Of the wall area by wall paint, largest first; pinned paints on no wall at last."""
    trim: str | None = None
    from_deck: Mapping[str, str] = field(default_factory=dict)
    """By paint id of `house`, the id in the deck."""
    done: bool = False


def usual_paints(house: House, keep: frozenset[str] | None) -> int:
    """How many wall paints to begin with: USUAL, or two more than those that stay."""
    stay = house.rooms.keys() - rooms_to_fill(house, keep)
    return max(USUAL, len({house.rooms[room].paints.walls for room in stay} - {None}) + 2)


def screen(
    report: Report, chips: Chips, deck: str, asked: Asked, most: int = SHORTLIST
) -> Screened:
    """The deck screened for the house.

    Raises EditError for a room to keep or a pinned paint that is not there, and for nothing to
    paint.
    """
    house = report.house
    rooms = [r for r in house.rooms if r in rooms_to_fill(house, asked.keep)]
    if not rooms or not len(chips):
        raise EditError("there is no room to paint" if not rooms else "the deck has no paint")
    _know_pins(house, chips, asked)
    found = shortlist(report, rooms, chips, most)
    pins = [chip for chip in chips.rows if chip in asked.chips]
    wanted = dict.fromkeys([*pins, *(chips.swatches[row].id for row in found.every)])
    trial, ids = take_all(house, {chip: _paint(chips, chip) for chip in wanted}, deck)
    pinned = dict.fromkeys([*sorted(asked.own), *(ids[chip] for chip in pins)])
    after = report.after(_stripped(trial, rooms, trim=asked.trim))
    return Screened(house, after, asked, deck, chips, found, ids, tuple(rooms), tuple(pinned))


def palettes(screened: Screened, search: Search, most: int = VARIANTS) -> Iterator[Palette]:
    """Up to so many variants, each told again and again until it is done.

    Raises InputError where no choice keeps to the limit of paints.
    """
    earlier: list[Palette] = []
    while len(earlier) < most and (problem := screened.problem(earlier)) is not None:
        last: Palette | None = None
        try:
            for progress in search(problem):
                if progress.assignment:
                    last = _palette(screened, len(earlier), problem, progress)
                    yield last
        except InputError:
            if not earlier:
                raise
        if last is None:
            return
        earlier.append(_finished(screened, last))
        yield earlier[-1]


# Screening


def _know_pins(house: House, chips: Chips, asked: Asked) -> None:
    for wanted, known in ((asked.own, house.paints), (asked.chips, chips.rows)):
        for paint in sorted(wanted):
            if paint not in known:
                raise EditError(f'there is no paint "{paint}" to pin')


def _paint(chips: Chips, chip: str) -> Paint:
    entity = chips.swatches[chips.rows[chip]].entity
    assert isinstance(entity, Paint)
    return entity


def _stripped(house: House, rooms: Iterable[str], *, trim: bool) -> House:
    """Without the trim that is to be replaced."""
    for room in rooms if trim else ():
        house = assign(house, room, "trim", None)
    return house


# The problem


def _unlike(screened: Screened, earlier: Sequence[Palette]) -> frozenset[str]:
    """The screened paints that lie APART from every paint that an earlier palette brought in."""
    study, pinned = screened.report.study, screened.pinned
    used = {palette.progress.assignment[room] for palette in earlier for room in screened.rooms} - {
        *pinned
    }
    paints = [*dict.fromkeys(screened.ids.values())]
    if not used:
        return frozenset(paints)
    ucs = np.array([study.paint(paint).colour.ucs for paint in paints])
    others = np.array([study.paint(paint).colour.ucs for paint in used])
    apart = np.sqrt(((ucs[:, None] - others) ** 2).sum(-1)).min(axis=1)
    return frozenset(p for p, far in zip(paints, apart, strict=True) if far >= APART)


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


# The answer


def _palette(screened: Screened, number: int, problem: Problem, progress: Progress) -> Palette:
    walls = {room: progress.assignment[room] for room in screened.rooms}
    house = filled(screened.report.house, walls)
    if screened.asked.trim:
        for room in screened.rooms:
            trim = screened.before.rooms[room].paints.trim
            house = assign(house, room, "trim", trim)
    shares = _shares(screened, progress.assignment)
    house = _tidied(screened, house, shares)
    return Palette(number, problem, progress, house, shares, None, screened.from_deck)


def _finished(screened: Screened, palette: Palette) -> Palette:
    """With the trim, where one is asked for."""
    if screened.asked.trim:
        report = screened.report.after(palette.house)
        found = best_trim(report, screened.rooms, screened.chips, screened.deck)
        if found is not None:
            from_deck = {**palette.from_deck, found.paint: found.chip}
            palette = replace(palette, house=found.house, trim=found.paint, from_deck=from_deck)
    return replace(palette, done=True)


def _tidied(screened: Screened, house: House, used: Iterable[str]) -> House:
    """Without the paints of the deck that were only tried."""
    kept = {*screened.before.paints, *used}
    return replace(house, paints={k: paint for k, paint in house.paints.items() if k in kept})


def _shares(screened: Screened, assignment: Mapping[str, str]) -> Mapping[str, float]:
    """By wall area; every room counts alike where one of them is not measured."""
    areas = {r: screened.report.study.rooms[r].areas for r in assignment if " " not in r}
    each = {r: a.wall_net_m2 for r, a in areas.items() if a is not None}
    known = len(each) == len(areas) and sum(each.values()) > 0
    weights = each if known else dict.fromkeys(areas, 1.0)
    whole = sum(weights.values())
    shares = dict.fromkeys(screened.pinned, 0.0)
    for room, weight in weights.items():
        shares[assignment[room]] = shares.get(assignment[room], 0.0) + weight / whole
    return dict(sorted(shares.items(), key=lambda each: -each[1]))
