"""The values that checks look at: a colour, a painted room, a seen pair, a view.

They compare by identity: as long as an edit leaves a part's inputs alone, the next study holds the
same object, and whatever was found of it still stands.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from housemap.colorimetry.facts import ColourFacts
from housemap.model.frozen import frozen
from housemap.model.house import Finish, Gloss, Opening, Paint, Room, Sample, Sheen, Surface
from housemap.model.takeoff import RoomAreas
from housemap.model.wishes import Wishes
from housemap.plan.house_graph import Sighting

PRINTED_LRV_TRUSTED = 3.0
"""Points within which a printed LRV is taken instead of the computed one (house file format)."""


@frozen(eq=False)
class Swatch:
    """A paint or finish of the house with what is computed of its colour."""

    id: str
    entity: Paint | Finish
    colour: ColourFacts

    @property
    def key(self) -> tuple[str, str]:
        """What distinguishes it from every other swatch of the house."""
        return type(self.entity).__name__, self.id

    @property
    def name(self) -> str:
        return self.entity.name or self.id

    @property
    def gloss(self) -> Gloss | None:
        """Whether its colour was measured with gloss; None where that is not known."""
        return self.entity.gloss if isinstance(self.entity, Paint) else None

    @property
    def lrv(self) -> float:
        """The LRV that checks use: the printed one where it is near the computed one."""
        printed = self.entity.lrv
        if printed is not None and abs(printed - self.colour.lrv) <= PRINTED_LRV_TRUSTED:
            return printed
        return self.colour.lrv


@frozen(eq=False)
class Coat:
    """A colour on a surface of a room."""

    room: str
    surface: str
    """walls ceiling trim doors floor fixed, "accent" and the wall's key, or "piece" and its id."""
    swatch: Swatch
    sheen: Sheen | None = None


def sheen_on(room: Room, surface: str) -> Sheen | None:
    kind = "walls" if surface.startswith("accent ") else surface
    return getattr(room.sheens, kind, None)


class PaintedRoom(NamedTuple):
    id: str
    room: Room
    coats: Mapping[Surface, Coat]
    """Of the surfaces that have a paint."""
    accents: tuple[Coat, ...]
    floor: Coat | None
    fixed: tuple[Coat, ...]
    pieces: tuple[Coat, ...]
    """Of the furniture that has a finish."""
    openings: Mapping[str, Opening]
    samples: tuple[Sample, ...]
    wishes: tuple[Wishes, Wishes]
    """What the client does not want on its walls, and on one wall of it."""
    areas: RoomAreas | None
    """None where measures are missing."""

    @property
    def is_kept(self) -> bool:
        return self.wishes[0].keep

    @property
    def kept_finishes(self) -> tuple[Coat, ...]:
        """What the household keeps: the floor and the fixed finishes."""
        return (self.floor, *self.fixed) if self.floor else self.fixed

    @property
    def compared_finishes(self) -> tuple[Coat, ...]:
        """Of those each colour once: a floor and tiles alike are one thing to look at."""
        found: dict[object, Coat] = {}
        for coat in self.kept_finishes:
            found.setdefault(coat.swatch.colour.ucs, coat)
        return tuple(found.values())

    @property
    def every_coat(self) -> Iterator[Coat]:
        yield from self.coats.values()
        yield from self.accents
        yield from self.kept_finishes
        yield from self.pieces

    def sheen_on(self, surface: str) -> Sheen | None:
        """Of the paint on a surface; a single wall's is that of the walls."""
        return sheen_on(self.room, surface)

    def coat_on(self, surface: str) -> Coat | None:
        """The coat on a surface, named as in `Coat`; None where it is bare."""
        return next((coat for coat in self.every_coat if coat.surface == surface), None)


class SeenPair(NamedTuple):
    """Two rooms of which one sees the other; `openings` are those that join them directly."""

    first: PaintedRoom
    second: PaintedRoom
    sighting: Sighting
    openings: Mapping[str, Opening]

    def other(self, room: str) -> str:
        return self.second.id if room == self.first.id else self.first.id

    @property
    def walls(self) -> tuple[Coat, Coat] | None:
        """Both wall coats, or None where a room's walls have no paint yet."""
        first, second = self.first.coats.get("walls"), self.second.coats.get("walls")
        return (first, second) if first and second else None


class Seen(NamedTuple):
    room: PaintedRoom
    sighting: Sighting


class View(NamedTuple):
    """What there is to see from a room."""

    room: PaintedRoom
    seen: tuple[Seen, ...]

    @property
    def rooms(self) -> tuple[PaintedRoom, ...]:
        return self.room, *(seen.room for seen in self.seen)


class Surroundings(NamedTuple):
    """A room with every view in which it appears: its own first."""

    room: PaintedRoom
    views: tuple[View, ...]
