"""The whole house as one problem: which wall paint for which room, at the least cost.

The cost of an assignment is what the checks would cost in each room by itself and in each pair of
rooms that see each other, judged under the reference light, and a little for each distinct paint
(our assumption). Of the checks of light only `dim` counts, which looks at one room's daylight.
Those of whole views (crowd, lone), of the way through the house (turn) and of how paints look in
each light add nothing here: they are told of the result.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from housemap.checks import CHECKS, Check, Finding, Report
from housemap.checks.page import Scope
from housemap.choose.optimiser.problem import Array, Pair, Problem
from housemap.errors import EditError
from housemap.model.edits import assign
from housemap.model.house import House, Role, Room
from housemap.study import Coat, PaintedRoom, SeenPair, Study, Swatch

PAINT_COST = 1.0
"""Of one more distinct wall paint: as much as a note (our assumption)."""

_STRONG_CHROMA = 25.0
"""CAM16-UCS chroma above which a paint is an accent whatever its LRV, as in the check `lone`."""


@dataclass(frozen=True, slots=True)
class Tier:
    """The paints that suit a role, by LRV; strong ones suit accents alone."""

    lrv_from: float
    lrv_below: float
    strong: bool = False

    def holds(self, paint: Swatch) -> bool:
        if paint.colour.undertone.chroma > _STRONG_CHROMA:
            return self.strong
        return self.lrv_from <= paint.lrv < self.lrv_below


TIERS: Mapping[Role, Tier] = {
    "backbone": Tier(55.0, 75.0),
    "room": Tier(35.0, 55.0),
    "accent": Tier(0.0, 35.0, strong=True),
}
"""A light backbone (usually LRV 60 to 70), the next tier for rooms that can be closed off (LRV in
the 40s), and an accent deep or strong (common practice, no source)."""


def problem_of(
    report: Report,
    keep: Iterable[str] | None = None,
    paints: int | None = None,
    among: Mapping[Role | None, tuple[str, ...]] | None = None,
    free: str | None = None,
) -> Problem:
    """The problem of the rooms without a wall paint, or of all rooms but those in `keep`.

    A kept room has its own paint as its only candidate, so that the limit counts it too. `among`
    gives the candidates by role; without it all paints that suit the role are candidates. `free`
    is a room that may have any paint of the house, whatever it has and its role is. Raises
    EditError for a house without paints, and for a room in `keep` that the house does not have or
    that has no wall paint.
    """
    study, house = report.study, report.house
    if not house.paints:
        raise EditError("the house has no paint to fill rooms with")
    open_rooms = rooms_to_fill(house, keep) | ({free} if free else set())
    rooms = [key for key in house.rooms if key in open_rooms or house.rooms[key].paints.walls]
    candidates = {
        key: _candidates(study, house.rooms[key], among)
        if key in open_rooms
        else _own(house.rooms[key])
        for key in rooms
    } | ({free: tuple(house.paints)} if free else {})
    variants = {
        key: [_in_paint(study, key, paint) for paint in paints_of]
        for key, paints_of in candidates.items()
    }
    costs = Costs(study)
    seen = (pair for key, pair in study.pairs.items() if variants.keys() >= {*key})
    return Problem(
        tuple(candidates),
        candidates,
        {key: np.array([costs.of_room(part) for part in parts]) for key, parts in variants.items()},
        tuple(_pair(costs, pair, variants) for pair in seen),
        PAINT_COST,
        paints,
    )


def filled(house: House, assignment: Mapping[str, str]) -> House:
    """The house with every room of the answer in its paint."""
    for room, paint in assignment.items():
        house = assign(house, room, "walls", paint)
    return house


def rooms_to_fill(house: House, keep: Iterable[str] | None = None) -> frozenset[str]:
    """Those without a wall paint, or all but those in `keep`. Raises EditError as `problem_of`."""
    indoors = frozenset(k for k, room in house.rooms.items() if room.use != "outdoor")
    if keep is None:
        return frozenset(k for k in indoors if house.rooms[k].paints.walls is None)
    kept = frozenset(keep)
    for room in kept:
        if room not in house.rooms:
            raise EditError(f'there is no room "{room}"')
        if house.rooms[room].paints.walls is None:
            raise EditError(f'room "{room}" has no wall paint to keep')
    return indoors - kept


def _own(room: Room) -> tuple[str, ...]:
    return (room.paints.walls,) if room.paints.walls else ()


def _candidates(
    study: Study, room: Room, among: Mapping[Role | None, tuple[str, ...]] | None
) -> tuple[str, ...]:
    """The paints that suit the room's role; all where none does or it has no role."""
    if among is not None:
        return among[room.role]
    every = tuple(study.house.paints)
    if room.role is None:
        return every
    tier = TIERS[room.role]
    return tuple(p for p in every if tier.holds(study.paint(p))) or every


def _in_paint(study: Study, key: str, paint: str) -> PaintedRoom:
    part = study.rooms[key]
    room = replace(part.room, paints=replace(part.room.paints, walls=paint))
    coats = {**part.coats, "walls": Coat(key, "walls", study.paint(paint))}
    return replace(part, room=room, coats=coats)


def counts(check: Check) -> bool:
    """Whether a check costs anything here: it looks at rooms by themselves, or at seen pairs."""
    return bool(check.of_room or check.of_pair) and check.id != "turn"


def parts_of(report: Report) -> Mapping[str, float]:
    """What each check that counts costs in the house as it is, by check id.

    Of the rooms that have a wall paint; the distinct paints come on top.
    """
    study = report.study
    rooms = [part for part in study.rooms.values() if "walls" in part.coats]
    pairs = [pair for pair in study.pairs.values() if pair.walls]
    parts: dict[str, float] = {}
    for check in filter(counts, CHECKS):
        costs = Costs(study, [check])
        parts[check.id] = sum(map(costs.of_room, rooms)) + sum(map(costs.of_pair, pairs))
    return parts


class Costs:
    """What the checks cost in a painted room and in a seen pair; alike pairs are judged once."""

    def __init__(self, study: Study, checks: Iterable[Check] = CHECKS) -> None:
        scopes = [(check, Scope(study, check.limits_in(study.house))) for check in checks]
        self._rooms = [(c, c.of_room, s) for c, s in scopes if c.of_room and counts(c)]
        self._pairs = [(c, c.of_pair, s) for c, s in scopes if c.of_pair]
        self._known: dict[object, float] = {}

    def of_room(self, part: PaintedRoom) -> float:
        return sum(_cost(check, look(part, scope)) for check, look, scope in self._rooms)

    def of_pair(self, pair: SeenPair) -> float:
        stops = frozenset((o.kind, o.stop) for o in pair.openings.values())
        key = pair.sighting.kind, stops, _signature(pair.first), _signature(pair.second)
        if key not in self._known:
            found = (_cost(check, look(pair, scope)) for check, look, scope in self._pairs)
            self._known[key] = sum(found)
        return self._known[key]


def _signature(part: PaintedRoom) -> object:
    """All that a check of pairs may look at in a room."""
    coats = frozenset((coat.surface, coat.swatch.key) for coat in part.every_coat)
    return part.room.role, part.room.use, coats


def _cost(check: Check, findings: Iterable[Finding]) -> float:
    return sum(check.cost(finding) for finding in findings)


def _pair(costs: Costs, pair: SeenPair, variants: Mapping[str, list[PaintedRoom]]) -> Pair:
    first, second = variants[pair.first.id], variants[pair.second.id]
    cost: Array = np.array(
        [[costs.of_pair(replace(pair, first=a, second=b)) for b in second] for a in first]
    )
    return Pair((pair.first.id, pair.second.id), cost)
