"""How one goes on from where one stands and looks: turning, stepping, through the opening ahead."""

from dataclasses import replace

from housemap.model.house import Point
from housemap.plan.elevations import Elevations
from housemap.plan.moving import Place, step, through
from housemap.plan.route import Stop, stand_in
from housemap.plan.shares import bearing_deg
from housemap.plan.space import Space
from housemap.plan.stands import middle_of
from housemap.plan.vectors import middle, minus
from housemap.plan.view import Camera

AHEAD_DEG = 60.0
"""An opening lies ahead when it is no further to the side than this."""
BACK_M, BACK_STEP_M = 2.5, 0.25
"""One who comes into a room is shown it from up to so far back, found in these steps."""

NARROWEST_DEG, WIDEST_DEG = 30.0, 110.0


def turned(camera: Camera, by_deg: float) -> Camera:
    """To the right where `by_deg` is above 0."""
    return replace(camera, toward_deg=(camera.toward_deg + by_deg) % 360)


def stepped(space: Space, camera: Camera, aside_deg: float, length_m: float) -> Camera:
    """A step so far to the right of the way one looks (0 ahead, 180 back); the look stays."""
    place = Place(camera.room, camera.at_m)
    return _at(camera, step(space, place, camera.toward_deg + aside_deg, length_m))


def zoomed(camera: Camera, by: float) -> Camera:
    """With the field of view so many times as wide, within NARROWEST_DEG and WIDEST_DEG."""
    field = min(max(camera.field_deg * by, NARROWEST_DEG), WIDEST_DEG)
    return replace(camera, field_deg=field)


def opening_ahead(elevations: Elevations, camera: Camera) -> str | None:
    """The opening, shut or not, that one looks at most nearly; of several the nearest one."""
    found: list[tuple[float, float, str]] = []
    for key, opening in elevations.house.openings.items():
        segment = elevations.in_wall_m(camera.room, key) if camera.room in opening.between else None
        if segment:
            off = _off_deg(camera, *segment)
            to = minus(middle(*segment), camera.at_m)
            found.append((off, to[0] ** 2 + to[1] ** 2, key))
    off, _, key = min(found, default=(180.0, 0.0, ""))
    return key if off <= AHEAD_DEG else None


def gone_through(elevations: Elevations, camera: Camera, opening: str) -> Camera:
    """Behind an opening of one's room, looking on the way one came.

    Up or down stairs, or where measures do not tell, it is the middle of the other room.
    """
    house, plan, space = elevations.house, elevations.plan, elevations.space
    a, b = house.openings[opening].between
    other = b if camera.room == a else a
    place = through(house, plan, space, opening, camera.room)
    if place is None:
        return replace(camera, room=other, at_m=stand_in(plan, space, other))
    doorstep = elevations.in_wall_m(other, opening)
    entered = _at(camera, place)
    return _toward(entered, minus(place.at_m, middle(*doorstep))) if doorstep else entered


def arrived(space: Space, stop: Stop) -> Camera:
    """At a stop of the route, as far back the way one came as the room goes."""
    camera = Camera(stop.room, stop.at_m, stop.toward_deg)
    for k in range(int(BACK_M / BACK_STEP_M), 0, -1):
        back = stepped(space, camera, 180.0, k * BACK_STEP_M)
        if back.room == stop.room:
            return back
    return camera


def facing(space: Space, camera: Camera) -> Camera:
    """Looking at the middle of one's room."""
    return _toward(camera, minus(middle_of(space.rooms[camera.room]), camera.at_m))


def _at(camera: Camera, place: Place) -> Camera:
    return replace(camera, room=place.room, at_m=place.at_m)


def _toward(camera: Camera, way: Point) -> Camera:
    return replace(camera, toward_deg=bearing_deg(*way))


def _off_deg(camera: Camera, start: Point, end: Point) -> float:
    """How far to the side of the way one looks a segment lies; 0 where one looks at it."""
    ends = [_aside_deg(camera, point) for point in (start, end)]
    if min(ends) < 0 < max(ends) and max(ends) - min(ends) < 180:  # noqa: PLR2004 - half a turn
        return 0.0
    return min(map(abs, ends))


def _aside_deg(camera: Camera, point: Point) -> float:
    """To the right of the way one looks, -180 to 180."""
    off = bearing_deg(*minus(point, camera.at_m)) - camera.toward_deg
    return (off + 180) % 360 - 180
