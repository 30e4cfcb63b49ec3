"""The house as one frozen value that compares by what it holds. Data only: nothing here computes.

Each attribute is described here once, for Python, for the file and for the forms: its annotation
says what it may hold (a plain str is a line of text, a Literal one of its words), and its key in
the file is its name without the unit, or as `InFile` says. Limits of sizes are ours and generous:
they keep a slip of the pen or a hostile file out, nothing else.

Lengths are metres, angles degrees, light lumens and kelvin, reflectance 0..1, LRV 0..100. Plan
coordinates run x to plan-east and y to plan-north. Tables map an id (a-z, 0-9, -) to an entity;
they are never changed in place.
"""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import Annotated, Any, Literal, get_args

from housemap.model.fieldtypes import (
    ID,
    ILLUMINANTS,
    Choice,
    ListOf,
    Name,
    Number,
    PairsOf,
    Ref,
    Shape,
    Text,
    WallKey,
    Whole,
)
from housemap.model.frozen import frozen
from housemap.model.notation import NOTATION
from housemap.model.text import NOTES_LENGTH

MOST_PARTS = 200
"""Windows, lamps or accents in one room."""


@frozen()
class InFile:
    """How a table of the model is kept in a file."""

    key: str = ""
    """Its key, where that is not its name."""
    most: int = 10_000
    inline: bool = False
    """On one line."""


def no_entries() -> Any:
    """Of a table, unless it is given."""
    return field(default_factory=dict)


# What several attributes may hold

LENGTH = Number(0, 1000, above=True, least=0.01)
ROOM_SIDE = Number(0, 1000, above=True, least=0.2)
"""Of a room: a niche of 20 cm is the least that light and sight can be worked out for."""
PLACE = Number(-10_000, 10_000)

Title = Annotated[str, Name()]
Notes = Annotated[str, Text(NOTES_LENGTH, lines=True)]
Id = Annotated[str, Shape(ID, "made of a-z, 0-9 and -")]
WallId = Annotated[str, WallKey()]
"""n, e, s or w of a room with a size, the edge's number of an outline."""
PaintId = Annotated[str, Ref("paints")]
NO_PAINT = ""
PaintOrNone = Annotated[str, Ref("paints", optional=True)]
"""`NO_PAINT`: unpainted."""
FinishId = Annotated[str, Ref("finishes")]
RoomId = Annotated[str, Ref("rooms")]
Length = Annotated[float, LENGTH]
Along = Annotated[float, Number(0, 1000)]
Share = Annotated[float, Number(0, 1)]
Lrv = Annotated[float, Number(0, 100)]
Kelvin = Annotated[float, Number(1000, 25_000)]
Money = Annotated[float, Number(0, 1_000_000)]
Percent = Annotated[float, Number(0, 100)]
Coverage = Annotated[float, Number(0, 1000, above=True, least=0.01)]
Litres = Annotated[tuple[float, ...], ListOf(Number(0, 10_000, above=True), 0, 50)]
Prices = Annotated[tuple[float, ...], ListOf(Number(0, 1_000_000), 1, 50)]
"""Stand beside the tins, so that they are no set."""
Start = Annotated[float, Number(100, 2500)]
Step = Annotated[float, Number(0, 500, above=True)]
Point = tuple[float, float]
Place = Annotated[Point, ListOf(PLACE, 2, 2)]
TwoRooms = Annotated[tuple[str, str], ListOf(Ref("rooms"), 2, 2)]

# Colours

Triple = tuple[float, float, float]

DEFAULT_OBSERVED = "D65/10"


@frozen()
class Reflectance:
    """Spectral reflectance, 0..1, at equal steps."""

    start_nm: Start
    step_nm: Step
    values: Annotated[tuple[float, ...], ListOf(Number(0, 1), 2, 2000)]


@frozen()
class Lab:
    """CIELAB as measured under `observed` (illuminant/observer, such as "D50/2")."""

    lab100: Annotated[Triple, ListOf(Number(-200, 200), 3, 3)]
    observed: str = DEFAULT_OBSERVED


@frozen()
class Xyz:
    """Tristimulus values under `observed`; Y of the perfect diffuser is 100."""

    xyz100: Annotated[Triple, ListOf(Number(0, 200), 3, 3)]
    observed: str = DEFAULT_OBSERVED


@frozen()
class Srgb:
    """An IEC 61966-2-1 screen colour (D65, 2 degree observer), as "#rrggbb" in lower case."""

    hex: Annotated[str, Shape(re.compile(r"#[0-9a-fA-F]{6}"), 'a colour such as "#d9d0bf"')]


@frozen()
class Notation:
    """ASTM D1535 hue value/chroma, such as "5Y 7/1" or "N 8/"."""

    text: Annotated[str, Shape(NOTATION, 'a notation such as "5Y 7/1" or "N 8/"')]


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
PASSAGES: frozenset[Use] = frozenset({"hall", "stair"})
"""Uses of rooms that link the others."""
ROLES: tuple[Role, ...] = get_args(Role)
SURFACES: tuple[Surface, ...] = get_args(Surface)
SHEENS: tuple[Sheen, ...] = get_args(Sheen)
"""From dull to shiny."""
OPENING_KINDS: tuple[OpeningKind, ...] = get_args(OpeningKind)
AIMS: tuple[Aim, ...] = get_args(Aim)
UNITS: tuple[Units, ...] = get_args(Units)
LIGHT_WORDS: Mapping[Light, str] = {
    "reference": "under the reference light", "day": "by day", "evening": "by lamplight",
}  # fmt: skip
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
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


@frozen()
class Paint:
    """A paint that may go on a surface of this house."""

    name: Title
    colour: ColourSource
    code: str = ""
    lrv: Lrv | None = None
    """As printed by whoever sells it; None where nobody did."""
    deck: str = ""
    coverage: Coverage | None = None
    """Square metres per litre and coat."""
    tins: Litres = ()
    """Tin sizes in litres."""
    price: Money | None = None
    """Per litre, in the house's own currency."""
    notes: Notes = ""
    products: Annotated[tuple[tuple[str, str], ...], PairsOf((*SURFACES, *SHEENS), Name())] = ()
    """(surface or sheen, product line)."""
    supplier: str = ""
    order: str = ""
    """The supplier's order code."""
    prices: Prices = ()
    """Of one tin of each size in `tins`."""
    gloss: Gloss | None = None
    """Whether the printed LRV was measured with the mirrored light; None where nobody says."""
    derived: str = ""
    """How the colour was made up where nobody measured it, such as "half strength of oat"."""

    def product(self, surface: str, sheen: str | None) -> str:
        """Return the product line for a surface, else for its sheen; empty where none is given."""
        lines = dict(self.products)
        return lines.get(surface) or lines.get(sheen or "", "")


@frozen()
class Primer:
    """What goes on first: primer, mist coat or undercoat."""

    name: Title
    grounds: Annotated[tuple[Ground, ...], ListOf(Choice(GROUNDS), 0, len(GROUNDS))] = ()
    """What it is for; empty: anything."""
    coverage: Coverage | None = None
    tins: Litres = ()
    prices: Prices = ()
    supplier: str = ""
    order: str = ""
    notes: Notes = ""


@frozen()
class Finish:
    """Something that is kept: floor, tile, top, brick, cloth."""

    name: Title
    colour: ColourSource
    lrv: Lrv | None = None
    notes: Notes = ""


@frozen()
class SurfacePaints:
    """The paint id of each surface of a room; None where not chosen yet."""

    walls: PaintId | None = None
    ceiling: PaintId | None = None
    trim: PaintId | None = None
    doors: PaintId | None = None

    def of(self, surface: Surface) -> str | None:
        value: str | None = getattr(self, surface)
        return value

    def chosen(self) -> Iterator[tuple[Surface, str]]:
        """The surfaces that have a paint, with its id."""
        for surface in SURFACES:
            if paint := self.of(surface):
                yield surface, paint


@frozen()
class SurfaceSheens:
    """The sheen of each surface of a room; None where not chosen yet."""

    walls: Sheen | None = None
    ceiling: Sheen | None = None
    trim: Sheen | None = None
    doors: Sheen | None = None

    def of(self, surface: Surface) -> Sheen | None:
        value: Sheen | None = getattr(self, surface)
        return value


@frozen()
class Accent:
    """One wall of a room in a paint other than its walls' paint."""

    paint: PaintId


@frozen()
class Window:
    """A window in a wall ("n" "e" "s" "w", or an outline's edge number as text)."""

    wall: WallId
    along_m: Along
    width_m: Length
    height_m: Length
    sill_m: Along
    transmittance: Annotated[float, Number(0, 1, above=True)] = 0.68
    sky_angle_deg: Annotated[float, Number(0, 90)] = 75.0
    kelvin: Kelvin | None = None
    obstruction: Share = 0.2
    """Reflectance of what hides part of the sky."""


@frozen()
class SpectralPower:
    """Relative spectral power of a lamp at equal steps."""

    start_nm: Start
    step_nm: Step
    values: Annotated[tuple[float, ...], ListOf(Number(0, 1_000_000_000), 2, 2000)]


@frozen()
class Lamp:
    """A lamp; `at_m` is x, y, z from the room's own origin."""

    lumens: Annotated[float, Number(0, 1_000_000, above=True)]
    kelvin: Kelvin | None = None
    """Needed only where neither `spectrum` nor `power` says what its light is."""
    spectrum: Annotated[str, Choice(ILLUMINANTS)] | None = None
    aim: Aim = "all"
    at_m: Annotated[Triple, ListOf(PLACE, 3, 3)] | None = None
    type: LampType | None = None
    watts: Annotated[float, Number(0, 10_000, above=True)] | None = None
    """Of the incandescent lamp that it replaces, as its box says; `lumens` is what counts."""
    power: SpectralPower | None = None
    """As measured; never together with `spectrum`."""

    @property
    def light_name(self) -> str:
        """What its light is, such as "LED-B1" or "2700 K"."""
        measured = "measured spectrum" if self.power else ""
        return self.spectrum or measured or f"{self.kelvin:g} K"


@frozen()
class State:
    """What is on a surface now: a paint of the house, another colour, or neither is known."""

    paint: PaintId | None = None
    colour: ColourSource | None = None
    ground: Ground = "painted"
    condition: Condition = "sound"


@frozen()
class Piece:
    """A piece of furniture as a plain block."""

    size_m: Annotated[Triple, ListOf(LENGTH, 3, 3)]
    at_m: Place
    """Its south-west corner from the room's own origin."""
    finish: FinishId | None = None


@frozen()
class Part:
    """A surface of a room beside walls, ceiling, trim and doors, with an area of its own."""

    kind: PartKind
    wall: WallId | None = None
    area_m2: Annotated[float, Number(0, 10_000, above=True)] | None = None
    """Of all of them together; None: by `length_m` or the usual size."""
    length_m: Length | None = None
    count: Annotated[int, Whole(1, 1000)] = 1
    paint: PaintId | None = None
    """None: left as it is."""
    sheen: Sheen | None = None
    notes: Notes = ""


@frozen()
class Room:
    """A room; measured when it has a size or an outline."""

    name: Title
    level: Annotated[int, Whole(-20, 200)] = 0
    use: Use = "other"
    role: Role | None = None
    size_m: Annotated[Point, ListOf(ROOM_SIDE, 2, 2)] | None = None
    outline_m: Annotated[tuple[Point, ...], ListOf(ListOf(PLACE, 2, 2), 3, 100)] | None = None
    """Counter-clockwise, from the room's own origin; never together with `size_m`."""
    height_m: Annotated[float, Number(0, 100, above=True, least=0.5)] | None = None
    at_m: Place | None = None
    """Where the south-west corner of the room's box is pinned in the plan."""
    paints: SurfacePaints = SurfacePaints()
    sheens: SurfaceSheens = SurfaceSheens()
    floor: FinishId | None = None
    fixed: Annotated[tuple[str, ...], ListOf(Ref("finishes"), 0, 100)] = ()
    notes: Notes = ""
    accents: Annotated[Mapping[WallId, Accent], InFile("accent", MOST_PARTS)] = no_entries()
    """By wall."""
    windows: Annotated[Mapping[Id, Window], InFile("window", MOST_PARTS)] = no_entries()
    lamps: Annotated[Mapping[Id, Lamp], InFile("lamp", MOST_PARTS)] = no_entries()
    states: Annotated[Mapping[Id, State], InFile("state", MOST_PARTS)] = no_entries()
    """By surface, or by the id of a part."""
    pieces: Annotated[Mapping[Id, Piece], InFile("piece", MOST_PARTS)] = no_entries()
    parts: Annotated[Mapping[Id, Part], InFile("part", MOST_PARTS)] = no_entries()

    def painted(self) -> Iterator[tuple[str, str]]:
        """Every surface that takes a paint, accent walls and parts too, with the paint's id."""
        yield from self.paints.chosen()
        for wall in sorted(self.accents):
            yield f"accent {wall}", self.accents[wall].paint
        for key, part in self.parts.items():
            if part.paint:
                yield part_surface(key), part.paint


def part_surface(key: str) -> str:
    """The name of a part among the surfaces of its room, as in "part rail"."""
    return f"part {key}"


@frozen()
class Opening:
    """What joins two rooms; `wall_of_first` and `along_m` lie in `between[0]`."""

    between: TwoRooms
    kind: OpeningKind
    door: Door = "open"
    wall: WallId | None = None
    along_m: Along | None = None
    to_wall: WallId | None = None
    to_along_m: Along | None = None
    width_m: Length | None = None
    height_m: Length | None = None
    """None: doorway 2.0, cased 2.1, open the lower room's height."""
    stop: bool = False
    """Open only: a corner or trim where paint can change."""
    hinge: Side | None = None
    """Doorway only: where the leaf hangs, as seen from `between[0]`."""
    into: RoomId | None = None
    """Doorway only: the room that the leaf opens into."""

    @property
    def seen_through(self) -> bool:
        """Whether one sees through it: everything but a door that is usually shut."""
        return not (self.kind == "doorway" and self.door == "shut")


@frozen()
class Sightline:
    """Two rooms known to see each other without a shared opening."""

    between: TwoRooms
    share: Share | None = None
    """Of the view, 0..1."""


@frozen()
class Sample:
    """A tester on a wall, and what it looked like."""

    paint: PaintId
    room: RoomId
    wall: WallId | None = None
    when: dt.date | None = None
    light: SampleLight | None = None
    verdict: Verdict | None = None
    seen: Notes = ""
    surface: Surface | None = None
    """Which it was judged for; None: the walls where it names a wall, else all of the room."""


HueNames = Annotated[tuple[str, ...], ListOf(Choice(HUES), 0, len(HUES))]
LrvRange = Annotated[tuple[float, float], ListOf(Number(0, 100), 2, 2)]
WallColours = Annotated[int, Whole(1, 100)]


@frozen()
class RoomBrief:
    """What the client asked for in one room where it differs from the house; None: as there."""

    strength: Strength | None = None
    accent_strength: Strength | None = None
    like: HueNames | None = None
    avoid: HueNames | None = None
    colours: WallColours | None = None
    lrv: LrvRange | None = None
    keep: bool = False
    """Its paints are kept as they are."""
    notes: Notes = ""


@frozen()
class Brief:
    """What the client asked for; None where nothing was said."""

    strength: Strength | None = None
    """The strongest colour on walls."""
    accent_strength: Strength | None = None
    like: HueNames = ()
    """ISCC-NBS hue names."""
    avoid: HueNames = ()
    colours: WallColours | None = None
    """Wall colours aimed for."""
    lrv: LrvRange | None = None
    """The darkest and the lightest wall."""
    share: Annotated[float, Number(0, 1, above=True)] | None = None
    """The most of all wall area in one colour, 0..1."""
    white_trim: bool = True
    """Trim is near-white; False: in any colour."""
    notes: Notes = ""
    """The client's own words."""
    rooms: Annotated[Mapping[RoomId, RoomBrief], InFile("room")] = no_entries()


@frozen()
class SchemePaints:
    """The paints of one room in a scheme; None: as in the room."""

    walls: PaintOrNone | None = None
    ceiling: PaintOrNone | None = None
    trim: PaintOrNone | None = None
    doors: PaintOrNone | None = None
    accents: Annotated[Mapping[WallId, PaintId], InFile(most=MOST_PARTS, inline=True)] | None = None
    """Paint by wall, of all accent walls of the room; None: as in the room."""
    parts: Annotated[Mapping[Id, PaintOrNone], InFile(most=MOST_PARTS, inline=True)] = no_entries()
    """Paint by part; those not named are as in the room, those that are gone are ignored."""


@frozen()
class Scheme:
    """Another way to paint the house; rooms that it does not name are as they are."""

    name: Title
    notes: Notes = ""
    paints: Mapping[RoomId, SchemePaints] = no_entries()


@frozen()
class Accepted:
    """A finding accepted in that place; it returns when other paints are there."""

    check: Id
    rooms: Annotated[tuple[str, ...], ListOf(Ref("rooms"), 1, 100, whole=True)]
    surfaces: Annotated[tuple[str, ...], ListOf(Name(), 0, 100)] = ()
    paints: Annotated[tuple[str, ...], ListOf(Ref("paints"), 0, 100, whole=True)] = ()
    when: dt.date | None = None
    by: str = ""
    why: Notes = ""


@frozen()
class Client:
    """Who the work is for and by whom, and what money means; printed, never sent anywhere."""

    name: str = ""
    address: Notes = ""
    by: str = ""
    currency: Annotated[str, Shape(re.compile("[A-Z]{3}"), 'an ISO 4217 code such as "GBP"')] = ""
    """ISO 4217; empty: not said."""
    tax: Percent | None = None
    labour: Money | None = None
    """Price of an hour."""
    rates: Annotated[
        tuple[tuple[str, float], ...],
        PairsOf((*SURFACES, *PART_KINDS), Number(0, 1000, above=True, least=0.01)),
    ] = ()
    """(surface or kind of part, square metres an hour and coat)."""
    surplus: Percent | None = None
    """Percent of a paint that may be left over for repairs."""


@frozen()
class Issue:
    """A schedule that was handed out: its id is its number."""

    when: dt.date | None = None
    edition: Edition = "full"
    to: str = ""
    signed: str = ""
    signed_on: dt.date | None = None
    notes: Notes = ""
    said: Mapping[Id, Annotated[Mapping[Id, Title], InFile(most=2 * MOST_PARTS)]] = no_entries()
    """What it said by room and surface, as printed, to mark what has changed since."""


@frozen()
class Visit:
    """A room walked through and ticked off on site."""

    when: dt.date | None = None
    notes: Notes = ""


Limits = Annotated[Mapping[Id, Annotated[float, Number(0, 1_000_000)]], InFile(most=100)]
"""By kind."""


@frozen()
class House:
    name: str = ""
    built: Annotated[int, Whole(1, 9999)] | None = None
    latitude_deg: Annotated[float, Number(-90, 90)] | None = None
    north_deg: Annotated[float, Number(-360, 360)] = 0.0
    """Clockwise from plan-up to true north."""
    low_vision: bool = False
    wall_thickness_m: Annotated[float, Number(0, 5)] = 0.1
    ground: Share = 0.2
    """Reflectance of the ground outside."""
    country: Annotated[str, Shape(re.compile("[A-Z]{2}"), 'an ISO 3166 code such as "GB"')] = ""
    """ISO 3166-1 alpha-2, for the rules of the place; empty: not said."""
    units: Units = "m"
    notes: Notes = ""
    limits: Annotated[Mapping[Id, Limits], InFile(most=100)] = no_entries()
    """Limits that differ from the defaults, by check id and kind."""
    paints: Annotated[Mapping[Id, Paint], InFile("paint")] = no_entries()
    primers: Annotated[Mapping[Id, Primer], InFile("primer")] = no_entries()
    finishes: Annotated[Mapping[Id, Finish], InFile("finish")] = no_entries()
    rooms: Annotated[Mapping[Id, Room], InFile("room")] = no_entries()
    openings: Annotated[Mapping[Id, Opening], InFile("opening")] = no_entries()
    sightlines: Annotated[Mapping[Id, Sightline], InFile("sightline")] = no_entries()
    samples: Annotated[Mapping[Id, Sample], InFile("sample")] = no_entries()
    brief: Brief = Brief()
    schemes: Annotated[Mapping[Id, Scheme], InFile("scheme")] = no_entries()
    accepted: Mapping[Id, Accepted] = no_entries()
    client: Client = Client()
    visits: Annotated[Mapping[RoomId, Visit], InFile("visit")] = no_entries()
    issues: Annotated[Mapping[Id, Issue], InFile("issue")] = no_entries()
