"""Colours from the cells of one row, with the conditions under which they were measured.

Illuminant, observer and M0..M3 (ISO 13655:2017) are read as files and people write them. Spectra
are sorted, evenly stepped and within 0..1. Numbers are checked; nothing is computed but form.
"""

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise

from housemap.deck.columns import HEX, NM, triple_in
from housemap.deck.numbers import number
from housemap.deck.reading import RowError
from housemap.model.fieldtypes import ILLUMINANTS
from housemap.model.house import (
    DEFAULT_OBSERVED,
    ColourSource,
    Lab,
    Notation,
    Reflectance,
    Srgb,
    Xyz,
)
from housemap.model.notation import tidy_notation
from housemap.model.text import shown

GRAPHIC_ARTS = "D50/2"
"""What ISO 13655 asks for and meter files mean when they do not say."""

BY_LOOSE_NAME = {name.replace("-", "").casefold(): name for name in ILLUMINANTS} | {
    f"f{n}": f"FL{n}" for n in range(1, 13)
}
"""CIE 15 writes FL11; files and older texts F11."""

OBSERVERS = {
    "2": "2", "2degree": "2", "2degrees": "2", "2deg": "2", "2°": "2", "1931": "2", "cie1931": "2",
    "10": "10", "10degree": "10", "10degrees": "10", "10deg": "10", "10°": "10", "1964": "10",
    "cie1964": "10",
}  # fmt: skip

M_CONDITION = re.compile(r"(?<![A-Za-z0-9])M([0-3])(?![0-9])", re.IGNORECASE)
NOISE = re.compile(r"[\s_*-]+|illuminant|observer|standard", re.IGNORECASE)
PAIR = re.compile(r"(.+?)[\s/,;:_-]+((?:CIE\s*)?\d{1,4}\s*[°*]?\s*(?:_?deg\w*)?)\s*", re.IGNORECASE)

ABOUT_M = {
    "M0": "measured under M0 (incandescent light, ultraviolet not controlled)",
    "M1": "measured under M1 (D50 with its ultraviolet)",
    "M2": "measured under M2 (ultraviolet left out)",
    "M3": "measured under M3 (polarised: gloss is left out, so dark paints read darker than on "
    "the wall)",
}

BEST_M = ("M1", "M0", "", "M2", "M3")
"""Which of several measurements of one sample is taken: daylight first, "" where none is named."""


def illuminant_of(text: str) -> str | None:
    """The CIE name of an illuminant: "d65" gives "D65", "F11" gives "FL11"."""
    tidy = NOISE.sub("", text).casefold()
    return BY_LOOSE_NAME.get(tidy) or BY_LOOSE_NAME.get(tidy.removeprefix("cie"))


def observer_of(text: str) -> str | None:
    """Give "2" or "10" for "2 degree", "10_Degree", "CIE 1964" and the like."""
    return OBSERVERS.get(NOISE.sub("", text).casefold())


def observed_of(text: str) -> str | None:
    """Give "D50/2" for "D50/2", "D50 2°", "d50, 2 degree" and the like."""
    found = PAIR.fullmatch(text.strip().strip("()"))
    if not found:
        return None
    illuminant, observer = illuminant_of(found[1]), observer_of(found[2])
    return f"{illuminant}/{observer}" if illuminant and observer else None


def known_observed(text: str) -> str:
    """As `observed_of`, "" for an empty text; raises RowError where it names none of the CIE's."""
    found = observed_of(text) if text else ""
    if found is None:
        raise RowError(f"{shown(text)} is no CIE illuminant and observer, such as D50/2")
    return found


def seen_under(found: str | None, usual: str) -> tuple[str, str]:
    """What Lab and XYZ refer to, `usual` where nothing says, and a note of it."""
    if found:
        return found, f"measured under {found}"
    return usual, f"nothing says under which light: taken as {usual}"


def m_condition_of(text: str) -> str | None:
    """The first of M0..M3 that a text names."""
    found = M_CONDITION.search(text)
    return f"M{found[1]}" if found else None


LONGEST_STEP_NM = 20.0
FULL_START_NM, FULL_END_NM = 400.0, 700.0
"""The narrowest range and widest step that ASTM E308 has tables for."""
MUST_START_NM, MUST_END_NM = 410.0, 680.0
"""From here to there is enough: the ends that are missing are held level, as ASTM E308 adds the
weights of missing wavelengths to the last one measured. Of abrupt made-up curves none changes by
more than 1 CIEDE2000, 19 of 20 by less than 0.3; a test holds this."""
PERCENT_ABOVE = 2.0
"""No paint reflects twice what falls on it: readings above this are percent."""
SLACK = 0.02
"""How far noise and calibration may put a reading outside 0..1."""
SAME_NM = 1e-3
FEWEST = 2


def are_percent(readings: Iterable[float]) -> bool:
    """Whether readings are 0..100 rather than 0..1, by the largest of them."""
    return max(readings, default=0.0) > PERCENT_ABOVE


def spectrum(
    wavelengths_nm: Sequence[float], readings: Sequence[float], *, percent: bool
) -> tuple[Reflectance, tuple[str, ...]]:
    """A reflectance from readings in any order, and notes; RowError where they give none.

    Readings at uneven steps are interpolated linearly to the nearest even step; those up to
    `SLACK` outside 0..1 are set to the limit; the first and the last are repeated as far as 400
    and 700 nm. The notes say what was done.
    """
    order, grid, step = rising(tuple(wavelengths_nm))
    nm: Sequence[float] = grid
    values = [readings[i] / 100 if percent else readings[i] for i in order]
    notes = []
    if step is None:
        nm, values, step = resampled(nm, values)
        notes.append(f"spectra at uneven steps are interpolated to {step:g} nm")
    if min(values) < 0 or max(values) > 1:
        values = within_limits(nm, values)
        notes.append("readings slightly below 0 or above 1 are set to the limit")
    if nm[0] > FULL_START_NM or nm[-1] < FULL_END_NM:
        notes.append(
            f"spectra of {nm[0]:g} to {nm[-1]:g} nm: the missing ends are held level,"
            " an error below 1 CIEDE2000"
        )
    before = max(math.ceil((nm[0] - FULL_START_NM) / step), 0)
    behind = max(math.ceil((FULL_END_NM - nm[-1]) / step), 0)
    whole = (*[values[0]] * before, *values, *[values[-1]] * behind)
    return Reflectance(round(nm[0] - before * step, 6), step, whole), tuple(notes)


@lru_cache(maxsize=64)
def rising(
    wavelengths_nm: tuple[float, ...],
) -> tuple[tuple[int, ...], tuple[float, ...], float | None]:
    """The order in which wavelengths rise, the wavelengths in it, and their step if it is even.

    Kept, as every row of a table asks the same; raises RowError as `check_range` does.
    """
    order = tuple(sorted(range(len(wavelengths_nm)), key=wavelengths_nm.__getitem__))
    nm = tuple(wavelengths_nm[i] for i in order)
    check_range(nm)
    step = (nm[-1] - nm[0]) / (len(nm) - 1)
    is_even = all(abs(low + step - high) < SAME_NM for low, high in pairwise(nm))
    return order, nm, round(step, 6) if is_even else None


def within_limits(nm: Sequence[float], values: Sequence[float]) -> list[float]:
    for at, value in zip(nm, values, strict=True):
        if not -SLACK <= value <= 1 + SLACK:
            raise RowError(
                f"reflectance {value:g} at {at:g} nm is outside 0..1: wrong unit, or a sample "
                "that glows"
            )
    return [min(max(value, 0.0), 1.0) for value in values]


def check_range(nm: Sequence[float]) -> None:
    if len(nm) < FEWEST or nm[0] > MUST_START_NM or nm[-1] < MUST_END_NM:
        found = f"{nm[0]:g} to {nm[-1]:g}" if nm else "none"
        raise RowError(f"a spectrum must span at least 410 to 680 nm, found {found}")
    for low, high in pairwise(nm):
        if high - low < SAME_NM:
            raise RowError(f"two readings at {low:g} nm")
        if high - low > LONGEST_STEP_NM + SAME_NM:
            raise RowError(f"no reading between {low:g} and {high:g} nm")


def resampled(
    nm: Sequence[float], values: Sequence[float]
) -> tuple[list[float], list[float], float]:
    """The same curve at even steps of 1, 5, 10 or 20 nm, whichever is nearest to its own."""
    mean_step = (nm[-1] - nm[0]) / (len(nm) - 1)
    step = min((1.0, 5.0, 10.0, 20.0), key=lambda s: abs(math.log(s / mean_step)))
    first, last = math.ceil(nm[0] / step) * step, math.floor(nm[-1] / step) * step
    grid = [first + i * step for i in range(round((last - first) / step) + 1)]
    interpolated, i = [], 0
    for at in grid:
        while nm[i + 1] < at:
            i += 1
        part = (at - nm[i]) / (nm[i + 1] - nm[i])
        interpolated.append(values[i] + part * (values[i + 1] - values[i]))
    return grid, interpolated, step


LARGEST_BYTE = 255
LARGEST_L, LARGEST_AB, LARGEST_XYZ = 100.0, 200.0, 150.0
NEARLY = 0.5
"""How far above 100 a measured L* may read before it must be a mistake."""

Cells = Mapping[str, str]
"""Of one row, by meaning; blank ones are left out."""


@dataclass(frozen=True, slots=True)
class Source:
    """How the rows of a whole source are to be read."""

    comma: bool = False
    """Whether commas mark decimals."""
    percent: bool = False
    """Reflectance 0..100, not 0..1."""
    observed: str = DEFAULT_OBSERVED
    """Of Lab and XYZ where the row does not say."""
    wavelengths_nm: tuple[float, ...] = ()
    xyz_factor: float = 1.0
    """100 where XYZ is given 0..1."""
    lrv_factor: float = 1.0
    """The same of LRV."""
    headers: Mapping[str, str] = field(default_factory=dict)
    """The header of each meaning; units may stand in it."""
    deck: str = ""
    """What the deck is called, for rows that do not say."""


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
        raise RowError(
            f"Y {y:g} is above 100, that of a perfect white: is it measured against another white?"
        )
    return Xyz((x, min(y, LARGEST_L), z), observed)


def xyy(x: float, y: float, luminance: float, observed: str) -> Xyz:
    """XYZ from chromaticity (CIE 15:2018, 7.1)."""
    if not (0 < y <= 1 and 0 <= x <= 1 and x + y <= 1):
        raise RowError(f"chromaticity x {x:g}, y {y:g} does not exist")
    scale = luminance / y
    return xyz(round(x * scale, 6), luminance, round((1 - x - y) * scale, 6), observed)


def srgb(red: float, green: float, blue: float, _observed: str = "") -> Srgb:
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


def triple(text: str, source: Source) -> list[float]:
    found = triple_in(text)
    if not found:
        raise RowError(f"{shown(text)} should hold three numbers")
    comma = source.comma or any("," in part for part in found)
    return [number(part, comma=comma) for part in found]


@lru_cache(maxsize=64)
def spectral_meanings(wavelengths_nm: tuple[float, ...]) -> tuple[str, ...]:
    return tuple(f"{nm:g}{NM}" for nm in wavelengths_nm)


Maker = tuple[str, tuple[str, ...], Callable[[Cells, Source], ColourSource]]
"""What a colour may be given by: its name, the cells that it needs, and how it is made of them."""


def by_three(
    name: str, make: Callable[..., ColourSource], *cells_: str, whole: str = ""
) -> Iterator[Maker]:
    """A colour of three numbers: in a cell each, or all in the cell `whole`."""

    def made(values: Iterable[float], cells: Cells, source: Source) -> ColourSource:
        if make is xyz:
            values = (round(value * source.xyz_factor, 9) for value in values)
        return make(*values, cells.get("observed", source.observed))

    yield name, cells_, lambda c, s: made([number(c[n], comma=s.comma) for n in cells_], c, s)
    if whole:
        yield name, (whole,), lambda c, s: made(triple(c[whole], s), c, s)


ON_SCREEN = ", a screen value: the LRV of a strong colour may be 3 points off"

MAKERS: tuple[Maker, ...] = (
    *by_three("CIELAB", lab, "L*", "a*", "b*", whole="lab"),
    *by_three("XYZ", xyz, "X", "Y", "Z", whole="xyz"),
    *by_three("CIELAB chroma and hue", lch, "L*", "C*", "h"),
    *by_three("chromaticity and Y", xyy, "x", "y", "Y"),
    ("the notation", ("notation",), lambda c, _: notation(c["notation"])),
    ("the notation", ("hue", "value", "chroma"),
     lambda c, _: notation(f"{c['hue']} {c['value']}/{c['chroma']}")),
    ("hex" + ON_SCREEN, ("hex",), lambda c, _: hex_colour(c["hex"])),
    *by_three("rgb" + ON_SCREEN, srgb, "red", "green", "blue", whole="rgb"),
)  # fmt: skip
"""The most exact first; a spectrum comes before all of them."""

_PARTS = frozenset(meaning for _, needed, _ in MAKERS for meaning in needed)

GREY = "a grey by its LRV alone"
"""How a colour was made up where nothing but an LRV is known."""
CUBE_ROOT_FROM = (6 / 29) ** 3


def grey_of(lrv: float) -> Lab:
    """The neutral colour of an LRV, by CIE lightness (ISO/CIE 11664-4)."""
    part = lrv / 100.0
    root = part ** (1 / 3) if part > CUBE_ROOT_FROM else part * (29 / 6) ** 2 / 3 + 4 / 29
    return Lab((round(min(max(116 * root - 16, 0.0), 100.0), 4), 0.0, 0.0), DEFAULT_OBSERVED)


def has_colour(cells: Cells, source: Source) -> bool:
    """Whether a row has anything of a colour, if only a part of it."""
    spectral = spectral_meanings(source.wavelengths_nm)
    return not _PARTS.isdisjoint(cells) or any(meaning in cells for meaning in spectral)


def colour_from(cells: Cells, source: Source) -> tuple[str, ColourSource, tuple[str, ...]]:
    """What the colour was taken from, the colour, and notes; raises RowError where there is none.

    The most exact that is complete is taken. Behind a spectrum that cannot be used comes the next
    best; any other value that is wrong is never passed over.
    """
    passed: RowError | None = None
    spectral = spectral_meanings(source.wavelengths_nm)
    if spectral and cells.keys() >= set(spectral):
        try:
            readings = [number(cells[meaning], comma=source.comma) for meaning in spectral]
            made, notes = spectrum(source.wavelengths_nm, readings, percent=source.percent)
        except RowError as error:
            passed = error
        else:
            return "the spectrum", made, notes
    for name, needed, make in MAKERS:
        if all(meaning in cells for meaning in needed):
            notes = (f"the spectrum is not used: {passed}",) if passed else ()
            return name, make(cells, source), notes
    raise passed or RowError("no colour: " + missing(cells, spectral))


def missing(cells: Cells, spectral: Iterable[str]) -> str:
    """What a row without a complete colour has of one."""
    for _, needed, _ in MAKERS:
        if len(needed) > 1 and any(meaning in cells for meaning in needed):
            return "without " + " and ".join(m for m in needed if m not in cells)
    if any(meaning in cells for meaning in spectral):
        return "the spectrum has gaps"
    return "every cell that could give one is empty"
