"""Which paints of a deck are compared for a house: for each room those that the rules like best.

Every paint of the deck is judged by the rules of a scheme for a room by itself (`house_rules`) and
by undertones that would fight with what is kept there; those that cost least and truly differ are
compared in full. The neutral that a palette is built around is always among them.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import cast

import numpy as np

from housemap.checks import Report
from housemap.checks.wishes import BROKEN, liked, wish_cost
from housemap.choose.chips import Chips, take_all
from housemap.choose.house_problem import HouseProblem, house_problem, rooms_to_fill
from housemap.choose.optimiser.problem import Poll, Problem, no_poll
from housemap.choose.rank import options_of
from housemap.choose.schemes.house_rules import (
    Plan,
    accent_place,
    clashes,
    house_neutral,
    own_rule_costs,
    rows_of,
)
from housemap.choose.schemes.kinds import KINDS, Kind, house_aims
from housemap.choose.schemes.sets import USUAL_COLOURS, Basis, cheapest_apart, sets_around
from housemap.choose.schemes.shape import DISTINCT
from housemap.choose.surface_trial import group_costs
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.difference import ucs_parts
from housemap.errors import EditError
from housemap.model.edits import assign
from housemap.model.fieldtypes import unknown_id
from housemap.model.house import STRENGTHS, House, Paint, Role
from housemap.model.wishes import wishes_of
from housemap.study import Swatch


@dataclass(frozen=True, slots=True)
class PaletteRequest:
    """What is asked for, and what is kept."""

    paints: int | None = None
    """At most so many wall paints, those of kept rooms and pinned ones counted."""
    keep: frozenset[str] | None = None
    """Rooms that stay as they are; None: all that have a wall paint."""
    own: frozenset[str] = frozenset()
    """Pinned paints of the house, by id."""
    chips: frozenset[str] = frozenset()
    """Pinned paints of the deck, by their id there."""
    trim: bool = True
    """Whether a trim paint is chosen too; else the trim is kept."""
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
    """How many wall paints to begin with: as the client wants, else as usual.

    At least those that stay, and where the client does not say two more.
    """
    stay = house.rooms.keys() - rooms_to_fill(house, keep)
    kept = len({house.rooms[room].paints.walls for room in stay} - {None})
    return max(house.brief.colours, kept) if house.brief.colours else max(USUAL_COLOURS, kept + 2)


# The shortlist of a room, and the neutral

SHORTLIST = 20
"""Paints that are compared for rooms that the rules treat alike."""
DIFFERENT = 7
"""Of these so many that count as different colours, as several are asked for."""
APART_BY_ROLE: Mapping[Role | None, float] = {
    "backbone": 1.5, "room": 3.0, None: 3.0, "accent": 6.0
}  # fmt: skip
"""CAM16-UCS units between two of them, so that they offer a choice: of light colours for large
areas little is one; of accents much, so that there are stronger and deeper ones."""
LIT, MORE, MORE_APART, CLEAR = 400, 12, 8, 3.0
"""Where a warning is left: so many are judged in the light of a palette, so many more compared, and
so many beside them that are so many CAM16-UCS units from all others."""
NEUTRAL_LRV, NEUTRAL_CHROMA = (50.0, 70.0), 1.0
"""LRV and ASTM D1535 chroma of a neutral to begin with; our assumption."""
WARM_HUE = 22.5
"""Hue number of a usual neutral (2.5Y): common practice."""
PER_HUE, PER_CHROMA, PER_POINT = 0.05, 2.0, 0.1
"""What a neutral costs for each hue number, chroma and LRV point that it is off these."""


def shortlist(
    source: "Source", plan: Plan, rooms: Sequence[str], out: frozenset[int]
) -> Sequence[int]:
    """At most SHORTLIST rows of the deck for rooms that the rules treat alike, best first.

    None of the rows that are out, and none that breaks a wish more than the best does; beside them
    some of each hue that is liked there, and for accents of each kind, one so deep and strong of
    each hue family: some may fight.
    """
    report, chips, ucs = source.report, source.chips, source.chips.colours.ucs
    costs = _alone(source, plan, rooms, out)
    first = [row for row in rows_of(chips, plan.around) if row not in out][:1]
    role = report.house.rooms[rooms[0]].role
    differ = cheapest_apart(costs, ucs, DISTINCT, DIFFERENT, first=first, out=out)
    found = cheapest_apart(costs, ucs, APART_BY_ROLE[role], SHORTLIST, first=differ, out=out)
    found += _of_each_liked_hue(report.house, rooms[0], chips, costs, out)
    if plan.around is not None and role == "accent":
        for aim in (each for each in house_aims(plan.kind, plan.around) if each.part == "accent"):
            order = np.argsort(costs + aim._replace(hues=(0.0, 180.0)).off(chips, plan.around))
            left = [row for row in order.tolist() if row not in out and np.isfinite(costs[row])]
            found += {chips.families[row]: row for row in left[::-1]}.values()
    return [*dict.fromkeys(found)]


def _of_each_liked_hue(
    house: House, room: str, chips: Chips, costs: Floats, out: Collection[int]
) -> Iterator[int]:
    """For each hue that is liked there, the row that costs least of each strength allowed."""
    wishes = wishes_of(house.brief, room, accent=house.rooms[room].role == "accent")
    strengths = chips.colours.strengths
    allowed = np.isfinite(costs)
    allowed[[*out]] = False
    for hue in sorted(wishes.like):
        named = liked(chips.colours, wishes._replace(like=frozenset({hue}))) & allowed
        for strength in range(len(STRENGTHS)):
            rows = np.flatnonzero(named & (strengths == strength))
            yield from rows[np.argsort(costs[rows], kind="stable")[:1]].tolist()


def _alone(source: "Source", plan: Plan, rooms: Sequence[str], out: Collection[int]) -> Floats:
    """What each row of the deck costs rooms that the rules treat alike, by itself.

    Infinite for what breaks a wish more than the best does, the neutral and what is out apart.
    """
    own = own_rule_costs(source.report.house, rooms[0], source.chips, plan)
    met = clashes(source.report.study, rooms, source.chips) / len(rooms)
    costs = np.sum(list(own.values()), axis=0) + met
    others = np.delete(costs, [*out, *rows_of(source.chips, plan.around)])
    costs[costs >= others.min(initial=np.inf) + BROKEN] = np.inf
    return np.asarray(costs)


def neutral_of(report: Report, rooms: Iterable[str], chips: Chips) -> Swatch | None:
    """The neutral to build around: that of the backbone, else of kept walls, else one of the deck.

    None where none of them has one.
    """
    links = {key for key, room in report.house.rooms.items() if room.role == "backbone"}
    own = house_neutral(report.study, {*rooms} - links)
    if own is not None:
        return own
    rows = np.flatnonzero(chips.colours.near_neutral)
    if not len(rows):
        return None
    some = chips.taken(rows.tolist())
    costs = _neutral_costs(some) + clashes(report.study, list(rooms), some)
    costs = costs + wish_cost(some.colours, wishes_of(report.house.brief))
    return some.swatches[int(costs.argmin())]


def _neutral_costs(chips: Chips) -> Floats:
    off_hue = np.abs((chips.hvc[:, 0] - WARM_HUE + 50.0) % 100.0 - 50.0)
    low, high = NEUTRAL_LRV
    depth = np.maximum(np.maximum(low - chips.lrv, chips.lrv - high), 0.0)
    chroma = np.abs(chips.hvc[:, 2] - NEUTRAL_CHROMA)
    return np.asarray(PER_HUE * off_hue + PER_CHROMA * chroma + PER_POINT * depth)


# A trial house with the paints that are compared

APART = 5.0
"""CAM16-UCS distance by which every new wall paint of a palette, of the backbone and its neutral
apart, differs from all that earlier palettes brought in (our assumption: a clear difference)."""


@dataclass(frozen=True, slots=True)
class Source:
    """What a palette is chosen from and for."""

    report: Report
    """Of the house as it is."""
    asked: PaletteRequest
    deck: str
    chips: Chips
    rooms: tuple[str, ...]
    """Those to be painted."""
    around: Swatch | None
    kinds: tuple[Kind, ...]
    """In the order in which variants take them."""


@dataclass(frozen=True, eq=False)
class Screened:
    """A trial house that has the screened paints, and which of them each room may have."""

    source: Source
    report: Report
    """Of the trial house."""
    plan: Plan
    rows: Mapping[str, Sequence[int]]
    """By room to be painted, rows of the deck."""
    out: frozenset[int]
    """Rows that are like the new paints of earlier variants."""
    ids: Mapping[str, str]
    """By id in the deck, the id in the trial house, in the order in which they were taken."""
    pinned: tuple[str, ...]
    """Ids in the trial house."""

    @property
    def summary(self) -> str:
        """What was screened."""
        around = self.source.around
        built = f" to go with {around.name}" if around else ""
        more = "; those on other walls are compared too" if self._staying else ""
        return f"Shortlisted {len(self.ids):,} of {len(self.source.chips):,} paints{built}{more}"

    @property
    def asked_colours(self) -> int | None:
        """How many wall colours somebody asked for."""
        return self.plan.colours or self.report.house.brief.colours

    def problem(
        self, report: Report, poll: Poll = no_poll, lit: Report | None = None
    ) -> HouseProblem | None:
        """The problem of the walls by a report of the trial house; None where a room has no paint.

        A pinned paint is in every palette: a room of its own stands for it, beside the rooms of
        the house. The walls of rooms that stay, and the paint that the palette is built around,
        may be on other walls too. `lit` and `poll` as in `house_problem`.
        """
        among = {
            room: tuple(dict.fromkeys((*self.pinned, *map(self._id, rows), *self._staying)))
            for room, rows in self.rows.items()
        }
        if not all(among.values()):
            return None
        asked, plan = self.source.asked, self.plan
        made = house_problem(
            report, asked.keep, asked.paints, among=among, plan=plan, lit=lit, poll=poll
        )
        pinned = _pinned(made.problem, self.pinned)
        if asked.paints is None and pinned.paints is not None:
            fixed = {each[0] for each in pinned.candidates.values() if len(each) == 1}
            pinned = replace(pinned, paints=max(pinned.paints, len(fixed)))
        return replace(made, problem=pinned)

    def with_more(
        self, lit: Report, spaces: Sequence[Sequence[str]], poll: Poll = no_poll
    ) -> "Screened":
        """With more paints for each space: those that cost least there in the light of a report."""
        if not spaces:
            return self
        source, chips, rows = self.source, self.source.chips, dict(self.rows)
        for rooms in spaces:
            poll()
            links = self.report.house.rooms[rooms[0]].role == "backbone"
            out = frozenset[int]() if links else self.out
            costs = _alone(source, self.plan, rooms, out)
            known = rows[rooms[0]]
            out |= {*known}
            some = [row for row in np.argsort(costs, kind="stable").tolist() if row not in out]
            some = [row for row in some[:LIT] if np.isfinite(costs[row])]
            if not some:
                continue
            options = options_of(lit.house, chips, source.deck).rows(np.array(some))
            found = np.full(len(chips), np.inf)
            found[some] = group_costs(lit, rooms, "walls", options, grave=self.plan.grave)
            found += costs
            best = [*known, *np.argsort(found, kind="stable")[: min(MORE, len(some))].tolist()]
            ucs, most = chips.colours.ucs, len(best) + MORE_APART
            rows |= dict.fromkeys(rooms, cheapest_apart(found, ucs, CLEAR, most, first=best))
        every = dict.fromkeys(row for each in rows.values() for row in each)
        trial, ids = take_all(self.report.house, _paints(chips, every), source.deck)
        return replace(self, report=self.report.after(trial), rows=rows, ids={**self.ids, **ids})

    @cached_property
    def _staying(self) -> tuple[str, ...]:
        """Paints of the house: of the walls that stay, and what the palette is built around."""
        house, around = self.report.house, self.source.around
        stay = (room.paints.walls for key, room in house.rooms.items() if key not in self.rows)
        own = [paint for paint in stay if paint]
        if around is not None and house.paints.get(around.id) == around.entity:
            own.append(around.id)
        return tuple(dict.fromkeys(own))

    def _id(self, row: int) -> str:
        return self.ids[self.source.chips.swatches[row].id]


def screen(report: Report, chips: Chips, deck: str, asked: PaletteRequest) -> Screened:
    """The deck screened for the house, for the first variant.

    Raises EditError for a room to keep or a pinned paint that is not there, and for nothing to
    paint.
    """
    house = report.house
    open_rooms = rooms_to_fill(house, asked.keep)
    rooms = tuple(room for room in house.rooms if room in open_rooms)
    if not rooms or not len(chips):
        raise EditError("there is no room to paint" if not rooms else "the deck has no paint")
    asked.check(house, chips)
    around = asked.around or _pinned_neutral(report, chips, asked) or neutral_of(
        report, rooms, chips
    )  # fmt: skip
    kinds = (asked.kind,) if asked.kind else _kinds(report, chips, around)
    return variant(Source(report, asked, deck, chips, rooms, around, kinds), ())


def variant(source: Source, before: Sequence[Mapping[str, Swatch]]) -> Screened:
    """The deck screened for a further variant, without what is like the new paints of earlier ones.

    `before` is what the walls of the rooms have in each of them.
    """
    asked, chips, house, around = source.asked, source.chips, source.report.house, source.around
    plan = Plan(
        asked.paints, around, source.kinds[len(before) % len(source.kinds)], _revised(source),
        {room: tuple(walls[room] for walls in before) for room in source.rooms},
    )  # fmt: skip
    near = np.zeros(len(chips), dtype=np.bool_)
    earlier = {swatch.id: swatch.colour for walls in before for swatch in walls.values()}
    for colour in earlier.values():
        if around is None or colour != around.colour:
            near |= ucs_parts(chips.colours.ucs, np.array(colour.ucs))[0] < APART
    out = frozenset(np.flatnonzero(near).tolist()) - {*rows_of(chips, around)}
    rows: dict[str, Sequence[int]] = {}
    for rooms in _alike(source, plan):
        links = house.rooms[rooms[0]].role == "backbone"
        found = shortlist(source, plan, rooms, frozenset() if links else out)
        rows |= dict.fromkeys(rooms, found)
    pins = [row for chip, row in chips.rows.items() if chip in asked.chips]
    every = dict.fromkeys([*pins, *(row for each in rows.values() for row in each)])
    trial, ids = take_all(house, _paints(chips, every), source.deck)
    for room in source.rooms if asked.trim else ():  # what is to be replaced
        trial = assign(trial, room, "trim", None)
    pinned = dict.fromkeys([*sorted(asked.own), *(ids[chips.swatches[row].id] for row in pins)])
    return Screened(source, source.report.after(trial), plan, rows, out, ids, tuple(pinned))


def _paints(chips: Chips, rows: Iterable[int]) -> Mapping[str, Paint]:
    """Paints of a deck by their id there."""
    swatches = (chips.swatches[row] for row in rows)
    return {swatch.id: cast("Paint", swatch.entity) for swatch in swatches}


def _alike(source: Source, plan: Plan) -> list[list[str]]:
    """The rooms to be painted in groups that the rules treat alike."""
    house, groups = source.report.house, dict[tuple[object, ...], list[str]]()
    for room in source.rooms:
        role = house.rooms[room].role
        wishes = wishes_of(house.brief, room, accent=role == "accent")
        own = house.brief.rooms.get(room)
        ranged, accent = own is not None and own.lrv is not None, accent_place(house, room)
        key = role, wishes, ranged, plan.revised.get(room), accent
        groups.setdefault(key, []).append(room)
    return list(groups.values())


def _revised(source: Source) -> Mapping[str, str]:
    """The hue family of the walls of painted rooms that get another colour.

    A paint to build around that was asked for stands before it.
    """
    if source.asked.around is not None:
        return {}
    report, found = source.report, {}
    for room in source.rooms:
        walls = report.house.rooms[room].paints.walls
        family = report.study.paint(walls).colour.undertone.family if walls else "none"
        if family != "none":
            found[room] = family
    return found


def _pinned_neutral(report: Report, chips: Chips, asked: PaletteRequest) -> Swatch | None:
    """A pinned paint that is nearly neutral."""
    pins = [report.study.paint(paint) for paint in sorted(asked.own)]
    pins += [chips.swatch(chip) for chip in sorted(asked.chips)]
    return next((swatch for swatch in pins if swatch.colour.near_neutral), None)


def _kinds(report: Report, chips: Chips, around: Swatch | None) -> tuple[Kind, ...]:
    """The kinds, those first whose sets around the paint are best."""
    if around is None:
        return KINDS
    made = sets_around(Basis(around, chips, report.house.brief))
    return tuple(dict.fromkeys((*(found.kind for found in made), *KINDS)))


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
