"""ASTM D1535 notation as text: "5Y 7/1", "N 8/"."""

import re
from dataclasses import dataclass

from housemap.errors import ColourError

HUES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
"""The ten hue families in order; hue number 0 is 10RP, 5 is 5R, 15 is 5YR."""
_CHROMATIC = re.compile(
    r"\s*(\d+(?:\.\d+)?)\s*(RP|YR|GY|BG|PB|R|Y|G|B|P)\s*(\d+(?:\.\d+)?)\s*/\s*(\d+(?:\.\d+)?)\s*",
    re.IGNORECASE | re.ASCII,
)
_NEUTRAL = re.compile(r"\s*N\s*(\d+(?:\.\d+)?)\s*/?\s*(?:0(?:\.0*)?)?\s*", re.IGNORECASE | re.ASCII)
TOP = 10.0
"""Of value and of the number within a hue family."""
LEAST_CHROMA = 0.05
"""Below it the text says N: it rounds to /0.0."""


@dataclass(frozen=True, slots=True)
class MunsellNotation:
    """Hue, value and chroma; `hue` is "N" and `hue100` 0 where there is no chroma."""

    hue: str
    hue100: float
    """ASTM hue number, 0 <= hue100 < 100."""
    value: float
    chroma: float
    text: str


def parse(text: str) -> tuple[float, float, float]:
    """Hue number 0..100, value 0..10 and chroma of a notation; raises ColourError."""
    neutral, chromatic = _NEUTRAL.fullmatch(text), _CHROMATIC.fullmatch(text)
    if neutral:
        hue, value, chroma = 0.0, float(neutral[1]), 0.0
    elif chromatic:
        hue = hue_number(chromatic[2].upper(), float(chromatic[1]))
        value, chroma = float(chromatic[3]), float(chromatic[4])
    else:
        raise ColourError(f'a notation is written "5Y 7/1" or "N 8/", found "{text}"')
    if value > TOP:
        raise ColourError(f'the value of a notation runs from 0 to 10, found "{text}"')
    return hue, value, chroma


def hue_number(family: str, number: float) -> float:
    """ASTM hue number 0..100 of a hue such as 2.5 GY; raises ColourError above 10."""
    if number > TOP:
        raise ColourError(f"the hue of a notation runs from 0 to 10, found {number:g}{family}")
    return (10.0 * HUES.index(family) + number) % 100.0


def written(hue100: float, value: float, chroma: float) -> MunsellNotation:
    """The notation of three numbers, its text to one decimal."""
    if chroma < LEAST_CHROMA:
        return MunsellNotation("N", 0.0, value, chroma, f"N {_short(value)}/")
    hue = _hue_text(hue100)
    return MunsellNotation(hue, hue100, value, chroma, f"{hue} {_short(value)}/{_short(chroma)}")


def _hue_text(hue100: float) -> str:
    tenths = round(hue100 * 10.0) % 1000
    # 10Y, not 0GY.
    family, within = divmod((tenths - 1) % 1000, 100)
    return f"{_short((within + 1) / 10.0)}{HUES[family]}"


def _short(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
