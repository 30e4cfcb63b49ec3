"""ASTM D1535 notation as text: "5Y 7/1", "N 8/"."""

import re
from typing import NamedTuple

HUES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
"""The ten hue families in order; hue number 0 is 10RP, 5 is 5R, 15 is 5YR."""
TOP = 10.0
"""Of value and of the number within a hue family."""

_STEP = r"(10(\.0+)?|\d(\.\d+)?)"
NOTATION = re.compile(
    rf"N ?{_STEP}/?|{_STEP} ?(RP|YR|GY|BG|PB|R|Y|G|B|P) ?{_STEP}/\d{{1,2}}(\.\d+)?"
)
"""As house files spell it."""
_NUMBER = r"([0-9]{1,2}(?:[.,][0-9]{1,3})?)"
_CHROMATIC = re.compile(
    rf"{_NUMBER}\s*(YR|GY|BG|PB|RP|R|Y|G|B|P)\s*[\s,;]?\s*{_NUMBER}\s*/\s*{_NUMBER}", re.IGNORECASE
)
_NEUTRAL = re.compile(rf"N\s*{_NUMBER}\s*(?:/\s*(?:0(?:[.,]0+)?)?)?", re.IGNORECASE)


class Hvc(NamedTuple):
    """Hue number 0..100 (0 of a neutral), value and chroma."""

    hue100: float
    value: float
    chroma: float


def hue_number(family: str, number: float) -> float:
    """ASTM hue number 0..100 of a hue such as 2.5 GY."""
    return (10.0 * HUES.index(family) + number) % 100.0


def read_notation(text: str) -> Hvc | None:
    """What a notation says; spaces may be missing, decimals be marked by a comma. None if none."""
    text = text.strip()
    if found := _NEUTRAL.fullmatch(text):
        hvc = Hvc(0.0, decimal(found[1]), 0.0)
    elif (found := _CHROMATIC.fullmatch(text)) and decimal(found[1]) <= TOP:
        hue = hue_number(found[2].upper(), decimal(found[1]))
        hvc = Hvc(hue, decimal(found[3]), decimal(found[4]))
    else:
        return None
    return hvc if hvc.value <= TOP else None


def spell(hue: str, value: float, chroma: float) -> str:
    """Write "5Y 7/1", or "N 7/" where there is no chroma."""
    return f"{hue} {value:g}/{chroma:g}" if chroma else f"N {value:g}/"


def tidy_notation(text: str) -> str | None:
    """The notation as house files write it; None if it is none."""
    hvc = read_notation(text)
    return hvc and spell(hue_name(hvc.hue100), hvc.value, hvc.chroma)


def hue_name(hue100: float) -> str:
    """Of a hue number, as in "2.5GY"; a number of 0 is 10 of the family before it."""
    family, number = divmod(hue100, TOP)
    if number == 0:
        family, number = family - 1, TOP
    return f"{round(number, 3):g}{HUES[int(family)]}"


def decimal(text: str) -> float:
    return float(text.replace(",", "."))
