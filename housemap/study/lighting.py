"""The light of every room and the colours as seen from each, computed when first asked for.

Light takes longer than all the rest, so a study is made without it; a room's light is kept as long
as the room, its colours, its openings and the sky stay what they were.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

import numpy as np

from housemap.light.house_light import HouseLight, house_light
from housemap.light.inputs import RoomInputs, SurfaceColour, inputs_of
from housemap.light.room_scene import LIGHTS, LightName
from housemap.light.sky import OUTDOOR_LUX
from housemap.light.trial import Response, response_in
from housemap.model.house import House
from housemap.study.close import CloseUps
from housemap.study.parts import PaintedRoom, Swatch, View
from housemap.study.seen import LitRoom, SeenView, seen_views

Sky = tuple[float, float | None, float]
"""North of the house, its latitude, and the light outside in lux."""

ViewKey = tuple[str, LightName]
"""The room of the eye, and the light."""


@dataclass(frozen=True, eq=False)
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
    close: CloseUps = field(default_factory=CloseUps)
    """Rooms looked at closely."""
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
        """The light of the house as one."""
        inputs = {room: self.inputs(room) for room in self.parts}
        return house_light(inputs, self.outdoor_lux, self.known_light)

    @cached_property
    def seen(self) -> Mapping[ViewKey, SeenView | None]:
        """What the eye in each room sees under each light; None where there is no such light."""
        asked = {(room, light): self._view(room, light) for room in self.views for light in LIGHTS}
        kept = {key: old for key, old in self.known_seen.items() if _holds(old, asked.get(key))}
        stale = {key: view for key, view in asked.items() if key not in kept}
        made = dict(zip(stale, seen_views(list(stale.values())), strict=True))
        return {key: made[key] if key in made else kept[key] for key in asked}

    def _view(self, room: str, light: LightName) -> tuple[View, Mapping[str, LitRoom], LightName]:
        view = self.views[room]
        return view, {part.id: self.rooms[part.id] for part in view.rooms}, light

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
        close = self.close if self.parts else CloseUps()
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
        """How the light of a room answers to what is painted on a surface (see `response_in`).

        Computed once in a house: all paints that are tried on a surface share it.
        """
        if (room, surface) not in self.responses:
            self.responses[room, surface] = response_in(self.light, room, surface)
        return self.responses[room, surface]

    def inputs(self, room: str) -> RoomInputs:
        """What the light of a room is computed from."""
        return inputs_of(
            self.house, room, self._colours["Paint"], self._colours["Finish"],
            self.parts[room].openings,
        )  # fmt: skip


@lru_cache(maxsize=4096)
def _surface_colour(swatch: Swatch) -> SurfaceColour:
    """One for each swatch, so that inputs of light are equal where nothing changed."""
    return SurfaceColour(np.array(swatch.colour.reflectance), swatch.lrv)


def _holds(known: SeenView, asked: tuple[View, Mapping[str, LitRoom], LightName] | None) -> bool:
    return asked is not None and known.view is asked[0] and known.lit == asked[1]
