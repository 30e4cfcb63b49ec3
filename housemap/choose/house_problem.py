"""The whole house as one problem: which wall paint for which room, at the least cost.

The cost of an assignment is what the checks would cost in each room by itself and in each pair of
rooms that see each other, in every light that the report has; what the rules of a scheme cost
(`schemes.house_rules`: the client's brief, the shape of a scheme, variety); and a little for each
distinct paint (our assumption). Nothing else decides, and no paint is filtered out unseen.

The cost is a sum over rooms and pairs. So each room is judged in the light that reaches it while
its neighbours have the paints that they have now; the report of the result has the light of their
new ones. In the demo all neighbours at LRV 85 or 14 change the light on a room's walls by less than
7 % in most rooms, by up to 82 % on a landing that is lit through its doors; choices by chance cost
what the report says within 1 % (five of six, the other 9 %). Checks of whole views (crowd, lone)
add nothing here: the report of the result lists them.
"""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf, isfinite
from typing import NamedTuple

import numpy as np

from housemap.checks import Check, Finding, Report, check_of, report_of
from housemap.checks.check import Compare, Listed, OfRoom
from housemap.checks.finding import cost_in_house
from housemap.checks.judging import as_it_is
from housemap.checks.options import RoomOptions, own_options
from housemap.choose.optimiser.best_completion import completions
from housemap.choose.optimiser.incumbent import Signal, StoppedError
from housemap.choose.optimiser.problem import Array, Pair, Poll, Problem, Progress, no_poll
from housemap.choose.optimiser.solve import solve
from housemap.choose.option_costs import pair_costs, room_costs
from housemap.choose.schemes.house_rules import Plan, Rule, rules_of, rules_shown
from housemap.choose.surface_trial import options_on
from housemap.errors import EditError
from housemap.model.edits import assign
from housemap.model.fieldtypes import unknown_id
from housemap.model.house import House
from housemap.model.samples import all_tried, trying
from housemap.model.wishes import rooms_to_paint

PAINT_COST = 1.0
"""Of one more distinct wall paint: as much as a note (our assumption)."""


@dataclass(frozen=True, eq=False)
class HouseProblem:
    """The problem of a house, and what of its costs is due to the rules of a scheme."""

    problem: Problem
    """With the costs of the rules."""
    rules: tuple[Rule, ...]
    shown: tuple[str, ...]
    """Each rule as a sentence."""

    def counting(self, times: Mapping[str, float]) -> Problem:
        """The problem with what some of the rules cost so many times as much."""
        more = [
            Rule(
                rule.name,
                {room: (times[rule.name] - 1.0) * cost for room, cost in rule.own.items()},
                tuple(Pair(p.rooms, (times[rule.name] - 1.0) * p.cost) for p in rule.pairs),
            )
            for rule in self.rules
            if rule.name in times
        ]
        own, pairs = _with_rules(self.problem.own, self.problem.pairs, more)
        return replace(self.problem, own=own, pairs=pairs)


def house_problem(
    report: Report,
    keep: Iterable[str] | None = None,
    paints: int | None = None,
    *,
    among: Mapping[str, tuple[str, ...]] | None = None,
    free: str | None = None,
    plan: Plan | None = None,
    lit: Report | None = None,
    poll: Poll = no_poll,
) -> HouseProblem:
    """The problem of the rooms without a wall paint, or of all rooms but those in `keep`.

    A kept room, also by the brief, has its own paint as its only candidate, so that the limit
    counts it too. Without `paints` the brief's number of colours is the limit, or what kept rooms
    need where that is more. `among` gives the candidates by room; without it every paint of the
    house is one. `free` is a room that may have any paint, whatever it has now. `lit` is the
    same house in other paints, whose light on each room is taken. `poll` is called after each room
    and pair, and may raise. Raises EditError for a house without paints, and for a room in `keep`
    that the house does not have or that has no wall paint.
    """
    study, house = report.study, report.house
    if not house.paints:
        raise EditError("the house has no paint to fill rooms with")
    open_rooms = rooms_to_fill(house, keep) | ({free} if free else set())
    candidates = _candidates(house, open_rooms, among, free)
    plan = plan or Plan(paints)
    paints = paints or _most_paints(house, candidates, open_rooms)
    lights, sides = (lit or report).study, dict[str, RoomOptions]()
    for key, paints_of in candidates.items():
        poll()
        options = own_options([study.paint(paint) for paint in paints_of])
        sides[key] = options_on(lights, key, "walls", options, deep=report.deep is not None)
    own, pairs = _costs(report, sides, plan.grave, poll)
    least = {room: costs.copy() for room, costs in own.items()}
    for pair in pairs:
        for axis, room in enumerate(pair.rooms):
            least[room] += pair.cost.min(axis=1 - axis)
    rules = rules_of(study, candidates, plan, least)
    own, pairs = _with_rules(own, pairs, rules)
    problem = Problem(tuple(candidates), candidates, own, pairs, PAINT_COST, paints)
    return HouseProblem(problem, rules, rules_shown(house.brief, plan))


def _candidates(
    house: House, open_rooms: Collection[str], among: Mapping[str, tuple[str, ...]] | None,
    free: str | None,
) -> dict[str, tuple[str, ...]]:  # fmt: skip
    """By room, without the paints that were rejected there unless none is left."""
    every, tried, found = tuple(house.paints), all_tried(house), dict[str, tuple[str, ...]]()
    for key, room in house.rooms.items():
        if key == free:
            found[key] = every
        elif key in open_rooms:
            paints = every if among is None else among[key]
            left = tuple(
                paint for paint in paints if tried.get(trying(paint, key, "walls")) != "rejected"
            )
            found[key] = left or paints
        elif room.paints.walls:
            found[key] = (room.paints.walls,)
    return found


def _most_paints(
    house: House, candidates: Mapping[str, Sequence[str]], open_rooms: Collection[str]
) -> int | None:
    """As many as the client wants; at least those of kept rooms, with one more if one needs it."""
    kept = {paints[0] for room, paints in candidates.items() if room not in open_rooms}
    more = any(kept.isdisjoint(paints) for room, paints in candidates.items() if room in open_rooms)
    asked = house.brief.colours
    return None if asked is None else max(asked, len(kept) + more)


def _with_rules(
    own: Mapping[str, Array], pairs: Sequence[Pair], rules: Sequence[Rule]
) -> tuple[Mapping[str, Array], tuple[Pair, ...]]:
    """The costs of the checks and those of the rules, summed."""
    alone = dict(own)
    together = {frozenset(pair.rooms): pair for pair in pairs}
    for rule in rules:
        for room, cost in rule.own.items():
            alone[room] = alone[room] + cost
        for pair in rule.pairs:
            known = together.get(frozenset(pair.rooms), Pair(pair.rooms, np.zeros(1)))
            turned = pair.cost if known.rooms == pair.rooms else pair.cost.T
            together[frozenset(pair.rooms)] = Pair(known.rooms, known.cost + turned)
    return alone, tuple(together.values())


def _costs(
    report: Report, sides: Mapping[str, RoomOptions], grave: float, poll: Poll
) -> tuple[Mapping[str, Array], tuple[Pair, ...]]:
    """Of each room, with what it sees of rooms that nobody paints; and of each pair of rooms."""
    study, deep = report.study, report.deep is not None
    own: dict[str, Array] = {}
    for room, side in sides.items():
        poll()
        own[room] = room_costs(study, side, deep=deep).cost(grave)[:, 0]
    pairs = []
    for key, pair in study.pairs.items():
        poll()
        known = [room for room in key if room in sides]
        if len(known) == len(key):
            cost = pair_costs(report, sides[key[0]], sides[key[1]]).cost(grave)
            pairs.append(Pair(key, cost))
        elif known:
            [room] = known
            other = as_it_is(study, pair.other(room), deep=deep)
            own[room] += pair_costs(report, sides[room], other).cost(grave)[:, 0]
    return own, tuple(pairs)


def filled(house: House, assignment: Mapping[str, str]) -> House:
    """The house with every room of the answer in its paint."""
    for room, paint in assignment.items():
        house = assign(house, room, "walls", paint)
    return house


def rooms_to_fill(house: House, keep: Iterable[str] | None = None) -> frozenset[str]:
    """Those without a wall paint, or all but those in `keep`, which must have one: EditError."""
    rooms = rooms_to_paint(house)
    if keep is None:
        return frozenset(key for key, room in rooms.items() if room.paints.walls is None)
    kept = frozenset(keep)
    for room in kept:
        if room not in house.rooms:
            raise EditError(unknown_id("room", room, house.rooms))
        if house.rooms[room].paints.walls is None:
            raise EditError(f'room "{room}" has no wall paint to keep')
    return frozenset(rooms) - kept


def approved_rooms(house: House) -> frozenset[str]:
    """Rooms whose wall paint has a sample that was approved there."""
    tried = all_tried(house)
    return frozenset(
        key
        for key, room in house.rooms.items()
        if tried.get(trying(room.paints.walls, key, "walls")) == "kept"
    )


# A search for the best choice

Search = Callable[[Problem], Iterable[Progress]]
"""Reports how far it has come, at last its answer; nothing once it was stopped."""
Stopped = Callable[[], bool]
"""Whether what is known by now is to do."""
Make = Callable[..., HouseProblem | None]
"""Builds the problem for a report; with `poll`, as in `house_problem`."""
FIRST_SECONDS = 0.3
"""For a first choice by the reference light alone, of which nothing is claimed."""


def never() -> bool:
    return False


def polling(stopped: Stopped) -> Poll:
    """Raises StoppedError as soon as it is stopped."""

    def poll() -> None:
        if stopped():
            raise StoppedError

    return poll


def choices(
    report: Report, make: Make, search: Search, stopped: Stopped = never
) -> Iterator[tuple[HouseProblem, Progress]]:
    """Ever better choices: soon one by the reference light alone, then those of the search.

    The problem in all lights is given up as soon as it is stopped, and the first choice remains.
    Raises InputError where no choice keeps to the limit of paints.
    """
    if report.deep is not None:
        soon = make(report_of(report.house, report, deep=False))
        first = solve(soon.problem, seconds=FIRST_SECONDS) if soon else None
        if soon and first and isfinite(first.cost):
            yield soon, replace(first, bound=-inf, proven=False)
    try:
        made = make(report, poll=polling(stopped))
    except StoppedError:
        return
    for progress in search(made.problem) if made else ():
        if made and isfinite(progress.cost):
            yield made, progress


def parts_of(report: Report) -> Mapping[str, float]:
    """What each check costs in the house as it is, as far as it counts here, by check id.

    Of the rooms that have a wall paint, and of what they see; the distinct paints come on top.
    """
    parts: dict[str, float] = {}
    for finding in findings_that_count(report):
        parts[finding.check] = parts.get(finding.check, 0.0) + cost_in_house(finding)
    return parts


def findings_that_count(report: Report) -> Iterator[Finding]:
    """Those of the rooms that have a wall paint, and of what they see."""
    rooms = report.study.rooms
    for (table, key), finding in report.counted:
        named = {"rooms": (key,), "pairs": key}.get(table, ())
        painted = any("walls" in rooms[room].coats for room in named)
        if painted and not check_of(finding.check).wish:  # the rule of that name costs it
            yield finding


def counts(check: Check) -> bool:
    """Whether a check costs anything here: it looks at rooms by themselves, or at seen pairs."""
    return not check.wish and any(
        isinstance(look, Compare | OfRoom) or (isinstance(look, Listed) and look.table == "rooms")
        for look in check.looks
    )


# The best that the whole house can be with each paint in one room, its bare rooms filled.

SECONDS = 2.0


class Reach(NamedTuple):
    """By paint of the house, what the whole house costs at best with it in the room."""

    at_least: Mapping[str, float]
    at_most: Mapping[str, float]
    """What a choice that exists costs; equal where that is exact."""
    rooms: int
    """That are bare beside the one."""


def reach_of(
    report: Report, room: str, seconds: float = SECONDS, stop: Signal | None = None
) -> Reach | None:
    """For the walls of a room; None where no other one is left to fill, or the room is outdoors."""
    house = report.house
    others = rooms_to_fill(house) - {room}
    if not others or not house.paints or house.rooms[room].use == "outdoor":
        return None
    problem = house_problem(report, free=room).problem
    found = completions(problem, seconds=seconds, stop=stop)
    paints = problem.candidates[room]
    at_least, at_most = found.at_least[room].tolist(), found.at_most[room].tolist()
    known = [at for at, most in enumerate(at_most) if most < float("inf")]
    return Reach(
        {paints[at]: at_least[at] for at in known},
        {paints[at]: at_most[at] for at in known},
        len(others),
    )
