"""What the map shows of a house: each room's colours, name and findings, as plain data."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

from housemap.model.colour import Srgb
from housemap.model.house import House, Paint, Room, Surface, SurfacePaints
from housemap.model.verdicts import Tried, all_tried
from housemap.tui.render.runs import Hex

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.study import Swatch
    from housemap.tui.render.shades import Shades

State = Literal["bare", "awaited", "known", "sketched"]
"""No paint; a paint whose colour is still being computed; a colour to show; a room that is only
being typed."""


class Coat(NamedTuple):
    """The colour of one surface."""

    state: State = "bare"
    colour: Hex | None = None
    """Set where the state is "known"."""


BARE = Coat()
SKETCHED = Coat("sketched")


@dataclass(frozen=True, slots=True)
class Mark:
    """The worst of a room's findings, and how many there are."""

    severity: str
    count: int

    @property
    def letter(self) -> str:
        return self.severity[0].upper()


class Block(NamedTuple):
    """A room as the map shows it."""

    room: str
    name: str
    coats: Mapping[Surface, Coat]
    accents: Mapping[str, Coat]
    """By wall."""
    paint_name: str = ""
    lrv: float | None = None
    """Of the walls."""
    mark: Mark | None = None
    lacks: str = ""
    """Why it shows as under the reference light, where another was asked for."""
    ticked: bool = False
    """Walked through on site."""
    tried: Tried = "untried"
    """What samples of the walls' paint in this room came to."""
    unlike_trim: tuple[Surface, ...] = ()
    """Of ceiling and doors, those that wear another paint than the trim."""

    def coat(self, surface: Surface) -> Coat:
        return self.coats.get(surface, BARE)

    @property
    def shown_coats(self) -> Iterator[Coat]:
        yield from self.coats.values()
        yield from self.accents.values()


@dataclass(frozen=True, slots=True)
class Colours:
    """The screen colour and LRV of each paint of a house, as far as they are known.

    From the report; from the file alone where the report does not have a paint (yet). Found when
    asked for: a house may hold the paints of whole decks.
    """

    paints: Mapping[str, Paint]
    swatches: "Mapping[tuple[str, str], Swatch]"

    def coat(self, paint: str | None) -> Coat:
        if paint is None:
            return BARE
        colour = self._shown(paint)
        return Coat("known", colour) if colour else Coat("awaited")

    @property
    def lrv(self) -> "Lrvs":
        return Lrvs(self)

    def lrv_of(self, paint: str) -> float | None:
        computed, entity = self._computed(paint), self.paints.get(paint)
        return computed.lrv if computed else entity.lrv if entity else None

    def _shown(self, paint: str) -> Hex | None:
        """A screen colour is shown as it stands in the file."""
        entity = self.paints.get(paint)
        if entity is not None and isinstance(entity.colour, Srgb):
            return entity.colour.hex
        computed = self._computed(paint)
        return computed.colour.srgb_hex if computed else None

    def _computed(self, paint: str) -> "Swatch | None":
        swatch = self.swatches.get(("Paint", paint))
        return swatch if swatch and swatch.entity == self.paints.get(paint) else None


@dataclass(frozen=True, slots=True)
class Lrvs(Mapping[str, float]):
    """The LRV of every paint that is known to have one."""

    colours: Colours

    def __getitem__(self, paint: str) -> float:
        value = self.colours.lrv_of(paint)
        if value is None:
            raise KeyError(paint)
        return value

    def __iter__(self) -> Iterator[str]:
        return (paint for paint in self.colours.paints if paint in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


def colours_of(house: House, report: "Report | None") -> Colours:
    """Those of a house; the report may lag behind it."""
    return Colours(house.paints, report.study.swatches if report else {})


def block_of(
    room_id: str, room: Room, shades: "Shades", mark: Mark | None, tried: Tried = "untried"
) -> Block:
    walls = room.paints.walls
    paint = shades.house.paints.get(walls) if walls else None
    on = room.paints.chosen()
    coats = {surface: shades.on(room_id, surface, paint) for surface, paint in on}
    walls_apart = room.accents.items()
    accents = {wall: shades.on(room_id, f"accent {wall}", each.paint) for wall, each in walls_apart}
    return Block(
        room_id,
        room.name,
        coats,
        accents,
        paint.name if paint else "",
        shades.plain.lrv.get(walls) if walls else None,
        mark,
        shades.lacks(room_id) if coats or accents else "",
        room_id in shades.house.visits,
        tried,
        tuple(_unlike_trim(room.paints)),
    )


def _unlike_trim(paints: SurfacePaints) -> Iterator[Surface]:
    for surface, paint in paints.chosen():
        if surface in {"ceiling", "doors"} and paint != paints.trim:
            yield surface


def marks_of(report: "Report | None") -> Mapping[str, Mark]:
    """By room; the findings of a report come grave first."""
    if report is None:
        return {}
    return {
        room: Mark(found[0].severity, len(found)) for room, found in report.by_room.items() if found
    }


def blocks_of(shades: "Shades") -> Mapping[str, Block]:
    """Every room of the house as the map shows it."""
    marks, tried = marks_of(shades.report), all_tried(shades.house)

    def block(key: str, room: Room) -> Block:
        found = tried.get((room.paints.walls or "", key), "untried")
        return block_of(key, room, shades, marks.get(key), found)

    return {key: block(key, room) for key, room in shades.house.rooms.items()}
