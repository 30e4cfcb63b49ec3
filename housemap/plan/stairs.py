"""Stairs as flights of steps that lead up or down from a wall; numpy.

A column of the picture crosses the risers one after the other; what it shows of each step lies
above the steps before it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from housemap.model.geometry import Segment, dot, middle, minus, plus, scaled, unit
from housemap.model.house import Point
from housemap.plan.blocks import NEAR_M, TOP_SHADE, Frame, columns_between
from housemap.plan.elevations import GOING_M, RISE_M, RISER, TREAD, Elevations
from housemap.plan.raster import FAR_ROWS, Canvas, Face, Floats, Ints, Strips
from housemap.plan.visibility import inside

FLIGHT_SHARE = 0.94
"""So much of a room that is stairs is taken by their flight, at most (our assumption)."""


@dataclass(frozen=True, slots=True)
class Flight:
    """Stairs that lead away from their foot, or down from their head."""

    room: str
    foot: Segment
    """From right to left, as seen by who is about to walk on it."""
    away: Point
    """The way it leads; of length 1."""
    going_m: float
    steps: int
    """Below 0: down."""

    def top_m(self, step: int) -> float:
        """Of a step, counted from 0."""
        return (step + 1) * (RISE_M if self.steps > 0 else -RISE_M)


def flights_in(elevations: Elevations, room: str) -> Iterator[Flight]:
    """Stairs that one can look up, or down, from a measured room.

    Where the room is the stairs itself, they end at the wall that leads on.
    """
    for key in elevations.graph.openings_of(room):
        steps, hung = elevations.steps_of(room, key), elevations.in_wall_m(room, key)
        if steps and hung:
            yield _flight(elevations, room, hung, steps)


def _flight(elevations: Elevations, room: str, foot: Segment, steps: int) -> Flight:
    outline = elevations.plan.rooms[room].outline_m
    run = unit(minus(foot[1], foot[0]))
    away = run[1], -run[0]
    if inside(outline, np.array([plus(middle(*foot), scaled(away, 0.01))]))[0]:
        foot, away = (foot[1], foot[0]), scaled(away, -1.0)
    if steps < 0 or elevations.house.rooms[room].use != "stair":
        return Flight(room, foot, away, GOING_M, steps)
    deep = max(dot(minus(foot[0], corner), away) for corner in outline)
    going = min(GOING_M, deep * FLIGHT_SHARE / steps)
    back = scaled(away, -going * steps)
    return Flight(room, (plus(foot[0], back), plus(foot[1], back)), away, going, steps)


@dataclass(frozen=True, slots=True)
class _Crossing:
    """Columns of the picture that cross a flight, and where; depths of shape (k, n)."""

    strips: Strips
    start: float
    """Of the foot, in metres along the flight from the eye."""
    along: Floats
    """Metres along the flight for each metre of depth."""
    enters: Floats
    leaves: Floats

    def depth(self, along_m: float) -> Floats:
        return np.asarray((self.start + along_m) / self.along)

    def only(self, keep: Ints) -> "_Crossing":
        cut = (each.take(keep, 1) for each in (self.along, self.enters, self.leaves))
        return _Crossing(self.strips.only(keep), self.start, *cut)


def draw_flight(canvas: Canvas, frame: Frame, flight: Flight, *, smooth: bool) -> None:
    """Puts what shows of stairs on a canvas of their own, the nearest step first.

    Only who looks along the way they lead sees them.
    """
    every = _crossing(frame, flight, smooth=smooth)
    if every is None:
        return
    line = np.full(every.along.shape, FAR_ROWS)
    for step in range(abs(flight.steps)):
        far = np.minimum(every.depth((step + 1) * flight.going_m), every.leaves)
        met = np.maximum(every.depth(step * flight.going_m), every.enters)
        there = np.flatnonzero(far.mean(axis=0) > met.mean(axis=0))
        if len(there):
            ends = met.take(there, 1), far.take(there, 1)
            line[:, there] = _step(
                canvas, flight, step, every.only(there), ends, line=line.take(there, 1)
            )


def _crossing(frame: Frame, flight: Flight, *, smooth: bool) -> _Crossing | None:
    """None where no column does."""
    behind = plus(flight.foot[0], scaled(flight.away, -1.0))
    back, right, left = frame.seen([behind, *flight.foot])
    away, across, width = right - back, left - right, float(np.hypot(*(left - right)))
    across = across / width
    length = abs(flight.steps) * flight.going_m
    lines = np.linspace(0.0, length, abs(flight.steps) + 1)[:, None] * away
    corners = np.concatenate([right + lines, left + lines])
    places = np.sort(frame.column(corners[corners[:, 0] > NEAR_M]))
    if not len(places):
        return None
    column, low, high = columns_between(frame, places, smooth=smooth)
    slope = frame.slope(np.stack([low, high] if smooth else [low]))
    way = (1 + 1j * slope).astype(np.complex128)
    along, aside = away[0] + away[1] * slope, across[0] + across[1] * slope
    with np.errstate(divide="ignore", invalid="ignore"):
        sides = np.sort([right @ across / aside, (right @ across + width) / aside], axis=0)
        start = float(right @ away)
        enters = np.maximum(np.maximum(sides[0], start / along), NEAR_M)
        leaves = np.minimum(sides[1], (start + length) / along)
    crossing = _Crossing(Strips(column, low, high, way, slope, slope), start, along, enters, leaves)
    seen = np.flatnonzero((along > NEAR_M).all(axis=0) & (leaves > 0).all(axis=0))
    return crossing.only(seen) if len(seen) else None


def _step(
    canvas: Canvas, flight: Flight, step: int, here: _Crossing, ends: tuple[Floats, Floats],
    *, line: Floats,
) -> Floats:  # fmt: skip
    """Draws a step above a line; the line above which the next one is drawn.

    `ends`: the depths where it is met and left. Who comes in from its side sees its whole height.
    """
    met, far = ends
    lens, z_m = canvas.lens, flight.top_m(step)
    top = np.minimum(lens.line(z_m, met), line)
    if flight.steps > 0:
        first = here.depth(step * flight.going_m).mean(axis=0) >= here.enters.mean(axis=0)
        foot = np.minimum(lens.line(np.where(first, z_m - RISE_M, 0.0), met), line)
        riser = here.strips.between(top, np.maximum(foot, top))
        canvas.upright(riser, Face(flight.room, RISER, None), 1.0, met)
    end = np.minimum(lens.line(z_m, far), top)
    if z_m < lens.eye_m:
        tread = Face(flight.room, TREAD, None)
        canvas.level(here.strips.between(end, top), tread, TOP_SHADE, z_m)
    return end
