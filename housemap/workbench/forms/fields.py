"""The fields of a form: how each kind of value is typed, and which fields an entity has.

The fields are made of the schema, so what a file may hold and what a form asks for agree. Tables
below say the rest: keys edited elsewhere, labels where a key does not say enough, hints.

An entry's `value` raises InputError with one phrase that says what is wrong and what would be
right. It never gets an empty text: that means that the value is left out.
"""

import datetime as dt
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import Any, NamedTuple, Protocol

from housemap.deck.typed import parse_reading
from housemap.errors import InputError
from housemap.model.edits import new_id
from housemap.model.fieldtypes import (
    REQUIRED,
    Choice,
    Day,
    Flag,
    Key,
    Kind,
    ListOf,
    Number,
    Record,
    Ref,
    Shape,
    Text,
    WallKey,
    Whole,
)
from housemap.model.geometry import COMPASS, edges, signed_area_m2, walls
from housemap.model.house import (
    SURFACES,
    ColourSource,
    Finish,
    House,
    Lab,
    Notation,
    Point,
    Reflectance,
    Room,
    Srgb,
    Units,
    Xyz,
)
from housemap.model.lengths import format_length, parse_length_m
from housemap.model.schema import ColourField
from housemap.model.text import TO, clean_text, shown
from housemap.plan.floor_plan import SIDE_WORDS
from housemap.workbench.session import today
from housemap.workbench.survey.vocabulary import (
    COLOURS,
    MOST_HEIGHT_M,
    MOST_LENGTH_M,
    SIDES,
    which_unit,
)
from housemap.workbench.typed_paint import colour_of, named_colour


class Entry(Protocol):
    """One way of typing a value."""

    @property
    def hint(self) -> str:
        """What may be typed."""

    def text(self, value: Any) -> str: ...
    def value(self, text: str) -> Any: ...


refusal = InputError.of


class Words(NamedTuple):
    """Text as it is typed; `lines` allows more than one."""

    limit: int
    lines: bool = False
    hint: str = ""

    def text(self, value: str) -> str:
        return value

    def value(self, text: str) -> str:
        return clean_text(text, self.limit, lines=self.lines)


def plain_number(value: float) -> str:
    return f"{value:.10g}"


class Figure(NamedTuple):
    """A number, with a decimal point or comma; `unit` may be written behind it."""

    unit: str = ""
    whole: bool = False

    @property
    def hint(self) -> str:
        return f"in {self.unit}" if self.unit else ""

    def text(self, value: float) -> str:
        return plain_number(value)

    def value(self, text: str) -> float | int:
        number = text.strip().removesuffix(self.unit or "\0").strip().replace(",", ".")
        number = number.replace("\N{MINUS SIGN}", "-")
        try:
            return int(number) if self.whole else float(number)
        except ValueError as error:
            kind = "a whole number" if self.whole else "a number"
            raise refusal(f"must be {kind}, found {shown(text)}") from error


class Length(NamedTuple):
    """A length in any unit."""

    units: Units
    most_m: float = MOST_LENGTH_M
    """A longer one needs its unit."""

    @property
    def hint(self) -> str:
        return "1.2, 120 cm or 3'11\"" if self.units == "m" else "3'11\", 47 in or 1.2 m"

    def text(self, value: float) -> str:
        return format_length(value, self.units)

    def value(self, text: str) -> float:
        try:
            metres = parse_length_m(text, self.units)
        except InputError as error:
            example = "a length such as 3.1, 310 cm or 12'4\""
            raise refusal(f"must be {example}, found {shown(text)}") from error
        if question := which_unit(text, metres, self.units, self.most_m):
            raise refusal(question)
        return metres


_BETWEEN = re.compile(r"\s*[x×*;]\s*|\b(?:by|east|north|up)\b|,(?:\s+|$)", re.IGNORECASE)  # noqa: RUF001 - the sign of a product
"""Between lengths that are typed together."""


class Lengths(NamedTuple):
    """A size such as 3.1 x 2.8, or a place, where it is said which `ways` the lengths lead."""

    units: Units
    hint: str
    ways: tuple[str, ...] = ()

    def text(self, value: Sequence[float]) -> str:
        lengths = [format_length(each, self.units) for each in value]
        named = zip(lengths, self.ways, strict=False)
        return ", ".join(map(" ".join, named)) if self.ways else " x ".join(lengths)

    def value(self, text: str) -> tuple[float, ...]:
        found = [each for each in _BETWEEN.split(text.strip()) if each.strip(" ,")]
        found = text.split() if self.ways and len(found) == 1 else found
        if len(found) != (len(self.ways) or 2):
            example = f"{len(self.ways)} lengths such as {self.hint}"
            example = example if self.ways else "two lengths such as 3.1 x 2.8"
            raise refusal(f"must be {example}, found {shown(text)}")
        return tuple(Length(self.units).value(each.strip(" ,")) for each in found)


def size(units: Units) -> Lengths:
    return Lengths(units, "across the map by up it: 3.1 x 2.8")


def spot(units: Units, count: int) -> Lengths:
    """So far east, so far north, and so far up where there are three."""
    ways = "1.2 east, 0.6 north" if count == 2 else "1.2 east, 0.6 north, 2.4 up"  # noqa: PLR2004 - on a floor
    return Lengths(units, ways, ("east", "north", "up")[:count])


class Figures(NamedTuple):
    hint: str = "0.75 2.5 5"

    def text(self, value: Sequence[float]) -> str:
        return " ".join(map(plain_number, value))

    def value(self, text: str) -> tuple[float, ...]:
        pieces = [each.strip(",;") for each in re.split(rf"(?<=\d){TO}|[\s;]+", text.strip())]
        return tuple(Figure().value(each) for each in pieces if each)


class Date(NamedTuple):
    hint: str = "2026-05-02, or today"

    def text(self, value: dt.date) -> str:
        return value.isoformat()

    def value(self, text: str) -> dt.date:
        plain = text.strip().casefold()
        if plain in {"today", "yesterday"}:
            return today() - dt.timedelta(days=plain == "yesterday")
        try:
            return dt.date.fromisoformat(plain)
        except ValueError as error:
            example = "a date such as 2026-05-02, or today"
            raise refusal(f"must be {example}, found {shown(text)}") from error


MOST_NAMED = 4
"""So many are named where a text fits several."""


def _plain(text: str) -> str:
    """As names are compared: blue-green is blue green."""
    return " ".join(text.casefold().replace("-", " ").split())


class Option(NamedTuple):
    """One of the values, and what it is called."""

    value: Any
    name: str
    other: str = ""
    """Another word for it, such as its id."""

    def fits(self, text: str) -> int:
        """How well a text names it: 4 its name, 3 its other word, 2 begun, 1 a part, 0 not."""
        name, other = _plain(self.name), _plain(self.other)
        if text in {name, other}:
            return 4 if text == name else 3
        if name.startswith(text) or (other and other.startswith(text)):
            return 2
        return 1 if text in name else 0


def _some(options: Sequence[Option]) -> str:
    names = ", ".join(option.name for option in options[:MOST_NAMED])
    more = len(options) - MOST_NAMED
    return f"{names} and {more} more" if more > 0 else names


class NewFinish(str):
    """The id that a finish will have which was typed by its name and colour."""

    __slots__ = ("finish",)
    finish: Finish

    @classmethod
    def typed(cls, house: House, text: str) -> "NewFinish | None":
        """None where the words name no colour; raises InputError for one that cannot be."""
        finish = named_colour(text).finish
        if finish is None:
            return None
        made = cls(new_id(house, "finishes", finish.name))
        made.finish = finish
        return made


class Chosen(NamedTuple):
    options: tuple[Option, ...]
    hint: str = "type, or choose with the arrows"
    blank: bool = False
    """Whether nothing may be chosen."""
    make: Callable[[str], Any] | None = None
    """Makes a new one of a text that names none of them, where it can."""

    def text(self, value: Any) -> str:
        if isinstance(value, NewFinish):
            return value.finish.name
        return next((o.name for o in self.options if o.value == value), str(value))

    def value(self, text: str) -> Any:
        found = self.fitting(text)
        if len(found) == 1:
            return found[0].value
        if not found and self.make and (made := self.make(text)) is not None:
            return made
        if not found:
            none = "is not there: there is none yet"
            if self.options:
                none = f"is none of these: {_some(self.options)}"
            more = f"; a new one with its colour, as in {COLOURS}" if self.make else ""
            raise refusal(f"{shown(text)} {none}{more}")
        raise refusal(f"which one: {_some(found)}?")

    def fitting(self, text: str) -> list[Option]:
        """The options that a text may mean, in the plural too; one where it names that one."""
        plain = _plain(text)
        best = max((option.fits(plain) for option in self.options), default=0)
        if not best and plain.endswith("s"):
            return self.fitting(plain[:-1])
        return [option for option in self.options if best and option.fits(plain) == best]

    def stepped(self, text: str, by: int) -> str:
        """The name of the option so many places on from the one that a text names."""
        names = [*([""] if self.blank else []), *(option.name for option in self.options)]
        if not self.options or (text.strip() == "" and not self.blank):
            return names[0 if by > 0 else -1] if names else text
        if text in names:
            return names[(names.index(text) + by) % len(names)]
        found = self.fitting(text)
        return found[0].name if found else names[0 if by > 0 else -1]


def words(values: Sequence[str]) -> Chosen:
    return Chosen(tuple(Option(each, each) for each in values))


YES_NO = Chosen((Option(True, "yes", "true"), Option(False, "no", "false")), "yes or no")  # noqa: FBT003 - the values


def named(house: House, table: str) -> Chosen:
    """The entities of a table by their names; ones of the same name also by their ids."""
    entities = getattr(house, table)
    names = Counter(entity.name.casefold() for entity in entities.values())
    options = []
    for key, each in entities.items():
        several = names[each.name.casefold()] > 1
        options.append(Option(key, f"{each.name} ({key})" if several else each.name, key))
    if table == "finishes":
        hint = "part of a name, or a new one with its colour: oak 10YR 6/4"
        return Chosen(tuple(options), hint, make=partial(NewFinish.typed, house))
    return Chosen(tuple(options), "type part of a name, or choose with the arrows")


def surfaces_of(room: Room | None) -> Chosen:
    """What there can be a coat on now: the surfaces of a room, and its parts."""
    keys = (*SURFACES, *(room.parts if room else ()))
    return Chosen(tuple(Option(key, key) for key in keys), "walls, ceiling, trim, doors or a part")


ON_PLAN = {key: f"{word} on the plan" for key, word in SIDE_WORDS.items()}


def walls_of(room: Room | None) -> Chosen:
    """The walls of a room, or those of any room without an outline."""
    keys = [wall.key for wall in walls(room)] if room else []
    return Chosen(tuple(Option(k, k, ON_PLAN.get(k, "")) for k in keys or COMPASS), "its wall")


class Several(NamedTuple):
    """Some of a list, with commas between their names."""

    one: Chosen
    hint: str = "names, with commas between them"

    def text(self, value: Sequence[Any]) -> str:
        return ", ".join(self.one.text(each) for each in value)

    def stepped(self, text: str, by: int) -> str:
        """With the last name so many places on; behind a comma a further one."""
        *before, last = re.split(r"[,;]", text)
        return ", ".join((*map(str.strip, before), self.one.stepped(last.strip(), by)))

    def value(self, text: str) -> tuple[Any, ...]:
        pieces = filter(str.strip, re.split(r"[,;]", text))
        return tuple(dict.fromkeys(self.one.value(each.strip()) for each in pieces))


SPECTRUM = "spectrum"


class Colour(NamedTuple):
    """A colour in any of the ways in which one is measured or named."""

    hint: str = "light brown, 5Y 7/1, #d9d0bf, lrv 35, L 62 a 1.2 b 8.3 D50/2, XYZ 30 31 25"

    def text(self, value: ColourSource) -> str:
        match value:
            case Srgb():
                return value.hex
            case Notation():
                return value.text
            case Lab():
                numbers = zip("Lab", map(plain_number, value.lab100), strict=True)
                return (
                    f"{' '.join(f'{name} {number}' for name, number in numbers)} {value.observed}"
                )
            case Xyz():
                return f"XYZ {' '.join(map(plain_number, value.xyz100))} {value.observed}"
            case Reflectance():
                end = value.start_nm + value.step_nm * (len(value.values) - 1)
                return f"{SPECTRUM} {value.start_nm:g} to {end:g} nm, {len(value.values)} values"

    def value(self, text: str) -> ColourSource:
        if text.strip().casefold().startswith(SPECTRUM):
            raise refusal("a spectrum is pasted as numbers: from 400 step 10: 0.31 0.33 ...")
        try:
            return colour_of(text)
        except InputError as error:
            raise refusal(str(error)) from error


def notes_on(text: str) -> tuple[str, ...]:
    """What was taken for granted in a colour that was typed."""
    try:
        return parse_reading(text).notes
    except InputError:
        return ()


_STEP = re.compile(r"(?:^|[\s,;]+)(north|east|south|west|[nesw])(?=[\s\d.])", re.IGNORECASE)
_TOWARDS = {"n": (0, 1), "e": (1, 0), "s": (0, -1), "w": (-1, 0)}
STRAIGHT_M = 1e-6
"""A wall that drifts less than this runs along an axis."""
CLOSES_M = 0.02
"""Walls taped one by one and rounded close no better (our assumption)."""


class Walk(NamedTuple):
    """An outline as the walls that one walks along: e 4 n 3 w 2 n 2 w 2; or as its corners."""

    units: Units
    hint: str = "along the walls, e 4 n 3 w 2 n 2 w 2, or corners 0 0; 4 0; 4 3"

    def text(self, value: Sequence[Point]) -> str:
        steps = [_step_of(a, b) for a, b in edges(tuple(value))]
        if all(steps):
            pairs = (step for step in steps if step)
            return " ".join(f"{way} {format_length(long, self.units)}" for way, long in pairs)
        length = Length(self.units)
        return "; ".join(f"{length.text(x)}, {length.text(y)}" for x, y in value)

    def value(self, text: str) -> tuple[Point, ...]:
        found = self._walked(text) if _STEP.search(text) else self._corners(text)
        if len(found) < 3:  # noqa: PLR2004 - a triangle
            raise refusal(f"an outline has three corners or more: {self.hint}")
        if signed_area_m2(found) < 0:
            found = (found[0], *reversed(found[1:]))
        return found

    def _walked(self, text: str) -> tuple[Point, ...]:
        pieces = _STEP.split(text)
        if pieces[0].strip():
            raise refusal(f"{shown(pieces[0].strip())}: begin with a way to go, such as e 4")
        legs = []
        for way, long in zip(pieces[1::2], pieces[2::2], strict=True):
            metres = Length(self.units).value(long.strip(" ,;"))
            dx, dy = _TOWARDS[SIDES[way.casefold()]]
            legs.append((dx * metres, dy * metres))
        return self._closed(legs)

    def _closed(self, legs: list[Point]) -> tuple[Point, ...]:
        """The corners; a last leg that was left out is added, the rounding of a tape eased."""
        x, y = over = sum(x for x, _ in legs), sum(y for _, y in legs)
        if min(map(abs, over)) > CLOSES_M:
            across = f"{format_length(abs(x), self.units)} {'east' if x > 0 else 'west'}"
            up = f"{format_length(abs(y), self.units)} {'north' if y > 0 else 'south'}"
            raise refusal(f"the walk ends {across} and {up} of where it began")
        for axis in (0, 1):
            along = [i for i, leg in enumerate(legs) if leg[axis]]
            if abs(over[axis]) <= CLOSES_M and along:
                x, y = legs[along[-1]]
                legs[along[-1]] = (x - over[0], y) if axis == 0 else (x, y - over[1])
        corners: list[Point] = [(0.0, 0.0)]
        for dx, dy in legs:
            x, y = corners[-1]
            corners.append((round(x + dx, 7) + 0.0, round(y + dy, 7) + 0.0))
        return tuple(corners[:-1] if corners[-1] == corners[0] else corners)

    def _corners(self, text: str) -> tuple[Point, ...]:
        corners = []
        for piece in filter(str.strip, text.split(";")):
            between = r",\s+" if ", " in piece else r"\s+"
            found = re.split(between, piece.strip())
            if len(found) != 2:  # noqa: PLR2004 - x and y
                raise refusal(f"{shown(piece.strip())}: a corner is two lengths, such as 4 0")
            x, y = (Length(self.units).value(each) for each in found)
            corners.append((x, y))
        return tuple(corners)


def _step_of(start: Point, end: Point) -> tuple[str, float] | None:
    """The way and length of a wall that runs along an axis."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    if abs(dy) < STRAIGHT_M:
        return ("e" if dx > 0 else "w"), abs(dx)
    if abs(dx) < STRAIGHT_M:
        return ("n" if dy > 0 else "s"), abs(dy)
    return None


ELSEWHERE = frozenset({
    "room.paints", "room.accent", "room.window", "room.lamp", "room.state", "room.piece",
    "room.part", "lamp.power", "paint.products", "primer.grounds", "scheme.paints",
    "accepted.surfaces", "issue.said", "wishes.room",
})  # fmt: skip
"""Keys without a field: paints are chosen on the map, parts of a room have forms of their own."""

LABELS: Mapping[str, str] = {
    "opening.between.0": "from", "opening.between.1": "to", "sightline.between.0": "from",
    "sightline.between.1": "to", "opening.to_wall": "wall there", "opening.to_along": "along there",
    "paint.lrv": "LRV", "finish.lrv": "LRV", "room.at": "corner at", "paint.code": "code",
    "house.low_vision": "low vision", "house.wall_thickness": "walls thick",
    "window.sky_angle": "sky angle", "opening.stop": "paint stop", "sample.when": "day",
    "visit.when": "day", "visit.id": "room", "accent.id": "wall", "state.id": "surface",
    "wishes.lrv": "LRV",
    "wishes.colours": "wall colours", "wishes.accent_strength": "accents",
    "wishes.strength": "strongest", "wishes.share": "one colour on",
}  # fmt: skip
HINTS: Mapping[str, str] = {
    "house.ground": "light that the ground outside reflects, 0 to 1",
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
    "room.fixed": "what you are keeping: names, with commas; a new one with its colour",
    "state.paint": "one of the house, where it is there now", "state.ground": "what is under it",
    "opening.along": "from the wall's start: west, or south, or an outline's corner",
    "opening.to_along": "the same, in the other room", "opening.stop": "can paint change here?",
    "opening.door": "how it usually stands",
    "opening.height": "left empty: doorway 2.0 m, cased 2.1 m, open to the ceiling",
    "window.along": "from the wall's start: west, or south, or an outline's corner",
    "window.sill": "above the floor", "window.transmittance": "0 to 1; 0.68 for two panes",
    "window.sky_angle": "of sky in view, degrees; 90 with nothing in the way",
    "window.kelvin": "of the sky; left empty: by the facing", "lamp.lumens": "on its box",
    "lamp.kelvin": "on its box: 2700 is warm; not needed with a spectrum",
    "lamp.spectrum": "a CIE illuminant, if known",
    "sightline.share": "of the view, 0 to 1", "sample.seen": "what it looked like",
    "sample.surface": "judged for; left empty: the walls, or all",
    "wishes.strength": "the strongest colour on walls",
    "wishes.accent_strength": "the strongest colour on one wall only",
    "wishes.like": "hues, with commas between them: blue, yellow green",
    "wishes.avoid": "hues, with commas between them: purple, pink",
    "wishes.colours": "up to how many the house should have",
    "wishes.lrv": "the darkest and lightest wall: 40 75",
    "wishes.share": "at most this part of the walls, 0 to 1",
    "wishes.white_trim": "yes: near-white", "wishes.keep": "yes: its paints are kept as they are",
    "wishes.notes": "in the client's own words",
    "room.outline": "along the walls: e 4 n 3 w 2 n 2 w 2; instead of a size",
}  # fmt: skip
UNITS_OF: Mapping[str, str] = {"lumens": "lm", "kelvin": "K"}


class FormField(NamedTuple):
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
        return isinstance(self.entry, Words) and self.entry.lines

    @property
    def choice(self) -> Chosen | None:
        return self.entry if isinstance(self.entry, Chosen) else None

    @property
    def names(self) -> "Chosen | Several | None":
        """What its text can be stepped through."""
        return self.entry if isinstance(self.entry, Chosen | Several) else None

    @property
    def finishes(self) -> bool:
        """Whether it names finishes of the house."""
        return self.attr in {"floor", "fixed", "finish"}

    def of(self, values: Mapping[str, Any]) -> Any:
        """Its value among those of a form; None where there is none."""
        whole = values.get(self.attr)
        if self.part is None or whole is None:
            return whole
        return getattr(whole, self.part) if isinstance(self.part, str) else whole[self.part]


ID = "id"


def fields_of(record: Record, kind: str, house: House, room: Room | None) -> Iterator[FormField]:
    """The fields of an entity of that kind; `room` is the one that it is part of."""
    for each in record.fields:
        if isinstance(each, ColourField):
            colour = Colour()
            yield FormField(each.attr, each.keys, "colour", colour, each.default, hint=colour.hint)
        elif f"{kind}.{each.key}" not in ELSEWHERE:
            yield from _of_key(each, kind, house, room)


def _of_key(key: Key, kind: str, house: House, room: Room | None) -> Iterator[FormField]:
    name = f"{kind}.{key.key}"
    if isinstance(key.kind, Record):
        for each in key.kind.fields:
            inner = _field(each, name, house, room)
            path = (key.key, each.key)
            label = f"{each.key} {key.key.removesuffix('s')}"
            yield inner._replace(attr=key.attr, path=path, part=each.attr, label=label)
    elif isinstance(key.kind, ListOf) and isinstance(key.kind.item, Ref) and key.kind.high == 2:  # noqa: PLR2004 - from and to
        for place in (0, 1):
            inner = _field(replace(key, kind=key.kind.item), f"{name}.{place}", house, room)
            path = (key.key, str(place))
            yield inner._replace(path=path, part=place, label=LABELS[f"{name}.{place}"])
    else:
        yield _field(key, name, house, room)


def _field(key: Key, name: str, house: House, room: Room | None) -> FormField:
    entry = entry_of(key.kind, key.attr, house, room)
    if isinstance(entry, Chosen) and key.default is None:
        entry = entry._replace(blank=True)
    label = LABELS.get(name, key.key.replace("_", " "))
    hint = HINTS.get(name) or entry.hint
    return FormField(key.attr, (key.key,), label, entry, key.default, None, key.kind, hint)


Setting = tuple[str, House, Room | None]
"""The attribute, the house, and the room that the entity is part of."""


def entry_of(kind: Kind, attr: str, house: House, room: Room | None) -> Entry:
    """How a value of a kind is typed; an attribute that ends in _m holds lengths."""
    make = next(make for each, make in ENTRIES if isinstance(kind, each))
    return make(kind, (attr, house, room))


WALL = Words(4, hint="n (up on the map), e, s or w; the number of an outline's edge")


def _number(_: Any, setting: Setting) -> Entry:
    attr, house, _room = setting
    if attr.endswith("_m"):
        return Length(house.units, MOST_HEIGHT_M if attr == "height_m" else MOST_LENGTH_M)
    return Figure(UNITS_OF.get(attr, ""))


def _list(kind: ListOf, setting: Setting) -> Entry:
    attr, house, _ = setting
    match kind.item:
        case Ref(table=table):
            return Several(named(house, table))
        case Choice(words=known):
            return Several(words(known))
        case ListOf():
            return Walk(house.units)
    if attr.endswith("_m"):
        return size(house.units) if attr == "size_m" else spot(house.units, kind.high)
    return Figures()


ENTRIES: tuple[tuple[type[Kind], Callable[[Any, Setting], Entry]], ...] = (
    (Text, lambda kind, _: Words(kind.limit, kind.lines)),
    (Number, _number),
    (Whole, lambda *_: Figure(whole=True)),
    (Flag, lambda *_: YES_NO),
    (Day, lambda *_: Date()),
    (Shape, lambda kind, _: Words(kind.limit, hint=kind.example)),
    (Choice, lambda kind, _: words(kind.words)),
    (WallKey, lambda _, setting: walls_of(setting[2]) if setting[2] else WALL),
    (Ref, lambda kind, setting: named(setting[1], kind.table)),
    (ListOf, _list),
)
"""How each kind of the schema is typed."""
