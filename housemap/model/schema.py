"""The house file as one table of fields per entity: its TOML key, its attribute, what it may hold.

Defaults are those of the dataclasses in `housemap.model.house`. Limits of sizes are ours and
generous: they keep a slip of the pen or a hostile file out, nothing else.
"""

import re

from housemap.model.fieldtypes import (
    ID,
    ILLUMINANTS,
    Choice,
    ColourField,
    Day,
    Flag,
    Key,
    Kind,
    ListOf,
    Name,
    Number,
    PairsOf,
    Record,
    Ref,
    Shape,
    TableOf,
    Text,
    WallKey,
    Whole,
    record,
)
from housemap.model.house import (
    AIMS,
    CONDITIONS,
    DOORS,
    EDITIONS,
    GLOSSES,
    GROUNDS,
    HUES,
    LAMP_TYPES,
    OPENING_KINDS,
    PART_KINDS,
    ROLES,
    SAMPLE_LIGHTS,
    SHEENS,
    SIDES,
    STRENGTHS,
    SURFACES,
    UNITS,
    USES,
    VERDICTS,
    Accent,
    Accepted,
    Brief,
    Client,
    Finish,
    House,
    Issue,
    Lamp,
    Opening,
    Paint,
    Part,
    Piece,
    Primer,
    Room,
    RoomBrief,
    Sample,
    Scheme,
    SchemePaints,
    Sightline,
    SpectralPower,
    State,
    SurfacePaints,
    SurfaceSheens,
    Visit,
    Window,
)
from housemap.model.text import NOTES_LENGTH

NOTES = Text(NOTES_LENGTH, lines=True)
LENGTH = Number(0, 1000, above=True, least=0.01)
SIDE_OF_ROOM = Number(0, 1000, above=True, least=0.2)
"""Of a room: a niche of 20 cm is the least that light and sight can be worked out for."""
MONEY = Number(0, 1_000_000)
PERCENT = Number(0, 100)
LITRES = ListOf(Number(0, 10_000, above=True), 0, 50)
ALONG = Number(0, 1000)
PLACE = Number(-10_000, 10_000)
SHARE = Number(0, 1)
LRV = Number(0, 100)
KELVIN = Number(1000, 25_000)
POINT = ListOf(PLACE, 2, 2)
SOME_ID = Shape(ID, "made of a-z, 0-9 and -")

MOST_PARTS = 200
"""Windows, lamps or accents in one room."""
MOST_CORNERS = 100

PRICES = ListOf(MONEY, 1, 50)
"""Stand beside the tins, so that they are no set."""

PAINT = record("paint", Paint, (
    ("name", "name", Name()),
    ("code", "code", Text()),
    ColourField(),
    ("lrv", "lrv", LRV),
    ("deck", "deck", Text()),
    ("coverage", "coverage", Number(0, 1000, above=True)),
    ("tins", "tins", LITRES),
    ("price", "price", MONEY),
    ("notes", "notes", NOTES),
    ("products", "products", PairsOf((*SURFACES, *SHEENS), Name())),
    ("supplier", "supplier", Text()),
    ("order", "order", Text()),
    ("prices", "prices", PRICES),
    ("gloss", "gloss", Choice(GLOSSES)),
    ("derived", "derived", Text()),
))  # fmt: skip

PRIMER = record("primer", Primer, (
    ("name", "name", Name()),
    ("grounds", "grounds", ListOf(Choice(GROUNDS), 0, len(GROUNDS))),
    ("coverage", "coverage", Number(0, 1000, above=True)),
    ("tins", "tins", LITRES),
    ("prices", "prices", PRICES),
    ("supplier", "supplier", Text()),
    ("order", "order", Text()),
    ("notes", "notes", NOTES),
))  # fmt: skip

FINISH = record("finish", Finish, (
    ("name", "name", Name()),
    ColourField(),
    ("lrv", "lrv", LRV),
    ("notes", "notes", NOTES),
))  # fmt: skip

PAINTS = record("", SurfacePaints, tuple((each, each, Ref("paints")) for each in SURFACES))
SHEENS_OF = record("", SurfaceSheens, tuple((each, each, Choice(SHEENS)) for each in SURFACES))

ACCENT = record("accent", Accent, (("paint", "paint", Ref("paints")),))

WINDOW = record("window", Window, (
    ("wall", "wall", WallKey()),
    ("along", "along_m", ALONG),
    ("width", "width_m", LENGTH),
    ("height", "height_m", LENGTH),
    ("sill", "sill_m", ALONG),
    ("transmittance", "transmittance", Number(0, 1, above=True)),
    ("sky_angle", "sky_angle_deg", Number(0, 90)),
    ("kelvin", "kelvin", KELVIN),
    ("obstruction", "obstruction", SHARE),
))  # fmt: skip

POWER = record("", SpectralPower, (
    ("start", "start_nm", Number(100, 2500)),
    ("step", "step_nm", Number(0, 500, above=True)),
    ("values", "values", ListOf(Number(0, 1_000_000_000), 2, 2000)),
))  # fmt: skip

LAMP = record("lamp", Lamp, (
    ("lumens", "lumens", Number(0, 1_000_000, above=True)),
    ("kelvin", "kelvin", KELVIN),
    ("spectrum", "spectrum", Choice(ILLUMINANTS)),
    ("aim", "aim", Choice(AIMS)),
    ("at", "at_m", ListOf(PLACE, 3, 3)),
    ("type", "type", Choice(LAMP_TYPES)),
    ("watts", "watts", Number(0, 10_000, above=True)),
    ("power", "power", POWER),
))  # fmt: skip

STATE = record("state", State, (
    ("paint", "paint", Ref("paints")),
    ColourField(optional=True),
    ("ground", "ground", Choice(GROUNDS)),
    ("condition", "condition", Choice(CONDITIONS)),
))  # fmt: skip

PIECE = record("piece", Piece, (
    ("size", "size_m", ListOf(LENGTH, 3, 3)),
    ("at", "at_m", POINT),
    ("finish", "finish", Ref("finishes")),
))  # fmt: skip

PART = record("part", Part, (
    ("kind", "kind", Choice(PART_KINDS)),
    ("wall", "wall", WallKey()),
    ("area", "area_m2", Number(0, 10_000, above=True)),
    ("length", "length_m", LENGTH),
    ("count", "count", Whole(1, 1000)),
    ("paint", "paint", Ref("paints")),
    ("sheen", "sheen", Choice(SHEENS)),
    ("notes", "notes", NOTES),
))  # fmt: skip

ROOM = record("room", Room, (
    ("name", "name", Name()),
    ("level", "level", Whole(-20, 200)),
    ("use", "use", Choice(USES)),
    ("role", "role", Choice(ROLES)),
    ("size", "size_m", ListOf(SIDE_OF_ROOM, 2, 2)),
    ("outline", "outline_m", ListOf(POINT, 3, MOST_CORNERS)),
    ("height", "height_m", Number(0, 100, above=True, least=0.5)),
    ("at", "at_m", POINT),
    ("paints", "paints", PAINTS),
    ("sheens", "sheens", SHEENS_OF),
    ("floor", "floor", Ref("finishes")),
    ("fixed", "fixed", ListOf(Ref("finishes"), 0, 100)),
    ("notes", "notes", NOTES),
    ("accent", "accents", TableOf(ACCENT, WallKey(), MOST_PARTS)),
    ("window", "windows", TableOf(WINDOW, SOME_ID, MOST_PARTS)),
    ("lamp", "lamps", TableOf(LAMP, SOME_ID, MOST_PARTS)),
    ("state", "states", TableOf(STATE, SOME_ID, MOST_PARTS)),
    ("piece", "pieces", TableOf(PIECE, SOME_ID, MOST_PARTS)),
    ("part", "parts", TableOf(PART, SOME_ID, MOST_PARTS)),
))  # fmt: skip

TWO_ROOMS = ListOf(Ref("rooms"), 2, 2)

OPENING = record("opening", Opening, (
    ("between", "between", TWO_ROOMS),
    ("kind", "kind", Choice(OPENING_KINDS)),
    ("door", "door", Choice(DOORS)),
    ("wall", "wall", WallKey()),
    ("along", "along_m", ALONG),
    ("to_wall", "to_wall", WallKey()),
    ("to_along", "to_along_m", ALONG),
    ("width", "width_m", LENGTH),
    ("height", "height_m", LENGTH),
    ("stop", "stop", Flag()),
    ("hinge", "hinge", Choice(SIDES)),
    ("into", "into", Ref("rooms")),
))  # fmt: skip

SIGHTLINE = record("sightline", Sightline, (
    ("between", "between", TWO_ROOMS),
    ("share", "share", SHARE),
))  # fmt: skip

SAMPLE = record("sample", Sample, (
    ("paint", "paint", Ref("paints")),
    ("room", "room", Ref("rooms")),
    ("wall", "wall", WallKey()),
    ("when", "when", Day()),
    ("light", "light", Choice(SAMPLE_LIGHTS)),
    ("verdict", "verdict", Choice(VERDICTS)),
    ("seen", "seen", NOTES),
))  # fmt: skip

STRENGTH = Choice(STRENGTHS)
HUE_NAMES = ListOf(Choice(HUES), 0, len(HUES))
LRV_RANGE = ListOf(LRV, 2, 2)
WALL_COLOURS = Whole(1, 100)

ROOM_BRIEF = record("", RoomBrief, (
    ("strength", "strength", STRENGTH),
    ("accent_strength", "accent_strength", STRENGTH),
    ("like", "like", HUE_NAMES),
    ("avoid", "avoid", HUE_NAMES),
    ("colours", "colours", WALL_COLOURS),
    ("lrv", "lrv", LRV_RANGE),
    ("keep", "keep", Flag()),
    ("notes", "notes", NOTES),
))  # fmt: skip

BRIEF = record("", Brief, (
    ("strength", "strength", STRENGTH),
    ("accent_strength", "accent_strength", STRENGTH),
    ("like", "like", HUE_NAMES),
    ("avoid", "avoid", HUE_NAMES),
    ("colours", "colours", WALL_COLOURS),
    ("lrv", "lrv", LRV_RANGE),
    ("share", "share", Number(0, 1, above=True)),
    ("white_trim", "white_trim", Flag()),
    ("notes", "notes", NOTES),
    ("room", "rooms", TableOf(ROOM_BRIEF, Ref("rooms"))),
))  # fmt: skip

SCHEME_PAINTS = record("", SchemePaints, (
    *((each, each, Ref("paints")) for each in SURFACES),
    ("accents", "accents", TableOf(Ref("paints"), WallKey(), MOST_PARTS, inline=True)),
))  # fmt: skip

SCHEME = record("scheme", Scheme, (
    ("name", "name", Name()),
    ("notes", "notes", NOTES),
    ("paints", "paints", TableOf(SCHEME_PAINTS, Ref("rooms"))),
))  # fmt: skip

ACCEPTED = record("accepted", Accepted, (
    ("check", "check", SOME_ID),
    ("rooms", "rooms", ListOf(Ref("rooms"), 1, 100, whole=True)),
    ("surfaces", "surfaces", ListOf(Name(), 0, 100)),
    ("paints", "paints", ListOf(Ref("paints"), 0, 100, whole=True)),
    ("when", "when", Day()),
    ("by", "by", Text()),
    ("why", "why", NOTES),
))  # fmt: skip

CLIENT = record("", Client, (
    ("name", "name", Text()),
    ("address", "address", NOTES),
    ("by", "by", Text()),
    ("currency", "currency", Shape(re.compile("[A-Z]{3}"), 'an ISO 4217 code such as "GBP"')),
    ("tax", "tax", PERCENT),
    ("labour", "labour", MONEY),
    ("rates", "rates", PairsOf((*SURFACES, *PART_KINDS), Number(0, 1000, above=True))),
    ("surplus", "surplus", PERCENT),
))  # fmt: skip

ISSUE = record("issue", Issue, (
    ("when", "when", Day()),
    ("edition", "edition", Choice(EDITIONS)),
    ("to", "to", Text()),
    ("signed", "signed", Text()),
    ("signed_on", "signed_on", Day()),
    ("notes", "notes", NOTES),
    ("said", "said", TableOf(TableOf(Name(), SOME_ID, 2 * MOST_PARTS), SOME_ID)),
))  # fmt: skip

VISIT = record("visit", Visit, (
    ("when", "when", Day()),
    ("notes", "notes", NOTES),
))  # fmt: skip

HOUSE = record("house", House, (
    ("name", "name", Text()),
    ("built", "built", Whole(1, 9999)),
    ("latitude", "latitude_deg", Number(-90, 90)),
    ("north", "north_deg", Number(-360, 360)),
    ("low_vision", "low_vision", Flag()),
    ("wall_thickness", "wall_thickness_m", Number(0, 5)),
    ("ground", "ground", SHARE),
    ("country", "country", Shape(re.compile("[A-Z]{2}"), 'an ISO 3166 code such as "GB"')),
    ("units", "units", Choice(UNITS)),
    ("notes", "notes", NOTES),
))  # fmt: skip
"""The [house] table: the fields of House that are no tables."""

LIMITS = TableOf(TableOf(Number(0, 1_000_000, above=True), SOME_ID, 100), SOME_ID, 100)


def _table(key: str, attr: str, entry: Record, of: Kind = SOME_ID) -> Key:
    return Key(key, attr, TableOf(entry, of), {})


LIMITS_TABLE = Key("limits", "limits", LIMITS, {})
BRIEF_TABLE = Key("brief", "brief", BRIEF, Brief())
CLIENT_TABLE = Key("client", "client", CLIENT, Client())

TABLES: tuple[Key, ...] = (
    LIMITS_TABLE,
    _table("paint", "paints", PAINT),
    _table("primer", "primers", PRIMER),
    _table("finish", "finishes", FINISH),
    _table("room", "rooms", ROOM),
    _table("opening", "openings", OPENING),
    _table("sightline", "sightlines", SIGHTLINE),
    _table("sample", "samples", SAMPLE),
    BRIEF_TABLE,
    _table("scheme", "schemes", SCHEME),
    _table("accepted", "accepted", ACCEPTED),
    CLIENT_TABLE,
    _table("visit", "visits", VISIT, Ref("rooms")),
    _table("issue", "issues", ISSUE),
)
"""Every table below the top, in file order."""

ENTITIES: tuple[Key, ...] = tuple(
    table for table in TABLES if table not in (LIMITS_TABLE, BRIEF_TABLE, CLIENT_TABLE)
)
"""The tables of entities by id, in file order."""

KEY_OF: dict[str, str] = {table.attr: table.key for table in ENTITIES}
"""The key of a table of entities by its attribute: what a person calls one of them."""

ATTR_OF: dict[str, str] = {table.key: table.attr for table in ENTITIES}

RECORD_OF: dict[str, Record] = {
    "paint": PAINT, "finish": FINISH, "room": ROOM, "opening": OPENING, "sightline": SIGHTLINE,
    "sample": SAMPLE, "visit": VISIT, "accent": ACCENT, "window": WINDOW, "lamp": LAMP,
    "primer": PRIMER, "scheme": SCHEME, "accepted": ACCEPTED, "issue": ISSUE, "state": STATE,
    "piece": PIECE, "part": PART,
}  # fmt: skip
"""The records that have an id in the file, by the key of their table."""
