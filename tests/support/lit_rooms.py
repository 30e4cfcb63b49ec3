"""Rooms to shine a light in: published ones, and ones made up for a test."""

import json
from collections.abc import Sequence
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.light import enclosures
from housemap.light.as_seen import Seen, eye_in, seen
from housemap.light.enclosures import Enclosure
from housemap.light.house_light import house_light
from housemap.light.inputs import RoomColours, RoomInputs, SurfaceColour
from housemap.light.mesh import Hole, Mesh, Shape
from housemap.light.radiosity import Bounced, FirstLight, Modes, Rows, cycled, modes_of
from housemap.light.room_light import RoomLight
from housemap.light.scene import LightName, grey
from housemap.light.surface_light import lit_as
from housemap.light.trial import Response, response_in
from housemap.model.house import Lamp, Room, Window

DATA = Path(__file__).parents[1] / "light" / "data"
NAMES = {"wall_y0": "s", "wall_x1": "e", "wall_y1": "n", "wall_x0": "w"}
"""Faces of the published rooms -> walls."""


@cache
def published_light(name: str) -> dict[str, Any]:
    """What the light tests' own data file holds; every file says where its values come from."""
    values: dict[str, Any] = json.loads((DATA / f"{name}.json").read_text("utf-8"))
    assert values["source"], name
    return values


def box_shape(x: float, y: float, z: float, *holes: Hole) -> Shape:
    return Shape(((0.0, 0.0), (x, 0.0), (x, y), (0.0, y)), ("s", "e", "n", "w"), z, holes)


def outline_shape(corners: list[list[float]], height_m: float, *holes: Hole) -> Shape:
    outline = tuple((float(x), float(y)) for x, y in corners)
    return Shape(outline, tuple(str(i) for i in range(len(outline))), height_m, holes)


def hole_of(size_m: list[float], emitter: dict[str, Any]) -> Hole:
    """A published emitter, given in x, y, z, as a hole counted along its wall's edge."""
    surface = NAMES.get(emitter["on"], emitter["on"])
    (u0, u1), (v0, v1) = emitter["rect_u"], emitter["rect_v"]
    against = {"n": size_m[0], "w": size_m[1]}.get(surface)
    along = u0 if against is None else against - u1
    return Hole(emitter["name"], surface, along, v0, u1 - u0, v1 - v0, shines=True)


def from_hole(room: Enclosure, name: str, exitance: float) -> Floats:
    """First light of an even Lambertian emitter, lux on each patch."""
    mesh = room.mesh
    lit = mesh.surface == mesh.surfaces.index(name)
    return np.asarray(exitance * mesh.exchange_m2[:, lit].sum(1) / mesh.area_m2)


def enclosure_of(shape: Shape) -> Enclosure:
    """An enclosure whose surfaces are called as in the shape, not as in one that equals it."""
    enclosures.forget()
    return enclosures.enclosure(shape)


def published_room(case: dict[str, Any]) -> tuple[Enclosure, Floats]:
    """The enclosure of a published room and its first light on each patch."""
    holes = [hole_of(case["size_m"], emitter) for emitter in case["emitters"]]
    room = enclosure_of(box_shape(*case["size_m"], *holes))
    first = np.zeros(len(room.mesh.area_m2))
    for emitter in case["emitters"]:
        first += from_hole(room, emitter["name"], float(np.max(emitter["exitance_lm_per_m2"])))
    if point := case.get("point_source"):
        shares = room.lamp_shares(tuple(point["position"]), "all")
        first += point["flux_lm"] * shares / room.mesh.area_m2
    return room, first


@lru_cache(maxsize=8)
def modes(mesh: Mesh) -> Modes:
    return modes_of(mesh)


def total_lux(mesh: Mesh, reflectance: Floats, first_lux: Floats) -> Floats:
    """As the program computes it, twice over: (surfaces, columns), (N, columns) to (N, columns)."""
    known, lit = modes(mesh), (reflectance, first_lux)
    lux = first_lux + known.lux(known.bounced(reflectance, known.once(mesh, *lit)))
    for _ in range(2):
        lux = cycled(mesh, known, lit, lux)
    return lux


def surface_means(mesh: Mesh) -> Floats:
    """What averages a patch quantity over each surface by area: (surfaces, N)."""
    return Rows(np.eye(len(mesh.surfaces))).means(mesh)


def exact_lux(mesh: Mesh, reflectance: Floats, first_lux: Floats) -> Floats:
    """The same by a dense solution of 1 - F rho, a column at a time."""
    factors = mesh.exchange_m2 / mesh.area_m2[:, None]
    columns = [
        np.linalg.solve(np.eye(len(factors)) - factors * rho[mesh.surface], lux)
        for rho, lux in zip(reflectance.T, first_lux.T, strict=True)
    ]
    return np.array(columns).T


def by_surface(room: Enclosure, values: dict[str, Any]) -> list[Any]:
    """Published values of faces, in the order of the mesh's surfaces."""
    named = {NAMES.get(face, face): value for face, value in values.items()}
    return [named[surface] for surface in room.mesh.surfaces]


def smooth(low: float, high: float, at_nm: float, width_nm: float) -> SurfaceColour:
    """A reflectance that rises from `low` to `high` about a wavelength."""
    nm = np.arange(380.0, 781.0, 10.0)
    rise = 1.0 / (1.0 + np.exp((at_nm - nm) / width_nm))
    return SurfaceColour(low + (high - low) * rise, 100.0 * (low + (high - low) / 2.0))


WHITE, OAK, SAGE = grey(0.85), smooth(0.08, 0.45, 570.0, 45.0), smooth(0.25, 0.45, 500.0, 30.0)
RED = smooth(0.04, 0.55, 600.0, 15.0)


def living_room(**more: Any) -> Room:
    """4 x 3.5 x 2.5 m, a window to the north, a pendant lamp."""
    room: dict[str, Any] = {
        "name": "Living room",
        "size_m": (4.0, 3.5),
        "height_m": 2.5,
        "windows": {"garden": Window("n", 1.0, 1.5, 1.2, 0.9)},
        "lamps": {"pendant": Lamp(1400.0, 2700.0)},
    }
    return Room(**(room | more))


def living_inputs(colours: RoomColours | None = None, **more: Any) -> RoomInputs:
    """The living room with sage walls, a white ceiling and an oak floor, in the north."""
    painted = colours or RoomColours(walls=SAGE, ceiling=WHITE, floor=OAK)
    return RoomInputs(living_room(**more), painted, latitude_deg=51.5)


def lit_room(inputs: RoomInputs | None = None, outdoor_lux: float = 10_000.0) -> RoomLight:
    """The light of one room, of `living_inputs` unless another is given."""
    return light_of([inputs or living_inputs()], outdoor_lux)[0]


def light_of(rooms: Sequence[RoomInputs], outdoor_lux: float = 10_000.0) -> tuple[RoomLight, ...]:
    """The light of each room by itself."""
    return tuple(house_light({"": each}, outdoor_lux).rooms[""] for each in rooms)


def response_of(inputs: RoomInputs, surface: str) -> Response:
    """How a room by itself answers to what is painted on a surface."""
    return response_in(house_light({"": inputs}), "", surface)


def bounced_alone(known: Modes, reflectance: Floats, first: FirstLight) -> Bounced:
    """The bounces of a room into which nothing comes from others, by its modes."""
    once = np.tensordot(first.bounced, reflectance, (1, 0))
    columns = np.tile(reflectance, once.shape[1])
    later = known.bounced(columns, once.reshape(len(once), -1)).reshape(once.shape)
    return Bounced(later, np.zeros_like(later))


def seen_in(room: RoomLight, light: LightName) -> dict[str, Seen]:
    """What somebody in the room sees of its surfaces that have a colour."""
    colours, lit = room.inputs.colours, room.lights[light]
    every = {
        "walls": colours.walls, "ceiling": colours.ceiling, "floor": colours.floor,
        "trim": colours.trim, **colours.accents,
    }  # fmt: skip
    on = {name: colour for name, colour in every.items() if colour}
    falls = [name if name in colours.accents else lit_as(name) for name in on]
    sent = [
        lit.reflected_xyz100(where, colour.reflectance)
        for where, colour in zip(falls, on.values(), strict=True)
    ]
    return dict(zip(on, seen(eye_in(lit), np.array(sent)), strict=True))
