"""Which rooms see each other, exactly where measures allow, and through what; pure Python.

In convex parts a line runs through a chain of passages when it separates all their left ends from
all their right ends, which is possible when all vectors from a right end to a left end point into
one open half-plane. A search over the parts keeps the two outermost of these vectors; a passage
adds its own and closes the search as soon as no half-plane is left.

Without measures, rooms see each other where that is declared, through one opening, and through two
openings in a row.
"""

from collections.abc import Iterator, Mapping

from housemap.model.geometry import wall_in
from housemap.model.house import Point
from housemap.plan.floor_plan import Plan
from housemap.plan.free_space import PartKey, Space
from housemap.plan.house_graph import HouseGraph, Pair, Sighting, SightKind, Way, sorted_pair

DEPTH = 6
"""Sight is followed through at most so many openings."""
_PARALLEL_M2 = 1e-9
"""A cross product below this counts as none: a sliver thinner than a micrometre is not seen."""

Cone = tuple[float, float, float, float]
"""The rightmost and the leftmost of the vectors, x and y each."""
Ends = tuple[Point, ...]


def ways(space: Space) -> Mapping[tuple[str, str], tuple[Way, ...]]:
    """By sorted pair of rooms that see each other: the ways from first to second, short first."""
    return {
        (room, other): in_order(several)
        for room in sorted(space.rooms)
        for other, several in sorted(ways_from(space, room).items())
        if room < other
    }


def in_order(several: set[Way]) -> tuple[Way, ...]:
    """The shortest first."""
    return tuple(sorted(several, key=lambda way: (len(way), way)))


def ways_from(space: Space, room: str) -> dict[str, set[Way]]:
    """The rooms seen from somewhere in `room`, and through which openings."""
    found: dict[str, set[Way]] = {}

    def search(
        parts: tuple[PartKey, ...], way: Way, before: tuple[Ends, Ends], known: Cone | None
    ) -> None:
        """Depth first over the passages that a line can still take."""
        lefts, rights = before
        for to, opening, left, right in space.part(parts[-1]).passages:
            if to in parts or (opening and len(way) == DEPTH):
                continue
            cone = _widened(known, left, rights + right)
            if cone and lefts:
                cone = _widened(cone, lefts, right)
            if cone:
                longer = (*way, opening) if opening else way
                found.setdefault(to[0], set()).add(longer)
                search((*parts, to), longer, (lefts + left, rights + right), cone)

    for i in range(len(space.rooms[room].parts)):
        search(((room, i),), (), ((), ()), None)
    found.pop(room, None)
    return found


def _widened(cone: Cone | None, lefts: Ends, rights: Ends) -> Cone | None:
    """The cone with the vectors from `rights` to `lefts`; None where it would reach half a turn."""
    x, y = lefts[0][0] - rights[0][0], lefts[0][1] - rights[0][1]
    ax, ay, bx, by = cone or (x, y, x, y)
    for left_x, left_y in lefts:
        for right_x, right_y in rights:
            x, y = left_x - right_x, left_y - right_y
            from_right, to_left = ax * y - ay * x, x * by - y * bx
            if from_right > _PARALLEL_M2:
                if to_left < 0:
                    bx, by = x, y
            elif to_left > _PARALLEL_M2:
                if from_right < 0:
                    ax, ay = x, y
            elif ax * x + ay * y < 0 or min(from_right, to_left) < -_PARALLEL_M2:
                return None
    return ax, ay, bx, by


def sightings(
    graph: HouseGraph, plan: Plan, measured: Mapping[Pair, tuple[Way, ...]],
    shares: Mapping[Pair, float] | None = None,
) -> Mapping[Pair, Sighting]:  # fmt: skip
    """Every pair of rooms that see each other, by sorted pair.

    `measured` are the pairs that see each other by measures, and how (`ways` or `Sight.pairs`);
    without their `shares` they have none yet.
    """
    direct, shares = graph.seen_through(), shares or {}
    found = {
        pair: Sighting(pair, several[0], _kind(graph, direct, pair), shares.get(pair))
        for pair, several in measured.items()
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
        if sorted_pair(*line.between) not in found and _in_plane(graph, plan, line.between)
    )


def _kind(graph: HouseGraph, direct: Mapping[Pair, Way], pair: Pair) -> SightKind:
    return graph.openings[direct[pair][0]].kind if pair in direct else "sightline"


def _through_two(graph: HouseGraph, plan: Plan) -> Iterator[tuple[Pair, Way]]:
    """Rooms that a third one joins, unless measures show whether they see each other.

    Nothing is seen from one opening through another in the same straight wall.
    """
    for room in graph.rooms:
        exits = graph.looks_through(room)
        walls = {each.opening: wall_in(graph.openings[each.opening], room) for each in exits}
        guessed = {each.opening for each in exits if not _is_known(graph, plan, each.opening)}
        for first, a in exits:
            for second, b in exits:
                one_wall = walls[first] is not None and walls[first] == walls[second]
                if a < b and not one_wall and (first in guessed or second in guessed):
                    yield (a, b), (first, second)


def _is_known(graph: HouseGraph, plan: Plan, key: str) -> bool:
    """Whether measures show what is seen through it: in the plane, or that it leaves the plane."""
    if key in plan.openings:
        return plan.openings[key].measured
    a, b = (plan.rooms[room] for room in graph.openings[key].between)
    return a.sized and b.sized and a.level != b.level


def _in_plane(graph: HouseGraph, plan: Plan, between: Pair) -> bool:
    """Whether two rooms of one level, and every opening on any way between them, are measured."""
    a, b = (plan.rooms[room] for room in between)
    if not (a.measured and b.measured and a.level == b.level):
        return False
    ways = graph.sight_chains(*between, most=DEPTH)
    return all(_is_known(graph, plan, key) for way in ways for key in way)
