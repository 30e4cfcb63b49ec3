"""The light of every room and the colours as seen from each, computed when first asked for.

Light takes longer than all the rest, so a study is made without it. A room's light is kept as
long as the room, its colours, its openings and the sky remain what they were. What only a detailed
look at one room asks for, other paints on its walls and tints of its light, is kept apart.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import gamut, spaces
from housemap.light.as_seen import Tints, eye_in, tints_of
from housemap.light.house_light import HouseLight, house_light
from housemap.light.inputs import RoomInputs, RoomOpening, SurfaceColour, inputs_of, openings_of
from housemap.light.room_light import why_unlit
from housemap.light.scene import LIGHTS, LightName, why_not
from housemap.light.sky import OUTDOOR_LUX
from housemap.light.trial import Response, response_in
from housemap.model.frozen import frozen
from housemap.model.house import House, Room
from housemap.study.parts import Coat, PaintedRoom, Swatch, View
from housemap.study.seen import LitRoom, SeenView, seen_views, shown_alone

KEPT_ROOMS = 32
"""Looked at last; what is known of more is forgotten."""

SUN_MONTHS = (6, 3, 12)
"""Of which the sun is known: summer, spring and winter."""
SUN_YEAR = 2026
"""The sun differs by less than half a degree from year to year."""

Swatches = Mapping[tuple[str, str], Swatch]


class PaintLight(NamedTuple):
    """A room with one paint on its walls (but not on accent walls)."""

    daylight_percent: float | None
    """The average daylight factor; None without windows."""
    wall_lux: Mapping[LightName, float]
    """Mean over all walls, after all bounces."""
    srgb_hex: Mapping[LightName, str]
    """The paint as seen there."""


Paints = Mapping[str, PaintLight]
"""By paint id."""


class _Basis(NamedTuple):
    """What light depends on beside the walls' own paint."""

    room: Room
    openings: tuple[RoomOpening, ...]
    sky: tuple[float, float | None, float]
    swatches: Swatches
    next_door: tuple[PaintedRoom, ...]

    def holds(self, other: "_Basis") -> bool:
        return (
            self.swatches is other.swatches
            and (self.room, self.openings, self.sky) == (other.room, other.openings, other.sky)
            and len(self.next_door) == len(other.next_door)
            and all(a is b for a, b in zip(self.next_door, other.next_door, strict=True))
        )


class _Detail(NamedTuple):
    """What is known of a room by a close look: its paints by a basis, the rest by its light."""

    basis: _Basis
    paints: Paints
    lit: LitRoom
    tints: Mapping[LightName, Tints]
    sun: Mapping[int, tuple[int, ...]]


@dataclass(slots=True, eq=False, repr=False)
class RoomDetailCache:
    """Everything looked at closely so far, by room."""

    _known: dict[str, _Detail] = field(default_factory=dict)

    def look(self, lighting: "Lighting", room: str) -> None:
        """Compute what is not known of a room; some ten milliseconds."""
        lit, known = lighting.rooms[room], self._known.pop(room, None)
        basis = _basis(lighting, lit.part)
        paints = known.paints if known and known.basis.holds(basis) else _paints(lighting, room)
        if known and known.lit is lit:
            tints, sun = known.tints, known.sun
        else:
            tints = {name: tints_of(lit.part.room, on) for name, on in lit.light.lights.items()}
            sun = _hours_of_sun(lighting, room)
        self._known[room] = _Detail(basis, paints, lit, tints, sun)
        if len(self._known) > KEPT_ROOMS:
            del self._known[next(iter(self._known))]

    def paints(self, lighting: "Lighting", room: str) -> Paints | None:
        """Each paint of the house on the walls of a room; None where that is not known yet."""
        part, known = lighting.parts.get(room), self._known.get(room)
        holds = part and known and known.basis.holds(_basis(lighting, part))
        return known.paints if known and holds else None

    def tints(self, lighting: "Lighting", room: str) -> Mapping[LightName, Tints] | None:
        """The tints of each light on the walls; None where they are not known yet."""
        known = self._known.get(room)
        return known.tints if known and lighting.rooms.get(room) is known.lit else None

    def sun(self, lighting: "Lighting", room: str) -> Mapping[int, tuple[int, ...]]:
        """By month, the hours of sun on a clear day 21; none without latitude, or not known yet."""
        known = self._known.get(room)
        return known.sun if known and lighting.rooms.get(room) is known.lit else {}


def _hours_of_sun(lighting: "Lighting", room: str) -> Mapping[int, tuple[int, ...]]:
    latitude = lighting.house.latitude_deg
    if latitude is None:
        return {}
    from housemap.light.sun import sunny_hours  # noqa: PLC0415 - not before the first findings

    days = {month: dt.date(SUN_YEAR, month, 21) for month in SUN_MONTHS}
    return {
        month: tuple(sorted({int(h) for h in sunny_hours(lighting.light, room, latitude, day)}))
        for month, day in days.items()
    }


def _basis(lighting: "Lighting", part: PaintedRoom) -> _Basis:
    bare = replace(part.room, paints=replace(part.room.paints, walls=None))
    openings = openings_of(lighting.house, part.id, part.openings)
    ways = ({*opening.between} - {part.id} for opening in part.openings.values())
    next_door = tuple(lighting.parts[room] for way in ways for room in way)
    return _Basis(bare, openings, lighting.sky, lighting.swatches, next_door)


def _paints(lighting: "Lighting", room: str) -> Paints:
    lit, house = lighting.rooms[room], lighting.house
    if not house.paints or why_not(lit.part.room):
        return {}
    swatches = [lighting.swatches["Paint", paint] for paint in house.paints]
    response = lighting.response(room, "walls")
    tried = response.tried(np.array([swatch.colour.reflectance for swatch in swatches]))
    percents: list[float | None] = [None] * len(swatches)
    if factor := lit.light.daylight:
        percents = factor.percent_with("walls", np.array([s.lrv for s in swatches])).tolist()
    lux = {name: each.wall_lux.tolist() for name, each in tried.items()}
    shown = {n: spaces.srgb_to_hex(gamut.to_srgb(each.on_screen())) for n, each in tried.items()}
    return {
        paint: PaintLight(
            percents[i], {name: each[i] for name, each in lux.items()},
            {name: each[i] for name, each in shown.items()},
        )
        for i, paint in enumerate(house.paints)
    }  # fmt: skip


# The light of the whole house.

Sky = tuple[float, float | None, float]
"""North of the house, its latitude, and the light outside in lux."""

ViewKey = tuple[str, LightName]
"""The room of the eye, and the light."""


@frozen(eq=False)
class Lighting:
    """Light and colours as seen in one house; made anew with every study."""

    house: House
    swatches: Mapping[tuple[str, str], Swatch]
    parts: Mapping[str, PaintedRoom]
    views: Mapping[str, View]
    outdoor_lux: float = OUTDOOR_LUX
    known: Mapping[str, LitRoom] = field(default_factory=dict)
    """What was computed for the house before."""
    known_light: HouseLight | None = None
    known_seen: Mapping[ViewKey, SeenView] = field(default_factory=dict)
    close: RoomDetailCache = field(default_factory=RoomDetailCache)
    responses: dict[tuple[str, str], Response] = field(default_factory=dict)
    """By room and surface, those that were asked for in this house."""

    @property
    def ready(self) -> bool:
        """Whether all of it has been computed, so that nobody who asks has to wait."""
        return "seen" in self.__dict__

    def compute(self) -> None:
        """Compute what is not known yet, so that nobody who asks has to wait."""
        _ = self.seen

    @cached_property
    def rooms(self) -> Mapping[str, LitRoom]:
        """Every room with its light; raises ColourError for a lamp of unknown spectrum."""
        return {
            room: self.known[room]
            if room in self.known and self.known[room].holds(self.parts[room], light)
            else LitRoom(self.parts[room], light)
            for room, light in self.light.rooms.items()
        }

    @cached_property
    def light(self) -> HouseLight:
        inputs = {room: self.inputs(room) for room in self.parts}
        return house_light(inputs, self.outdoor_lux, self.known_light)

    @cached_property
    def seen(self) -> Mapping[ViewKey, SeenView | None]:
        """What the eye in each room sees under each light; None where there is no such light."""
        asked = {(room, light): self._view(room, light) for room in self.views for light in LIGHTS}
        kept = {
            key: old
            for key, old in self.known_seen.items()
            if key in asked and (old.view is asked[key][0] and old.lit == asked[key][1])
        }
        stale = {key: view for key, view in asked.items() if key not in kept}
        made = dict(zip(stale, seen_views(list(stale.values())), strict=True))
        return {key: made[key] if key in made else kept[key] for key in asked}

    def _view(self, room: str, light: LightName) -> tuple[View, Mapping[str, LitRoom], LightName]:
        view = self.views[room]
        return view, {part.id: self.rooms[part.id] for part in view.rooms}, light

    def lacks(self, room: str, light: LightName) -> str:
        """Why a room has no such light; empty where it has it."""
        lit = self.rooms.get(room)
        return why_unlit(lit.part.room, lit.light, light) if lit else ""

    def now(self, room: str) -> PaintLight:
        """A room as it is lit with what is on its walls."""
        light = self.rooms[room].light
        percent = light.daylight.percent if light.daylight else None
        lux = {name: on.total_lux("walls") for name, on in light.lights.items()}
        return PaintLight(percent, lux, {})

    def shown_alone(
        self, room: str, surface: str, key: tuple[str, str], eye: str, light: LightName
    ) -> str | None:
        """The screen colour of a swatch on a surface where no report knows it, seen from a room."""
        here, there = self.rooms.get(eye), self.rooms.get(room)
        falls = there.light.lights.get(light) if there else None
        kind, _, wall = surface.partition(" ")
        if here is None or falls is None or (kind == "accent" and wall not in falls.surfaces):
            return None
        coat = Coat(room, surface, self.swatches[key])
        return shown_alone(coat, falls, eye_in(here.light.lights[light]))

    def renewed(
        self,
        house: House,
        swatches: Mapping[tuple[str, str], Swatch],
        parts: Mapping[str, PaintedRoom],
        views: Mapping[str, View],
        outdoor_lux: float,
    ) -> "Lighting":
        """The lighting of the house after an edit, knowing what this one has computed."""
        known, known_seen, known_light = self.known, self.known_seen, self.known_light
        close = self.close if self.parts else RoomDetailCache()
        if "rooms" in self.__dict__:
            known, known_light = self.rooms, self.light
        if "seen" in self.__dict__:
            known_seen = {key: view for key, view in self.seen.items() if view is not None}
        return Lighting(
            house, swatches, parts, views, outdoor_lux, known, known_light, known_seen, close
        )  # fmt: skip

    @property
    def sky(self) -> Sky:
        return self.house.north_deg, self.house.latitude_deg, self.outdoor_lux

    @cached_property
    def _colours(self) -> Mapping[str, Mapping[str, SurfaceColour]]:
        """By kind ("Paint", "Finish") and id."""
        kinds: dict[str, dict[str, SurfaceColour]] = {"Paint": {}, "Finish": {}}
        for (kind, key), swatch in self.swatches.items():
            kinds[kind][key] = _surface_colour(swatch)
        return kinds

    def response(self, room: str, surface: str) -> Response:
        """As `response_in`; computed once for all paints that are tried on a surface."""
        if (room, surface) not in self.responses:
            self.responses[room, surface] = response_in(self.light, room, surface)
        return self.responses[room, surface]

    def inputs(self, room: str) -> RoomInputs:
        return inputs_of(
            self.house, room, self._colours["Paint"], self._colours["Finish"],
            self.parts[room].openings,
        )  # fmt: skip


@lru_cache(maxsize=4096)
def _surface_colour(swatch: Swatch) -> SurfaceColour:
    """One for each swatch, so that inputs of light are equal where nothing changed."""
    return SurfaceColour(np.array(swatch.colour.reflectance), swatch.lrv)
