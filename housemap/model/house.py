"""The house as one frozen value that compares by what it holds. Data only: nothing here computes.

Lengths are metres, angles degrees, light lumens and kelvin, reflectance 0..1, LRV 0..100. Plan
coordinates run x to plan-east and y to plan-north. Tables map an id (a-z, 0-9, -) to an entity;
they are never changed in place.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

Triple = tuple[float, float, float]

DEFAULT_OBSERVED = "D65/10"


@dataclass(frozen=True, slots=True)
class Reflectance:
    """Spectral reflectance, 0..1, at equal steps."""

    start_nm: float
    step_nm: float
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Lab:
    """CIELAB as measured under `observed` (illuminant/observer, such as "D50/2")."""

    lab100: Triple
    observed: str = DEFAULT_OBSERVED


@dataclass(frozen=True, slots=True)
class Xyz:
    """Tristimulus values under `observed`; Y of the perfect diffuser is 100."""

    xyz100: Triple
    observed: str = DEFAULT_OBSERVED


@dataclass(frozen=True, slots=True)
class Srgb:
    """An IEC 61966-2-1 screen colour (D65, 2 degree observer), as "#rrggbb" in lower case."""

    hex: str


@dataclass(frozen=True, slots=True)
class Notation:
    """ASTM D1535 hue value/chroma, such as "5Y 7/1" or "N 8/"."""

    text: str


ColourSource = Reflectance | Lab | Xyz | Srgb | Notation
"""How a paint or finish says what colour it is; exactly one of the five."""


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
Gloss = Literal["included", "excluded"]
LampType = Literal["led", "halogen", "incandescent", "compact-fluorescent", "fluorescent"]
Side = Literal["left", "right"]
Strength = Literal["neutral", "greyish", "moderate", "strong", "vivid"]
Ground = Literal["painted", "plaster", "paper", "tile", "wood", "metal", "new-plaster"]
Condition = Literal["sound", "worn", "damaged"]
PartKind = Literal[
    "skirting", "window", "radiator", "panelled-door", "panelling", "paper", "tile", "other"
]
Edition = Literal["full", "painter", "client", "supplier"]

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
GLOSSES: tuple[Gloss, ...] = get_args(Gloss)
LAMP_TYPES: tuple[LampType, ...] = get_args(LampType)
SIDES: tuple[Side, ...] = get_args(Side)
STRENGTHS: tuple[Strength, ...] = get_args(Strength)
"""From none to most, by the modifiers of the ISCC-NBS colour names (NBS SP 440)."""
HUES: tuple[str, ...] = (
    "pink", "red", "orange", "brown", "yellow", "olive", "green", "blue", "violet", "purple",
    "yellowish pink", "brownish pink", "purplish pink", "reddish orange", "reddish brown",
    "orange yellow", "yellowish brown", "olive brown", "greenish yellow", "olive green",
    "yellow green", "yellowish green", "bluish green", "blue green", "greenish blue",
    "purplish blue", "reddish purple", "purplish red", "brownish orange", "white", "grey", "black",
)  # fmt: skip
"""The hue names of ISCC-NBS (NBS SP 440). "blue green" is ours: bluish green or greenish blue."""
GROUNDS: tuple[Ground, ...] = get_args(Ground)
CONDITIONS: tuple[Condition, ...] = get_args(Condition)
PART_KINDS: tuple[PartKind, ...] = get_args(PartKind)
EDITIONS: tuple[Edition, ...] = get_args(Edition)

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
    products: tuple[tuple[str, str], ...] = ()
    """(surface or sheen, product line)."""
    supplier: str = ""
    order: str = ""
    """The supplier's order code."""
    prices: tuple[float, ...] = ()
    """Of one tin of each size in `tins`."""
    gloss: Gloss | None = None
    """Whether the printed LRV was measured with the mirrored light; None where nobody says."""
    derived: str = ""
    """How the colour was made up where nobody measured it, such as "half strength of oat"."""

    def product(self, surface: str, sheen: str | None) -> str:
        """Return the product line for a surface, else for its sheen; empty where none is given."""
        lines = dict(self.products)
        return lines.get(surface) or lines.get(sheen or "", "")


@dataclass(frozen=True, slots=True)
class Primer:
    """What goes on first: primer, mist coat or undercoat."""

    name: str
    grounds: tuple[Ground, ...] = ()
    """What it is for; empty: anything."""
    coverage: float | None = None
    tins: tuple[float, ...] = ()
    prices: tuple[float, ...] = ()
    supplier: str = ""
    order: str = ""
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Finish:
    """Something that is kept: floor, tile, top, brick, cloth."""

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
    obstruction: float = 0.2
    """Reflectance of what hides part of the sky."""


@dataclass(frozen=True, slots=True)
class SpectralPower:
    """Relative spectral power of a lamp at equal steps."""

    start_nm: float
    step_nm: float
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp; `at_m` is x, y, z from the room's own origin."""

    lumens: float
    kelvin: float | None = None
    """Needed only where neither `spectrum` nor `power` says what its light is."""
    spectrum: str | None = None
    aim: Aim = "all"
    at_m: tuple[float, float, float] | None = None
    type: LampType | None = None
    watts: float | None = None
    """Of the incandescent lamp that it replaces, as its box says; `lumens` is what counts."""
    power: SpectralPower | None = None
    """As measured; never together with `spectrum`."""

    @property
    def light_name(self) -> str:
        """What its light is, such as "LED-B1" or "2700 K"."""
        measured = "measured spectrum" if self.power else ""
        return self.spectrum or measured or f"{self.kelvin:g} K"


@dataclass(frozen=True, slots=True)
class State:
    """What is on a surface now: a paint of the house, another colour, or neither is known."""

    paint: str | None = None
    colour: ColourSource | None = None
    ground: Ground = "painted"
    condition: Condition = "sound"


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of furniture as a plain block."""

    size_m: tuple[float, float, float]
    at_m: Point
    """Its south-west corner from the room's own origin."""
    finish: str | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A surface of a room beside walls, ceiling, trim and doors, with an area of its own."""

    kind: PartKind
    wall: str | None = None
    area_m2: float | None = None
    """Of all of them together; None: by `length_m` or the usual size."""
    length_m: float | None = None
    count: int = 1
    paint: str | None = None
    """None: left as it is."""
    sheen: Sheen | None = None
    notes: str = ""


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
    states: Mapping[str, State] = field(default_factory=dict)
    """By surface, or by the id of a part."""
    pieces: Mapping[str, Piece] = field(default_factory=dict)
    parts: Mapping[str, Part] = field(default_factory=dict)


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
    hinge: Side | None = None
    """Doorway only: where the leaf hangs, as seen from `between[0]`."""
    into: str | None = None
    """Doorway only: the room that the leaf opens into."""

    @property
    def seen_through(self) -> bool:
        """Whether one sees through it: everything but a door that is usually shut."""
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
class RoomBrief:
    """What the client asked for in one room where it differs from the house; None: as there."""

    strength: Strength | None = None
    accent_strength: Strength | None = None
    like: tuple[str, ...] | None = None
    avoid: tuple[str, ...] | None = None
    colours: int | None = None
    lrv: tuple[float, float] | None = None
    keep: bool = False
    """Its paints are kept as they are."""
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Brief:
    """What the client asked for; None where nothing was said."""

    strength: Strength | None = None
    """The strongest colour on walls."""
    accent_strength: Strength | None = None
    like: tuple[str, ...] = ()
    """ISCC-NBS hue names."""
    avoid: tuple[str, ...] = ()
    colours: int | None = None
    """Wall colours aimed for."""
    lrv: tuple[float, float] | None = None
    """The darkest and the lightest wall."""
    share: float | None = None
    """The most of all wall area in one colour, 0..1."""
    white_trim: bool = True
    """Trim is near-white; False: in any colour."""
    notes: str = ""
    """The client's own words."""
    rooms: Mapping[str, RoomBrief] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class SchemePaints:
    """The paints of one room in a scheme; None: as in the room."""

    walls: str | None = None
    ceiling: str | None = None
    trim: str | None = None
    doors: str | None = None
    accents: Mapping[str, str] | None = None
    """Paint by wall, of all accent walls of the room; None: as in the room."""


@dataclass(frozen=True, slots=True)
class Scheme:
    """Another way to paint the house; rooms that it does not name are as they are."""

    name: str
    notes: str = ""
    paints: Mapping[str, SchemePaints] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding that somebody looked at and accepted in that place.

    It returns when other paints are there than `paints`.
    """

    check: str
    rooms: tuple[str, ...]
    surfaces: tuple[str, ...] = ()
    paints: tuple[str, ...] = ()
    when: dt.date | None = None
    by: str = ""
    why: str = ""


@dataclass(frozen=True, slots=True)
class Client:
    """Who the work is for and by whom, and what money means; printed, never sent anywhere."""

    name: str = ""
    address: str = ""
    by: str = ""
    currency: str = ""
    """ISO 4217; empty: not said."""
    tax: float | None = None
    """Percent."""
    labour: float | None = None
    """Price of an hour."""
    rates: tuple[tuple[str, float], ...] = ()
    """(surface or kind of part, square metres an hour and coat)."""
    surplus: float | None = None
    """Percent of paint that may be left over for fewer tins."""


@dataclass(frozen=True, slots=True)
class Issue:
    """A schedule that was handed out: its id is its number."""

    when: dt.date | None = None
    edition: Edition = "full"
    to: str = ""
    signed: str = ""
    signed_on: dt.date | None = None
    notes: str = ""
    said: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """What it said by room and surface, as printed, to mark what has changed since."""


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
    ground: float = 0.2
    """Reflectance of the ground outside."""
    country: str = ""
    """ISO 3166-1 alpha-2, for the rules of the place; empty: not said."""
    units: Units = "m"
    notes: str = ""
    limits: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    """Limits that differ from the defaults, by check id and kind."""
    paints: Mapping[str, Paint] = field(default_factory=dict)
    primers: Mapping[str, Primer] = field(default_factory=dict)
    finishes: Mapping[str, Finish] = field(default_factory=dict)
    rooms: Mapping[str, Room] = field(default_factory=dict)
    openings: Mapping[str, Opening] = field(default_factory=dict)
    sightlines: Mapping[str, Sightline] = field(default_factory=dict)
    samples: Mapping[str, Sample] = field(default_factory=dict)
    brief: Brief = Brief()
    schemes: Mapping[str, Scheme] = field(default_factory=dict)
    accepted: Mapping[str, Accepted] = field(default_factory=dict)
    client: Client = Client()
    visits: Mapping[str, Visit] = field(default_factory=dict)
    issues: Mapping[str, Issue] = field(default_factory=dict)
