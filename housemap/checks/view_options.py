"""What is seen from a room, or in every view with it, as it is or with options on one surface."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from housemap.checks.finding import Place
from housemap.checks.options import RoomOptions
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.difference import ucs_parts
from housemap.study import Coat, PaintedRoom, Study, Swatch, View
from housemap.study.colours import Colours


@dataclass(frozen=True, eq=False)
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

    def light(self, row: int) -> str:
        """Judged by the paints alone."""
        del row
        return "reference"

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
        return [coat for room in self.rooms.values() for coat in self._rest(room)]

    def _rest(self, room: PaintedRoom) -> Iterator[Coat]:
        tried = self.tried
        for coat in room.every_coat:
            if tried is None or (coat.room, coat.surface) != (tried.part.id, tried.surface):
                yield coat

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
        """The place of one of the options."""
        assert self.tried is not None
        assert self.options is not None
        return Place(self.tried.part.id, self.tried.surface, str(self.options.ids[row]))

    def walls_at(self, room: str, row: int) -> Place:
        """The walls of a room with one of the options."""
        tried = self.tried
        if tried is not None and (tried.part.id, tried.surface) == (room, "walls"):
            return self.option_at(row)
        return Place.of(self.rooms[room].coats["walls"])

    @cached_property
    def with_walls(self) -> tuple[str, ...]:
        """The rooms whose walls have a paint, or options."""
        return tuple(key for key, room in self.rooms.items() if self._has_walls(room))

    def _has_walls(self, room: PaintedRoom) -> bool:
        tried = self.tried
        here = tried is not None and tried.part.id == room.id and tried.has("walls")
        return "walls" in room.coats or here

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
        if tried is None or self.options is None:
            return among[None], np.zeros(self.count, dtype=np.intp)
        mine = _distance(self.options.ucs[:, None], walls.ucs) >= least
        kinds, kind_of = np.unique(mine, axis=0, return_inverse=True)
        at, apart = rooms.index(tried), np.repeat(among[None], len(kinds), axis=0)
        apart[:, at, others] = apart[:, others, at] = kinds
        return apart, kind_of.reshape(-1)


def _distance(one: Floats, other: Floats) -> Floats:
    return ucs_parts(one, other)[0]
