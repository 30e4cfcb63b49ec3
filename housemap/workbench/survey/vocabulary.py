"""The words of the survey language, usual sizes, and what a line can say: a frozen value a clause.

In a clause None, or "", is what was not said. `spans` gives where in the line each part is, by the
part's key; it is left out when clauses are compared.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from itertools import pairwise
from typing import Literal, NamedTuple

from housemap.model.house import (
    PASSAGES,
    Aim,
    Ground,
    OpeningKind,
    Point,
    Role,
    Surface,
    Units,
    Use,
)
from housemap.model.lengths import FOOT_M, INCH_M

Side = Literal["n", "e", "s", "w"]
Corner = Literal["ne", "nw", "se", "sw"]

SIDES: Mapping[str, Side] = {
    "n": "n", "north": "n", "e": "e", "east": "e", "s": "s", "south": "s", "w": "w", "west": "w",
}  # fmt: skip
CORNERS: Mapping[str, Corner] = {each: each for each in ("ne", "nw", "se", "sw")}

KINDS: Mapping[str, OpeningKind] = {
    "doorway": "doorway", "door": "doorway", "d": "doorway",
    "cased": "cased", "c": "cased",
    "open": "open", "o": "open",
    "glazed": "glazed", "glass": "glazed", "g": "glazed",
    "stairs": "stairs", "stair": "stairs", "st": "stairs",
}  # fmt: skip
OUTER_DOORS = ("front door", "back door")
"""A doorway to the outside."""
OUTSIDE = "Outside"
"""The room to which it leads where no other is named."""
WINDOW_WORDS = ("window", "win")
WINDOW_AT_A_WALL = "w"
"""Short for a window once its wall has been named."""
LAMP_WORDS = ("lamp", "light", "l")
FLOOR = "floor"
FIXED_WORDS = (
    "worktop", "worktops", "tile", "tiles", "splashback", "brick", "stone", "hearth", "fireplace",
    "cabinets", "curtains",
)  # fmt: skip
"""What is kept beside the floor, by the word that its name ends with."""
KEEP = "keep"
"""Before the name of anything else that is kept."""
NOW = "now"
COATED: Mapping[str, Surface] = {
    "walls": "walls", "ceiling": "ceiling", "trim": "trim", "woodwork": "trim", "doors": "doors",
}  # fmt: skip
"""Surfaces of which a line says what is on them now."""
GROUNDS: Mapping[str, Ground] = {
    "painted": "painted", "bare plaster": "plaster", "plaster": "plaster",
    "new plaster": "new-plaster", "paper": "paper", "papered": "paper", "wallpaper": "paper",
    "tiled": "tile", "wood": "wood", "bare wood": "wood", "metal": "metal",
}  # fmt: skip
COLOURS = "light brown, 10YR 6/4, #c19a6b or lrv 35"
"""In how many ways a colour may be typed."""
SPELLINGS: Mapping[str, str] = {
    "@": "at", "width": "wide", "height": "high", "heights": "high", "closed": "shut",
    "without": "less",
}  # fmt: skip
"""Other spellings of a word."""


def word(text: str) -> str:
    """A word in the spelling that the grammar knows."""
    plain = text.casefold()
    return SPELLINGS.get(plain, plain)


USUAL_USES: tuple[tuple[Use, tuple[str, ...]], ...] = (
    ("stair", ("stair",)),
    ("bathroom", ("bath", "shower", "wc", "toilet", "lavatory", "cloakroom", "en suite", "ensuite",
                  "en-suite", "wet room", "powder room", "washroom", "loo ")),
    ("utility", ("utility", "laundry", "pantry", "larder", "boiler", "garage", "store", "storage",
                 "scullery", "boot room", "workshop", "cellar")),
    ("office", ("office", "study", "library", "studio")),
    ("kitchen", ("kitchen",)),
    ("dining", ("dining", "breakfast")),
    ("bedroom", ("bed", "child", "kid", "nursery", "guest", "dressing", "box room")),
    ("living", ("living", "lounge", "sitting", "drawing room", "family", "snug", "parlour",
                "parlor", "morning room", "playroom", "den", "front room", "nook")),
    ("hall", ("hall", "landing", "corridor", "lobby", "entrance", "entry", "foyer", "vestibule",
              "passage")),
    ("outdoor", ("terrace", "garden", "balcony", "patio", "deck", "veranda", "porch", "yard",
                 "court", "loggia", "outside", "outdoors", "street")),
)  # fmt: skip
"""What a room is for, by how words in its name begin; the first that fits."""


def room_word(name: str) -> str | None:
    """The usual word for a room that a name is misspelt from: kitchen for kichen."""
    usual = [word.strip() for _, words in USUAL_USES for word in words]
    return next(filter(None, (nearest(word, usual) for word in name.split())), None)


def use_of(name: str) -> Use:
    """What a room of that name is for, as far as its name says."""
    padded = f" {' '.join(name.casefold().split())} "
    for use, signs in USUAL_USES:
        if any(f" {sign}" in padded for sign in signs):
            return use
    return "other"


def usual_role(use: str) -> Role | None:
    """Halls and stairs link the rest."""
    return "backbone" if use in PASSAGES else None


_METRIC: Mapping[str, float] = {
    "doorway": 0.8, "cased": 0.9, "open": 2.0, "glazed": 1.6, "stairs": 0.9,
    "window": 1.2, "window high": 1.2, "sill": 0.9, "room high": 2.4,
}  # fmt: skip
_FEET: Mapping[str, float] = {
    "doorway": 32 * INCH_M, "cased": 3 * FOOT_M, "open": 6 * FOOT_M, "glazed": 5 * FOOT_M,
    "stairs": 3 * FOOT_M, "window": 4 * FOOT_M, "window high": 4 * FOOT_M, "sill": 3 * FOOT_M,
    "room high": 8 * FOOT_M,
}  # fmt: skip
USUAL_LUMENS, USUAL_KELVIN = 800.0, 2700.0
"""One LED lamp in place of a 60 W bulb, warm white: common practice, no source."""
LEAST_LUMENS, MOST_LUMENS = 40.0, 20_000.0
"""Less and more are asked about: three candles, and what lights a hall for sports (our
assumption)."""
LUMENS_OF_WATTS = (
    (15.0, 136.0), (25.0, 249.0), (40.0, 470.0), (60.0, 806.0), (75.0, 1055.0), (100.0, 1521.0),
    (150.0, 2452.0), (200.0, 3452.0),
)  # fmt: skip
"""Lumens of a lamp sold as equal to an incandescent one (EC 244/2009; from memory)."""


def lumens_of(watts: float) -> float:
    """Of a lamp that replaces an incandescent lamp of so many watts."""
    for (low, dim), (high, bright) in pairwise(((0.0, 0.0), *LUMENS_OF_WATTS)):
        if watts <= high:
            return round(dim + (bright - dim) * (watts - low) / (high - low))
    high, bright = LUMENS_OF_WATTS[-1]
    return round(bright * watts / high)


LEAST_ROOM_M = 1.5
"""A room lower than this is asked about: nobody stands in it (our assumption)."""
MOST_HEIGHT_M, MOST_LENGTH_M = 5.0, 20.0
"""A number without a unit above these is asked about: homes are smaller (our assumption)."""


def which_unit(text: str, metres: float, units: Units, most_m: float) -> str:
    """What to ask about a length beyond the usual that was typed without its unit; "" if none."""
    if metres <= most_m or not text.strip().replace(",", ".").replace(".", "", 1).isdecimal():
        return ""
    other = "ft" if units == "m" else "in"
    return f"{text} {units}, or {text} {other}? Write the unit"


def nearest(text: str, known: Iterable[str]) -> str | None:
    """The word or name that was probably meant, letters left out, doubled or swapped."""
    by_plain = {each.casefold(): each for each in known}
    found = get_close_matches(text.casefold(), by_plain, 1, 0.8)
    return by_plain[found[0]] if found and found[0] != text.casefold() else None


def nearest_name(text: str, names: Iterable[str]) -> str | None:
    """The name that was probably meant. "Bedroom 1" and "Bedroom A" mean no other bedroom."""
    words = text.casefold().split()
    return next((name for name in names if _misspelt(words, name.casefold().split())), None)


def _misspelt(words: Sequence[str], meant: Sequence[str]) -> bool:
    pairs = [pair for pair in zip(words, meant, strict=False) if pair[0] != pair[1]]
    return bool(pairs) and len(words) == len(meant) and all(nearest(a, [b]) for a, b in pairs)


_SIZE = re.compile(r"(?<![\w.-])\d+\.\d\b")
_IN_FEET: Mapping[str, str] = {
    "0.5": "1'8\"", "0.6": "2'", "0.8": "2'8\"", "0.9": "3'", "1.1": "3'6\"", "1.2": "4'",
    "1.8": "6'", "2.0": "6'8\"", "2.4": "8'", "2.6": "8'6\"", "2.8": "9'4\"", "3.1": "10'2\"",
    "5.2": "17'",
}  # fmt: skip
"""The sizes of our examples."""


def in_units(example: str, units: Units) -> str:
    """Our own words, with their sizes as they are where people measure in feet."""
    if units == "m":
        return example
    return _SIZE.sub(lambda found: _IN_FEET.get(found[0], found[0]), example)


def usual_m(what: str, units: Units) -> float:
    """The size that is taken where none is said: common practice, no source."""
    return round((_FEET if units == "ft" else _METRIC)[what], 7)


Span = tuple[int, int]
"""Where in the line a part starts and ends."""
Spans = Mapping[str, Span]

WHOLE = "whole"
"""The key of the span of a whole clause."""


class Along(NamedTuple):
    """How far from an end of its wall something begins; `end` is the side where that end lies."""

    metres: float
    end: Side | None = None


class Cut(NamedTuple):
    """The corner that an L-shaped room lacks of its box."""

    size_m: Point
    corner: Corner


@dataclass(frozen=True, slots=True)
class RoomWords:
    """A room to add, to open into or to go to, by its name; "" for the one at hand."""

    name: str
    size_m: Point | None = None
    height_m: float | None = None
    cut: Cut | None = None
    wall: str | None = None
    """The wall in which one comes in."""
    along: Along | None = None
    """Where in that wall."""
    use: Use | None = None
    role: Role | None = None
    level: int | None = None
    quoted: bool = field(default=False, compare=False)
    """Whether the name was put in quotes: it is meant letter by letter."""
    spans: Spans = field(default_factory=dict, compare=False)

    @property
    def is_bare(self) -> bool:
        """Whether nothing but its name was said."""
        return self == RoomWords(self.name)


@dataclass(frozen=True, slots=True)
class OpeningWords:
    """An opening out of the room, and the room behind it."""

    into: RoomWords
    wall: str | None = None
    kind: OpeningKind = "doorway"
    width_m: float | None = None
    height_m: float | None = None
    along: Along | None = None
    shut: bool = False
    stop: bool = False
    rise: int = 0
    """Levels up (1) or down (-1)."""
    outer: bool = False
    """A front or a back door: what follows it in the line is still about the room at hand."""
    spans: Spans = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class WindowWords:
    wall: str
    width_m: float | None = None
    height_m: float | None = None
    along: Along | None = None
    sill_m: float | None = None
    spans: Spans = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class LampWords:
    lumens: float | None = None
    kelvin: float | None = None
    aim: Aim | None = None
    spectrum: str | None = None
    at_m: tuple[float, float, float] | None = None
    spans: Spans = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class FinishWords:
    """Something of the room that is kept, by its name and perhaps a colour."""

    text: str
    is_floor: bool = False
    spans: Spans = field(default_factory=dict, compare=False)


@dataclass(frozen=True, slots=True)
class NowWords:
    """What is on a surface of the room now, before it is painted."""

    surface: Surface
    text: str
    spans: Spans = field(default_factory=dict, compare=False)


Clause = RoomWords | OpeningWords | WindowWords | LampWords | FinishWords | NowWords


class Fault(NamedTuple):
    """What is wrong with a line, and at which of its words."""

    start: int
    end: int
    text: str
    unfinished: bool = False
    """Nothing is wrong: the line has only not been typed to its end."""


class Hint(NamedTuple):
    """What may come next: words to be typed as they stand, or an example of them."""

    text: str
    note: str = ""
    start: int | None = None
    """Where in the line it begins, where part of it is typed already."""
    example: bool = False


class Line(NamedTuple):
    """A line as read: its clauses up to the fault, if there is one."""

    text: str
    clauses: tuple[Clause, ...]
    fault: Fault | None = None
    hints: tuple[Hint, ...] = ()
    """What may come at its end."""
    units: Units = "m"
    """The units that its lengths were typed in: answers are given in these."""
