"""A colour source from the cells of one row: numbers are checked, nothing is computed but form."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from housemap.deck.columns import NM
from housemap.deck.guess import HEX, triple_in
from housemap.deck.notation import tidy_notation
from housemap.deck.numbers import number
from housemap.deck.reading import RowError
from housemap.deck.reflectances import spectrum
from housemap.model.house import (
    DEFAULT_OBSERVED,
    ColourSource,
    Lab,
    Notation,
    Srgb,
    Triple,
    Xyz,
)
from housemap.model.text import shown

LARGEST_BYTE = 255
LARGEST_L, LARGEST_AB, LARGEST_XYZ = 100.0, 200.0, 150.0
NEARLY = 0.5
"""How far above 100 a measured L* may read before it must be a mistake."""

Cells = Mapping[str, str]
"""Of one row, by meaning; blank ones are left out."""


@dataclass(frozen=True, slots=True)
class Units:
    """How the numbers of a whole source are to be read."""

    comma: bool = False
    percent: bool = False
    """Reflectance 0..100, not 0..1."""
    observed: str = DEFAULT_OBSERVED
    """Of Lab and XYZ where the row does not say."""
    wavelengths_nm: tuple[float, ...] = ()
    xyz_factor: float = 1.0
    """100 where XYZ is given 0..1."""


def lab(l_star: float, a_star: float, b_star: float, observed: str) -> Lab:
    if not 0 <= l_star <= LARGEST_L + NEARLY:
        raise RowError(f"L* {l_star:g} is not between 0 and 100")
    if max(abs(a_star), abs(b_star)) > LARGEST_AB:
        raise RowError(f"a* {a_star:g}, b* {b_star:g}: no surface is that colourful")
    return Lab((min(l_star, LARGEST_L), a_star, b_star), observed)


def lch(l_star: float, chroma: float, hue_deg: float, observed: str) -> Lab:
    """CIELAB from its own polar form (ISO/CIE 11664-4)."""
    if chroma < 0:
        raise RowError(f"C* {chroma:g} is below 0")
    if not -360 <= hue_deg <= 360:  # noqa: PLR2004 (a full turn)
        raise RowError(f"h {hue_deg:g} is not between 0 and 360")
    a_star = chroma * math.cos(math.radians(hue_deg))
    b_star = chroma * math.sin(math.radians(hue_deg))
    return lab(l_star, round(a_star, 6), round(b_star, 6), observed)


def xyz(x: float, y: float, z: float, observed: str) -> Xyz:
    if min(x, y, z) < 0 or max(x, y, z) > LARGEST_XYZ:
        raise RowError(f"XYZ {x:g} {y:g} {z:g}: each must be between 0 and {LARGEST_XYZ:g}")
    if y > LARGEST_L + NEARLY:
        raise RowError(f"Y {y:g} is above 100, that of a perfect white")
    return Xyz((x, min(y, LARGEST_L), z), observed)


def xyy(x: float, y: float, luminance: float, observed: str) -> Xyz:
    """XYZ from chromaticity (CIE 15:2018, 7.1)."""
    if not (0 < y <= 1 and 0 <= x <= 1 and x + y <= 1):
        raise RowError(f"chromaticity x {x:g}, y {y:g} does not exist")
    scale = luminance / y
    return xyz(round(x * scale, 6), luminance, round((1 - x - y) * scale, 6), observed)


def srgb(red: float, green: float, blue: float) -> Srgb:
    channels = (red, green, blue)
    if any(c != round(c) or not 0 <= c <= LARGEST_BYTE for c in channels):
        given = " ".join(f"{c:g}" for c in channels)
        raise RowError(f"rgb {given}: each must be a whole number between 0 and 255")
    return Srgb("#" + "".join(f"{round(c):02x}" for c in channels))


def hex_colour(text: str) -> Srgb:
    tidy = text.strip().lstrip("#").lower()
    if not HEX.fullmatch("#" + tidy):
        raise RowError(f"{shown(text)} is not a colour such as #d9d0bf")
    doubled = "".join(c * 2 for c in tidy) if len(tidy) == len("abc") else tidy
    return Srgb("#" + doubled)


def notation(text: str) -> Notation:
    tidy = tidy_notation(text)
    if tidy is None:
        raise RowError(f"{shown(text)} is not a notation such as 5Y 7/1 or N 8/")
    return Notation(tidy)


def triple(text: str, units: Units) -> Triple:
    found = triple_in(text)
    if not found:
        raise RowError(f"{shown(text)} should hold three numbers")
    comma = any("," in part for part in found)
    first, second, third = (number(part, comma=units.comma or comma) for part in found)
    return first, second, third


def of_xyz(cells: Cells, units: Units) -> ColourSource:
    x, y, z = (number(cells[name], comma=units.comma) for name in "XYZ")
    return scaled_xyz((x, y, z), cells, units)


def scaled_xyz(values: Triple, cells: Cells, units: Units) -> ColourSource:
    x, y, z = (round(value * units.xyz_factor, 9) for value in values)
    return xyz(x, y, z, cells.get("observed", units.observed))


@lru_cache(maxsize=64)
def spectral_meanings(wavelengths_nm: tuple[float, ...]) -> tuple[str, ...]:
    return tuple(f"{nm:g}{NM}" for nm in wavelengths_nm)


def from_spectrum(cells: Cells, units: Units) -> tuple[ColourSource, tuple[str, ...]]:
    meanings = spectral_meanings(units.wavelengths_nm)
    readings = [number(cells[meaning], comma=units.comma) for meaning in meanings]
    made = spectrum(units.wavelengths_nm, readings, percent=units.percent)
    return made.reflectance, made.notes


Maker = Callable[[Cells, Units], ColourSource]


def of_three(make: Callable[..., ColourSource], *names: str) -> Maker:
    """A maker from three cells, for the colours that need an observer."""

    def maker(cells: Cells, units: Units) -> ColourSource:
        values = [number(cells[name], comma=units.comma) for name in names]
        return make(*values, cells.get("observed", units.observed))

    return maker


def of_hvc(cells: Cells, _: Units) -> ColourSource:
    return notation(f"{cells['hue']} {cells['value']}/{cells['chroma']}")


def of_rgb(cells: Cells, units: Units) -> ColourSource:
    return srgb(*(number(cells[name], comma=units.comma) for name in ("red", "green", "blue")))


ON_SCREEN = ", a screen value: the LRV of a strong colour may be 3 points off"

MAKERS: tuple[tuple[str, tuple[str, ...], Maker], ...] = (
    ("CIELAB", ("L*", "a*", "b*"), of_three(lab, "L*", "a*", "b*")),
    ("CIELAB", ("lab",), lambda c, u: lab(*triple(c["lab"], u), c.get("observed", u.observed))),
    ("XYZ", ("X", "Y", "Z"), of_xyz),
    ("XYZ", ("xyz",), lambda c, u: scaled_xyz(triple(c["xyz"], u), c, u)),
    ("CIELAB chroma and hue", ("L*", "C*", "h"), of_three(lch, "L*", "C*", "h")),
    ("chromaticity and Y", ("x", "y", "Y"), of_three(xyy, "x", "y", "Y")),
    ("the notation", ("notation",), lambda c, _: notation(c["notation"])),
    ("the notation", ("hue", "value", "chroma"), of_hvc),
    ("hex" + ON_SCREEN, ("hex",), lambda c, _: hex_colour(c["hex"])),
    ("rgb" + ON_SCREEN, ("red", "green", "blue"), of_rgb),
    ("rgb" + ON_SCREEN, ("rgb",), lambda c, u: srgb(*triple(c["rgb"], u))),
)
"""What a colour may be given by, the most exact first; a spectrum comes before all of them."""


def colour_from(cells: Cells, units: Units) -> tuple[str, ColourSource, tuple[str, ...]]:
    """What the colour was taken from, the colour, and notes; raises RowError where there is none.

    The most exact that is complete is taken. A value that is wrong there is never passed over.
    """
    if units.wavelengths_nm and cells.keys() >= set(spectral_meanings(units.wavelengths_nm)):
        return "the spectrum", *from_spectrum(cells, units)
    for name, needed, make in MAKERS:
        if all(meaning in cells for meaning in needed):
            return name, make(cells, units), ()
    raise RowError("no colour: " + missing(cells, units))


def missing(cells: Cells, units: Units) -> str:
    """What a row without a complete colour has of one."""
    groups: Sequence[tuple[str, ...]] = [needed for _, needed, _ in MAKERS]
    part = next((g for g in groups if len(g) > 1 and any(m in cells for m in g)), None)
    if part:
        return "without " + " and ".join(m for m in part if m not in cells)
    if any(meaning in cells for meaning in spectral_meanings(units.wavelengths_nm)):
        return "the spectrum has gaps"
    return "every cell that could give one is empty"
