"""What is judged, as it is or with any of n paints on a surface: a room, two rooms, a view."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from typing import NamedTuple, cast

import numpy as np

from housemap.checks.finding import Place
from housemap.checks.meetings import (
    Adapted,
    Between,
    Look,
    Meetings,
    in_reference_light,
    seen_by,
    undertone_names,
)
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.difference import ucs_parts
from housemap.colorimetry.sheen import by_sheen
from housemap.light.as_seen import Eye, eye_in
from housemap.light.daylight import MedianDaylight
from housemap.light.scene import LightName
from housemap.light.surface_light import Lit
from housemap.light.trial import Repainted
from housemap.model.frozen import frozen
from housemap.model.house import House, Surface
from housemap.study import Coat, PaintedRoom, SeenPair, SeenView, Study, Swatch, View
from housemap.study.colours import Colours, colours_of, stacked, stacked_rows
from housemap.study.seen import sent_xyz100

PAINTED: tuple[Surface, ...] = ("walls", "trim")
"""The paints that are judged against what meets the eye with them."""
FIXED_SURFACES = ("floor", "fixed")
"""The finishes that are kept."""

LightOn = Lit | Repainted
"""One light of a room as it is, or as each of n paints leaves it."""


@frozen(eq=False)
class PaintOptions:
    """Paints of which each may be on a surface."""

    swatches: Sequence[Swatch]
    colours: Colours
    """`ids` are those that they have, or would have, in the house."""
    foreign: Truths
    """Those that the house does not have yet: (n,)."""
    own_findings: Indices
    """How many findings a paint brings by being in the house, wherever it is: (n,)."""

    def __len__(self) -> int:
        return len(self.swatches)

    def in_house(self, row: int) -> Swatch:
        """The paint by the id that it has, or would have, in the house."""
        return replace(self.swatches[row], id=str(self.colours.ids[row]))

    def joined(self, more: "PaintOptions") -> "PaintOptions":
        return PaintOptions(
            [*self.swatches, *more.swatches], self.colours.joined(more.colours),
            np.concatenate([self.foreign, more.foreign]),
            np.concatenate([self.own_findings, more.own_findings]),
        )  # fmt: skip

    def rows(self, rows: Indices) -> "PaintOptions":
        swatches = [self.swatches[row] for row in rows]
        colours = self.colours.rows(rows)
        return PaintOptions(swatches, colours, self.foreign[rows], self.own_findings[rows])


def own_options(swatches: Sequence[Swatch]) -> PaintOptions:
    """Paints that the house has."""
    nothing = np.zeros(len(swatches), dtype=np.intp)
    return PaintOptions(swatches, colours_of(swatches), nothing.astype(np.bool_), nothing)


class Sent(NamedTuple):
    """What the coats of a room send to an eye under one light."""

    xyz100: Floats
    """(coats, n, 3)."""
    eye: Eye
    """Of somebody who stands in the room; its level one, or (n,)."""


@frozen(eq=False)
class RoomOptions:
    """One room of those that are judged."""

    part: PaintedRoom
    surface: str = ""
    """The surface that has options, named as in `Coat`; empty where the room is as it is."""
    options: PaintOptions | None = None
    lights: Mapping[LightName, LightOn] = field(default_factory=dict)
    """Empty where light is not asked for."""
    daylight: MedianDaylight | None = None
    lightest_lrv: float = 0.0
    """Of the paints of the house; for a room that is as it is."""
    seen: Mapping[LightName, SeenView] = field(default_factory=dict)
    """What is known to be seen in a room that is as it is."""

    @property
    def count(self) -> int:
        """n: 1 for a room that is as it is."""
        return 1 if self.options is None else len(self.options)

    @property
    def cell(self) -> Indices:
        return np.arange(self.count)

    def walls_at(self, row: int) -> tuple[Place]:
        id_ = self.on("walls").ids
        return (Place(self.part.id, "walls", str(id_[row if len(id_) > 1 else 0])),)

    @property
    def daylight_percent(self) -> Floats | None:
        """What half of the plane has with each option; None without measures."""
        if self.daylight is None:
            return None
        lrv = self.lrv("walls") if self.options is None else self.options.colours.lrv
        return np.broadcast_to(self.daylight.percent_with(lrv), (self.count,))

    @property
    def lightest_percent(self) -> float:
        """What half of the plane has with the lightest paint of the house; 0 where not known."""
        if self.daylight is None or self.options is not None:
            return 0.0
        return float(self.daylight.percent_with(np.array([self.lightest_lrv]))[0])

    @cached_property
    def surfaces(self) -> tuple[str, ...]:
        """Of the coats that are compared: walls, trim, accents, kept finishes, and the doors."""
        painted = [s for s in PAINTED if s == self.surface or s in self.part.coats]
        doors = [s for s in ("doors",) if s == self.surface or s in self.part.coats]
        accents = [coat.surface for coat in self.part.accents]
        if self.surface.startswith("accent ") and self.surface not in accents:
            accents.append(self.surface)
        finishes = (coat.surface for coat in self.part.compared_finishes)
        return (*painted, *accents, *finishes, *doors)

    @cached_property
    def each(self) -> tuple[Colours, ...]:
        """The colours of each coat: one, or one an option."""
        fixed = iter(self.part.compared_finishes)
        return tuple(
            colours_of([next(fixed).swatch]) if surface in FIXED_SURFACES else self.on(surface)
            for surface in self.surfaces
        )

    @cached_property
    def colours(self) -> Colours:
        """All coats that are compared: (coats, n)."""
        return stacked(self.each, self.count)

    def on(self, surface: str) -> Colours:
        """The colours that may be on a surface. Raises KeyError for one that is bare."""
        if self.options is not None and surface == self.surface:
            return self.options.colours
        coat = self.part.coat_on(surface)
        if coat is None:
            raise KeyError(surface)
        return colours_of([coat.swatch])

    def has(self, surface: str) -> bool:
        return surface == self.surface or self.part.coat_on(surface) is not None

    def lrv(self, surface: str) -> Floats:
        """Of a surface: (n,), also where it has no options."""
        return np.broadcast_to(self.on(surface).lrv, (self.count,))

    @cached_property
    def sent(self) -> Mapping[LightName, Sent]:
        """What the coats but the doors send under each light that the room has."""
        found, sheen = {}, self.part.sheen_on
        coats = [each for each in zip(self.surfaces, self.each, strict=True) if each[0] != "doors"]
        for name, light in self.lights.items():
            xyz100 = [
                sent_xyz100(light, on, by_sheen(coat.reflectance, coat.measured, sheen(on)))
                for on, coat in coats
            ]
            eye = light.eye if isinstance(light, Repainted) else eye_in(light)
            found[name] = Sent(stacked_rows(xyz100, self.count, (3,)), eye)
        return found

    @cached_property
    def looks(self) -> Mapping[LightName, Adapted]:
        """The coats as the eye in the room sees them: (coats, n, 1, 3)."""
        return {
            name: seen_by(one.eye, one.xyz100[:, :, np.newaxis], axis=1)
            for name, one in self.sent.items()
        }

    def walls_ucs(self, light: LightName) -> Floats:
        """CAM16-UCS of the walls as the eye in the room sees them: (n, 3)."""
        if light in self.seen:
            return np.array([self.seen[light].colours[self.part.coats["walls"]].ucs])
        return self.looks[light].ucs[0, :, 0]

    def walls_undertones(self, light: LightName, rows: Indices) -> tuple[str, ...]:
        """The names of their undertones there."""
        if light in self.seen:
            return (self.seen[light].colours[self.part.coats["walls"]].undertone.name,) * len(rows)
        screen = self.looks[light].screen_xyz100
        assert screen is not None
        return undertone_names(screen[0, rows, 0])

    @property
    def light_names(self) -> frozenset[LightName]:
        """The lights that the walls are known under."""
        return frozenset(self.seen or self.lights)

    def apart(self) -> "tuple[RoomOptions, RoomOptions]":
        """The surface with the options alone, and the room without it; for no light."""
        room = self.part
        alone = room._replace(coats={}, accents=(), floor=None, fixed=())
        coats = {s: coat for s, coat in room.coats.items() if s != self.surface}
        accents = tuple(coat for coat in room.accents if coat.surface != self.surface)
        rest = room._replace(coats=coats, accents=accents)
        return replace(self, part=alone), RoomOptions(rest)

    def as_painted(self, swatch: Swatch) -> PaintedRoom:
        coat = Coat(self.part.id, self.surface, swatch, self.part.sheen_on(self.surface))
        if self.surface.startswith("accent "):
            others = (each for each in self.part.accents if each.surface != self.surface)
            return self.part._replace(accents=(*others, coat))
        coats = {**self.part.coats, cast("Surface", self.surface): coat}
        return self.part._replace(coats=coats)


@frozen(eq=False)
class PairOptions:
    """Two rooms that see each other, or one room with itself."""

    house: House
    first: RoomOptions
    second: RoomOptions
    pair: SeenPair | None = None
    """None within a room."""
    together: bool = False
    """Whether both have the same option at a time."""

    @property
    def shape(self) -> tuple[int, int]:
        """n, m."""
        return self.first.count, 1 if self.together else self.second.count

    def meetings(self, surfaces: "Surfaces", *, lit: bool) -> Meetings | None:
        """Those of the surfaces that are compared; None where none meet."""
        within = self.first is self.second
        pairs = [
            (i, j)
            for i, one in enumerate(self.first.surfaces)
            for j, other in enumerate(self.second.surfaces)
            if surfaces.meet(one, other) and (i < j or not within)
        ]
        if not pairs:
            return None
        at, to = (np.array(each) for each in zip(*pairs, strict=True))
        seen = self._seen if lit else []
        every = np.arange(len(pairs))
        names = [(self.first.surfaces[i], self.second.surfaces[j]) for i, j in pairs]
        return Meetings(
            self.house, self.first.colours, self.second.colours, at, to, names,
            [Between(self.first.part, self.second.part, self.pair)], np.zeros_like(every),
            [Look(*each, at, to, every, lit=i > 0) for i, each in enumerate(seen)], self.together,
        )  # fmt: skip

    @cached_property
    def _seen(self) -> list[tuple[Adapted, Adapted]]:
        """Both rooms under the reference light, and as every eye sees them."""
        first, second = self.first, self.second
        here, there = in_reference_light(first.colours), in_reference_light(second.colours)
        if first is second:
            return [(here, there), *((each, each) for each in first.looks.values())]

        def beside(looks: Adapted) -> Adapted:
            """Of the second room, (coats, m, 1), along its own axis: (coats, 1, m)."""
            return looks if self.together else looks.turned()

        seen = [(here, beside(there))]
        for name in (n for n in first.sent if n in second.sent):
            one, other = first.sent[name], second.sent[name]
            sent = other.xyz100[:, :, None] if self.together else other.xyz100[:, None]
            seen.append((first.looks[name], seen_by(one.eye, sent, axis=1)))
            seen_there = seen_by(other.eye, one.xyz100[:, :, None], 1 if self.together else 0)
            seen.append((seen_there, beside(second.looks[name])))
        return seen


class Surfaces(NamedTuple):
    """Which surfaces a check compares: any of the first kinds with any of the second."""

    first: tuple[str, ...]
    second: tuple[str, ...]

    def meet(self, one: str, other: str) -> bool:
        """An accent wall, "accent n", is of the kind accent."""
        one, other = one.partition(" ")[0], other.partition(" ")[0]
        return (one in self.first and other in self.second) or (
            other in self.first and one in self.second
        )


@frozen(eq=False)
class ViewOptions:
    """A room, and the views in which it is judged: its own, or every one with the room in it."""

    study: Study
    room: PaintedRoom
    views: tuple[View, ...]
    tried: RoomOptions | None = None
    """One of the rooms in view, with options on a surface."""

    @property
    def count(self) -> int:
        return 1 if self.tried is None else self.tried.count

    @property
    def cell(self) -> Indices:
        return np.arange(self.count)

    @cached_property
    def rooms(self) -> Mapping[str, PaintedRoom]:
        """Every room in view, once."""
        return {room.id: room for view in self.views for room in view.rooms}

    @property
    def tries_room(self) -> bool:
        """Whether the options are in the room that is judged."""
        return self.tried is not None and self.tried.part.id == self.room.id

    @cached_property
    def coats(self) -> Sequence[Coat]:
        """Every coat in view but the one that has options."""
        tried = (self.tried.part.id, self.tried.surface) if self.tried else None
        every = (coat for room in self.rooms.values() for coat in room.every_coat)
        return [coat for coat in every if (coat.room, coat.surface) != tried]

    @cached_property
    def colours(self) -> Colours:
        """Of the coats, a row each."""
        return self._of(coat.swatch for coat in self.coats)

    def _of(self, swatches: Iterable[Swatch]) -> Colours:
        """Colours of the house, by its table of them."""
        table = self.study.table
        return table.colours.rows(np.array([table.places[s.key] for s in swatches], dtype=np.intp))

    @property
    def options(self) -> Colours | None:
        """The colours that are tried: (n,)."""
        if self.tried is None or self.tried.options is None:
            return None
        return self.tried.options.colours

    def option_at(self, row: int) -> Place:
        assert self.tried is not None
        assert self.options is not None
        return Place(self.tried.part.id, self.tried.surface, str(self.options.ids[row]))

    def walls_at(self, room: str, row: int) -> Place:
        tried = self.tried
        if tried is not None and (tried.part.id, tried.surface) == (room, "walls"):
            return self.option_at(row)
        return Place.of(self.rooms[room].coats["walls"])

    @cached_property
    def with_walls(self) -> tuple[str, ...]:
        """The rooms whose walls have a paint, or options."""
        tried = self.tried.part.id if self.tried and self.tried.has("walls") else None
        rooms = self.rooms.items()
        return tuple(key for key, room in rooms if "walls" in room.coats or key == tried)

    def walls_apart(self, least: float) -> tuple[Truths, Indices]:
        """Which of `with_walls` differ by so much, and for which options.

        Each kind of answer once, (kinds, rooms, rooms), and the kind of each option, (n,): paints
        that lie apart from the same walls are judged once.
        """
        rooms = self.with_walls
        tried = self.tried.part.id if self.tried and self.tried.surface == "walls" else None
        others = [i for i, room in enumerate(rooms) if room != tried]
        walls = self._of(self.rooms[rooms[i]].coats["walls"].swatch for i in others)
        among = np.zeros((len(rooms), len(rooms)), dtype=np.bool_)
        among[np.ix_(others, others)] = _distance(walls.ucs[:, None], walls.ucs) >= least
        if tried is None or self.options is None or not others:
            return among[None], np.zeros(self.count, dtype=np.intp)
        mine = _distance(self.options.ucs[:, None], walls.ucs) >= least
        packed = np.packbits(mine, axis=1)  # sorts far faster than rows do
        _, first, kind_of = np.unique(
            packed.view(f"V{packed.shape[1]}")[:, 0], return_index=True, return_inverse=True
        )
        kinds = mine[first]
        at, apart = rooms.index(tried), np.repeat(among[None], len(kinds), axis=0)
        apart[:, at, others] = apart[:, others, at] = kinds
        return apart, kind_of.reshape(-1)


def _distance(one: Floats, other: Floats) -> Floats:
    return ucs_parts(one, other)[0]
