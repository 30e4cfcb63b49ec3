"""What must be said beside the figures: what was assumed, and what could not be computed."""

from collections.abc import Iterator

from housemap.light.beams import stands_inside
from housemap.light.daylight import ROOM_TOO_DEEP
from housemap.light.enclosure import CEILING, FLOOR, PATCH_M, Enclosure
from housemap.light.facing import DAYLIGHT_KELVIN, outward
from housemap.light.inputs import RoomInputs
from housemap.light.shape import Holes
from housemap.model.house import Room, Window
from housemap.model.shape import floor_outline_m, wall_of

WARMEST_LED_K = 2500.0
"""Below this the step from LED-B1 (2733 K) is worth a word."""
UNPAINTED = {"walls": 0.5, CEILING: 0.7, FLOOR: 0.2}
"""Reflectance of what has no paint yet: the low ends of EN 12464-1:2011's recommended ranges."""


def notes(inputs: RoomInputs, holes: Holes, enclosure: Enclosure) -> Iterator[str]:
    yield from _unpainted(inputs)
    yield from _daylight(inputs, holes)
    yield from _lamps(inputs.room)
    for name in holes.missing:
        yield f'Opening "{name}" has no measured place in this room: it counts as wall.'
    if enclosure.patch_m > PATCH_M:
        yield f"A large room: computed over patches of {enclosure.patch_m:.1f} m."
    if not enclosure.exact:
        yield "Light between the walls of this outline is counted by rays, within about 2 %."


def _unpainted(inputs: RoomInputs) -> Iterator[str]:
    on = {
        "walls": inputs.colours.walls,
        CEILING: inputs.colours.ceiling,
        FLOOR: inputs.colours.floor,
    }
    for surface, reflectance in UNPAINTED.items():
        if on[surface] is None:
            noun = "No floor finish" if surface == FLOOR else f"No paint on the {surface}"
            yield f"{noun} yet: counted as a grey of LRV {100.0 * reflectance:.0f}."


def _daylight(inputs: RoomInputs, holes: Holes) -> Iterator[str]:
    room = inputs.room
    windows = [room.windows[key] for key in holes.windows]
    if not windows:
        yield "No window: daylight is not computed; what comes through openings is not counted."
        return
    if not inputs.latitude_deg and not all(window.kelvin for window in windows):
        kelvin = DAYLIGHT_KELVIN["between"]
        yield f"The house has no latitude: daylight is taken as {kelvin:.0f} K on every side."
    if room.height_m and min(_depth_m(room, window) for window in windows) > (
        ROOM_TOO_DEEP * room.height_m
    ):
        yield "Deeper than three times its height: the daylight factor says little of its far end."


def _depth_m(room: Room, window: Window) -> float:
    """How far the room reaches from the wall of a window."""
    wall, outline = wall_of(room, window.wall), floor_outline_m(room)
    assert wall is not None
    assert outline is not None
    x, y = outward(wall)
    return max((wall.start_m[0] - p[0]) * x + (wall.start_m[1] - p[1]) * y for p in outline)


def _lamps(room: Room) -> Iterator[str]:
    outline = floor_outline_m(room)
    assert outline is not None
    if not room.lamps:
        yield "No lamp: the light of the evening is not computed."
    for key, lamp in room.lamps.items():
        if lamp.at_m is not None and not stands_inside(outline, lamp.at_m[:2]):
            yield f'Lamp "{key}" stands outside the room: it is taken in the middle.'
        if lamp.spectrum is None and lamp.kelvin < WARMEST_LED_K:
            yield f'Lamp "{key}" is warmer than any CIE LED: LED-B1 is taken, made warmer.'
