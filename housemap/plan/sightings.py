"""Which rooms see each other, and through what; pure Python.

Where measures allow, the pairs are found. Elsewhere they are what is declared and what openings
make likely: rooms see each other through one opening, and through two of them in a row.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from housemap.model.house import House
from housemap.plan.house_graph import HouseGraph, Pair, Sighting, SightKind, Way, sorted_pair
from housemap.plan.placed import Plan
from housemap.plan.space import space_of
from housemap.plan.ways import DEPTH, ways

if TYPE_CHECKING:  # brings numpy, which the first frame does without
    from housemap.plan.sight import Sight


def sightings(
    house: House, graph: HouseGraph, plan: Plan, sight: "Sight | None" = None
) -> Mapping[Pair, Sighting]:
    """Every pair of rooms that see each other, by sorted pair.

    With the house's sight, found pairs have their true share; without it they have none yet.
    """
    direct = graph.seen_through()
    shares = _shares(sight) if sight else {}
    found = {
        pair: Sighting(pair, way, _kind(graph, direct, pair), shares.get(pair))
        for pair, way in _found(house, plan, sight)
    }
    one = ((pair, keys[:1]) for pair, keys in direct.items())
    for pair, way in (*one, *_through_two(graph, plan)):
        if pair not in found:
            found[pair] = Sighting(pair, way, _kind(graph, direct, pair), None)
    for line in graph.sightlines.values():
        pair = sorted_pair(*line.between)
        known = found.get(pair)
        if known is None or known.share is None:
            way = known.through if known else ()
            found[pair] = Sighting(pair, way, _kind(graph, direct, pair), line.share)
    return dict(sorted(found.items()))


def contradicted(graph: HouseGraph, plan: Plan, found: Mapping[Pair, object]) -> tuple[str, ...]:
    """The declared sightlines that measures speak against, by id.

    `found` has the pairs that see each other by measures (`Sight.pairs`). A sightline between
    levels, or with an unmeasured room or opening on any way between its rooms, may well be true.
    """
    return tuple(
        key
        for key, line in graph.sightlines.items()
        if sorted_pair(*line.between) not in found
        and _comparable(plan, line.between)
        and not _guessed_way(graph, plan, line.between)
    )


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


def _kind(graph: HouseGraph, direct: Mapping[Pair, Way], pair: Pair) -> SightKind:
    return graph.openings[direct[pair][0]].kind if pair in direct else "sightline"


def _through_two(graph: HouseGraph, plan: Plan) -> Iterator[tuple[Pair, Way]]:
    """Rooms that a third one joins, unless measures can tell whether they see each other."""
    for room in graph.rooms:
        exits = graph.looks_through(room)
        guessed = {each.opening for each in exits if not _is_known(graph, plan, each.opening)}
        for first, a in exits:
            for second, b in exits:
                if a < b and (first in guessed or second in guessed):
                    yield (a, b), (first, second)


def _is_known(graph: HouseGraph, plan: Plan, key: str) -> bool:
    """Whether measures tell what is seen through it: in the plane, or that it leaves the plane."""
    if key in plan.openings:
        return plan.openings[key].measured
    a, b = (plan.rooms[room] for room in graph.openings[key].between)
    return a.sized and b.sized and a.level != b.level


def _comparable(plan: Plan, between: Pair) -> bool:
    a, b = (plan.rooms[room] for room in between)
    return a.measured and b.measured and a.level == b.level


def _guessed_way(graph: HouseGraph, plan: Plan, between: Pair) -> bool:
    """Whether some chain of openings that is not measured throughout joins the two."""
    return any(
        not _is_known(graph, plan, key)
        for way in graph.sight_chains(*between, most=DEPTH)
        for key in way
    )
