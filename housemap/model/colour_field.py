"""The colour of a paint or finish: exactly one of five keys, and `observed` beside two of them."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, cast

from housemap.model.colour import (
    DEFAULT_OBSERVED,
    ColourSource,
    Lab,
    Notation,
    Reflectance,
    Srgb,
    Xyz,
)
from housemap.model.illuminants import ILLUMINANTS, OBSERVERS
from housemap.model.kinds import Change, Kind, Note, Number, Path, Shape, below
from housemap.model.records import ListOf, record
from housemap.model.text import shown

COLOUR_KEYS = ("reflectance", "lab", "xyz", "srgb", "notation")
OBSERVED = "observed"

HUES = "RP|YR|GY|BG|PB|R|Y|G|B|P"
"""The ten hue families of ASTM D1535."""
SPECTRUM = record("", Reflectance, (
    ("start", "start_nm", Number(100, 2500)),
    ("step", "step_nm", Number(0, 500, above=True)),
    ("values", "values", ListOf(Number(0, 1), 2, 2000)),
))  # fmt: skip
KINDS: Mapping[str, Kind] = {
    "reflectance": SPECTRUM,
    "lab": ListOf(Number(-200, 200), 3, 3),
    "xyz": ListOf(Number(0, 200), 3, 3),
    "srgb": Shape(re.compile(r"#[0-9a-fA-F]{6}"), 'a colour such as "#d9d0bf"'),
    "notation": Shape(
        re.compile(rf"N ?(10(\.0+)?|\d(\.\d+)?)/?|(10(\.0+)?|\d(\.\d+)?) ?({HUES}) ?"
                   r"(10(\.0+)?|\d(\.\d+)?)/\d{1,2}(\.\d+)?"),
        'a notation such as "5Y 7/1" or "N 8/"',
    ),
}  # fmt: skip
LIGHTNESS = Number(0, 100)
"""L* and Y of a surface: 100 is the perfect diffuser (CIE 015)."""


@dataclass(slots=True, eq=False, repr=False)
class ColourField:
    """See the module; where it is `optional` there may be none."""

    attr: str = "colour"
    keys: tuple[str, ...] = (*COLOUR_KEYS, OBSERVED)
    optional: bool = False

    def read(self, raw: Mapping[str, object], note: Note) -> ColourSource | None:
        given = [key for key in COLOUR_KEYS if key in raw]
        if not given and self.optional:
            if OBSERVED in raw:
                note((OBSERVED,), "goes with lab or xyz, and neither is there")
            return None
        if not given:
            note((self.attr,), f"is missing: give one of {', '.join(COLOUR_KEYS)}")
            return Srgb("#000000")
        key = given[0]
        for second in given[1:]:
            note((second,), f"is a second colour beside {key}; keep one of them")
        observed = self._observed(raw, key, note)
        return _source(key, KINDS[key].read(raw[key], below(note, key)), observed)

    def write(self, value: ColourSource | None) -> Mapping[str, Any]:
        if value is None:
            return {}
        key, held = _held(value)
        written = {key: KINDS[key].write(held)}
        if isinstance(value, Lab | Xyz) and value.observed != DEFAULT_OBSERVED:
            written[OBSERVED] = value.observed
        return written

    def faults(self, value: ColourSource | None, note: Note) -> None:
        if value is None:
            return
        key, held = _held(value)
        KINDS[key].faults(held, below(note, key))
        if isinstance(value, Lab | Xyz):
            place = 0 if isinstance(value, Lab) else 1
            LIGHTNESS.faults(held[place], below(below(note, key), str(place)))
            self._judge(value.observed, note)

    def refs(self, value: ColourSource | None) -> Iterator[tuple[Path, str, str]]:
        del value
        return iter(())

    def follow(self, value: ColourSource | None, change: Change) -> ColourSource | None:
        del change
        return value

    def _observed(self, raw: Mapping[str, object], key: str, note: Note) -> str:
        observed = raw.get(OBSERVED, DEFAULT_OBSERVED)
        if OBSERVED in raw and key not in {"lab", "xyz"}:
            note((OBSERVED,), f"goes with lab or xyz, not with {key}")
        if isinstance(observed, str):
            return observed
        note((OBSERVED,), f'must be text such as "D65/10", found {shown(observed)}')
        return DEFAULT_OBSERVED

    def _judge(self, observed: str, note: Note) -> None:
        illuminant, _, observer = observed.partition("/")
        if illuminant not in ILLUMINANTS or observer not in OBSERVERS:
            wanted = 'a CIE illuminant and an observer of 2 or 10 degrees, such as "D65/10"'
            note((OBSERVED,), f"must be {wanted}, found {shown(observed)}")


def _source(key: str, held: Any, observed: str) -> ColourSource:
    if key == "reflectance":
        return cast("Reflectance", held)
    if key == "lab":
        return Lab(held or (0.0, 0.0, 0.0), observed)
    if key == "xyz":
        return Xyz(held or (0.0, 0.0, 0.0), observed)
    return Srgb(held.lower()) if key == "srgb" else Notation(held)


def _held(value: ColourSource) -> tuple[str, Any]:
    match value:
        case Reflectance():
            return "reflectance", value
        case Lab():
            return "lab", value.lab100
        case Xyz():
            return "xyz", value.xyz100
        case Srgb():
            return "srgb", value.hex
        case Notation():
            return "notation", value.text
