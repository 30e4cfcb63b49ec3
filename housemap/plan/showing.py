"""Views worth standing for, found by trying some out at a small size."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import permutations

import numpy as np

from housemap.plan.elevations import Elevations
from housemap.plan.pixels import in_view
from housemap.plan.route import stand_in
from housemap.plan.shares import views
from housemap.plan.space import Space
from housemap.plan.standing import facing, turned
from housemap.plan.stands import standing_points
from housemap.plan.view import Camera, look_about

WIDTH, HEIGHT = 48, 36
BEARINGS = 12
"""Ways in which one looks round from the middle of a room."""
ENOUGH = 0.1
"""Of the view; more of a surface does not make it a better view (our choice)."""
CORNER_TURNS_DEG = (0.0, -15.0, 15.0)

Wanted = tuple[str, str]
"""A room and a surface of it, "" for any."""
Shares = Mapping[tuple[str, str], float]
Worth = tuple[float, float]


def best_of(elevations: Elevations, room: str) -> Camera | None:
    """Of the views across a room from its corners, the one that shows most surfaces, also of the
    rooms behind its openings; None without measures.
    """  # noqa: D205 - one sentence
    if room not in elevations.space.rooms:
        return None
    return _best(elevations, _across(elevations.space, room), CORNER_TURNS_DEG, _variety)


def best_showing(elevations: Elevations, wanted: Sequence[Wanted]) -> Camera | None:
    """Of the views from the rooms wanted, the one with most of every surface wanted.

    None where none of the rooms has measures.
    """
    known = [
        room for room in dict.fromkeys(room for room, _ in wanted) if room in elevations.space.rooms
    ]

    def worth(shares: Shares) -> Worth:
        found = [
            sum(share for (r, s), share in shares.items() if r == room and surface in {"", s})
            for room, surface in wanted
        ]
        return sum(map(bool, found)), sum(min(share, ENOUGH) for share in found)

    return _best(elevations, _candidates(elevations, known), (0.0,), worth)


def _variety(shares: Shares) -> Worth:
    return sum(min(share, ENOUGH) for share in shares.values()), 0.0


def _best(
    elevations: Elevations,
    cameras: Iterable[Camera],
    turns_deg: Sequence[float],
    worth: Callable[[Shares], Worth],
) -> Camera | None:
    """The first of the best, each turned by all of the angles; None where there are none."""
    found: list[tuple[Worth, Camera]] = []
    for camera in cameras:
        view = look_about(elevations, camera, turns_deg, WIDTH, HEIGHT)
        views = view.parts(len(turns_deg)) if view else ()
        each = [worth(in_view(part)) for part in views] or [(0.0, 0.0)] * len(turns_deg)
        found += zip(each, (turned(camera, by) for by in turns_deg), strict=True)
    return max(found, key=lambda each: each[0])[1] if found else None


def _across(space: Space, room: str) -> Iterator[Camera]:
    points = standing_points(space.rooms[room])
    ways = np.deg2rad(np.arange(0, 360, 45))
    reach = points @ np.stack([np.sin(ways), np.cos(ways)])
    for i in dict.fromkeys(np.argmax(np.round(reach, 6), axis=0).tolist()):
        x, y = points[i].tolist()
        yield facing(space, Camera(room, (x, y), 0.0))


def _candidates(elevations: Elevations, rooms: Sequence[str]) -> Iterator[Camera]:
    space = elevations.space
    for room, other in permutations(rooms, 2):
        best = views(space, room).best.get(other)
        if best:
            yield Camera(room, best.at_m, best.toward_deg)
    for room in rooms:
        at = stand_in(elevations.plan, space, room)
        for k in range(BEARINGS):
            yield Camera(room, at, 360 * k / BEARINGS)
