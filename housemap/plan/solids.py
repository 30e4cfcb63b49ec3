"""What stands in rooms: furniture and door leaves as blocks, lamps, flights of stairs; numpy.

A block has upright sides, each seen as strips of the columns that it spans, and a level top.
"""

from collections.abc import Iterable, Iterator
from math import dist
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.model.geometry import (
    Polygon,
    Segment,
    box_points,
    dot,
    middle,
    minus,
    plus,
    scaled,
    signed_area_m2,
    unit,
)
from housemap.model.house import Opening, Point
from housemap.plan.elevations import GOING_M, RISE_M, RISER, TREAD, Elevations
from housemap.plan.raster import FAR_ROWS, Canvas, Face, Floats, Ints, Lens, Strips, View
from housemap.plan.visibility import inside, left_half

LEAF_M = 0.04
"""How thick a door leaf is (common practice, no source)."""
LEAST_M = 0.8
"""A post that is nearer than this is not drawn: one looks past it (our choice)."""
ROUND_SHADES = 0.95, 1.0, 0.98, 0.92
"""Across a round body, from left to right (our choice)."""
ROUND_PX = 16
"""A body that is seen less wide than this has one shade."""
NEAR_M = 0.05
"""What is nearer to the eye than this is not drawn."""
TOP_SHADE, SIDE_SHADES = 1.0, (0.97, 0.9)
"""Tops are lightest; sides that run east to west are lighter than those that run north to south,
so that edges of one cloth can be seen (our choice)."""


class Block(NamedTuple):
    """A convex block in the plan."""

    room: str
    surface: str
    """ "doors", or "piece" and the id of a piece of furniture."""
    corners: Polygon
    """Counter-clockwise."""
    high_m: float


def blocks_in(elevations: Elevations, room: str) -> Iterator[Block]:
    """Furniture with its place in a measured room, and the door leaves that open into it."""
    plan = elevations.plan.rooms[room]
    for key, piece in elevations.house.rooms[room].pieces.items():
        low = plus(plan.at_m, piece.at_m)
        corners = box_points((*low, *plus(low, piece.size_m[:2])))
        yield Block(room, f"piece {key}", corners, piece.size_m[2])
    for key, opening in elevations.graph.openings_of(room).items():
        is_open = opening.kind == "doorway" and opening.seen_through
        said_how = opening.hinge is not None or opening.into is not None
        here = is_open and said_how and room == (opening.into or opening.between[1])
        if here and (hung := elevations.in_wall_m(room, key)):
            leaf = _leaf(opening, room, hung, plan.outline_m)
            yield Block(room, "doors", leaf, elevations.hole_height_m(key))


def _leaf(opening: Opening, room: str, hung: Segment, outline: Polygon) -> Polygon:
    """Open at a right angle, beside the opening."""
    run = unit(minus(hung[1], hung[0]))
    left = (-run[1], run[0])
    beside = plus(middle(*hung), scaled(left, 0.01))
    inward = left if inside(outline, np.array([beside]))[0] else scaled(left, -1.0)
    # Who looks in from outside the room has the hinge at the other hand than who looks out.
    from_first = scaled(inward, -1.0) if room == opening.between[0] else inward
    left_hand = (-from_first[1], from_first[0])
    far_end = (dot(run, left_hand) > 0) == ((opening.hinge or "left") == "left")
    hinge, other = (hung[1], hung[0]) if far_end else (hung[0], hung[1])
    away = scaled(unit(minus(hinge, other)), LEAF_M)
    tip = plus(hinge, scaled(inward, dist(*hung)))
    leaf = hinge, tip, plus(tip, away), plus(hinge, away)
    return leaf if signed_area_m2(leaf) > 0 else leaf[::-1]


class Post(NamedTuple):
    """An upright round body; from wherever one looks it is seen as wide as it is."""

    surface: str
    at_m: Point
    radii_m: tuple[float, float]
    """At its foot and at its top, where it is no wider."""
    low_m: float
    high_m: float


class Body(NamedTuple):
    """What stands or hangs in a room as a few posts over one another."""

    room: str
    posts: tuple[Post, ...]


def may_be_seen(frame: "Frame", body: Body, depth_m: NDArray[np.float32]) -> bool:
    """Whether some pixel about the first of the posts shows what is further off."""
    post = body.posts[0]
    ((depth, aside),) = frame.seen([post.at_m])
    if depth < LEAST_M:
        return False
    high, wide = depth_m.shape
    reach = post.radii_m[0] * frame.lens.focal / depth
    column = frame.width / 2 + aside / depth * frame.lens.focal
    top, bottom = (frame.lens.line(z_m, depth) for z_m in (post.high_m, post.low_m))
    left, right = (int(np.clip(column + side, 0, wide)) for side in (-reach, reach + 1))
    first, last = (int(np.clip(row, 0, high)) for row in (top, bottom + 1))
    about = depth_m[first:last, left:right]
    return bool(about.size and about.max() > depth)


def _draw_body(canvas: Canvas, frame: "Frame", body: Body, *, smooth: bool) -> None:
    """What is ahead of the posts, rounded by their shade."""
    for post in body.posts:
        ((depth, aside),) = frame.seen([post.at_m])
        if depth < LEAST_M:
            continue
        scale = frame.lens.focal / depth
        middle_x = frame.first + frame.width / 2 + aside * scale
        foot, top = (radius * scale for radius in post.radii_m)
        ends = middle_x + np.array([-foot, -top, top, foot])
        low, high = (frame.lens.line(z_m, np.array(depth)) for z_m in (post.low_m, post.high_m))
        shades = ROUND_SHADES if ends[-1] - ends[0] > ROUND_PX else ROUND_SHADES[1:2]
        cuts = np.linspace(ends[0], ends[-1], len(shades) + 1)
        face = Face(body.room, post.surface, None)
        for i, shade in enumerate(shades):
            inner = ends[1:-1][(ends[1:-1] > cuts[i]) & (ends[1:-1] < cuts[i + 1])]
            places = np.array([cuts[i], *inner, cuts[i + 1]])
            column, left, right = columns_between(frame, places, smooth=smooth)
            if not len(column):
                continue
            at = np.stack([left, right] if smooth else [left])
            upper = np.interp(at, ends, [low, high, high, low])
            lines = np.full(at.shape, low)
            way = np.zeros(at.shape, dtype=np.complex128)
            strips = Strips(column, left, right, way, np.minimum(upper, lines), lines)
            canvas.upright(strips, face, shade, np.full(at.shape, depth))


class Frame(NamedTuple):
    """One picture of a row of pictures: where the eye is and which way it looks."""

    lens: Lens
    eye: complex
    ahead: complex
    first: int
    """Its first column."""
    width: int

    def seen(self, corners: Iterable[Point]) -> Floats:
        """Depth and offset to the right of points: (n, 2)."""
        offset = np.array([complex(*corner) for corner in corners]) - self.eye
        turned = offset * np.conj(self.ahead)
        return np.stack([turned.real, -turned.imag], axis=-1)

    def slope(self, at: Floats) -> Floats:
        """Offset to the right for each metre of depth of what is seen there; undoes `column`."""
        return np.asarray((at - self.first - self.width / 2) / self.lens.focal)

    def column(self, points: Floats) -> Floats:
        """Where points are seen, in pixels from the left of the row of pictures."""
        return np.asarray(
            self.first + self.width / 2 + self.lens.focal * points[..., 1] / points[..., 0]
        )

    def points(self, pixel: Ints, depth_m: NDArray[np.float32]) -> NDArray[np.float32]:
        """Plan coordinates and height of what pixels show at their centres: (3, n)."""
        lens, focal = self.lens, np.float32(self.lens.focal)
        row = pixel // lens.width
        aside = (pixel - row * lens.width).astype(np.float32) + np.float32(0.5 - lens.width / 2)
        aside *= depth_m / focal
        up = np.float32(lens.height / 2 - 0.5) - row.astype(np.float32)
        right = self.ahead * -1j
        east = self.eye.real + self.ahead.real * depth_m + right.real * aside
        north = self.eye.imag + self.ahead.imag * depth_m + right.imag * aside
        return np.stack([east, north, lens.eye_m + up * depth_m / focal])

    def footprint_m(
        self, depth_m: NDArray[np.float32]
    ) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
        """How much of the floor a pixel covers to plan-east and to plan-north, at a depth."""
        across = depth_m / np.float32(self.lens.focal)
        along = depth_m * across / np.float32(self.lens.eye_m)
        east, north = abs(self.ahead.real), abs(self.ahead.imag)
        return east * along + north * across, north * along + east * across


def _draw_block(canvas: Canvas, frame: Frame, block: Block, *, smooth: bool) -> None:
    seen = [(depth, aside) for depth, aside in frame.seen(block.corners).tolist()]
    corners = np.array(left_half(tuple(seen), (NEAR_M, 0.0), (0.0, -1.0)))
    if not len(corners):
        return
    for i in range(len(corners)):
        side = corners[[i, (i + 1) % len(corners)]]
        (depth_a, aside_a), (depth_b, aside_b) = side  # corners run counter-clockwise in the plan
        if depth_a * aside_b > depth_b * aside_a:  # it turns to the eye
            _side(canvas, frame, block, side, smooth=smooth)
    if block.high_m < frame.lens.eye_m:
        _top(canvas, frame, block, corners, smooth=smooth)


def _side(canvas: Canvas, frame: Frame, block: Block, side: Floats, *, smooth: bool) -> None:
    order = np.argsort(frame.column(side))
    start, end = frame.column(side)[order]
    column, left, right = columns_between(frame, np.array([start, end]), smooth=smooth)
    if not len(column):
        return
    share = (np.stack([left, right] if smooth else [(left + right) / 2]) - start) / (end - start)
    near, far = side[order, 0]
    depth = near * far / (far + share * (near - far))
    run = frame.ahead * complex(side[1, 0] - side[0, 0], side[0, 1] - side[1, 1])
    share_east = (run.real / abs(run)) ** 2
    shade = SIDE_SHADES[1] + (SIDE_SHADES[0] - SIDE_SHADES[1]) * share_east
    top, bottom = frame.lens.line(block.high_m, depth), frame.lens.line(0.0, depth)
    strips = Strips(column, left, right, np.zeros(top.shape, dtype=np.complex128), top, bottom)
    canvas.upright(strips, Face(block.room, block.surface, None), shade, depth)


def _top(canvas: Canvas, frame: Frame, block: Block, corners: Floats, *, smooth: bool) -> None:
    places = np.sort(frame.column(corners))
    column, left, right = columns_between(frame, places, smooth=smooth)
    if not len(column):
        return
    a, b = corners, np.roll(corners, -1, axis=0)

    def depths(at: Floats) -> Floats:
        """Where rays meet the line of each edge: (edges, n)."""
        slope = frame.slope(at)
        turn = (b[:, 1] - a[:, 1])[:, None] - slope * (b[:, 0] - a[:, 0])[:, None]
        cross = a[:, 0] * b[:, 1] - b[:, 0] * a[:, 1]
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.asarray(cross[:, None] / turn)

    middle_x = (left + right) / 2
    within = (frame.column(a)[:, None] - middle_x) * (frame.column(b)[:, None] - middle_x) < 0
    met = depths(middle_x)
    nearest = np.argmin(np.where(within, met, np.inf), axis=0)
    farthest = np.argmax(np.where(within, met, -np.inf), axis=0)
    strip = np.arange(len(column))
    sides = [depths(at) for at in ((left, right) if smooth else (middle_x,))]
    near = np.maximum(np.stack([each[nearest, strip] for each in sides]), NEAR_M)
    far = np.maximum(np.stack([each[farthest, strip] for each in sides]), near)
    top = frame.lens.line(block.high_m, far)
    bottom = frame.lens.line(block.high_m, near)
    strips = Strips(column, left, right, np.zeros(top.shape, dtype=np.complex128), top, bottom)
    canvas.level(strips, Face(block.room, block.surface, None), TOP_SHADE, block.high_m)


def columns_between(frame: Frame, places: Floats, *, smooth: bool) -> tuple[Ints, Floats, Floats]:
    """The columns between the first and the last of some places, cut at all of them."""
    low = np.clip(places[0], frame.first, frame.first + frame.width)
    high = np.clip(places[-1], frame.first, frame.first + frame.width)
    if smooth:
        whole = np.arange(np.ceil(low), np.floor(high) + 1, dtype=np.float64)
        inner = places[(places > low) & (places < high)]
        cuts = np.unique(np.concatenate([[low, high], whole, inner]))
        left, right = cuts[:-1], cuts[1:]
        wide = right - left > 1 / FAR_ROWS
        left, right = left[wide], right[wide]
        column = np.floor((left + right) / 2).astype(np.intp)
        return column, np.asarray(left, np.float64), np.asarray(right, np.float64)
    column = np.arange(np.ceil(low - 0.5), np.ceil(high - 0.5)).astype(np.intp)
    centre = column.astype(np.float64) + 0.5
    return column, centre, centre


# Stairs as flights of steps that lead up or down from a wall.
#
# A column of the picture crosses the risers one after the other; what it shows of each step lies
# above the steps before it.

FLIGHT_SHARE = 0.94
"""So much of a room that is stairs is taken by their flight, at most (our assumption)."""


class Flight(NamedTuple):
    """Stairs that lead away from their foot, or down from their head."""

    room: str
    foot: Segment
    """From right to left, as seen by who is about to walk on it."""
    away: Point
    """The way it leads; of length 1."""
    going_m: float
    steps: int
    """Below 0: down."""


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


class _Crossing(NamedTuple):
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


def _draw_flight(canvas: Canvas, frame: Frame, flight: Flight, *, smooth: bool) -> None:
    """The nearest step first; only who looks along the way they lead sees them."""
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
    lens, z_m = canvas.lens, (step + 1) * (RISE_M if flight.steps > 0 else -RISE_M)
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


Solid = Block | Body | Flight


def drawn_over(view: View, frame: Frame, solid: Solid, *, smooth: bool) -> View:
    """A picture with what shows of a solid, where that is nearer."""
    canvas = Canvas(frame.lens)
    match solid:
        case Block():
            _draw_block(canvas, frame, solid, smooth=smooth)
        case Body():
            _draw_body(canvas, frame, solid, smooth=smooth)
        case Flight():
            _draw_flight(canvas, frame, solid, smooth=smooth)
    return canvas.over(view)
