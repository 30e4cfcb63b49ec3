"""A spectrum as it is pasted: pairs, two rows, or readings alone on a grid that meters use."""

import re
from collections.abc import Sequence
from itertools import pairwise

from housemap.deck.numbers import number, numbers_among
from housemap.deck.reading import RowError
from housemap.deck.reflectances import Spectrum, are_percent, spectrum

SHORTEST_NM, LONGEST_NM = 300.0, 1100.0
FEWEST = 16
"""Readings that can be a spectrum: 400 to 700 nm by 20."""

USUAL = {
    31: (400.0, 10.0), 16: (400.0, 20.0), 36: (380.0, 10.0), 39: (360.0, 10.0),
    41: (380.0, 10.0), 43: (360.0, 10.0), 61: (400.0, 5.0), 81: (380.0, 5.0),
    301: (400.0, 1.0), 401: (380.0, 1.0),
}  # fmt: skip
"""Start and step that meters have for so many readings; common practice, no source."""

START = re.compile(r"\b(?:from|start)\s*[:=]?\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
STEP = re.compile(r"\b(?:step|by|every)\s*[:=]?\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
END = re.compile(r"\bto\s*\d{3,4}\b", re.IGNORECASE)
DECORATION = re.compile(r"(?i)\b(?:values|reflectance|wavelengths?)\b|(?<=\d)\s*nm\b|\bnm\b|%|->")


def pasted_spectrum(text: str) -> Spectrum:
    """A reflectance; raises RowError where the text is no spectrum."""
    start, step = told(START, text), told(STEP, text)
    rest = END.sub(" ", STEP.sub(" ", START.sub(" ", text)))
    values = numbers_among(DECORATION.sub(" ", rest))
    nm, readings, notes = apart(values, start, step)
    percent = "%" in text or are_percent(readings)
    made = spectrum(nm, readings, percent=percent)
    scale = f"reflectance is read as {'percent' if percent else '0..1'}"
    return Spectrum(made.reflectance, (*notes, scale, *made.notes))


def told(what: re.Pattern[str], text: str) -> float | None:
    found = what.search(text)
    return number(found[1]) if found else None


def apart(
    values: Sequence[float], start: float | None, step: float | None
) -> tuple[Sequence[float], Sequence[float], list[str]]:
    """Wavelengths, readings and notes."""
    if start is not None and step is not None:
        return grid(start, step, len(values)), values, []
    half = len(values) // 2
    for nm, readings in ((values[0::2], values[1::2]), (values[:half], values[half:])):
        if len(nm) == len(readings) and rising_nm(nm):
            return nm, readings, []
    if len(values) not in USUAL:
        raise RowError(
            f"{len(values)} readings without wavelengths: write them in pairs, or say where they "
            "start and step, such as: from 400 step 10"
        )
    usual_start, usual_step = USUAL[len(values)]
    nm = grid(start or usual_start, step or usual_step, len(values))
    return nm, values, [f"taken as {nm[0]:g} to {nm[-1]:g} nm by {step or usual_step:g}"]


def grid(start: float, step: float, count: int) -> list[float]:
    return [start + i * step for i in range(count)]


def rising_nm(values: Sequence[float]) -> bool:
    inside = all(SHORTEST_NM <= value <= LONGEST_NM for value in values)
    return bool(values) and inside and all(low < high for low, high in pairwise(values))
