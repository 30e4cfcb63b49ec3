"""The light of rooms as bytes for the cache, and the key of all that it depends on."""

from collections.abc import Iterator, Sequence

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.file import kept
from housemap.light.scene import LIGHTS, LightName, Scene
from housemap.light.surface_light import Lit, PlaneLight, lit_surfaces

KeptRoom = tuple[dict[LightName, Lit], PlaneLight | None]
NO_PLANE = -1
COUNTS = 3
"""The numbers before those of a room: whether it has each of LIGHTS, and cells of its plane."""


def key_of(scenes: Sequence[Scene], beside: object) -> str:
    """A name for all that light depends on: the scenes, and what has an exact repr beside them."""
    plain_walls = [sorted(scene.plain_walls) for scene in scenes]
    named = repr((kept.program("light", "colorimetry"), beside, plain_walls)).encode()
    return kept.key_of("light", named, *(scene.reflectance.tobytes() for scene in scenes))


def packed(rooms: Sequence[KeptRoom]) -> bytes:
    return np.concatenate([part.ravel() for room in rooms for part in _parts(*room)]).tobytes()


def _parts(lights: dict[LightName, Lit], plane: PlaneLight | None) -> Iterator[Floats]:
    cells = len(plane.area_m2) if plane else NO_PLANE
    yield np.array([*(name in lights for name in LIGHTS), cells], np.float64)
    for name in LIGHTS:
        if name in lights:
            _, *numbers = lights[name]
            yield from numbers
    if plane:
        yield from (plane.percents, plane.area_m2)


def unpacked(data: bytes, scenes: Sequence[Scene]) -> list[KeptRoom] | None:
    """The rooms that were packed; None where the bytes are not of these scenes."""
    try:
        numbers = _Numbers(np.frombuffer(data))
        rooms = [_room(numbers, scene) for scene in scenes]
    except (ValueError, OverflowError):
        return None
    return rooms if numbers.at == len(numbers.all) and np.isfinite(numbers.all).all() else None


class _Numbers:
    def __init__(self, numbers: Floats) -> None:
        self.all, self.at = numbers, 0

    def take(self, *shape: int) -> Floats:
        """Raises ValueError where there are not so many."""
        start, self.at = self.at, self.at + int(np.prod(shape))
        return self.all[start : self.at].reshape(shape)


def _room(numbers: _Numbers, scene: Scene) -> KeptRoom:
    *has, cells = numbers.take(COUNTS).tolist()
    names, senders = lit_surfaces(scene), len(scene.shape.surfaces)
    sizes, lights = ((4,), (len(names), 41, 4), (len(names), 4), (len(names), senders, 4)), {}
    for name, there in zip(LIGHTS, has, strict=True):
        if there:
            lights[name] = Lit(names, *(numbers.take(*size) for size in sizes))
    plane = None
    if cells != NO_PLANE:
        plane = PlaneLight(numbers.take(int(cells)), numbers.take(int(cells)))
    return lights, plane
