"""The sun: where it stands, how bright it is, and what of a room it falls on.

Its place is the Astronomical Almanac's low-precision formula (Michalsky 1988; 0.01 degrees between
1950 and 2050), for true solar time: at 12 it stands due south or north. Illuminances are those of a
clear day by the IES Recommended Practice for the Calculation of Daylight Availability (1984), the
sky's luminance is CIE S 011 type 12 (CIE standard clear sky, low turbidity).
"""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import rays, sky, sources
from housemap.light.house_light import HouseLight, Joined, light_from
from housemap.light.mesh import CEILING, FLOOR, Hole, Shape, frame
from housemap.light.orientation import window_azimuth_deg
from housemap.light.scene import Column, Pane, Scene
from housemap.light.surface_light import Lit
from housemap.light.system import First, made_of
from housemap.light.tracing import Cluster, Gates, follow, gates_of, lines_from

SUN_KELVIN, CLEAR_SKY_KELVIN = 5500.0, 12000.0
"""Of the beam, and of the blue sky (common practice, no source)."""
LOWEST_DEG = 0.5
"""A sun lower than this is hidden by what stands on the horizon (our assumption)."""
_J2000 = dt.date(2000, 1, 1)
_EXTRATERRESTRIAL_LUX = 127_500.0
_EXTINCTION = 0.21
MOST_ROOMS = 4
"""That a beam is followed through."""
SAME_M = 1e-6
"""Places nearer to each other than this are one."""


class Sun(NamedTuple):
    """The sun on a clear day, degrees; azimuth clockwise from true north."""

    altitude_deg: float
    azimuth_deg: float
    day_of_year: int = 80

    @property
    def up(self) -> bool:
        return self.altitude_deg > LOWEST_DEG

    @property
    def normal_lux(self) -> float:
        """On a plane that faces the sun: E exp(-0.21 / sin altitude)."""
        if not self.up:
            return 0.0
        season = 1.0 + 0.034 * np.cos(2.0 * np.pi * (self.day_of_year - 2.0) / 365.0)
        air = 1.0 / np.sin(np.radians(self.altitude_deg))
        return float(_EXTRATERRESTRIAL_LUX * season * np.exp(-_EXTINCTION * air))

    @property
    def sky_lux(self) -> float:
        """On the horizontal from the clear sky without the sun: 800 + 15500 sin^0.5."""
        if not self.up:
            return 0.0
        return float(800.0 + 15_500.0 * np.sqrt(np.sin(np.radians(self.altitude_deg))))

    @property
    def horizontal_lux(self) -> float:
        height = float(np.sin(np.radians(self.altitude_deg)))
        return self.sky_lux + self.normal_lux * max(height, 0.0)

    def toward(self, north_deg: float) -> Floats:
        """The unit vector to the sun in the plan of a house."""
        height, bearing = np.radians(self.altitude_deg), np.radians(self.azimuth_deg + north_deg)
        flat = np.cos(height)
        return np.array([flat * np.sin(bearing), flat * np.cos(bearing), np.sin(height)])


def sun_at(latitude_deg: float, when: dt.datetime) -> Sun:
    """Where the sun stands at a true solar time; near longitude 0 within 0.05 degrees."""
    hour = when.hour + when.minute / 60.0 + when.second / 3600.0
    declination = declination_deg(when.date(), hour)
    altitude, azimuth = _horizontal(latitude_deg, declination, hour)
    return Sun(altitude, azimuth, when.timetuple().tm_yday)


def declination_deg(day: dt.date, solar_hour: float) -> float:
    """Of the sun at a true solar time at longitude 0."""
    days = (day - _J2000).days - 0.5 + solar_hour / 24.0
    declination, equation_h = _apparent(days)
    return _apparent(days - equation_h / 24.0)[0] if equation_h else declination


def _apparent(days: float) -> tuple[float, float]:
    """Declination in degrees and equation of time in hours, days after 2000 January 1.5."""
    mean = (280.460 + 0.9856474 * days) % 360.0
    anomaly = np.radians((357.528 + 0.9856003 * days) % 360.0)
    longitude = np.radians(mean + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2.0 * anomaly))
    obliquity = np.radians(23.439 - 4e-7 * days)
    declination = np.degrees(np.arcsin(np.sin(obliquity) * np.sin(longitude)))
    ascension = np.degrees(np.arctan2(np.cos(obliquity) * np.sin(longitude), np.cos(longitude)))
    equation = ((mean - ascension + 180.0) % 360.0 - 180.0) / 15.0
    return float(declination), float(equation)


def _horizontal(latitude_deg: float, declination: float, hour: float) -> tuple[float, float]:
    latitude, tilt, turn = np.radians([latitude_deg, declination, 15.0 * (hour - 12.0)])
    east = -np.cos(tilt) * np.sin(turn)
    north = np.sin(tilt) * np.cos(latitude) - np.cos(tilt) * np.cos(turn) * np.sin(latitude)
    up = np.sin(tilt) * np.sin(latitude) + np.cos(tilt) * np.cos(turn) * np.cos(latitude)
    altitude = np.degrees(np.arcsin(np.clip(up, -1.0, 1.0)))
    return float(altitude), float(np.degrees(np.arctan2(east, north)) % 360.0)


# The clear sky


def clear_luminance(
    sun: Sun, north_deg: float, direction: Floats, ground: float = sky.REFLECTANCE
) -> Floats:
    """Of what lies in directions of the plan, (..., 3): the sky, or the ground below it; cd/m2."""
    up = np.clip(direction[..., 2], 0.0, 1.0)
    apart = np.arccos(np.clip(direction @ sun.toward(north_deg), -1.0, 1.0))
    shine = sun.sky_lux * _relative(up, apart) / _clear_horizontal(round(sun.altitude_deg, 1))
    return np.where(direction[..., 2] < 0.0, ground * sun.horizontal_lux / np.pi, shine)


def _relative(sine: Floats, apart: Floats) -> Floats:
    """CIE S 011 type 12: a -1, b -0.32, c 10, d -3, e 0.45, without its scale."""
    gradation = 1.0 - np.exp(-0.32 / np.maximum(sine, 1e-3))
    indicatrix = 1.0 + 10.0 * (np.exp(-3.0 * apart) - np.exp(-1.5 * np.pi))
    return np.asarray(gradation * (indicatrix + 0.45 * np.cos(apart) ** 2))


@lru_cache(maxsize=1024)
def _clear_horizontal(altitude_deg: float) -> float:
    """What `_relative` gives on the horizontal."""
    directions = rays.cosine_directions(rays.spread(8192, 2))
    apart = np.arccos(np.clip(directions @ Sun(altitude_deg, 0.0).toward(0.0), -1.0, 1.0))
    return float(np.pi * _relative(directions[:, 2], apart).mean())


# Where the sun falls


class SunPatch(NamedTuple):
    """Sun on one surface of a room: the corners of the patch in the room's coordinates, (n, 3)."""

    room: int
    surface: str
    corners_m: Floats
    share: float
    """Of the beam, by the glass that it has passed."""

    @property
    def area_m2(self) -> float:
        first, *rest = self.corners_m
        edges = np.array(rest) - first
        return float(np.linalg.norm(np.cross(edges[:-1], edges[1:]).sum(0)) / 2.0)


def shines_in(shape: Shape, pane: Pane, toward: Floats) -> bool:
    """Whether the sun stands before a window and above what stands in its way."""
    return _before(frame(shape, pane.hole)[1][2], pane.window.sky_angle_deg, toward)


def _before(out: Floats, sky_angle_deg: float, toward: Floats) -> bool:
    ahead = float(toward @ out)
    lowest = sky.profile_tangent(sky_angle_deg)
    return bool(ahead > 1e-6 and toward[2] > 0.0 and toward[2] > lowest * ahead)  # noqa: PLR2004


def hours_of_sun(
    azimuth_deg: float, sky_angle_deg: float, latitude_deg: float, day: dt.date
) -> tuple[float, ...]:
    """The quarters of an hour, solar time, at which the sun shines on a wall that faces a bearing.

    What stands in the way is as before a window; the wall needs no other measures.
    """
    bearing = np.radians(azimuth_deg)
    out = np.array([np.sin(bearing), np.cos(bearing), 0.0])
    ways = _ways_to_sun(latitude_deg, day)
    return tuple(hour for hour, toward in ways.items() if _before(out, sky_angle_deg, toward))


@lru_cache(maxsize=64)
def _ways_to_sun(latitude_deg: float, day: dt.date) -> Mapping[float, Floats]:
    """By the quarters of an hour of a day at which it is up; north is up in the plan."""
    midnight = dt.datetime.combine(day, dt.time())
    hours = (quarter / 4.0 for quarter in range(96))
    suns = {hour: sun_at(latitude_deg, midnight + dt.timedelta(hours=hour)) for hour in hours}
    return {hour: sun.toward(0.0) for hour, sun in suns.items() if sun.up}


def sun_patches(cluster: Cluster, room: int, pane: Pane, toward: Floats) -> Iterator[SunPatch]:
    """What a window's beam falls on, in its room and through open doors; convex pieces.

    Each surface is clipped by the beam moved onto it, and cut around windows and openings. In a
    room with a corner that stands out the beam is split where that casts its shadow.
    """
    shape = cluster.shapes[room]
    if not shines_in(shape, pane, toward):
        return
    corner, axes = frame(shape, pane.hole)
    beam = corner + _square(np.array([pane.hole.width_m, pane.hole.height_m])) @ axes[:2]
    gates = gates_of(cluster)
    yield from _fallen(cluster, gates, (room, -1, 1), (beam, -toward), pane.window.transmittance)


def _fallen(
    cluster: Cluster, gates: Gates, place: tuple[int, int, int], ray: tuple[Floats, Floats],
    share: float,
) -> Iterator[SunPatch]:  # fmt: skip
    room, came_by, rooms = place
    shape, along = cluster.shapes[room], ray[1]
    for beam, faces in _split(shape, *ray):
        for surface, corner, axes, outline in faces:
            patch = _on_face(beam, along, (corner, axes), outline)
            if patch is None:
                continue
            for piece in _around_holes(shape, surface, patch):
                yield SunPatch(room, surface, corner + piece @ axes[:2], share)
            if rooms == MOST_ROOMS:
                continue
            for gate in np.flatnonzero(gates.room == room).tolist():
                hole = shape.holes[cluster.joints[gate // 2].holes[gate % 2]]
                if gate != came_by and hole.surface == surface:
                    fallen = corner + patch @ axes[:2] - gates.origin_m[:, gate]
                    square = _square(gates.size_m[:2, gate].astype(np.float64))
                    through = clipped(_turned(fallen @ gates.axes[:2, :, gate].T), square)
                    if through is not None:
                        yield from _beyond(cluster, gates, (gate, rooms), (through, along), share)


def _beyond(
    cluster: Cluster, gates: Gates, passing: tuple[int, int], ray: tuple[Floats, Floats],
    share: float,
) -> Iterator[SunPatch]:  # fmt: skip
    """Through an opening into the next room; what its lining stops is left out."""
    (gate, rooms), (through, along) = passing, ray
    local = gates.axes[:, :, gate] @ along
    drift = local[:2] / local[2] * gates.size_m[2, gate]
    passed = clipped(through + drift, _square(gates.size_m[:2, gate].astype(np.float64)))
    if passed is None:
        return
    far, other = gate ^ 1, gates.axes[:, :, gate ^ 1]
    beam = gates.origin_m[:, far] + passed @ other[:2]
    way = local[0] * other[0] + local[1] * other[1] - local[2] * other[2]
    room = int(gates.room[far])
    share = share * float(gates.passes[gate])
    yield from _fallen(cluster, gates, (room, far, rooms + 1), (beam, way), share)


def _square(size_m: Floats, start_m: Floats | float = 0.0) -> Floats:
    return np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]) * size_m + start_m


FaceOf = tuple[str, Floats, Floats, Floats]
"""A surface: name, corner, axes (the third out of the room), and its outline in them."""


def _level_faces(shape: Shape, plan: Floats) -> Iterator[FaceOf]:
    for surface, z, out in ((FLOOR, 0.0, -1.0), (CEILING, shape.height_m, 1.0)):
        yield surface, np.array([0.0, 0.0, z]), np.diag([1.0, 1.0, out]), plan


def _wall_face(shape: Shape, edge: int, ends: tuple[float, float] = (0.0, 1.0)) -> FaceOf:
    """A wall, or a part of it: from and to which share of its length."""
    start, end = np.array(shape.outline_m)[[edge, (edge + 1) % len(shape.outline_m)]]
    length = float(np.hypot(*(end - start)))
    whole = Hole("", shape.wall_keys[edge], 0.0, 0.0, length, shape.height_m)
    part = np.array([(ends[1] - ends[0]) * length, shape.height_m])
    return whole.surface, *frame(shape, whole), _square(part, np.array([ends[0] * length, 0.0]))


def _split(
    shape: Shape, beam: Floats, along: Floats
) -> Iterator[tuple[Floats, tuple[FaceOf, ...]]]:
    """A beam in parts, and the faces that each part falls on with nothing in its way."""
    plan = np.array(shape.outline_m)
    edges = range(len(plan))
    if _convex(plan) or np.hypot(*along[:2]) < 1e-9:  # noqa: PLR2004 - straight down
        yield beam, (*_level_faces(shape, plan), *(_wall_face(shape, edge) for edge in edges))
        return
    ahead = along[:2] / np.hypot(*along[:2])
    turn = np.array([[ahead[1], -ahead[0]], ahead])
    for reach in _reached(plan @ turn.T, beam[:, :2] @ turn.T):
        start, last = reach[0].start[0], reach[-1].start[1]
        seen = np.array([last, start, reach[0].end[0], *(met.end[1] for met in reach)])
        part = _kept(beam, beam[:, :2] @ turn[0] - start[0])
        part = _kept(part, last[0] - part[:, :2] @ turn[0])
        walls = (_wall_face(shape, met.edge, met.share) for met in reach)
        yield part, (*_level_faces(shape, seen @ turn), *walls)


class _Met(NamedTuple):
    """The wall that a part of a beam comes to next; places in plan, across the beam and ahead."""

    start: Floats
    """Both sides of the part where it comes from, (2, 2)."""
    end: Floats
    """And where it meets the wall."""
    edge: int
    share: tuple[float, float]
    """Of the wall's length, from and to."""


def _reached(plan: Floats, beam: Floats) -> list[list[_Met]]:
    """What a beam, (n, 2), meets, split where one wall ends before another begins."""
    first, last = beam[beam[:, 0].argmin()], beam[beam[:, 0].argmax()]
    corners = plan[(plan[:, 0] > first[0] + SAME_M) & (plan[:, 0] < last[0] - SAME_M), 0]
    made: list[list[_Met]] = []
    for stops in pairwise(np.unique([first[0], *corners, last[0]])):
        ahead = np.interp(stops, *np.stack([first, last], axis=-1))
        met = _first_wall(plan, np.stack([stops, ahead], axis=-1))
        if met and made and np.abs(made[-1][-1].end[1] - met.end[0]).max() < SAME_M:
            made[-1].append(met)
        elif met:
            made.append([met])
    return made


def _first_wall(plan: Floats, start: Floats) -> _Met | None:
    span = np.roll(plan, -1, axis=0) - plan
    across = np.where(np.abs(span[:, :1]) > SAME_M, span[:, :1], np.nan)
    share = (start[:, 0] - plan[:, :1]) / across
    ahead = (plan[:, 1:] + share * span[:, 1:] - start[:, 1]).mean(1)
    here = (np.abs(share.mean(1) - 0.5) < 0.5) & (ahead > SAME_M)  # noqa: PLR2004 - halves
    if not here.any():
        return None
    edge = int(np.where(here, ahead, np.inf).argmin())
    low, high = sorted(share[edge].tolist())
    return _Met(start, plan[edge] + share[edge][:, None] * span[edge], edge, (low, high))


def _around_holes(shape: Shape, surface: str, patch: Floats) -> list[Floats]:
    """What of a patch lies on the surface itself, not on its windows and openings."""
    pieces = [patch]
    for hole in (hole for hole in shape.holes if hole.surface == surface):
        low = np.array([hole.along_m, hole.sill_m])
        high = low + np.array([hole.width_m, hole.height_m])
        pieces = [part for piece in pieces for part in _around(piece, low, high)]
    return pieces


def _around(piece: Floats, low: Floats, high: Floats) -> list[Floats]:
    """A polygon less a rectangle."""
    parts, rest = [], piece
    for axis, stop, sign in ((0, low, -1.0), (0, high, 1.0), (1, low, -1.0), (1, high, 1.0)):
        beyond = sign * (rest[:, axis] - stop[axis])
        parts.append(_kept(rest, beyond))
        rest = _kept(rest, -beyond)
    if abs(_twice_m2(rest)) < SAME_M**2:
        return [piece]
    return [part for part in parts if abs(_twice_m2(part)) > SAME_M**2]


def _on_face(
    beam: Floats, along: Floats, frame: tuple[Floats, Floats], outline: Floats
) -> Floats | None:
    """The beam moved along itself onto a plane that it meets from within, clipped: (n, 2)."""
    corner, axes = frame
    ahead = float(along @ axes[2])
    if ahead <= 1e-9:  # noqa: PLR2004 - it runs along the plane or away from it
        return None
    reach = (corner - beam) @ axes[2] / ahead
    if np.all(reach <= 1e-9):  # noqa: PLR2004 - the plane of the window itself
        return None
    moved = beam + reach[:, None] * along - corner
    flat = moved @ axes[:2].T
    # A counter-clockwise beam as seen from where its outline is counter-clockwise too.
    return clipped(_turned(flat), _turned(outline))


def _turned(polygon: Floats) -> Floats:
    """Counter-clockwise."""
    return polygon if _twice_m2(polygon) > 0.0 else polygon[::-1]


def _twice_m2(polygon: Floats) -> float:
    """Twice its area; below 0 where it is clockwise."""
    x, y = polygon.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1))


def clipped(polygon: Floats, by: Floats) -> Floats | None:
    """A convex polygon cut by another that is counter-clockwise (Sutherland & Hodgman 1974).

    Both (n, 2). An outline that is not convex is the clipped and the beam the clipping one.
    """
    subject, window = (polygon, by) if _convex(by) else (by, polygon)
    window = _turned(window)
    for start, (x, y) in zip(window, np.roll(window, -1, axis=0) - window, strict=True):
        # What lies on the left of the line.
        subject = _kept(subject, x * (subject[:, 1] - start[1]) - y * (subject[:, 0] - start[0]))
        if len(subject) < 3:  # noqa: PLR2004 - no polygon
            return None
    return subject


def _convex(polygon: Floats) -> bool:
    edges = np.roll(polygon, -1, axis=0) - polygon
    onward = np.roll(edges, -1, axis=0)
    turns = edges[:, 0] * onward[:, 1] - edges[:, 1] * onward[:, 0]
    return bool(np.all(turns > -1e-12) or np.all(turns < 1e-12))  # noqa: PLR2004


def _kept(polygon: Floats, side: Floats) -> Floats:
    """What of a polygon lies where `side`, known at its corners, is not below 0."""
    kept: list[Floats] = []
    for i, here in enumerate(side):
        following = (i + 1) % len(side)
        if here >= 0.0:
            kept.append(polygon[i])
        if here * side[following] < 0.0:
            part = here / (here - side[following])
            kept.append(polygon[i] + part * (polygon[following] - polygon[i]))
    return np.array(kept).reshape(-1, polygon.shape[1])


# Rooms in the sun on a clear day: where its patches lie, and the light that they give.

SURFACES = ("floor", "ceiling", "walls")
LINES = 4096
"""From each window, for the sun and for the sky."""
COLUMNS: tuple[Column, Column] = (
    ("day", sources.daylight(SUN_KELVIN)), ("evening", sources.daylight(CLEAR_SKY_KELVIN)),
)  # fmt: skip
"""The sun and the blue sky are held as the two lights of a house."""


class SunlitRoom(NamedTuple):
    patches: tuple[SunPatch, ...]
    beam: Lit
    """What the sun alone gives."""
    sky: Lit
    """What the blue sky and the ground give."""

    @property
    def patch_m2(self) -> float:
        """Of sun on floor, walls and ceiling together."""
        return sum(patch.area_m2 for patch in self.patches)

    @property
    def light(self) -> Lit:
        """Sun and sky together, to see colours by."""
        (surfaces, *sun), (_, *sky) = self.beam, self.sky
        return Lit(surfaces, *(one + other for one, other in zip(sun, sky, strict=True)))


def sunlit(house: HouseLight, sun: Sun) -> Mapping[str, SunlitRoom]:
    """Every room of which light is computed, with the sun where it stands; none by night."""
    if not sun.up:
        return {}
    made: dict[str, SunlitRoom] = {}
    for group, joined in house.joined.items():
        made.update(zip(group, _sunlit(joined, sun), strict=True))
    return {room: made[room] for room in house.rooms if room in made}


def _sunlit(joined: Joined, sun: Sun) -> list[SunlitRoom]:
    cluster, scenes, north = joined.cluster, joined.scenes, joined.inputs[0].north_deg
    windows = [(place, pane) for place, scene in enumerate(scenes) for pane in scene.panes]
    toward = sun.toward(north)
    patches = [p for place, pane in windows for p in sun_patches(cluster, place, pane, toward)]
    first = _first(cluster, scenes, windows, (sun, north))
    solved, made = light_from(made_of(cluster, COLUMNS, scenes, first), scenes), []
    for place in range(len(scenes)):
        lights, _ = solved.lights(place)
        mine = tuple(patch for patch in patches if patch.room == place)
        made.append(SunlitRoom(mine, lights["day"], lights["evening"]))
    return made


def _first(
    cluster: Cluster, scenes: Sequence[Scene], windows: Sequence[tuple[int, Pane]],
    sun: tuple[Sun, float],
) -> First:  # fmt: skip
    """By sun and sky."""
    lux, straight = ([np.zeros((len(each.mesh.area_m2), 2)) for each in scenes] for _ in range(2))
    entering = np.zeros((len(scenes), 2))
    for own, pane in windows:
        for column, (start, along, lumens) in enumerate(_beams(scenes[own], pane, *sun)):
            if not len(lumens):
                continue
            gates = gates_of(cluster)
            lines = lines_from(np.full(len(lumens), own), start, along)
            follow(gates, lines, np.arange(len(lumens)))
            entering[own, column] += lumens.sum()
            here = np.flatnonzero(lines.patch >= 0)
            value = (lumens * lines.kept)[here]
            for light, part in ((lux, value), (straight, value * ~lines.bounced[here])):
                came = np.bincount(lines.patch[here], part, gates.patches[-1])
                for place, falls in enumerate(np.split(came, gates.patches[1:-1])):
                    light[place][:, column] += falls / scenes[place].mesh.area_m2
                    if place != own and light is lux:
                        entering[place, column] += falls.sum()
    return First(lux, straight, entering)


def _beams(
    scene: Scene, pane: Pane, sun: Sun, north_deg: float
) -> Iterator[tuple[Floats, Floats, Floats]]:
    """Of the sun and of the sky: where lines set out, which way, and their lumens."""
    corner, axes = frame(scene.shape, pane.hole)
    uniform = rays.spread(LINES, 4)
    size = pane.hole.width_m, pane.hole.height_m
    start = corner + (uniform[:, :2] * size) @ axes[:2]
    passed = pane.window.transmittance * pane.area_m2 / LINES
    toward = sun.toward(north_deg)
    shining = shines_in(scene.shape, pane, toward)
    count, ahead = (LINES, float(toward @ axes[2])) if shining else (0, 0.0)
    along = np.broadcast_to(-toward, (count, 3))
    yield start[:count].copy(), along, np.full(count, sun.normal_lux * ahead * passed)
    out = rays.cosine_spread(LINES) @ axes
    lowest = sky.profile_tangent(pane.window.sky_angle_deg)
    seen = (out[:, 2] > lowest * (out @ axes[2])) | (out[:, 2] < 0.0)
    shine = clear_luminance(sun, north_deg, out, pane.outside.ground) * seen
    yield start, -out, np.pi * shine * passed


def sun_facts(house: HouseLight, sun: Sun) -> dict[str, Any]:
    """The sun in every room by the file format; `direct` and `total` are of its beam alone, lux."""
    rooms = {
        room: {
            "patch_m2": each.patch_m2,
            "direct": {surface: each.beam.direct_lux(surface) for surface in SURFACES},
            "total": {surface: each.beam.total_lux(surface) for surface in SURFACES},
            "sky": {surface: each.sky.total_lux(surface) for surface in SURFACES},
        }
        for room, each in sunlit(house, sun).items()
    }
    return {
        "altitude": sun.altitude_deg, "azimuth": sun.azimuth_deg, "normal_lux": sun.normal_lux,
        "sky_lux": sun.sky_lux, "rooms": rooms,
    }  # fmt: skip


def sunny_hours(house: HouseLight, room: str, latitude_deg: float, day: dt.date) -> list[float]:
    """The quarters of an hour, solar time, at which the sun comes in by the room's own windows."""
    if room not in house.scenes:
        return []
    inputs, scene = house.scenes[room]
    found: set[float] = set()
    for pane in scene.panes:
        azimuth = window_azimuth_deg(inputs.room, pane.window, inputs.north_deg)
        found.update(hours_of_sun(azimuth, pane.window.sky_angle_deg, latitude_deg, day))
    return sorted(found)
