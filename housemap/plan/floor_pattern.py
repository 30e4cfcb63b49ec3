"""Boards and tiles as faint lines of a named floor; numpy.

The lines are averaged over what each pixel covers of the floor (a box filter, in closed form), so
that they fade with distance instead of flickering. Which floor has which lines is told by the words
of its name; sizes are common practice, no source.
"""

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from housemap.model.geometry import box_of
from housemap.plan.elevations import Elevations
from housemap.plan.raster import Ints, View

Floats = NDArray[np.float32]
BOARDS = frozenset({"board", "boards", "plank", "planks", "parquet", "laminate"})
TILES = frozenset({"tile", "tiles", "slate", "stone", "terrazzo", "quarry", "flags", "flagstones"})
BOARD_M, TILE_M, JOINT_M = 0.14, 0.33, 0.006
JOINT_SHADE = 0.82
"""Joints are darker than the floor by this (our choice)."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """Lines at equal distances, in metres; 0 for none."""

    east_m: float
    """From line to line on the way to plan-east."""
    north_m: float


def pattern_of(elevations: Elevations, room: str) -> Pattern | None:
    """Boards run along the longer side of a room; None for a floor without lines."""
    house, floor = elevations.house, elevations.house.rooms[room].floor
    words = house.finishes[floor].name.lower().replace(",", " ").split() if floor else ()
    if not TILES.isdisjoint(words):
        return Pattern(TILE_M, TILE_M)
    if BOARDS.isdisjoint(words):
        return None
    west, south, east, north = box_of(elevations.plan.rooms[room].outline_m)
    return Pattern(0.0, BOARD_M) if east - west >= north - south else Pattern(BOARD_M, 0.0)


class FloorSight(Protocol):
    """Where on the floor the pixels of a picture lie."""

    def points(self, pixel: Ints, depth_m: Floats) -> Floats:
        """Plan coordinates and height: (3, n)."""

    def footprint_m(self, depth_m: Floats) -> tuple[Floats, Floats]:
        """How much a pixel covers to plan-east and to plan-north, at a depth."""


def with_floor_patterns(elevations: Elevations, sight: FloorSight, view: View) -> View:
    """The view with the lines of its floors in its shade."""
    patterns = {
        number: pattern
        for number, face in enumerate(view.faces)
        if face.surface == "floor" and (pattern := pattern_of(elevations, face.room))
    }
    if not patterns:
        return view
    shade, flat = view.shade.copy(), view.face.ravel()
    for number, pattern in patterns.items():
        pixel = np.flatnonzero(flat == number)
        at_m = sight.points(pixel, view.depth_m.ravel()[pixel])
        east, north = sight.footprint_m(view.depth_m.ravel()[pixel])
        ways = (at_m[0], east, pattern.east_m), (at_m[1], north, pattern.north_m)
        for place, wide, step in ways:
            if step:
                shade.ravel()[pixel] *= 1 - (1 - JOINT_SHADE) * joint_share(place, wide, step)
    return replace(view, shade=shade)


def joint_share(place_m: Floats, wide_m: Floats, step_m: float) -> Floats:
    """The part of a stretch round each place that joints take up, one every `step_m`."""
    step, joint = np.float32(step_m), np.float32(JOINT_M)

    def joints_to(at: Floats) -> Floats:
        """How much joint there is from 0 to a place."""
        whole = np.floor(at / step)
        return np.asarray(whole * joint + np.minimum(at - whole * step, joint), dtype=np.float32)

    half = np.asarray(wide_m / 2, dtype=np.float32)
    start, end = np.subtract(place_m, half), np.add(place_m, half)
    return np.asarray(np.subtract(joints_to(end), joints_to(start)) / wide_m)
