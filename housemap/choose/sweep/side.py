"""A room with one surface in any of n paints, or as it is: its colours, and the light on them."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import cast

import numpy as np

from housemap.choose.sweep.colours import Colours, Options, colours_of, stacked, stacked_rows
from housemap.choose.sweep.eyes import Looks, seen_by
from housemap.colorimetry.arrays import Floats
from housemap.light.as_seen import Eye, eye_in
from housemap.light.room_scene import LightName
from housemap.light.surface_light import Lit, lit_as
from housemap.light.trial import Repainted
from housemap.model.house import Surface
from housemap.study import Coat, PaintedRoom, Swatch

JUDGED: tuple[Surface, ...] = ("walls", "trim")
"""The paints that are judged against what meets the eye with them."""

LightOn = Lit | Repainted


@dataclass(frozen=True, slots=True, eq=False)
class Sent:
    """What the coats of a room send to an eye under one light."""

    xyz100: Floats
    """(coats, n, 3)."""
    eye: Eye
    """Of somebody who stands in the room; its level one, or (n,)."""


@dataclass(frozen=True, eq=False)
class Side:
    """One room of those that are judged."""

    part: PaintedRoom
    surface: str = ""
    """The surface that has options, named as in `Coat`; empty where the room is as it is."""
    options: Options | None = None
    lights: Mapping[LightName, LightOn] = field(default_factory=dict)
    """Empty where light is not asked for."""

    @property
    def count(self) -> int:
        """n: 1 for a room that is as it is."""
        return 1 if self.options is None else len(self.options)

    @cached_property
    def painted(self) -> tuple[str, ...]:
        """Walls and trim, where they have a paint."""
        return tuple(s for s in JUDGED if s == self.surface or s in self.part.coats)

    @cached_property
    def surfaces(self) -> tuple[str, ...]:
        """Of the coats that are judged: walls and trim, then what stays."""
        return self.painted + tuple(coat.surface for coat in self.part.stays)

    @cached_property
    def each(self) -> tuple[Colours, ...]:
        """The colours of each coat: one, or one an option."""
        stays = (colours_of([coat.swatch]) for coat in self.part.stays)
        return (*(self.on(surface) for surface in self.painted), *stays)

    @cached_property
    def coats(self) -> Colours:
        """All coats that are judged: (coats, n)."""
        return stacked(self.each, self.count)

    def on(self, surface: str) -> Colours:
        """The colours that may be on a surface. Raises KeyError for one that is bare."""
        if self.options is not None and surface == self.surface:
            return self.options.colours
        return colours_of([_coat(self.part, surface).swatch])

    def has(self, surface: str) -> bool:
        return surface == self.surface or self.part.coat_on(surface) is not None

    def lrv(self, surface: str) -> Floats:
        """Of a surface: (n,), or (1,) where it has no options."""
        return self.on(surface).lrv

    @cached_property
    def sent(self) -> Mapping[LightName, Sent]:
        """What the coats send under each light that the room has."""
        return {name: self._sent(light) for name, light in self.lights.items()}

    @cached_property
    def looks(self) -> Mapping[LightName, Looks]:
        """The coats as the eye in the room sees them: (coats, n, 1, 3)."""
        return {
            name: seen_by(one.eye, one.xyz100[:, :, np.newaxis], axis=1)
            for name, one in self.sent.items()
        }

    def _sent(self, light: LightOn) -> Sent:
        xyz100 = [
            _sent(light, surface, coat.reflectance)
            for surface, coat in zip(self.surfaces, self.each, strict=True)
        ]
        eye = light.eye if isinstance(light, Repainted) else eye_in(light)
        return Sent(stacked_rows(xyz100, self.count, (3,)), eye)

    def apart(self) -> "tuple[Side, Side]":
        """The surface with the options alone, and the room without it; for no light."""
        room = self.part
        alone = replace(room, coats={}, accents=(), floor=None, fixed=())
        coats = {s: coat for s, coat in room.coats.items() if s != self.surface}
        return replace(self, part=alone), Side(replace(room, coats=coats))

    def as_painted(self, swatch: Swatch) -> PaintedRoom:
        """The room with one of the paints on the surface."""
        coat = Coat(self.part.id, self.surface, swatch)
        if self.surface.startswith("accent "):
            others = (each for each in self.part.accents if each.surface != self.surface)
            return replace(self.part, accents=(*others, coat))
        coats = {**self.part.coats, cast("Surface", self.surface): coat}
        return replace(self.part, coats=coats)


def _coat(part: PaintedRoom, surface: str) -> Coat:
    coat = part.coat_on(surface)
    if coat is None:
        raise KeyError(surface)
    return coat


def _sent(light: LightOn, surface: str, reflectance: Floats) -> Floats:
    """(n, 3), or (1, 3) where neither light nor colour has options."""
    lit_by = lit_as(surface)
    if isinstance(light, Lit):
        return light.reflected_xyz100(lit_by, reflectance)
    return light.sent_xyz100(lit_by, reflectance[0] if len(reflectance) == 1 else reflectance)
