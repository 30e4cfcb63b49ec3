"""Pictures of the rooms that see most of the others, as they will look, or as they look now."""

from base64 import b64encode
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from housemap.model.house import LIGHT_WORDS, House, Light
from housemap.plan.elevations import Elevations
from housemap.plan.pixels import png_bytes
from housemap.plan.raster import View
from housemap.plan.view import Camera, look
from housemap.plan.viewpoints import best_of
from housemap.schedule.blocks import Html, tag, together
from housemap.study import Study, study_of
from housemap.study.light_in_view import lamp_bodies
from housemap.study.painted import in_light

MOST_VIEWS = 6
LIT_BEYOND = 1
"""Openings from the rooms in a picture to the last room of which the light is computed: what
passes two openings changes no pixel by more than 2 of 255 (measured, 15 and 200 rooms)."""
_SIZE = 480, 320


@dataclass(frozen=True)
class RoomViews:
    """Each room from its best corner; light is computed only where it matters to them."""

    study: Study
    elevations: Elevations

    @cached_property
    def rooms(self) -> Sequence[str]:
        """The rooms that see most of the others, those with painted walls first."""
        study = self.study
        seeing = sorted(study.sight.rooms, key=lambda r: (-len(study.sight.rooms[r].ways), r))
        indoors = [room for room in seeing if study.house.rooms[room].use != "outdoor"]
        return sorted(indoors, key=lambda room: "walls" not in study.rooms[room].coats)[:MOST_VIEWS]

    @cached_property
    def lit(self) -> Study:
        """The study of the house as it will be."""
        return self.study_of(self.study.house)

    def study_of(self, house: House) -> Study:
        """Of the same rooms painted otherwise, without those whose light reaches no picture."""
        kept = self._lit_rooms
        if self.study.lighting.ready or len(kept) == len(house.rooms):
            return self.study if house is self.study.house else study_of(house, self.study)
        return study_of(_without_others(house, self.study, kept), self.study)

    @cached_property
    def _lit_rooms(self) -> frozenset[str]:
        """Those in a picture, and those from which light gets there by few enough openings."""
        graph = self.study.graph
        seen = {face.room for _, view in self._looks.values() for face in view.faces}
        passing = {key for key, each in graph.openings.items() if each.seen_through}
        beyond = dict.fromkeys([*seen, *self.rooms], 0)
        for here, (_, to) in graph.spanning_tree(tuple(beyond), passing):
            beyond[to] = beyond[here] + 1
        return frozenset(room for room, steps in beyond.items() if steps <= LIT_BEYOND)

    @cached_property
    def _looks(self) -> Mapping[str, tuple[Camera, View]]:
        """What each room shows from its best corner; without those that cannot be seen inside."""
        found, lamps = {}, lamp_bodies(self.elevations)
        for room in self.rooms:
            if camera := best_of(self.elevations, room):
                view = look(self.elevations, camera, *_SIZE, smooth=True, bodies=lamps)
                if view is not None:
                    found[room] = camera, view
        return found

    def lights(self, room: str) -> Sequence[Light]:
        """Those that a room can be shown under: by day and by lamplight where it has them."""
        lit = self.lit.lighting.rooms[room].light.lights
        found: list[Light] = [light for light in ("day", "evening") if light in lit]
        return found or ["reference"]

    def pictures(self, room: str, lights: Sequence[Light], study: Study | None = None) -> Html:
        """A room under each light; nothing where it cannot be seen from inside."""
        if room not in self._looks:
            return Html()
        (camera, seen), study, made = self._looks[room], study or self.lit, []
        for light in lights:
            painted = in_light(study, self.elevations, camera, light, seen)
            source = f"data:image/png;base64,{b64encode(png_bytes(painted.pixels())).decode()}"
            words = f"{study.house.rooms[room].name} from a corner, {LIGHT_WORDS[light]}"
            made.append(tag("img", src=source, alt=words, width=_SIZE[0], height=_SIZE[1]))
        return together(*made)

    def now_and_after(self, room: str, lights: Sequence[Light], now: Study) -> Html:
        return together(self.pictures(room, lights, now), self.pictures(room, lights))


def _without_others(house: House, study: Study, kept: frozenset[str]) -> House:
    """The house with the rooms of `kept` alone, each where it lies in the plan."""
    placed = study.plan.rooms
    rooms = {
        key: replace(room, at_m=placed[key].at_m) if placed[key].measured else room
        for key, room in house.rooms.items()
        if key in kept
    }
    joins = {k: each for k, each in house.openings.items() if kept.issuperset(each.between)}
    lines = {k: each for k, each in house.sightlines.items() if kept.issuperset(each.between)}
    return replace(house, rooms=rooms, openings=joins, sightlines=lines)
