"""A surface of a room as paints are tried on it: in each light, as the paint leaves it there."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from housemap.choose.sweep.colours import Options
from housemap.choose.sweep.side import Side
from housemap.light.room_scene import LightName, why_not
from housemap.light.trial import Curves, response_of
from housemap.study import Study


@dataclass(frozen=True, eq=False)
class TriedSurface:
    """`surface` is named as in `Coat`. How the light answers is computed once."""

    study: Study
    room: str
    surface: str

    def side(self, options: Options, *, deep: bool) -> Side:
        """The room with the options on the surface; without light unless `deep`."""
        part = self.study.rooms[self.room]
        if not deep:
            return Side(part, self.surface, options)
        if self.surface == "trim" or self._is_on(options):  # trim is too little to change the light
            lights = self.study.lighting.rooms[self.room].light.lights
            return Side(part, self.surface, options, lights)
        reflectance = options.colours.reflectance
        lit = {name: curves.under(reflectance) for name, curves in self._curves.items()}
        return Side(part, self.surface, options, lit)

    def _is_on(self, options: Options) -> bool:
        """Whether nothing is tried but the paint that is on the surface: its light is known."""
        coat = self.study.rooms[self.room].coat_on(self.surface)
        return coat is not None and options.colours.ids.tolist() == [coat.swatch.id]

    @cached_property
    def _curves(self) -> Mapping[LightName, Curves]:
        if why_not(self.study.house.rooms[self.room]) is not None:
            return {}
        inputs = self.study.lighting.inputs(self.room)
        kind, _, wall = self.surface.partition(" ")
        return response_of(inputs, wall or kind, self.study.lighting.outdoor_lux).curves


def as_it_is(study: Study, room: str, *, deep: bool) -> Side:
    """A room on which nothing is tried."""
    lights = study.lighting.rooms[room].light.lights if deep else {}
    return Side(study.rooms[room], lights=lights)
