"""Which rooms see each other, and through what; pure Python.

Where measures allow, the pairs are found. Elsewhere they are what is declared and what openings
make likely: rooms see each other through one opening, and through two of them in a row.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from housemap.model.house import House, OpeningKind
from housemap.plan.placed import Plan
from housemap.plan.space import is_looked_through, space_of
from housemap.plan.ways import DEPTH, Way, ways

if TYPE_CHECKING:  # brings numpy, which the first frame does without
    from housemap.plan.sight import Sight

SightKind = Literal["open", "cased", "doorway", "glazed", "stairs", "sightline"]
Pair = tuple[str, str]
"""Two room ids, sorted."""

_OPENNESS: Mapping[OpeningKind, int] = {
    "open": 0, "cased": 1, "glazed": 2, "stairs": 3, "doorway": 4
}  # fmt: skip
"""The most open first."""


@dataclass(frozen=True, slots=True)
class Sighting:
    """Two rooms of which one sees the other."""

    rooms: Pair
    through: Way
    """The openings on the shortest way from the first room to the second; none where declared."""
    kind: SightKind
    """Of the most open opening between the two, or "sightline" where they share none."""
    share: float | None
    """Of the full circle, 0..1, from the room that sees more; None where not known."""


def sightings(house: House, plan: Plan, sight: "Sight | None" = None) -> Mapping[Pair, Sighting]:
    """Every pair of rooms that see each other, by sorted pair.

    With the house's sight, found pairs have their true share; without it they have none yet.
    """
    direct = _direct(house)
    shares = _shares(sight) if sight else {}
    found = {
        pair: Sighting(pair, way, _kind(house, direct, pair), shares.get(pair))
        for pair, way in _found(house, plan, sight)
    }
    for pair, way in (*_through_one(direct), *_through_two(house, plan)):
        if pair not in found:
            found[pair] = Sighting(pair, way, _kind(house, direct, pair), None)
    for line in house.sightlines.values():
        pair = sorted_pair(*line.between)
        known = found.get(pair)
        if known is None or known.share is None:
            way = known.through if known else ()
            found[pair] = Sighting(pair, way, _kind(house, direct, pair), line.share)
    return dict(sorted(found.items()))


def contradicted(house: House, plan: Plan, found: Mapping[Pair, object]) -> tuple[str, ...]:
    """The declared sightlines that measures speak against, by id.

    `found` has the pairs that see each other by measures (`Sight.pairs`). A sightline between
    levels, or with an unmeasured room or opening on any way between its rooms, may well be true.
    """
    lookouts = _lookouts(house)
    return tuple(
        key
        for key, line in house.sightlines.items()
        if sorted_pair(*line.between) not in found
        and _comparable(plan, line.between)
        and not _guessed_way(house, plan, lookouts, line.between)
    )


def sorted_pair(a: str, b: str) -> Pair:
    return (a, b) if a < b else (b, a)


def _found(house: House, plan: Plan, sight: "Sight | None") -> Iterator[tuple[Pair, Way]]:
    """The pairs by measures, and the shortest way from the first to the second."""
    pairs = sight.pairs() if sight else ways(space_of(house, plan))
    for pair, several in pairs.items():
        yield pair, several[0]


def _shares(sight: "Sight") -> dict[Pair, float]:
    shares: dict[Pair, float] = defaultdict(float)
    for room, seen in sight.rooms.items():
        for other, share in seen.views.shares.items():
            pair = sorted_pair(room, other)
            shares[pair] = max(shares[pair], share)
    return shares


def _direct(house: House) -> dict[Pair, list[str]]:
    """The openings between two rooms that one looks through, the most open first."""
    between: dict[Pair, list[str]] = defaultdict(list)
    for key, opening in house.openings.items():
        if is_looked_through(opening):
            between[sorted_pair(*opening.between)].append(key)
    for keys in between.values():
        keys.sort(key=lambda key: _OPENNESS[house.openings[key].kind])
    return between


def _kind(house: House, direct: Mapping[Pair, list[str]], pair: Pair) -> SightKind:
    return house.openings[direct[pair][0]].kind if pair in direct else "sightline"


def _through_one(direct: Mapping[Pair, list[str]]) -> Iterator[tuple[Pair, Way]]:
    for pair, keys in direct.items():
        yield pair, (keys[0],)


def _through_two(house: House, plan: Plan) -> Iterator[tuple[Pair, Way]]:
    """Rooms that a third one joins, unless measures can tell whether they see each other."""
    for doors in _lookouts(house).values():
        for first, a in doors:
            for second, b in doors:
                if a < b and not (_is_known(house, plan, first) and _is_known(house, plan, second)):
                    yield (a, b), (first, second)


def _lookouts(house: House) -> dict[str, list[tuple[str, str]]]:
    """The openings that one looks through from each room, and the rooms behind them."""
    found: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for key, opening in house.openings.items():
        if is_looked_through(opening):
            a, b = opening.between
            found[a].append((key, b))
            found[b].append((key, a))
    return found


def _is_known(house: House, plan: Plan, key: str) -> bool:
    """Whether measures tell what is seen through it: in the plane, or that it leaves the plane."""
    if key in plan.openings:
        return plan.openings[key].measured
    a, b = (plan.rooms[room] for room in house.openings[key].between)
    return a.sized and b.sized and a.level != b.level


def _comparable(plan: Plan, between: Pair) -> bool:
    a, b = (plan.rooms[room] for room in between)
    return a.measured and b.measured and a.level == b.level


def _guessed_way(
    house: House, plan: Plan, lookouts: Mapping[str, list[tuple[str, str]]], between: Pair
) -> bool:
    """Whether some chain of openings that is not measured throughout joins the two."""
    start, end = between
    chains: list[tuple[tuple[str, ...], bool]] = [((start,), False)]
    while chains:
        rooms, guessed = chains.pop()
        for key, room in lookouts.get(rooms[-1], ()) if len(rooms) <= DEPTH else ():
            now = guessed or not _is_known(house, plan, key)
            if room == end and now:
                return True
            if room not in rooms and room != end:
                chains.append(((*rooms, room), now))
    return False
