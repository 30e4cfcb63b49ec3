"""A reading typed in, or a spectrum pasted, as a colour source; the mean of several readings.

Forgiving in form (commas or points, any order of words, percent or 0..1; pairs, two rows, or
readings alone on a grid that meters use), exact in what is wrong.
"""

import re
from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import fmean
from typing import Any, NamedTuple

from housemap.deck import colours
from housemap.deck.columns import HEX
from housemap.deck.numbers import MINUS_SIGNS, number, numbers_among
from housemap.deck.reading import RowError, refuse
from housemap.model.house import DEFAULT_OBSERVED, ColourSource, Lab, Notation, Reflectance, Xyz
from housemap.model.notation import tidy_notation

SHORTEST_NM, LONGEST_NM = 300.0, 1100.0
FEWEST = 16
"""Readings that can be a spectrum: 400 to 700 nm by 20."""

USUAL = {
    31: (400.0, 10.0), 16: (400.0, 20.0), 36: (380.0, 10.0), 39: (360.0, 10.0),
    41: (380.0, 10.0), 43: (360.0, 10.0), 61: (400.0, 5.0), 81: (380.0, 5.0),
    301: (400.0, 1.0), 401: (380.0, 1.0),
}  # fmt: skip
"""Start and step that meters have for so many readings; common practice, no source."""


class Reading(NamedTuple):
    """What was typed, as a colour, and what had to be taken for granted."""

    source: ColourSource
    notes: tuple[str, ...] = ()


START = re.compile(r"\b(?:from|start)\s*[:=]?\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
STEP = re.compile(r"\b(?:step|by|every)\s*[:=]?\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
END = re.compile(r"\bto\s*\d{3,4}\b", re.IGNORECASE)
DECORATION = re.compile(r"(?i)\b(?:values|reflectance|wavelengths?)\b|(?<=\d)\s*nm\b|\bnm\b|%|->")


def pasted_spectrum(text: str) -> Reading:
    """A reflectance; raises RowError where the text is no spectrum."""
    start, step = (number(found[1]) if (found := what.search(text)) else None
                   for what in (START, STEP))  # fmt: skip
    rest = END.sub(" ", STEP.sub(" ", START.sub(" ", text)))
    values = numbers_among(DECORATION.sub(" ", rest))
    nm, readings, notes = apart(values, start, step)
    percent = "%" in text or colours.are_percent(readings)
    reflectance, more = colours.spectrum(nm, readings, percent=percent)
    scale = f"reflectance is read as {'percent' if percent else '0..1'}"
    return Reading(reflectance, (*notes, scale, *more))


def apart(
    values: Sequence[float], start: float | None, step: float | None
) -> tuple[Sequence[float], Sequence[float], list[str]]:
    half, notes = len(values) // 2, []
    if start is None or step is None:
        for nm, readings in ((values[0::2], values[1::2]), (values[:half], values[half:])):
            if len(nm) == len(readings) and is_rising_nm(nm):
                return nm, readings, []
        if len(values) not in USUAL:
            raise RowError(
                f"{len(values)} readings without wavelengths: write them in pairs, or say where"
                " they start and step, such as: from 400 step 10"
            )
        usual_start, usual_step = USUAL[len(values)]
        start, step = start or usual_start, step or usual_step
        end = start + (len(values) - 1) * step
        notes = [f"taken as {start:g} to {end:g} nm by {step:g}"]
    return [start + i * step for i in range(len(values))], values, notes


def is_rising_nm(values: Sequence[float]) -> bool:
    inside = all(SHORTEST_NM <= value <= LONGEST_NM for value in values)
    return bool(values) and inside and all(low < high for low, high in pairwise(values))


def mean_reading(readings: Sequence[ColourSource]) -> ColourSource:
    """Of spectra on one grid, or Lab or XYZ in one light; else InputError."""
    values: list[Sequence[float]] = []
    kinds = set[Hashable]()
    for reading in readings:
        match reading:
            case Reflectance(start_nm=start, step_nm=step, values=numbers):
                kinds.add((start, step, len(numbers)))
            case Lab(lab100=numbers, observed=observed) | Xyz(xyz100=numbers, observed=observed):
                kinds.add((type(reading), observed))
            case _:
                raise refuse("only spectra, Lab and XYZ can be averaged", "")
        values.append(numbers)
    if not readings:
        raise refuse("only spectra, Lab and XYZ can be averaged", "")
    if len(kinds) > 1:
        raise refuse(
            "readings to be averaged must be of one kind: all spectra of the same wavelengths, or"
            " all Lab, or all XYZ, under the same illuminant and observer",
            "",
        )
    attr = {Reflectance: "values", Lab: "lab100", Xyz: "xyz100"}[type(readings[0])]
    mean: Any = {attr: tuple(map(fmean, zip(*values, strict=True)))}
    return replace(readings[0], **mean)


LONGEST = 40_000
"""Characters; a spectrum at 1 nm takes a tenth of it."""

OBSERVED = re.compile(
    r"\(?\b(?:(?:(?:ID|D|FL?)\d+(?:\.\d+)?|LED-?\w+)\s*[/,;]?|[ABCE]\s*/)\s*(?:10|2)\s*"
    r"(?:°|deg(?:ree)?s?)?(?![\w.,])\)?",
    re.IGNORECASE,
)
M_WORD = re.compile(r"\(?\bM[0-3]\b\)?", re.IGNORECASE)
LABEL = re.compile(
    r"\b(?:CIE\s*)?(L\*?\s*a\*?\s*b\*?|L\*?\s*C\*?\s*h(?:ab)?°?|XYZ)(?=\W|\d|$)", re.IGNORECASE
)
LETTER = re.compile(r"\b([LabChXYZ])\*?(?:ab)?\s*[:=]?\s*(?=[+-]?[\d.,])")

MAKERS: dict[str, Callable[[float, float, float, str], ColourSource]] = {
    "lab": colours.lab, "lch": colours.lch, "xyz": colours.xyz,
}  # fmt: skip


def parse_reading(text: str, *, observed: str = "") -> Reading:
    """Lab, LCh or XYZ with conditions, a spectrum, a notation or #rrggbb.

    Examples: "L 62.1 a 1.2 b 8.3 D50/2", "XYZ 30,1 31,2 25,0 (D65/10) M1", "62.1 1.2 8.3",
    "5Y 7/1", a line for each wavelength such as "400 0.31", "from 400 step 10: 31.0 33.1 ...".

    `observed` is the illuminant and observer where the text does not say. Raises InputError with
    one line that says what is wrong.
    """
    try:
        return reading_in(text, observed)
    except RowError as error:
        raise refuse(str(error), "") from error


def reading_in(text: str, observed: str) -> Reading:
    tidy = text.translate(MINUS_SIGNS).strip()
    if len(tidy) > LONGEST:
        raise RowError(f"more than {LONGEST:,} characters are no reading")
    if notation := tidy_notation(tidy):
        return Reading(Notation(notation))
    if HEX.fullmatch(tidy) and not tidy.isdecimal():
        return Reading(colours.hex_colour(tidy), ("a screen colour: D65 and 2 degrees",))
    m = colours.m_condition_of(tidy)
    notes = (colours.ABOUT_M[m],) if m else ()
    rest = M_WORD.sub(" ", tidy)
    found = OBSERVED.search(rest)
    named = colours.known_observed(found[0]) if found else ""
    if found:
        rest = rest.replace(found[0], " ", 1)
    if len(re.findall(r"\d[\d.,]*", rest)) >= FEWEST:
        made = pasted_spectrum(rest)
        return Reading(made.source, (*notes, *made.notes))
    return three_numbers(rest, named or colours.known_observed(observed), notes)


def three_numbers(text: str, observed: str, notes: tuple[str, ...]) -> Reading:
    kind = kind_named(text)
    values = numbers_among(LETTER.sub(" ", LABEL.sub(" ", text)))
    if len(values) != len("Lab"):
        raise RowError(
            f"three numbers are needed, such as L 62.1 a 1.2 b 8.3 D50/2; found {len(values)}"
        )
    taken = list(notes)
    if not kind:
        taken.append("three numbers without a name: taken as L*, a*, b*")
    if not observed:
        taken.append(f"nothing says under which light: taken as {DEFAULT_OBSERVED}")
    first, second, third = values
    make = MAKERS[kind or "lab"]
    return Reading(make(first, second, third, observed or DEFAULT_OBSERVED), tuple(taken))


def kind_named(text: str) -> str:
    """The kind that a text names, by a word ("Lab") or by letters before its numbers."""
    label = LABEL.search(text)
    letters = label[1] if label else "".join(LETTER.findall(text))
    tidy = re.sub(r"[\s*°]", "", letters).lower().replace("hab", "h")
    return tidy if tidy in MAKERS else ""
