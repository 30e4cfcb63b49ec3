"""The whole house as one problem: which wall paint for which room, at the least cost.

The cost of an assignment is what the checks would cost in each room by itself and in each pair of
rooms that see each other, in every light that the report has, and a little for each distinct paint
(our assumption). How two rooms look to each other depends on their own paints alone, since no
light is taken to pass from room to room; so the cost is a sum over rooms and pairs. Checks of
whole views (crowd, lone) add nothing here: they are told of the result.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from housemap.checks import Check, Report, check_of
from housemap.checks.check import Compare, Listed, OfRoom
from housemap.checks.judging import as_it_is
from housemap.checks.options import RoomOptions, own_options
from housemap.choose.optimiser.problem import Array, Pair, Problem
from housemap.choose.sweep.costs import pair_costs, room_costs
from housemap.choose.sweep.trial import LitSurface
from housemap.errors import EditError
from housemap.model.edits import assign
from housemap.model.house import House, Role, Room
from housemap.study import Study, Swatch

PAINT_COST = 1.0
"""Of one more distinct wall paint: as much as a note (our assumption)."""

_STRONG_CHROMA = check_of("lone").defaults["chroma"]
"""CAM16-UCS chroma above which a paint is an accent whatever its LRV."""


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
    sides = {key: _side(report, key, paints_of) for key, paints_of in candidates.items()}
    own, pairs = _costs(report, sides)
    return Problem(tuple(candidates), candidates, own, pairs, PAINT_COST, paints)


def _costs(
    report: Report, sides: Mapping[str, RoomOptions]
) -> tuple[Mapping[str, Array], tuple[Pair, ...]]:
    """Of each room, with what it sees of rooms that nobody paints; and of each pair of rooms."""
    study, deep = report.study, report.deep is not None
    own = {key: room_costs(study, side, deep=deep).cost[:, 0] for key, side in sides.items()}
    pairs = []
    for key, pair in study.pairs.items():
        known = [room for room in key if room in sides]
        if len(known) == len(key):
            cost = pair_costs(report, sides[key[0]], sides[key[1]]).cost
            pairs.append(Pair(key, cost))
        elif known:
            [room] = known
            other = as_it_is(study, pair.other(room), deep=deep)
            own[room] = own[room] + pair_costs(report, sides[room], other).cost[:, 0]
    return own, tuple(pairs)


def _side(report: Report, room: str, paints: Sequence[str]) -> RoomOptions:
    """A room with its candidates on the walls, in all the lights that the report has."""
    study = report.study
    options = own_options([study.paint(paint) for paint in paints])
    return LitSurface(study, room, "walls").options(options, deep=report.deep is not None)


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


def parts_of(report: Report) -> Mapping[str, float]:
    """What each check costs in the house as it is, as far as it counts here, by check id.

    Of the rooms that have a wall paint, and of what they see; the distinct paints come on top.
    """
    rooms = report.study.rooms
    parts: dict[str, float] = {}
    for _, (table, key), finding in report.counted:
        named = {"rooms": (key,), "pairs": key}.get(table, ())
        if any("walls" in rooms[room].coats for room in named):
            parts[finding.check] = parts.get(finding.check, 0.0) + finding.cost
    return parts


def counts(check: Check) -> bool:
    """Whether a check costs anything here: it looks at rooms by themselves, or at seen pairs."""
    return any(
        isinstance(look, Compare | OfRoom) or (isinstance(look, Listed) and look.table == "rooms")
        for look in check.looks
    )
