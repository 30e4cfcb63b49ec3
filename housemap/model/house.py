"""The house as one frozen value that compares by what it holds.

Lengths are metres, angles degrees, light lumens and kelvin, reflectance 0..1, LRV 0..100. Plan
coordinates run x to plan-east and y to plan-north. Tables map an id (a-z, 0-9, -) to an entity;
they are never changed in place.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields
from typing import Literal, get_args

from housemap.model.colour import ColourSource

FORMAT = 1
"""The newest house-file format that this version reads, and the one it writes."""

Use = Literal[
    "hall", "living", "dining", "kitchen", "bathroom", "bedroom", "office", "stair", "utility",
    "outdoor", "other",
]  # fmt: skip
Role = Literal["backbone", "room", "accent"]
Surface = Literal["walls", "ceiling", "trim", "doors"]
Sheen = Literal["flat", "matt", "eggshell", "satin", "semi-gloss", "gloss"]
OpeningKind = Literal["doorway", "cased", "open", "glazed", "stairs"]
Door = Literal["open", "shut"]
Aim = Literal["down", "up", "all"]
Units = Literal["m", "ft"]
SampleLight = Literal["day", "evening"]
Light = Literal["reference", "day", "evening"]
Verdict = Literal["keep", "reject", "unsure"]

USES: tuple[Use, ...] = get_args(Use)
ROLES: tuple[Role, ...] = get_args(Role)
SURFACES: tuple[Surface, ...] = get_args(Surface)
SHEENS: tuple[Sheen, ...] = get_args(Sheen)
"""From dull to shiny."""
OPENING_KINDS: tuple[OpeningKind, ...] = get_args(OpeningKind)
DOORS: tuple[Door, ...] = get_args(Door)
AIMS: tuple[Aim, ...] = get_args(Aim)
UNITS: tuple[Units, ...] = get_args(Units)
SAMPLE_LIGHTS: tuple[SampleLight, ...] = get_args(SampleLight)
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)

DEFAULT_DOORWAY_HEIGHT_M = 2.0
DEFAULT_CASED_HEIGHT_M = 2.1

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Paint:
    """A paint that may go on a surface of this house."""

    name: str
    colour: ColourSource
    code: str = ""
    lrv: float | None = None
    """As printed by whoever sells it; None where nobody did."""
    deck: str = ""
    coverage: float | None = None
    """Square metres per litre and coat."""
    tins: tuple[float, ...] = ()
    """Tin sizes in litres."""
    price: float | None = None
    """Per litre, in the house's own currency."""
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Finish:
    """Something that stays: floor, tile, top, brick, cloth."""

    name: str
    colour: ColourSource
    lrv: float | None = None
    notes: str = ""


@dataclass(frozen=True, slots=True)
class SurfacePaints:
    """The paint id of each surface of a room; None where not chosen yet."""

    walls: str | None = None
    ceiling: str | None = None
    trim: str | None = None
    doors: str | None = None

    def of(self, surface: Surface) -> str | None:
        value: str | None = getattr(self, surface)
        return value

    def chosen(self) -> Iterator[tuple[Surface, str]]:
        """The surfaces that have a paint, with its id."""
        for surface in SURFACES:
            if paint := self.of(surface):
                yield surface, paint


@dataclass(frozen=True, slots=True)
class SurfaceSheens:
    """The sheen of each surface of a room; None where not chosen yet."""

    walls: Sheen | None = None
    ceiling: Sheen | None = None
    trim: Sheen | None = None
    doors: Sheen | None = None

    def of(self, surface: Surface) -> Sheen | None:
        value: Sheen | None = getattr(self, surface)
        return value


@dataclass(frozen=True, slots=True)
class Accent:
    """One wall of a room in a paint other than its walls' paint."""

    paint: str


@dataclass(frozen=True, slots=True)
class Window:
    """A window in a wall ("n" "e" "s" "w", or an outline's edge number as text)."""

    wall: str
    along_m: float
    width_m: float
    height_m: float
    sill_m: float
    transmittance: float = 0.68
    sky_angle_deg: float = 75.0
    kelvin: float | None = None


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp; `at_m` is x, y, z from the room's own origin."""

    lumens: float
    kelvin: float
    spectrum: str | None = None
    aim: Aim = "all"
    at_m: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """A room; measured when it has a size or an outline."""

    name: str
    level: int = 0
    use: Use = "other"
    role: Role | None = None
    size_m: Point | None = None
    outline_m: tuple[Point, ...] | None = None
    """Counter-clockwise, from the room's own origin; never together with `size_m`."""
    height_m: float | None = None
    at_m: Point | None = None
    """Where the south-west corner of the room's box is pinned in the plan."""
    paints: SurfacePaints = SurfacePaints()
    sheens: SurfaceSheens = SurfaceSheens()
    floor: str | None = None
    fixed: tuple[str, ...] = ()
    notes: str = ""
    accents: Mapping[str, Accent] = field(default_factory=dict)
    """By wall."""
    windows: Mapping[str, Window] = field(default_factory=dict)
    lamps: Mapping[str, Lamp] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Opening:
    """What joins two rooms; `wall_of_first` and `along_m` lie in `between[0]`."""

    between: tuple[str, str]
    kind: OpeningKind
    door: Door = "open"
    wall: str | None = None
    along_m: float | None = None
    to_wall: str | None = None
    to_along_m: float | None = None
    width_m: float | None = None
    height_m: float | None = None
    """None: doorway 2.0, cased 2.1, open the lower room's height."""
    stop: bool = False
    """Open only: a corner or trim where paint can change."""

    @property
    def seen_through(self) -> bool:
        """Whether one sees through it: everything but a door that usually stands shut."""
        return not (self.kind == "doorway" and self.door == "shut")


@dataclass(frozen=True, slots=True)
class Sightline:
    """Two rooms known to see each other without a shared opening."""

    between: tuple[str, str]
    share: float | None = None
    """Of the view, 0..1."""


@dataclass(frozen=True, slots=True)
class Sample:
    """A tester on a wall, and what it looked like."""

    paint: str
    room: str
    wall: str | None = None
    when: dt.date | None = None
    light: SampleLight | None = None
    verdict: Verdict | None = None
    seen: str = ""


@dataclass(frozen=True, slots=True)
class Visit:
    """A room walked through and ticked off on site."""

    when: dt.date | None = None
    notes: str = ""


@dataclass(frozen=True, slots=True)
class House:
    """Everything that one house file holds."""

    name: str = ""
    built: int | None = None
    latitude_deg: float | None = None
    north_deg: float = 0.0
    """Clockwise from plan-up to true north."""
    low_vision: bool = False
    wall_thickness_m: float = 0.1
    units: Units = "m"
    notes: str = ""
    limits: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    """Limits that differ from the defaults, by check id and kind."""
    paints: Mapping[str, Paint] = field(default_factory=dict)
    finishes: Mapping[str, Finish] = field(default_factory=dict)
    rooms: Mapping[str, Room] = field(default_factory=dict)
    openings: Mapping[str, Opening] = field(default_factory=dict)
    sightlines: Mapping[str, Sightline] = field(default_factory=dict)
    samples: Mapping[str, Sample] = field(default_factory=dict)
    visits: Mapping[str, Visit] = field(default_factory=dict)


TABLES: tuple[str, ...] = tuple(
    f.name for f in fields(House) if f.name in {
        "paints", "finishes", "rooms", "openings", "sightlines", "samples", "visits"
    }
)  # fmt: skip
"""The House attributes that are tables of entities, in file order."""
