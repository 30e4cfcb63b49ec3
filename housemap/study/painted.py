"""A view of a house in its paints, as an eye where it was taken sees them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from housemap.colorimetry.undertone import Undertone
from housemap.errors import InputError
from housemap.model.geometry import middle, minus
from housemap.model.house import Light
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.plan.pixels import (
    BARE,
    Frame,
    Pixels,
    Rgb,
    coloured,
    in_view,
    painted_as,
    rgb_of,
    unpainted,
)
from housemap.plan.raster import Face, View
from housemap.plan.route import Stop, route_of
from housemap.plan.view import Camera, look
from housemap.plan.viewpoints import arrived, best_of, gone_through, turned
from housemap.plan.visibility import bearing_deg
from housemap.study.light_in_view import lamp_bodies, with_lamplight
from housemap.study.parts import Coat
from housemap.study.seen import SeenColour
from housemap.study.study import Study


def seen_coat(study: Study, eye: str, light: Light, coat: Coat) -> SeenColour | None:
    """A coat as seen from a room; None under the reference light, or without the light asked."""
    view = study.lighting.seen.get((eye, light)) if light != "reference" else None
    return view.colours.get(coat) if view else None


def screen_hex(study: Study, eye: str, light: Light, coat: Coat) -> str:
    seen = seen_coat(study, eye, light, coat)
    return seen.srgb_hex if seen else coat.swatch.colour.srgb_hex


def undertone_of(study: Study, eye: str, light: Light, coat: Coat) -> Undertone:
    seen = seen_coat(study, eye, light, coat)
    return seen.undertone if seen else coat.swatch.colour.undertone


Size = tuple[int, int]
"""Width and height in pixels."""
NO_MEASURES = "no room has measures to stand in: give one a size"
LINE, WHITE = 8, 255
"""Pixels between pictures that are put together."""
STANDING_S, PASSING_S, TURNING_S, TURN_DEG = 1.6, 0.5, 0.12, 18.0
"""How long a walk stands in a room, passes a door and shows each step of a turn (our choice)."""


@dataclass(frozen=True, slots=True, eq=False)
class Painted:
    """A view from the room `eye` under a light."""

    study: Study
    eye: str
    light: Light
    view: View

    def pixels(self, *, shaded: bool = True) -> Pixels:
        """Every pixel; without shade exactly the colour of its paint as it is seen."""
        colours = [self._rgb(face) for face in self.view.faces]
        return coloured(self.view, colours, shaded=shaded, dithered=shaded)

    def coats(self) -> dict[tuple[str, str], tuple[Coat | None, float]]:
        """The coat of each room's surface in view, and the share of the picture that it takes."""
        return {
            (room, surface): (self.study.rooms[room].coat_on(surface), share)
            for (room, surface), share in in_view(self.view).items()
        }

    def _rgb(self, face: Face) -> Rgb:
        place = painted_as(self.study.graph, face)
        if place is None:
            return unpainted(face, self.light)
        room, surface = place
        coat = self.study.rooms[room].coat_on(surface)
        return rgb_of(screen_hex(self.study, self.eye, self.light, coat)) if coat else BARE


# Pictures to give away


def picture(
    study: Study, elevations: Elevations, camera: Camera, light: Light, size: Size
) -> Pixels:
    """What a camera in a measured room sees; smooth."""
    painted = pictured(study, elevations, camera, light, size)
    assert painted is not None
    return painted.pixels()


def pictured(
    study: Study, elevations: Elevations, camera: Camera, light: Light, size: Size,
    *, smooth: bool = True,
) -> Painted | None:  # fmt: skip
    """With the lamps, and in the evening their pools of light; None from outside the room."""
    view = look(elevations, camera, *size, smooth=smooth, bodies=lamp_bodies(elevations))
    return in_light(study, elevations, camera, light, view) if view else None


def in_light(
    study: Study, elevations: Elevations, camera: Camera, light: Light, view: View
) -> Painted:
    """In the evening with the pools of light of the lamps."""
    if light == "evening":
        view = with_lamplight(study.lighting.rooms, elevations, camera, view)
    return Painted(study, camera.room, light, view)


def strip(study: Study, lights: Sequence[Light], size: Size) -> tuple[Pixels, tuple[str, ...]]:
    """A row for each measured room, in the order of the route, and the rooms. Raises InputError."""
    elevations = elevations_of(study)
    route = route_of(elevations.graph, study.plan, elevations.space)
    best = (best_of(elevations, stop.room) for stop in route.stops)
    cameras = [camera for camera in best if camera is not None]
    if not cameras:
        raise InputError.of(NO_MEASURES)
    rows = [
        beside([picture(study, elevations, camera, light, size) for light in lights])
        for camera in cameras
    ]
    return _joined(rows, axis=0), tuple(camera.room for camera in cameras)


def beside(pictures: Sequence[Pixels]) -> Pixels:
    """Pictures of one height side by side, a white line between them."""
    return _joined(pictures, axis=1)


def _joined(pictures: Sequence[Pixels], axis: int) -> Pixels:
    first, *rest = pictures
    shape = list(first.shape)
    shape[axis] = LINE
    line = np.full(shape, WHITE, dtype=np.uint8)
    return np.concatenate([first, *(each for other in rest for each in (line, other))], axis=axis)


def walk_frames(study: Study, light: Light, size: Size) -> list[Frame]:
    """Along the route through every measured room; InputError where none is."""
    elevations = elevations_of(study)
    route = route_of(elevations.graph, study.plan, elevations.space)
    steps = list(_walk(elevations, route.stops))
    if not steps:
        raise InputError.of(NO_MEASURES)
    return [Frame(picture(study, elevations, camera, light, size), s) for camera, s in steps]


def _walk(elevations: Elevations, stops: Sequence[Stop]) -> Iterator[tuple[Camera, float]]:
    """Where one stands and looks, and for how many seconds."""
    before: Camera | None = None
    for stop in stops:
        for opening in stop.through if before else ():
            assert before is not None
            segment = elevations.in_wall_m(before.room, opening)
            if segment:
                yield from _turn(before, bearing_deg(*minus(middle(*segment), before.at_m)))
            before = gone_through(elevations, before, opening)
            if before.room in elevations.space.rooms:
                yield before, PASSING_S
        if stop.room not in elevations.space.rooms:
            before = None
            continue
        before = arrived(elevations, stop)
        yield before, STANDING_S


def _turn(camera: Camera, toward_deg: float) -> Iterator[tuple[Camera, float]]:
    """The short way round, in steps of at most TURN_DEG."""
    by = (toward_deg - camera.toward_deg + 180) % 360 - 180
    steps = max(round(abs(by) / TURN_DEG), 1)
    for step in range(1, steps + 1):
        yield turned(camera, by * step / steps), TURNING_S


def elevations_of(study: Study) -> Elevations:
    return Elevations(study.house, study.plan, space_of(study.house, study.plan))
