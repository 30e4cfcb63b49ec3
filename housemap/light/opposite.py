"""Which wall lies opposite another."""

from housemap.light.facing import outward
from housemap.model.house import Room
from housemap.model.shape import Wall, walls

_ALONGSIDE = 1e-9


def opposite(room: Room, wall: str) -> str | None:
    """The wall that is looked at with one's back to the middle of this one; None in no room."""
    every = walls(room)
    here = next((each for each in every if each.key == wall), None)
    if here is None:
        return None
    ways = {each.key: _way_to(here, each) for each in every if each is not here}
    met = {key: way for key, way in ways.items() if way is not None}
    return min(met, key=lambda key: met[key], default=None)


def _way_to(here: Wall, other: Wall) -> float | None:
    """How far straight ahead another wall is met, in metres; None where it is not."""
    (x, y), (out_x, out_y) = here.at(here.length_m / 2.0), outward(here)
    (x0, y0), (x1, y1) = other.start_m, other.end_m
    across = out_y * (x1 - x0) - out_x * (y1 - y0)
    if abs(across) < _ALONGSIDE:
        return None
    way = ((x0 - x) * (y1 - y0) - (y0 - y) * (x1 - x0)) / across
    along = (out_x * (y0 - y) - out_y * (x0 - x)) / across
    return way if way > _ALONGSIDE and 0.0 <= along <= 1.0 else None
