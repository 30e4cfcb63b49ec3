"""The fields of a form, made of the schema: what a file may hold and what a form asks agree.

What the schema does not say stands here in tables: which keys are edited elsewhere, what a field
is called where its key does not say enough, and a hint.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from housemap.model.colour_field import ColourField
from housemap.model.house import House, Room
from housemap.model.kinds import Choice, Day, Flag, Kind, Number, Ref, Text, WallKey, Whole
from housemap.model.records import REQUIRED, Key, ListOf, Record
from housemap.tui.forms import entries, shapes
from housemap.tui.forms.choices import YES_NO, Chosen, Several, named, walls_of, words
from housemap.tui.forms.entries import Entry

ELSEWHERE = frozenset({"room.paints", "room.accent", "room.window", "room.lamp"})
"""Keys without a field: paints are chosen on the map, parts of a room have forms of their own."""

LABELS: Mapping[str, str] = {
    "opening.between.0": "from", "opening.between.1": "to", "sightline.between.0": "from",
    "sightline.between.1": "to", "opening.to_wall": "wall there", "opening.to_along": "along there",
    "paint.lrv": "LRV", "finish.lrv": "LRV", "room.at": "pinned at", "paint.code": "code",
    "house.low_vision": "low vision", "house.wall_thickness": "walls thick",
    "window.sky_angle": "sky angle", "opening.stop": "paint stop", "sample.when": "day",
    "visit.when": "day", "visit.id": "room", "accent.id": "wall",
}  # fmt: skip
HINTS: Mapping[str, str] = {
    "house.built": "the year; old paint may hold lead", "house.latitude": "degrees, south below 0",
    "house.north": "degrees clockwise from the plan's up to true north",
    "house.low_vision": "yes turns the check of edges on",
    "house.wall_thickness": "between measured rooms: 10 cm", "house.units": "what screens show",
    "paint.code": "as its maker calls it", "paint.lrv": "as printed, 0 to 100",
    "paint.deck": "where it came from", "paint.coverage": "square metres a litre, one coat",
    "paint.tins": "sizes in litres: 0.75 2.5 5", "paint.price": "a litre",
    "finish.lrv": "as printed, 0 to 100", "room.level": "0 at the ground",
    "room.role": "backbone: the colour that links the rest", "room.height": "of the ceiling",
    "room.at": "its south-west corner in the plan: 0 east, 5.3 north",
    "room.fixed": "what stays: names, with commas between them",
    "opening.along": "from the wall's start: west, or south, or an outline's corner",
    "opening.to_along": "the same, in the other room", "opening.stop": "can paint change here?",
    "opening.door": "how it usually stands",
    "opening.height": "left empty: doorway 2.0 m, cased 2.1 m, open to the ceiling",
    "window.along": "from the wall's start: west, or south, or an outline's corner",
    "window.sill": "above the floor", "window.transmittance": "0 to 1; 0.68 for two panes",
    "window.sky_angle": "of sky in view, degrees; 90 with nothing in the way",
    "window.kelvin": "of the sky; left empty: by the facing", "lamp.lumens": "on its box",
    "lamp.kelvin": "on its box: 2700 is warm", "lamp.spectrum": "a CIE illuminant, if known",
    "sightline.share": "of the view, 0 to 1", "sample.seen": "what it looked like",
    "room.outline": "along the walls: e 4 n 3 w 2 n 2 w 2; instead of a size",
}  # fmt: skip
UNITS_OF: Mapping[str, str] = {"lumens": "lm", "kelvin": "K"}


@dataclass(frozen=True, slots=True)
class FormField:
    """One line of a form."""

    attr: str
    """Of the entity; ID for its id."""
    path: tuple[str, ...]
    """The keys of a problem with it, below the entity."""
    label: str
    entry: Entry
    default: Any
    """What an empty text means; REQUIRED where there must be one."""
    part: str | int | None = None
    """Which part of the attribute it is: an attribute of a record, or a place in a list."""
    kind: Kind | None = None
    """Judges the value by itself."""
    hint: str = ""

    @property
    def key(self) -> str:
        return self.attr if self.part is None else f"{self.attr}.{self.part}"

    @property
    def needed(self) -> bool:
        return self.default is REQUIRED

    @property
    def lines(self) -> bool:
        return isinstance(self.entry, entries.Words) and self.entry.lines

    @property
    def choice(self) -> Chosen | None:
        return self.entry if isinstance(self.entry, Chosen) else None

    def of(self, values: Mapping[str, Any]) -> Any:
        """Its value among those of a form; None where there is none."""
        whole = values.get(self.attr)
        if self.part is None or whole is None:
            return whole
        return getattr(whole, self.part) if isinstance(self.part, str) else whole[self.part]


ID = "id"


def fields_of(record: Record, kind: str, house: House, room: Room | None) -> tuple[FormField, ...]:
    """The fields of an entity of that kind; `room` is the one that it is part of."""
    return tuple(_fields(record, kind, house, room))


def _fields(record: Record, kind: str, house: House, room: Room | None) -> Iterator[FormField]:
    for each in record.fields:
        if isinstance(each, ColourField):
            yield FormField(
                each.attr, each.keys, "colour", shapes.Colour(), REQUIRED, None, None,
                shapes.Colour().hint,
            )  # fmt: skip
        elif isinstance(each, Key) and f"{kind}.{each.key}" not in ELSEWHERE:
            yield from _of_key(each, kind, house, room)


def _of_key(key: Key, kind: str, house: House, room: Room | None) -> Iterator[FormField]:
    name = f"{kind}.{key.key}"
    if isinstance(key.kind, Record):
        for each in key.kind.fields:
            assert isinstance(each, Key)
            inner = _field(each, name, house, room)
            path = (key.key, each.key)
            label = f"{each.key} {key.key.removesuffix('s')}"
            yield replace(inner, attr=key.attr, path=path, part=each.attr, label=label)
    elif isinstance(key.kind, ListOf) and isinstance(key.kind.item, Ref) and key.kind.high == 2:  # noqa: PLR2004 - from and to
        for place in (0, 1):
            inner = _field(replace(key, kind=key.kind.item), f"{name}.{place}", house, room)
            path = (key.key, str(place))
            yield replace(inner, path=path, part=place, label=LABELS[f"{name}.{place}"])
    else:
        yield _field(key, name, house, room)


def _field(key: Key, name: str, house: House, room: Room | None) -> FormField:
    entry = entry_of(key.kind, key.attr, house, room)
    if isinstance(entry, Chosen) and key.default is None:
        entry = replace(entry, blank=True)
    label = LABELS.get(name, key.key.replace("_", " "))
    hint = HINTS.get(name) or entry.hint
    return FormField(key.attr, (key.key,), label, entry, key.default, None, key.kind, hint)


Setting = tuple[str, House, Room | None]
"""The attribute, the house, and the room that the entity is part of."""


def entry_of(kind: Kind, attr: str, house: House, room: Room | None) -> Entry:
    """How a value of a kind is typed; an attribute that ends in _m holds lengths."""
    make = next(make for each, make in ENTRIES if isinstance(kind, each))
    return make(kind, (attr, house, room))


WALL = entries.Words(4, hint="n, e, s or w; the number of an outline's edge")


def _number(_: Any, setting: Setting) -> Entry:
    attr, house, _room = setting
    if attr.endswith("_m"):
        return entries.Length(house.units)
    return entries.Figure(UNITS_OF.get(attr, ""))


def _list(kind: ListOf, setting: Setting) -> Entry:
    attr, house, _ = setting
    match kind.item:
        case Ref():
            return Several(named(house, kind.item.table))
        case ListOf():
            return shapes.Walk(house.units)
        case _ if attr == "size_m":
            return entries.Sides(house.units)
        case _ if attr.endswith("_m"):
            return entries.Spot(house.units, kind.high)
    return entries.Figures()


ENTRIES: tuple[tuple[type[Kind], Callable[[Any, Setting], Entry]], ...] = (
    (Text, lambda kind, _: entries.Words(kind.limit, kind.lines)),
    (Number, _number),
    (Whole, lambda *_: entries.Figure(whole=True)),
    (Flag, lambda *_: YES_NO),
    (Day, lambda *_: entries.Day()),
    (Choice, lambda kind, _: words(kind.words)),
    (WallKey, lambda _, setting: walls_of(setting[2]) if setting[2] else WALL),
    (Ref, lambda kind, setting: named(setting[1], kind.table)),
    (ListOf, _list),
)
"""How each kind of the schema is typed."""
