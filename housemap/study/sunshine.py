"""Patches of sun in a view: where the beams of the windows fall, surfaces are brighter."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from housemap.light.house_light import HouseLight
from housemap.light.rays import wall_distance_m
from housemap.light.sun import Sun, sun_patches
from housemap.model.geometry import Polygon
from housemap.plan.elevations import Elevations
from housemap.plan.raster import View
from housemap.plan.view import Camera, frame_of

Floats = NDArray[np.float32]
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
