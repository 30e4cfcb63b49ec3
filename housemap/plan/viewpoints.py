"""Where one stands and looks: moving about the rooms, and views that show much."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import permutations

import numpy as np

from housemap.model import geometry
from housemap.model.house import Point
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import PartKey, Passage, Space, part_at
from housemap.plan.pixels import in_view
from housemap.plan.route import Stop, stand_in
from housemap.plan.view import Camera, look, look_about
from housemap.plan.visibility import bearing_deg, middle_of, standing_points, views

CLEAR_M = 0.3
"""One stops this far before a wall, measured along the step."""
BEYOND_M = 0.5
"""Through an opening one steps this far into the next room."""

_PARALLEL = 1e-9


def stepped(space: Space, camera: Camera, aside_deg: float, length_m: float) -> Camera:
    """A step so far to the right of the way one looks (0 ahead, 180 back); the look stays.

    It goes through any opening on the way, up to CLEAR_M before a wall. A step that would end in
    the depth of a wall ends behind it.
    """
    key = part_at(space, camera.room, camera.at_m)
    if key is None:
        return camera
    heading = geometry.direction(camera.toward_deg + aside_deg)
    entered, visited = 0.0, {key}
    while True:
        end = _way_to_edge(space, key, camera.at_m, heading)
        passage = _passage(space, key, camera.at_m, heading)
        if passage is None or passage.to in visited:
            walked = min(length_m, max(end - CLEAR_M, (entered + end) / 2 if entered else 0.0))
            break
        if length_m <= end:
            walked = length_m
            break
        far = (passage.rights[-1], passage.lefts[-1])
        entered = max(end, _way_to(camera.at_m, heading, far))
        if passage.opening:
            length_m = max(length_m, entered + CLEAR_M)
        key = passage.to
        visited.add(key)
    at = geometry.plus(camera.at_m, geometry.scaled(heading, walked))
    return camera._replace(room=key[0], at_m=at)


def _behind(elevations: Elevations, opening: str, room: str) -> Point | None:
    """A step from `room` through an opening (a shut door is opened); None without measures."""
    placed, space = elevations.plan.openings.get(opening), elevations.space
    if placed is None or not placed.measured:
        return None
    a, b = elevations.house.openings[opening].between
    target, far = (b, placed.far_m) if room == a else (a, placed.near_m)
    x, y = geometry.unit(geometry.minus(far[1], far[0]))
    for inward in ((-y, x), (y, -x)):
        doorstep = geometry.plus(geometry.middle(*far), geometry.scaled(inward, 0.01))
        if key := part_at(space, target, doorstep):
            reach = _way_to_edge(space, key, doorstep, inward)
            return geometry.plus(doorstep, geometry.scaled(inward, min(BEYOND_M, reach / 2)))
    return None


def _passage(space: Space, key: PartKey, at: Point, heading: Point) -> Passage | None:
    """The passage that a ray takes out of a part; None where it meets a wall."""
    for passage in space.part(key).passages:
        if all(
            geometry.cross(geometry.minus(right, at), heading) > 0 for right in passage.rights
        ) and all(geometry.cross(heading, geometry.minus(left, at)) > 0 for left in passage.lefts):
            return passage
    return None


def _way_to_edge(space: Space, key: PartKey, at: Point, heading: Point) -> float:
    """How far it is to where a ray leaves a part."""
    return min(
        max(_way_to(at, heading, edge), 0.0)
        for edge in geometry.edges(space.part(key).points)
        if geometry.cross(geometry.minus(edge[1], edge[0]), heading) < -_PARALLEL
    )


def _way_to(at: Point, heading: Point, line: geometry.Segment) -> float:
    run = geometry.minus(line[1], line[0])
    return geometry.cross(geometry.minus(line[0], at), run) / geometry.cross(heading, run)


AHEAD_DEG = 60.0
"""An opening lies ahead when it is no further to the side than this."""
BACK_M, BACK_STEP_M = 2.5, 0.25
"""One who comes into a room is shown it from up to so far back, found in these steps."""

NARROWEST_DEG, WIDEST_DEG = 30.0, 110.0


def turned(camera: Camera, by_deg: float) -> Camera:
    """To the right where `by_deg` is above 0."""
    return camera._replace(toward_deg=(camera.toward_deg + by_deg) % 360)


def zoomed(camera: Camera, by: float) -> Camera:
    """With the field of view so many times as wide, within NARROWEST_DEG and WIDEST_DEG."""
    field = min(max(camera.field_deg * by, NARROWEST_DEG), WIDEST_DEG)
    return camera._replace(field_deg=field)


def opening_ahead(elevations: Elevations, camera: Camera) -> str | None:
    """The opening, shut or not, that one looks at most nearly; of several the nearest one."""
    found: list[tuple[float, float, str]] = []
    for key, _ in elevations.graph.exits(camera.room):
        segment = elevations.in_wall_m(camera.room, key)
        if segment:
            to = geometry.minus(geometry.middle(*segment), camera.at_m)
            found.append((_off_deg(camera, segment), geometry.dot(to, to), key))
    off, _, key = min(found, default=(180.0, 0.0, ""))
    return key if off <= AHEAD_DEG else None


def gone_through(elevations: Elevations, camera: Camera, opening: str) -> Camera:
    """Behind an opening, looking on; up or down stairs or unmeasured, amid the other room."""
    other = elevations.graph.other_room(opening, camera.room)
    at = _behind(elevations, opening, camera.room)
    if at is None:
        at = stand_in(elevations.plan, elevations.space, other)
        return camera._replace(room=other, at_m=at)
    doorstep, entered = elevations.in_wall_m(other, opening), camera._replace(room=other, at_m=at)
    return _toward(entered, geometry.minus(at, geometry.middle(*doorstep))) if doorstep else entered


def arrived(elevations: Elevations, stop: Stop) -> Camera:
    """As far back the way one came as the room goes; where that shows little, the best view."""
    camera = Camera(stop.room, stop.at_m, stop.toward_deg)
    lengths = (k * BACK_STEP_M for k in range(int(BACK_M / BACK_STEP_M), 0, -1))
    backs = (stepped(elevations.space, camera, 180.0, length) for length in lengths)
    camera = next((back for back in backs if back.room == camera.room), camera)
    view = look(elevations, camera, WIDTH, HEIGHT)
    shares = in_view(view).values() if view else ()
    if shares and max(shares) < BLANK < sum(shares):
        return camera
    return best_of(elevations, stop.room) or camera


def facing(space: Space, camera: Camera) -> Camera:
    return _toward(camera, geometry.minus(middle_of(space.rooms[camera.room]), camera.at_m))


def _toward(camera: Camera, way: Point) -> Camera:
    return camera._replace(toward_deg=bearing_deg(*way))


def _off_deg(camera: Camera, segment: geometry.Segment) -> float:
    """How far to the side of the way one looks a segment lies; 0 where one looks at it."""
    turns = (bearing_deg(*geometry.minus(end, camera.at_m)) - camera.toward_deg for end in segment)
    ends = [(turn + 180) % 360 - 180 for turn in turns]
    if min(ends) < 0 < max(ends) and max(ends) - min(ends) < 180:  # noqa: PLR2004 - half a turn
        return 0.0
    return min(map(abs, ends))


WIDTH, HEIGHT = 48, 36
BEARINGS = 12
"""Ways in which one looks round from the middle of a room."""
BLANK = 0.6
"""Of the view: a stop that shows more than this of one surface, or less of all, is moved (our
choice)."""
ENOUGH = 0.1
"""Of the view; more of a surface does not make it a better view (our choice)."""
CORNER_TURNS_DEG = (0.0, -15.0, 15.0)

ViewedSurface = tuple[str, str]
"""A room and a surface of it, "" for any."""
Shares = Mapping[tuple[str, str], float]
Worth = tuple[float, float]


def best_of(elevations: Elevations, room: str) -> Camera | None:
    """The view across a room from a corner that shows most surfaces; None without measures."""
    if room not in elevations.space.rooms:
        return None

    def variety(shares: Shares) -> Worth:
        return sum(min(share, ENOUGH) for share in shares.values()), 0.0

    return _best(elevations, _across(elevations.space, room), CORNER_TURNS_DEG, variety)


def best_showing(elevations: Elevations, places: Sequence[ViewedSurface]) -> Camera | None:
    """The view from these rooms with most of every surface named; None without measures."""
    space = elevations.space
    known = [room for room in dict.fromkeys(room for room, _ in places) if room in space.rooms]

    def worth(shares: Shares) -> Worth:
        found = [
            sum(share for (r, s), share in shares.items() if r == room and surface in {"", s})
            for room, surface in places
        ]
        return sum(map(bool, found)), sum(min(share, ENOUGH) for share in found)

    return _best(elevations, _candidates(elevations, known), (0.0,), worth)


def _best(
    elevations: Elevations, cameras: Iterable[Camera], turns_deg: Sequence[float],
    worth: Callable[[Shares], Worth],
) -> Camera | None:  # fmt: skip
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
