"""Who sees whom as a list, one row for each direction: what `housemap sight` prints."""

from dataclasses import dataclass

import numpy as np

from housemap.plan.house_graph import HouseGraph, Sighting, Way, sorted_pair
from housemap.plan.shares import Stand, bearing_deg
from housemap.plan.sight import Sight
from housemap.plan.space import Space
from housemap.plan.stands import standing_points
from housemap.plan.vectors import middle


@dataclass(frozen=True, slots=True)
class SightRow:
    """One room seen from another."""

    from_room: str
    to_room: str
    through: tuple[tuple[str, ...], ...]
    """The rooms in between, every way, the shortest first; an empty way is a shared opening."""
    share: float | None
    """Mean over the standing points of the part of the full circle; None where not known."""
    best: Stand | None
    """Where one sees most of it; None where measures are missing."""


def sight_rows(graph: HouseGraph, sight: Sight) -> tuple[SightRow, ...]:
    """Both directions of every pair found by measures or declared, or likely without measures.

    Rooms with measures that only stairs join are left out: no line at eye height joins them.
    """
    declared = {sorted_pair(*line.between) for line in graph.sightlines.values()}
    rows: list[SightRow] = []
    for pair, sighting in graph.sightings.items():
        a, b = pair
        if a in sight.rooms and b in sight.rooms[a].ways:
            rows += [_measured(graph, sight, a, b), _measured(graph, sight, b, a)]
        elif pair in declared or a not in sight.rooms or b not in sight.rooms:
            rows += [_unmeasured(graph, sighting, a, b), _unmeasured(graph, sighting, b, a)]
    return tuple(sorted(rows, key=lambda row: (row.from_room, row.to_room)))


def _measured(graph: HouseGraph, sight: Sight, a: str, b: str) -> SightRow:
    seen = sight.rooms[a]
    through = dict.fromkeys(graph.rooms_along(a, way)[:-1] for way in seen.ways[b])
    best = seen.views.best.get(b) or _nearest_stand(sight.space, a, seen.ways[b][0])
    return SightRow(a, b, tuple(through), seen.views.shares.get(b, 0.0), best)


def _unmeasured(graph: HouseGraph, sighting: Sighting, a: str, b: str) -> SightRow:
    way = sighting.through if sighting.rooms == (a, b) else sighting.through[::-1]
    through = (graph.rooms_along(a, way)[:-1],) if way else ()
    return SightRow(a, b, through, sighting.share, None)


def _nearest_stand(space: Space, room: str, way: Way) -> Stand:
    """The standing point nearest to the first opening, where no point sees through them all."""
    mouth = next(
        passage
        for part in space.rooms[room].parts
        for passage in part.passages
        if passage.opening == way[0]
    )
    target = np.array(middle(mouth.lefts[0], mouth.rights[0]))
    points = standing_points(space.rooms[room])
    x, y = points[np.argmin(np.linalg.norm(points - target, axis=-1))]
    toward = bearing_deg(float(target[0] - x), float(target[1] - y))
    return Stand((float(x), float(y)), toward, 0.0)
