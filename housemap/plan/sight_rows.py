"""Who sees whom as a list, one row for each direction: what `housemap sight` prints."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from housemap.model.house import House
from housemap.plan.shares import Stand, bearing_deg
from housemap.plan.sight import Sight
from housemap.plan.sightings import Pair, Sighting, sorted_pair
from housemap.plan.space import Space
from housemap.plan.stands import standing_points
from housemap.plan.vectors import middle
from housemap.plan.ways import Way


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


def sight_rows(house: House, sight: Sight, found: Mapping[Pair, Sighting]) -> tuple[SightRow, ...]:
    """Both directions of every pair found by measures or declared, or likely without measures.

    Rooms with measures that only stairs join are left out: no line at eye height joins them.
    """
    declared = {sorted_pair(*line.between) for line in house.sightlines.values()}
    rows: list[SightRow] = []
    for pair, sighting in found.items():
        a, b = pair
        if a in sight.rooms and b in sight.rooms[a].ways:
            rows += [_measured(house, sight, a, b), _measured(house, sight, b, a)]
        elif pair in declared or a not in sight.rooms or b not in sight.rooms:
            rows += [_told(house, sighting, a, b), _told(house, sighting, b, a)]
    return tuple(sorted(rows, key=lambda row: (row.from_room, row.to_room)))


def _measured(house: House, sight: Sight, a: str, b: str) -> SightRow:
    seen = sight.rooms[a]
    through = dict.fromkeys(_rooms_between(house, a, way) for way in seen.ways[b])
    best = seen.views.best.get(b) or _nearest_stand(sight.space, a, seen.ways[b][0])
    return SightRow(a, b, tuple(through), seen.views.shares.get(b, 0.0), best)


def _told(house: House, sighting: Sighting, a: str, b: str) -> SightRow:
    way = sighting.through if sighting.rooms == (a, b) else sighting.through[::-1]
    through = (_rooms_between(house, a, way),) if way else ()
    return SightRow(a, b, through, sighting.share, None)


def _rooms_between(house: House, start: str, way: Way) -> tuple[str, ...]:
    """The rooms that the openings lead through, without the first and the last."""
    rooms = [start]
    for opening in way:
        a, b = house.openings[opening].between
        rooms.append(b if rooms[-1] == a else a)
    return tuple(rooms[1:-1])


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
