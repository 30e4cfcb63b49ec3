"""A room ready to be computed: its shape, what each surface reflects, what shines, what to note."""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Literal, NamedTuple

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.light import enclosures, mesh, sky, sources
from housemap.light.daylight import GLASS_REFLECTANCE, ROOM_TOO_DEEP, DaylightFactor
from housemap.light.inputs import RoomColours, RoomInputs, RoomOpening, SurfaceColour
from housemap.light.orientation import DAYLIGHT_KELVIN, daylight_kelvin, window_azimuth_deg
from housemap.light.rays import inside, inside_points, wall_distance_m
from housemap.light.shine import Emitter
from housemap.light.sources import Spectrum
from housemap.model.geometry import floor_outline_m, outward, wall_of
from housemap.model.house import Lamp, Point, Room, Window

CORNERS = 64
"""An outline with more corners is not computed."""
MOST_M = 200.0
"""Nor is a room longer than this."""
_EDGES_OF_BOX = ("s", "e", "n", "w")
_AGAINST_EDGE = {"n", "w"}
"""Walls of a size room that are measured the other way round than the outline runs."""


class Holes(NamedTuple):
    """`openings` by hole name; `missing` are the openings that have no place in a wall."""

    all: tuple[mesh.Hole, ...]
    windows: tuple[str, ...]
    openings: dict[str, RoomOpening]
    missing: tuple[str, ...]


def why_not(room: Room) -> str | None:
    """Why light in this room is not computed, or None."""
    outline = floor_outline_m(room)
    if outline is None:
        return "Not measured: light is not computed. Give the room a size or an outline."
    if room.height_m is None:
        return "No height: light is not computed."
    if room.use == "outdoor":
        return "Outdoors: light is not computed."
    if len(outline) > CORNERS:
        return f"The outline has more than {CORNERS} corners: light is not computed."
    if max(max(point) for point in outline) > MOST_M or room.height_m > MOST_M:
        return f"The room is larger than {MOST_M:.0f} m: light is not computed."
    return None


def holes_of(inputs: RoomInputs) -> Holes:
    """Windows and openings as holes in the walls, cut to fit them; windows come first."""
    room = inputs.room
    windows: dict[str, mesh.Hole | None] = {}
    for key, each in sorted(room.windows.items()):
        size = each.along_m, each.sill_m, each.width_m, each.height_m
        hole = _hole(room, f"window {key}", each.wall, size)
        windows[key] = replace(hole, shines=True) if hole else None
    openings = {each.name: _opening_hole(room, each) for each in inputs.openings}
    by_name = {each.name: each for each in inputs.openings}
    return Holes(
        all=tuple(hole for hole in (*windows.values(), *openings.values()) if hole),
        windows=tuple(key for key, hole in windows.items() if hole),
        openings={hole.name: by_name[name] for name, hole in openings.items() if hole},
        missing=tuple(name for name, hole in openings.items() if hole is None),
    )


def shape_of(room: Room, holes: tuple[mesh.Hole, ...]) -> mesh.Shape:
    """The shape of a measured room (see `why_not`)."""
    outline = floor_outline_m(room)
    assert outline is not None
    assert room.height_m is not None
    keys = _EDGES_OF_BOX if room.size_m else tuple(str(i) for i in range(len(outline)))
    return mesh.Shape(outline, keys, room.height_m, holes)


Size = tuple[float, float, float, float]
"""Along, sill, width, height."""


def _opening_hole(room: Room, opening: RoomOpening) -> mesh.Hole | None:
    along, width, height = opening.along_m, opening.width_m, opening.height_m
    if opening.wall is None or along is None or width is None or height is None:
        return None
    name = f"opening {opening.name}"
    if opening.wall in {mesh.FLOOR, mesh.CEILING}:  # of rooms without a size they are not cut
        cut = mesh.Hole(name, opening.wall, along, opening.sill_m, width, height)
        return cut if room.size_m else None
    hole = _hole(room, name, opening.wall, (along, opening.sill_m, width, height))
    if hole is None or opening.most_m is None:
        return hole
    most = opening.most_m
    return replace(hole, width_m=min(hole.width_m, most[0]), height_m=min(hole.height_m, most[1]))


def _hole(room: Room, name: str, wall_key: str, size: Size) -> mesh.Hole | None:
    """None where nothing of it lies in the wall."""
    wall = wall_of(room, wall_key)
    if wall is None or room.height_m is None:
        return None
    along, sill, width, height = size
    near, far = max(along, 0.0), min(along + width, wall.length_m)
    low, high = max(sill, 0.0), min(sill + height, room.height_m)
    if far <= near or high <= low:
        return None
    start = wall.length_m - far if wall.key in _AGAINST_EDGE else near
    return mesh.Hole(name, wall_key, start, low, far - near, high - low)


GLASS_DOOR_PASSES = 0.8
"""Of the light through a glazed opening, between rooms or outdoors (our assumption)."""
LAMP_HEIGHT = 0.8
"""Of the room's height, where a lamp without a place hangs unless it shines down."""
AT_WALL_M = 0.001

LightName = Literal["day", "evening"]
LIGHTS: tuple[LightName, ...] = ("day", "evening")
Column = tuple[LightName, Spectrum]
"""What is computed at once: the light of one spectrum, by day or in the evening."""


class Beam(NamedTuple):
    """The light of one window or lamp."""

    column: Column
    lumens: float
    """That it brings into the room."""
    first_lux: Floats
    """On each patch, (N,)."""
    emitter: Emitter
    """For what shines on through openings."""


class Pane(NamedTuple):
    """A window as it lies in a wall, and what lies before it."""

    number: int
    """Of its hole in the shape."""
    hole: mesh.Hole
    window: Window
    outside: sky.Outside

    @property
    def area_m2(self) -> float:
        return self.hole.width_m * self.hole.height_m

    def lumens(self, outdoor_lux: float) -> float:
        """That come in through it."""
        passed = outdoor_lux * self.window.transmittance
        return passed * sky.glass_share(self.outside) * self.area_m2


def _panes(inputs: RoomInputs, holes: Holes) -> Iterator[Pane]:
    """Windows, and openings outdoors whose door is not shut."""
    windows = dict(enumerate(inputs.room.windows[key] for key in holes.windows))
    for number, hole in enumerate(holes.all):
        way = holes.openings.get(hole.name)
        if way is not None and way.outdoors and way.closed != "door":
            passes = GLASS_DOOR_PASSES if way.closed == "glass" else 1.0
            size = hole.along_m, hole.width_m, hole.height_m, hole.sill_m
            windows[number] = Window(hole.surface, *size, transmittance=passes)
    for number, window in windows.items():
        outside = sky.Outside(window.sky_angle_deg, window.obstruction, inputs.ground)
        yield Pane(number, holes.all[number], window, outside)


def beams_of(inputs: RoomInputs, scene: "Scene", outdoor_lux: float) -> Iterator[Beam]:
    """Through each window from what lies outside, and from each lamp; those that bring light."""
    for pane in scene.panes:
        if pane.lumens(outdoor_lux) > 0.0:
            yield _through(inputs, scene.shape, pane, outdoor_lux)
    for _, lamp in sorted(inputs.room.lamps.items()):
        if lamp.lumens > 0.0:
            yield _from(inputs.room, scene.shape, lamp)


def has_light(inputs: RoomInputs, scene: "Scene", outdoor_lux: float) -> bool:
    """Whether `beams_of` has any."""
    return any(pane.lumens(outdoor_lux) > 0.0 for pane in scene.panes) or any(
        lamp.lumens > 0.0 for lamp in inputs.room.lamps.values()
    )


def _through(inputs: RoomInputs, shape: mesh.Shape, pane: Pane, outdoor_lux: float) -> Beam:
    passed, lumens = outdoor_lux * pane.window.transmittance, pane.lumens(outdoor_lux)
    falls = enclosures.skylight(shape, pane.number, pane.outside)
    facing = window_azimuth_deg(inputs.room, pane.window, inputs.north_deg)
    kelvin = pane.window.kelvin or daylight_kelvin(facing, inputs.latitude_deg)
    emitter = window_emitter(shape, pane, (passed, lumens))
    return Beam(("day", sources.daylight(kelvin)), lumens, passed * falls.patches, emitter)


def window_emitter(shape: mesh.Shape, pane: Pane, light: tuple[float, float]) -> Emitter:
    """`light`: lux that pass it, and lumens that come in."""
    corner, axes = mesh.frame(shape, pane.hole)
    along, up = axes[0] * pane.hole.width_m, axes[1] * pane.hole.height_m

    def candela(toward: Floats) -> Floats:
        ahead = -(toward @ axes[2])
        shine = sky.outside_luminance(pane.outside, -toward[:, 2], ahead)
        return np.asarray(pane.area_m2 * shine * np.maximum(ahead, 0.0))

    return Emitter(
        lambda uniform: corner + uniform[:, :1] * along + uniform[:, 1:] * up, candela,
        *light, by_day=True,
    )  # fmt: skip


def _from(room: Room, shape: mesh.Shape, lamp: Lamp) -> Beam:
    at_m = lamp_place_m(room, lamp)
    shares = enclosures.lamp_shares(shape, at_m, lamp.aim)
    first_lux = lamp.lumens * shares / enclosures.enclosure(shape).mesh.area_m2
    spectrum = sources.lamp(lamp.kelvin, lamp.spectrum, lamp.power)

    def candela(toward: Floats) -> Floats:
        if lamp.aim == "all":
            return np.full(len(toward), 0.25 / np.pi)
        return np.maximum((-1.0 if lamp.aim == "down" else 1.0) * toward[:, 2], 0.0) / np.pi

    emitter = Emitter(
        lambda uniform: np.tile(at_m, (len(uniform), 1)), candela, lamp.lumens, lamp.lumens,
        by_day=False,
    )  # fmt: skip
    return Beam(("evening", spectrum), lamp.lumens, first_lux, emitter)


def lamp_place_m(room: Room, lamp: Lamp) -> mesh.LampPlace:
    """Where a lamp stands: as given, else in the middle, on the ceiling if it shines down.

    The middle is that of the room's box, or where that lies outside, the point of the floor that
    is farthest from the walls. A lamp said to stand outside the room stands there too.
    """
    outline, height = floor_outline_m(room), room.height_m
    assert outline is not None
    assert height is not None
    if lamp.at_m is not None and stands_inside(outline, lamp.at_m[:2]):
        return (*lamp.at_m[:2], min(max(lamp.at_m[2], 0.0), height))
    return (*_middle(outline), height if lamp.aim == "down" else LAMP_HEIGHT * height)


@lru_cache(maxsize=1024)
def stands_inside(outline_m: tuple[Point, ...], place_m: Point) -> bool:
    """Whether a place lies inside an outline or on its edge."""
    point = np.array([place_m])
    at_wall = wall_distance_m(outline_m, point)[0] <= AT_WALL_M
    return bool(inside(outline_m, point)[0] or at_wall)


@lru_cache(maxsize=1024)
def _middle(outline_m: tuple[Point, ...]) -> Point:
    x, y = (max(values) / 2.0 for values in zip(*outline_m, strict=True))
    if stands_inside(outline_m, (x, y)):
        return x, y
    points = inside_points(outline_m, 0.0)
    deepest = points[wall_distance_m(outline_m, points).argmax()]
    return float(deepest[0]), float(deepest[1])


WARMEST_LED_K = 2500.0
"""Below this the step from LED-B1 (2733 K) is worth a word."""
UNPAINTED = {"walls": 0.5, mesh.CEILING: 0.7, mesh.FLOOR: 0.2}
"""Reflectance of what has no paint yet: the low ends of EN 12464-1:2011's recommended ranges."""


def notes(inputs: RoomInputs, holes: Holes, shape: mesh.Shape) -> Iterator[str]:
    for surface, reflectance in UNPAINTED.items():
        if getattr(inputs.colours, surface) is None:
            noun = "No floor finish" if surface == mesh.FLOOR else f"No paint on the {surface}"
            yield f"{noun} yet: counted as a grey of LRV {100.0 * reflectance:.0f}."
    yield from _daylight(inputs, holes)
    yield from _lamps(inputs.room)
    for name in holes.missing:
        yield f'Opening "{name}" has no measured place in this room: it counts as wall.'
    if (step := mesh.patch_size_m(shape)) > mesh.PATCH_M:
        yield f"A large room: computed over patches of {step:.1f} m."
    if not mesh.corners_of_box(shape.outline_m):
        yield "Light between the walls of this outline is counted by rays, within about 2 %."


def _daylight(inputs: RoomInputs, holes: Holes) -> Iterator[str]:
    room = inputs.room
    windows = [room.windows[key] for key in holes.windows]
    outside = [way for way in holes.openings.values() if way.outdoors and way.closed != "door"]
    if any(way.closed == "open" for way in outside):
        yield (
            "A doorway to outdoors stands open and counts as a window; edit its door where it is"
            " usually shut."
        )
    if not windows and not outside:
        yield "No window: the only daylight is what comes through openings from other rooms."
    if not windows:
        return
    if not inputs.latitude_deg and not all(window.kelvin for window in windows):
        kelvin = DAYLIGHT_KELVIN["between"]
        yield f"The house has no latitude: daylight is taken as {kelvin:.0f} K on every side."
    depth_m = min(_depth_m(room, window) for window in windows)
    if room.height_m and depth_m > ROOM_TOO_DEEP * room.height_m:
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
        yield "No lamp: the only light of the evening comes through openings from other rooms."
    for key, lamp in room.lamps.items():
        if lamp.at_m is not None and not stands_inside(outline, lamp.at_m[:2]):
            yield f'Lamp "{key}" stands outside the room: it is taken in the middle.'
        named = lamp.spectrum or lamp.power
        if not named and lamp.kelvin is not None and lamp.kelvin < WARMEST_LED_K:
            yield f'Lamp "{key}" is warmer than any CIE LED: LED-B1 is taken, made warmer.'


class Scene(NamedTuple):
    shape: mesh.Shape
    reflectance: Floats
    """(surfaces, 41)."""
    grey: Floats
    """LRV / 100 of each surface, (surfaces,)."""
    plain_walls: frozenset[str]
    """The walls that wear the walls' paint."""
    doors: frozenset[str]
    """The closed doors that wear the doors' paint, or the walls' where doors have none."""
    doors_as_walls: bool
    panes: tuple[Pane, ...]
    notes: tuple[str, ...]

    @property
    def mesh(self) -> mesh.Mesh:
        return enclosures.enclosure(self.shape).mesh

    def wearing(self, surface: str) -> frozenset[str]:
        """The surfaces of the mesh that a paint on "walls", "doors", "ceiling" or a wall covers."""
        if surface == "walls":
            return self.plain_walls | self.doors if self.doors_as_walls else self.plain_walls
        if surface == "doors":
            return self.doors
        return frozenset({surface} & {mesh.CEILING, mesh.FLOOR, *self.shape.wall_keys})

    def daylight_factor(self) -> DaylightFactor:
        terms = (
            pane.window.transmittance * pane.area_m2 * pane.window.sky_angle_deg
            for pane in self.panes
        )
        names, areas = self.shape.surfaces, self.mesh.surface_area_m2().tolist()
        worn = {name: self.wearing(name) for name in ("walls", "doors")}
        greys = dict(zip(names, self.grey.tolist(), strict=True))
        return DaylightFactor(sum(terms), dict(zip(names, areas, strict=True)), greys, worn)


def scene_of(inputs: RoomInputs) -> Scene:
    """The scene of a room for which `why_not` has no reason."""
    room, colours, holes = inputs.room, inputs.colours, holes_of(inputs)
    shape = shape_of(room, holes.all)
    on = [_colour_on(name, shape, colours, holes) for name in shape.surfaces]
    return Scene(
        shape=shape,
        reflectance=np.array([colour.reflectance for colour in on]),
        grey=np.array([colour.lrv for colour in on]) / 100.0,
        plain_walls=frozenset(shape.wall_keys).difference(colours.accents),
        doors=frozenset(name for name, o in holes.openings.items() if o.closed == "door"),
        doors_as_walls=colours.doors is None,
        panes=tuple(_panes(inputs, holes)),
        notes=tuple(notes(inputs, holes, shape)),
    )


def grey(reflectance: float) -> SurfaceColour:
    return SurfaceColour(np.full(len(spectra.GRID_NM), reflectance), 100.0 * reflectance)


def _colour_on(name: str, shape: mesh.Shape, colours: RoomColours, holes: Holes) -> SurfaceColour:
    walls = colours.walls or grey(UNPAINTED["walls"])
    if name in shape.wall_keys:
        return colours.accents.get(name, walls)
    if name in {mesh.FLOOR, mesh.CEILING}:
        return getattr(colours, name) or grey(UNPAINTED[name])
    closed = holes.openings[name].closed if name in holes.openings else "glass"
    if closed == "door":
        return colours.doors or walls
    return grey(GLASS_REFLECTANCE if closed == "glass" else 0.0)
