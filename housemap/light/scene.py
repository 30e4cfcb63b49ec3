"""A room ready to be computed: its shape, what each surface reflects, and what shines."""

from collections.abc import Hashable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.light import geometry, sky
from housemap.light.beams import Beam, daylight, lamplight
from housemap.light.daylight import GLASS_REFLECTANCE, DaylightFactor
from housemap.light.enclosure import CEILING, FLOOR, Hole, Mesh, Shape
from housemap.light.inputs import RoomColours, RoomInputs, SurfaceColour
from housemap.light.notes import UNPAINTED, notes
from housemap.light.shape import Holes, holes_of, shape_of
from housemap.model.house import Window

LightName = Literal["day", "evening"]
LIGHTS: tuple[LightName, ...] = ("day", "evening")


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """What `light_of` computes from."""

    shape: Shape
    mesh: Mesh
    reflectance: Floats
    """(surfaces, 41)."""
    grey: Floats
    """LRV / 100 of each surface, (surfaces,)."""
    plain_walls: frozenset[str]
    """The walls that wear the walls' paint."""
    doors: frozenset[str]
    """The closed doors that wear the doors' paint, or the walls' where doors have none."""
    doors_as_walls: bool
    day: tuple[Beam, ...]
    evening: tuple[Beam, ...]
    windows: dict[Hole, Window]
    notes: tuple[str, ...]

    def wearing(self, surface: str) -> frozenset[str]:
        """The surfaces of the mesh that a paint on "walls", "doors", "ceiling" or a wall covers."""
        if surface == "walls":
            return self.plain_walls | self.doors if self.doors_as_walls else self.plain_walls
        if surface == "doors":
            return self.doors
        return frozenset({surface} & {CEILING, FLOOR, *self.shape.wall_keys})

    def beams(self, light: LightName) -> tuple[Beam, ...]:
        return self.day if light == "day" else self.evening

    def alike(self) -> Hashable:
        """Equal for scenes that only the names of windows and openings tell apart."""
        beams = (
            (beam.spectrum, beam.lumens, beam.first_lux.tobytes())
            for beam in (*self.day, *self.evening)
        )
        colours = self.reflectance.tobytes(), self.plain_walls
        return self.shape.nameless(), colours, len(self.day), tuple(beams)

    def daylight_factor(self) -> DaylightFactor:
        areas = self.mesh.surface_area_m2().tolist()
        term = sum(
            w.transmittance * hole.width_m * hole.height_m * w.sky_angle_deg
            for hole, w in self.windows.items()
        )
        names = self.mesh.surfaces
        return DaylightFactor(
            term,
            dict(zip(names, areas, strict=True)),
            dict(zip(names, self.grey.tolist(), strict=True)),
            {name: self.wearing(name) for name in ("walls", "doors")},
        )


def scene_of(inputs: RoomInputs, outdoor_lux: float = sky.OUTDOOR_LUX) -> Scene:
    """The scene of a room for which `why_not` has no reason."""
    room, colours, holes = inputs.room, inputs.colours, holes_of(inputs)
    shape = shape_of(room, holes.all)
    mesh = geometry.enclosure(shape).mesh
    on = [_colour_on(name, shape, colours, holes) for name in mesh.surfaces]
    windows = {h: room.windows[key] for h, key in zip(holes.all, holes.windows, strict=False)}
    return Scene(
        shape=shape,
        mesh=mesh,
        reflectance=np.array([colour.reflectance for colour in on]),
        grey=np.array([colour.lrv for colour in on]) / 100.0,
        plain_walls=frozenset(shape.wall_keys).difference(colours.accents),
        doors=frozenset(name for name, o in holes.openings.items() if o.closed == "door"),
        doors_as_walls=colours.doors is None,
        day=daylight(inputs, mesh, windows, outdoor_lux),
        evening=lamplight(room, shape, mesh),
        windows=windows,
        notes=tuple(notes(inputs, holes, geometry.enclosure(shape))),
    )


def grey(reflectance: float) -> SurfaceColour:
    return SurfaceColour(np.full(len(spectra.GRID_NM), reflectance), 100.0 * reflectance)


def _colour_on(name: str, shape: Shape, colours: RoomColours, holes: Holes) -> SurfaceColour:
    walls = colours.walls or grey(UNPAINTED["walls"])
    if name in shape.wall_keys:
        return colours.accents.get(name, walls)
    if name == FLOOR:
        return colours.floor or grey(UNPAINTED[FLOOR])
    if name == CEILING:
        return colours.ceiling or grey(UNPAINTED[CEILING])
    closed = holes.openings[name].closed if name in holes.openings else "glass"
    if closed == "door":
        return colours.doors or walls
    return grey(GLASS_REFLECTANCE if closed == "glass" else 0.0)
