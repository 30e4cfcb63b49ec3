"""The house file as one table of fields per entity: its TOML key, its attribute, what it may hold.

Defaults are those of the dataclasses in `housemap.model.house`. Limits of sizes are ours and
generous: they keep a slip of the pen or a hostile file out, nothing else.
"""

from housemap.model.colour_field import ColourField
from housemap.model.house import (
    AIMS,
    DOORS,
    OPENING_KINDS,
    ROLES,
    SAMPLE_LIGHTS,
    SHEENS,
    SURFACES,
    UNITS,
    USES,
    VERDICTS,
    Accent,
    Finish,
    House,
    Lamp,
    Opening,
    Paint,
    Room,
    Sample,
    Sightline,
    SurfacePaints,
    SurfaceSheens,
    Visit,
    Window,
)
from housemap.model.illuminants import ILLUMINANTS
from housemap.model.kinds import (
    ID,
    Choice,
    Day,
    Flag,
    Kind,
    Name,
    Number,
    Ref,
    Shape,
    Text,
    WallKey,
    Whole,
)
from housemap.model.records import Key, ListOf, Record, TableOf, record
from housemap.model.text import NOTES_LENGTH

NOTES = Text(NOTES_LENGTH, lines=True)
LENGTH = Number(0, 1000, above=True)
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

PAINT = record("paint", Paint, (
    ("name", "name", Name()),
    ("code", "code", Text()),
    ColourField(),
    ("lrv", "lrv", LRV),
    ("deck", "deck", Text()),
    ("coverage", "coverage", Number(0, 1000, above=True)),
    ("tins", "tins", ListOf(Number(0, 10_000, above=True), 0, 50)),
    ("price", "price", Number(0, 1_000_000)),
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
))  # fmt: skip

LAMP = record("lamp", Lamp, (
    ("lumens", "lumens", Number(0, 1_000_000, above=True)),
    ("kelvin", "kelvin", KELVIN),
    ("spectrum", "spectrum", Choice(ILLUMINANTS)),
    ("aim", "aim", Choice(AIMS)),
    ("at", "at_m", ListOf(PLACE, 3, 3)),
))  # fmt: skip

ROOM = record("room", Room, (
    ("name", "name", Name()),
    ("level", "level", Whole(-20, 200)),
    ("use", "use", Choice(USES)),
    ("role", "role", Choice(ROLES)),
    ("size", "size_m", ListOf(LENGTH, 2, 2)),
    ("outline", "outline_m", ListOf(POINT, 3, MOST_CORNERS)),
    ("height", "height_m", Number(0, 100, above=True)),
    ("at", "at_m", POINT),
    ("paints", "paints", PAINTS),
    ("sheens", "sheens", SHEENS_OF),
    ("floor", "floor", Ref("finishes")),
    ("fixed", "fixed", ListOf(Ref("finishes"), 0, 100)),
    ("notes", "notes", NOTES),
    ("accent", "accents", TableOf(ACCENT, WallKey(), MOST_PARTS)),
    ("window", "windows", TableOf(WINDOW, SOME_ID, MOST_PARTS)),
    ("lamp", "lamps", TableOf(LAMP, SOME_ID, MOST_PARTS)),
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
    ("units", "units", Choice(UNITS)),
    ("notes", "notes", NOTES),
))  # fmt: skip
"""The [house] table: the fields of House that are no tables."""

LIMITS = TableOf(TableOf(Number(0, 1_000_000, above=True), SOME_ID, 100), SOME_ID, 100)


def _table(key: str, attr: str, entry: Record, of: Kind = SOME_ID) -> Key:
    return Key(key, attr, TableOf(entry, of), {})


ENTITIES: tuple[Key, ...] = (
    _table("paint", "paints", PAINT),
    _table("finish", "finishes", FINISH),
    _table("room", "rooms", ROOM),
    _table("opening", "openings", OPENING),
    _table("sightline", "sightlines", SIGHTLINE),
    _table("sample", "samples", SAMPLE),
    _table("visit", "visits", VISIT, Ref("rooms")),
)
"""The tables of entities, in file order."""

TABLES: tuple[Key, ...] = (Key("limits", "limits", LIMITS, {}), *ENTITIES)
"""Every table below the top, in file order."""

KEY_OF: dict[str, str] = {table.attr: table.key for table in ENTITIES}
"""The key of a table of entities by its attribute: what a person calls one of them."""

ATTR_OF: dict[str, str] = {table.key: table.attr for table in ENTITIES}

RECORD_OF: dict[str, Record] = {
    "paint": PAINT, "finish": FINISH, "room": ROOM, "opening": OPENING, "sightline": SIGHTLINE,
    "sample": SAMPLE, "visit": VISIT, "accent": ACCENT, "window": WINDOW, "lamp": LAMP,
}  # fmt: skip
"""The records that have an id in the file, by the key of their table."""
