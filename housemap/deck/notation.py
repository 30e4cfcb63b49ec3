"""The spelling of ASTM D1535 notations; what they look like is not this module's business."""

import re

NUMBER = r"\d{1,2}(?:[.,]\d{1,3})?"
CHROMATIC = re.compile(
    rf"({NUMBER})\s*(YR|GY|BG|PB|RP|R|Y|G|B|P)\s*[\s,;]?\s*({NUMBER})\s*/\s*({NUMBER})",
    re.IGNORECASE,
)
NEUTRAL = re.compile(rf"N\s*({NUMBER})\s*(?:/\s*(?:0(?:[.,]0+)?)?)?", re.IGNORECASE)

HUE_FAMILIES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
HIGHEST_VALUE = 10.0
HIGHEST_HUE = 10.0


def spell(hue: str, value: float, chroma: float) -> str:
    """Write "5Y 7/1", or "N 7/" where there is no chroma."""
    return f"{hue} {value:g}/{chroma:g}" if chroma else f"N {value:g}/"


def tidy_notation(text: str) -> str | None:
    """The notation as house files write it, such as "5Y 7/1" or "N 8/"; None if it is none.

    Spaces may be missing and decimals may be marked by a comma. A hue number of 0 is 10 of the
    family before it.
    """
    text = text.strip()
    if found := NEUTRAL.fullmatch(text):
        value = decimal(found[1])
        return spell("N", value, 0.0) if value <= HIGHEST_VALUE else None
    found = CHROMATIC.fullmatch(text)
    if not found:
        return None
    step, value, chroma = decimal(found[1]), decimal(found[3]), decimal(found[4])
    if step > HIGHEST_HUE or value > HIGHEST_VALUE:
        return None
    return spell(hue_name(step, found[2].upper()), value, chroma)


def hue_name(step: float, family: str) -> str:
    if step == 0:
        step, family = HIGHEST_HUE, HUE_FAMILIES[HUE_FAMILIES.index(family) - 1]
    return f"{step:g}{family}"


def decimal(text: str) -> float:
    return float(text.replace(",", "."))
