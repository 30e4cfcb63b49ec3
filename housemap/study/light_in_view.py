"""What lightens a view: pools of lamplight, lamps as bodies, patches of sun.

In the evening each surface is lighter near its room's lamps, darker elsewhere.

The lamps' own light on a point follows the inverse square and cosine laws, with the distributions
that the light of rooms is computed with (all round, or Lambertian down or up). What the solved
light adds by bounces is spread evenly over a surface, so that its mean is the solved one. Nothing
shades a lamp here but the walls of its room. A point with the mean light has the colour that is
seen in that light; the eye evens light out, and a screen cannot show its range, so of the ratio to
the mean only the root is shown (the fourth root of sRGB values, which are about the root of light
themselves), from DARKEST and levelling off towards BRIGHTEST (our choice).
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations
from math import pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.light.house_light import HouseLight
from housemap.light.rays import wall_distance_m
from housemap.light.scene import lamp_place_m
from housemap.light.sun import Sun, sun_patches
from housemap.model.geometry import Polygon, outward, wall_of
from housemap.model.house import Lamp, Piece, Room
from housemap.plan.elevations import LAMP, SKY, STEM, WINDOW, Elevations
from housemap.plan.raster import Face, Scalar, View
from housemap.plan.solids import Body, Frame, Post
from housemap.plan.view import Camera, frame_of
from housemap.study.seen import LitRoom

Floats = NDArray[np.float32]
DARKEST, BRIGHTEST = 0.6, 1.3
NIGHT = 0.45
"""Out of doors without a lamp (our choice)."""
LARGE = 100_000
"""Pixels of a picture whose light is computed at every second of them (our choice)."""
NEAREST_M = 0.25
"""Nearer to a lamp than this it is no lighter: a lamp is no point."""
LEVELS: Mapping[str, tuple[float, float, float]] = {"floor": (0, 0, 1), "ceiling": (0, 0, -1)}


def with_lamplight(
    lit: Mapping[str, LitRoom], elevations: Elevations, camera: Camera, view: View
) -> View:
    """The view with the shade of its pixels as the lamps make it; of lit rooms alone."""
    lamplight = _Lamplight(lit, elevations, frame_of(elevations, camera, view), view.faces)
    factor = lamplight.everywhere(view)
    edges = view.edges
    if edges is not None:
        there = lamplight.factors(edges.face, edges.pixel, edges.depth_m)
        edges = replace(edges, shade=edges.shade * there)
    return replace(view, shade=view.shade * factor, edges=edges)


class _Lamplight(NamedTuple):
    lit: Mapping[str, LitRoom]
    elevations: Elevations
    sight: Frame
    faces: tuple[Face, ...]

    def everywhere(self, view: View) -> Floats:
        """Of a large picture every second row and column, and wherever the face is another."""
        step = 2 if view.face.size > LARGE else 1
        height, width = view.face.shape
        number = np.arange(view.face.size).reshape(height, width)
        face, pixel, depth_m = (
            view.face[::step, ::step], number[::step, ::step], view.depth_m[::step, ::step],
        )  # fmt: skip
        factor = self.factors(face.ravel(), pixel.ravel(), depth_m.ravel()).reshape(face.shape)
        if step == 1:
            return factor
        factor = _enlarged(factor, step, view.face)
        other = np.flatnonzero(_enlarged(face, step, view.face) != view.face)
        factor.ravel()[other] = self.factors(
            view.face.ravel()[other], other, view.depth_m.ravel()[other]
        )
        return factor

    def factors(
        self, face: NDArray[np.int16], pixel: NDArray[np.intp], depth_m: NDArray[np.float32]
    ) -> NDArray[np.float32]:
        """A factor for each pixel: 1 where no lamp is known to shine."""
        factor = np.ones(len(face), dtype=np.float32)
        order = np.argsort(face, kind="stable")
        ends = np.searchsorted(face[order], np.arange(len(self.faces) + 1))
        for number, each in enumerate(self.faces):
            which = order[ends[number] : ends[number + 1]]
            if len(which):
                at_m = self.sight.points(pixel[which], depth_m[which])
                factor[which] = self._on(each, at_m)
        return factor

    def _on(self, face: Face, at_m: Floats) -> Floats | float:
        room = self.elevations.house.rooms[face.room]
        light = self.lit[face.room].light.lights.get("evening") if face.room in self.lit else None
        if light is None and room.use == "outdoor" and face.surface not in {SKY, WINDOW}:
            return NIGHT
        normal, surface = _normal(room, face), face.wall or face.surface
        if light is None or normal is None or surface not in light.surfaces or not room.height_m:
            return 1.0
        total = light.total_lux(surface)
        if total <= 0:
            return 1.0
        west, south = self.elevations.plan.rooms[face.room].at_m
        own_m = at_m - np.array([[west], [south], [0.0]], dtype=at_m.dtype)
        bounced = max(total - light.direct_lux(surface), 0.0)
        lux = np.full(at_m.shape[1], bounced, dtype=at_m.dtype)
        for lamp in room.lamps.values():
            lux += lamp_lux(room, lamp, normal, own_m)
        bright = np.sqrt(np.sqrt(lux / np.float32(total)))
        over = np.float32(BRIGHTEST - 1)
        levelled = 1 + over * -np.expm1((1 - np.maximum(bright, 1)) / over)
        return np.asarray(np.where(bright > 1, levelled, np.maximum(bright, DARKEST)))


def _enlarged(values: NDArray[Scalar], step: int, like: NDArray[np.int16]) -> NDArray[Scalar]:
    height, width = like.shape
    wide = values.repeat(step, axis=1).repeat(step, axis=0)
    return np.ascontiguousarray(wide[:height, :width])


# Lamps as one sees them: plain bodies where the file says that they are.

SHADE_M, SHADE_HIGH_M = (0.16, 0.11), 0.2
SMALL_SHADE_M = 0.12, 0.08
SPOT_M, SPOT_HIGH_M = (0.06, 0.06), 0.03
STEM_M, FOOT_M, FOOT_HIGH_M = (0.01, 0.01), (0.12, 0.12), 0.02
TABLE_M, HANGING_M = 1.35, 1.75
"""Lower lamps are small; higher ones hang, and those that shine down hang if they are not small."""
AT_WALL_M = 0.25
"""Nearer to a wall than this it hangs there (sizes: common practice, no source)."""


def lamp_bodies(elevations: Elevations) -> tuple[Body, ...]:
    """The lamps of the measured rooms whose height is known."""
    return tuple(
        Body(key, tuple(_posts(elevations, key, lamp)))
        for key, room in elevations.house.rooms.items()
        if room.height_m and key in elevations.space.rooms
        for lamp in room.lamps.values()
    )


def _posts(elevations: Elevations, key: str, lamp: Lamp) -> Iterator[Post]:
    """A shade, and what it hangs from or stands on; close under the ceiling a spot alone."""
    room, plan = elevations.house.rooms[key], elevations.plan.rooms[key]
    x, y, z = lamp_place_m(room, lamp)
    assert room.height_m
    at, half = (plan.at_m[0] + x, plan.at_m[1] + y), SHADE_HIGH_M / 2
    if z + half > room.height_m:
        wide = SPOT_M if lamp.aim == "down" else SHADE_M
        yield Post(LAMP, at, wide, min(z, room.height_m) - SPOT_HIGH_M, room.height_m)
        return
    yield Post(LAMP, at, SHADE_M if z > TABLE_M else SMALL_SHADE_M, z - half, z + half)
    near = wall_distance_m(plan.outline_m, np.array([at]))[0] < AT_WALL_M
    hangs = z > (TABLE_M if lamp.aim == "down" else HANGING_M)
    if hangs and not near:
        yield Post(STEM, at, STEM_M, z + half, room.height_m)
    elif not hangs:
        base = max((p.size_m[2] for p in room.pieces.values() if _is_on(p, (x, y), z)), default=0.0)
        yield Post(STEM, at, FOOT_M, base, base + FOOT_HIGH_M)
        yield Post(STEM, at, STEM_M, base + FOOT_HIGH_M, z - half)


def _is_on(piece: Piece, at_m: tuple[float, float], z_m: float) -> bool:
    west, south = piece.at_m
    wide, deep, high = piece.size_m
    return 0 <= at_m[0] - west <= wide and 0 <= at_m[1] - south <= deep and high < z_m


def _normal(room: Room, face: Face) -> tuple[float, float, float] | None:
    """Into the room; None for what stands in it."""
    if face.wall is None:
        return LEVELS.get(face.surface)
    wall = wall_of(room, face.wall)
    if wall is None:
        return None
    x, y = outward(wall)
    return -x, -y, 0.0


def lamp_lux(room: Room, lamp: Lamp, normal: tuple[float, float, float], at_m: Floats) -> Floats:
    """What a lamp gives points (3, n) of a surface by itself; in the room's own coordinates."""
    x, y, z = (
        float(place) - each for place, each in zip(lamp_place_m(room, lamp), at_m, strict=True)
    )
    toward = np.maximum(normal[0] * x + normal[1] * y + normal[2] * z, 0.0)
    square = np.maximum(x * x + y * y + z * z, NEAREST_M**2)
    if lamp.aim == "all":
        return np.asarray(lamp.lumens / (4 * pi) * toward / (square * np.sqrt(square)))
    down = np.maximum(z if lamp.aim == "down" else -z, 0.0)
    return np.asarray(lamp.lumens / pi * down * toward / (square * square))


# Patches of sun: where the beams of the windows fall, surfaces are brighter.

Patches = Mapping[tuple[str, str], list[Floats]]
"""By room and floor, ceiling or key of a wall: the sides of each patch, (n, 2, 3): a point in the
room's coordinates, and the unit normal inward in the plane of the surface."""
SUNNY = 1.22
"""So many times the sRGB values: more cannot be shown beside the rest of the room (our choice)."""
PENUMBRA_M = 0.02
"""How soft the edge of a patch is: the sun is half a degree wide, some 2 m from its window."""
ROUNDING_M = 1e-5


def patches_of(light: HouseLight, sun: Sun) -> Patches:
    """Of every room whose light is computed; none by night."""
    found: dict[tuple[str, str], list[Floats]] = defaultdict(list)
    for rooms, joined in light.joined.items() if sun.up else ():
        toward = sun.toward(joined.inputs[0].north_deg)
        for place, scene in enumerate(joined.scenes):
            for pane in scene.panes:
                for patch in sun_patches(joined.cluster, place, pane, toward):
                    outline = joined.cluster.shapes[patch.room].outline_m
                    sides = [*_sides(patch.corners_m, outline)]
                    key = rooms[patch.room], patch.surface
                    found[key].append(np.array(sides, dtype=np.float32))
    return found


def with_sunshine(patches: Patches, elevations: Elevations, camera: Camera, view: View) -> View:
    """The view with the shade of its pixels as the sun makes it."""
    if not patches:
        return view
    sight, shade, edges = frame_of(elevations, camera, view), view.shade.copy(), view.edges
    edge_shade = edges.shade.copy() if edges else None
    for number, face in enumerate(view.faces):
        polygons = patches.get((face.room, face.wall or face.surface), ())
        if not polygons:
            continue
        west, south = elevations.plan.rooms[face.room].at_m
        corner = np.array([[west], [south], [0.0]], dtype=np.float32)

        def sunny(pixel: NDArray[np.intp], depth_m: Floats) -> Floats:
            at_m = sight.points(pixel, depth_m) - corner  # noqa: B023 - called in this turn alone
            soft = np.maximum(depth_m / np.float32(sight.lens.focal), np.float32(PENUMBRA_M))
            cover = np.minimum(sum(_cover(each, at_m, soft) for each in polygons), 1)  # noqa: B023
            return np.asarray(1 + (SUNNY - 1) * cover, dtype=np.float32)

        pixel = np.flatnonzero(view.face == number)
        shade.ravel()[pixel] *= sunny(pixel, view.depth_m.ravel()[pixel])
        if edges is not None and edge_shade is not None:
            here = np.flatnonzero(edges.face == number)
            edge_shade[here] *= sunny(edges.pixel[here], edges.depth_m[here])
    if edges is not None and edge_shade is not None:
        edges = replace(edges, shade=edge_shade)
    return replace(view, shade=shade, edges=edges)


def _cover(sides: Floats, at_m: Floats, soft_m: Floats) -> Floats:
    """How far points (3, n) of its plane lie in a patch, 0 to 1; softly at its edge."""
    inside = np.full(at_m.shape[1], np.inf, dtype=np.float32)
    for start, inward in sides:
        inside = np.minimum(inside, inward @ (at_m - start[:, None]))
    return np.asarray(np.clip(inside / soft_m + np.float32(0.5), 0, 1))


def _sides(
    corners_m: NDArray[np.float64], outline_m: Polygon
) -> Iterator[tuple[NDArray[np.float64], NDArray[np.float64]]]:
    """The sides of the hull of flat corners; without those where surfaces meet.

    A beam is convex: what of its hull lies in the room is in the sun.
    """
    middle = corners_m.mean(axis=0)
    normal = np.linalg.svd(corners_m - middle)[2][2]
    for a, b in combinations(corners_m, 2):
        inward = np.cross(normal, b - a)
        length = np.linalg.norm(inward)
        if length < ROUNDING_M:
            continue
        inward *= np.sign(inward @ (middle - a)) / length
        is_side = ((corners_m - a) @ inward).min() > -ROUNDING_M
        if is_side and not _where_surfaces_meet(a, b, normal, outline_m):
            yield a, inward


def _where_surfaces_meet(
    a: NDArray[np.float64], b: NDArray[np.float64], normal: NDArray[np.float64], outline_m: Polygon
) -> bool:
    if abs(normal[2]) < 0.5:  # noqa: PLR2004 - a wall
        return bool(max(a[2], b[2]) < ROUNDING_M)
    points = np.array([a[:2], (a[:2] + b[:2]) / 2, b[:2]])
    return bool((wall_distance_m(outline_m, points) < ROUNDING_M).all())
