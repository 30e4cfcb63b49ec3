"""What the map shows of a house: each room's colours, name and findings, as plain data."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from housemap.model.colour import Srgb
from housemap.model.house import House, Paint, Room, Surface
from housemap.tui.render.runs import Hex

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.tui.render.shades import Shades

State = Literal["bare", "awaited", "known"]
"""No paint; a paint whose colour is still being computed; a colour to show."""


@dataclass(frozen=True, slots=True)
class Coat:
    """The colour of one surface."""

    state: State = "bare"
    colour: Hex | None = None
    """Set where the state is "known"."""


BARE = Coat()


@dataclass(frozen=True, slots=True)
class Mark:
    """The worst of a room's findings, and how many there are."""

    severity: str
    count: int

    @property
    def letter(self) -> str:
        return self.severity[0].upper()


@dataclass(frozen=True, slots=True)
class Block:
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

    def coat(self, surface: Surface) -> Coat:
        return self.coats.get(surface, BARE)


@dataclass(frozen=True, slots=True)
class Colours:
    """The screen colour and LRV of each paint of a house, as far as they are known."""

    shown: Mapping[str, Hex] = field(default_factory=dict)
    lrv: Mapping[str, float] = field(default_factory=dict)

    def coat(self, paint: str | None) -> Coat:
        if paint is None:
            return BARE
        colour = self.shown.get(paint)
        return Coat("known", colour) if colour else Coat("awaited")


def colours_of(house: House, report: "Report | None") -> Colours:
    """From the report; from the file alone where the report does not have a paint (yet)."""
    swatches = report.study.swatches if report else {}
    shown: dict[str, Hex] = {}
    lrv: dict[str, float] = {}
    for paint_id, paint in house.paints.items():
        swatch = swatches.get(("Paint", paint_id))
        computed = swatch if swatch and swatch.entity == paint else None
        colour = _shown_colour(paint, computed.colour.srgb_hex if computed else None)
        if colour:
            shown[paint_id] = colour
        value = computed.lrv if computed else paint.lrv
        if value is not None:
            lrv[paint_id] = value
    return Colours(shown, lrv)


def _shown_colour(paint: Paint, computed: Hex | None) -> Hex | None:
    """A screen colour is shown as it stands in the file."""
    return paint.colour.hex if isinstance(paint.colour, Srgb) else computed


def block_of(room_id: str, room: Room, shades: "Shades", mark: Mark | None) -> Block:
    walls = room.paints.walls
    paint = shades.house.paints.get(walls) if walls else None
    accents = room.accents.items()
    return Block(
        room_id,
        room.name,
        {surface: shades.on(room_id, surface, paint) for surface, paint in room.paints.chosen()},
        {wall: shades.on(room_id, f"accent {wall}", accent.paint) for wall, accent in accents},
        paint.name if paint else "",
        shades.plain.lrv.get(walls) if walls else None,
        mark,
        shades.lacks(room_id),
    )


def marks_of(report: "Report | None") -> Mapping[str, Mark]:
    """By room; the findings of a report come grave first."""
    if report is None:
        return {}
    return {
        room: Mark(found[0].severity, len(found)) for room, found in report.by_room.items() if found
    }


def blocks_of(shades: "Shades") -> Mapping[str, Block]:
    """Every room of the house as the map shows it."""
    marks = marks_of(shades.report)
    return {
        room_id: block_of(room_id, room, shades, marks.get(room_id))
        for room_id, room in shades.house.rooms.items()
    }
