"""Lengths as people write them: metres, centimetres, millimetres, feet and inches."""

import re
from fractions import Fraction

from housemap.errors import InputError
from housemap.model.house import Units

FOOT_M = 0.3048
"""The international foot, exact (International Yard and Pound Agreement, 1959)."""
INCH_M = 0.0254
"""The international inch, exact (the same)."""
INCHES_IN_FOOT = 12
METRES_OF = {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": FOOT_M, "in": INCH_M}
DECIMALS = 7
"""Of metres, to which a length is rounded, so that 310 cm is 3.1 m and 1/16 in is exact."""
LONGEST_TEXT = 40

_NUMBER = r"(\d+(?:[.,]\d+)?|[.,]\d+)"
_METRIC = re.compile(rf"(-?)\s*{_NUMBER}\s*(m|cm|mm)?")
_INCHES = r"(?:(\d+(?:[.,]\d+)?)(?:(?:\s+|-)(\d+)/(\d+))?|(\d+)/(\d+))"
_FEET = re.compile(rf"(-?)\s*(?:{_NUMBER}\s*(?:ft|'))?\s*(?:{_INCHES}\s*(?:in|\"))?")
_BARE_FEET = re.compile(rf"(-?)\s*{_NUMBER}")
_FEET_THEN_INCHES = re.compile(rf"(-?)\s*{_NUMBER}\s*(?:ft|')\s*{_INCHES}")
_SPELLINGS = str.maketrans({"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "−": "-"})  # noqa: RUF001 - as typed on phones and tablets


def parse_length_m(text: str, units: Units) -> float:
    """`3.1` (in `units`), `3,1`, `310 cm`, `12'4"`, `12 ft 4 1/2 in` in metres; else InputError."""
    plain = _plain(text)
    if question := inches_question(text):
        raise InputError.of(question)
    if not plain or len(plain) > LONGEST_TEXT:
        raise _not_a_length(text)
    if units == "ft" and _BARE_FEET.fullmatch(plain):
        plain += "ft"
    if found := _METRIC.fullmatch(plain):
        return _rounded(found[1], _number(found[2]) * METRES_OF[found[3] or "m"])
    if found := _FEET.fullmatch(plain) or _FEET_THEN_INCHES.fullmatch(plain):
        return _rounded(found[1], _feet_m(text, *found.groups()[1:]))
    raise _not_a_length(text)


def inches_question(text: str) -> str:
    """What to ask about more inches than a foot has, as in 8'14"; empty where there is nothing."""
    found = _FEET_THEN_INCHES.match(_plain(text))
    if not found or _number(found[3]) < INCHES_IN_FOOT:
        return ""
    metres = _number(found[2]) * FOOT_M + _number(found[3]) * INCH_M
    return f"a foot has 12 inches; is it {format_length(metres, 'ft')}? Write it so"


def _plain(text: str) -> str:
    plain = re.sub(r"\b(?:foot|feet)\b", "ft", text.translate(_SPELLINGS).strip().lower())
    return re.sub(r"\binch(?:es)?\b", "in", plain.replace("''", '"'))


def format_length(metres: float, units: Units) -> str:
    """Write a length for people: `3.10 m` (to the millimetre), or `12'4 1/2"` (to an eighth)."""
    if units == "m":
        return f"{metres + 0.0:.3f}".removesuffix("0") + " m"
    eighths = round(abs(metres) / INCH_M * 8)
    feet, rest = divmod(eighths, 12 * 8)
    inches, part = divmod(rest, 8)
    fraction = f" {Fraction(part, 8)}" if part else ""
    sign = "-" if metres < 0 and eighths else ""
    return f"{sign}{feet}'{inches}{fraction}\""


def _feet_m(text: str, feet: str | None, *inches: str | None) -> float:
    whole, top, bottom, only_top, only_bottom = inches
    top, bottom = top or only_top, bottom or only_bottom
    if bottom is not None and not int(bottom):
        raise _not_a_length(text)
    part = int(top) / int(bottom) if top and bottom else 0.0
    return _number(feet) * FOOT_M + (_number(whole) + part) * INCH_M


def _number(text: str | None) -> float:
    return float(text.replace(",", ".")) if text else 0.0


def _rounded(sign: str, metres: float) -> float:
    return round(-metres if sign else metres, DECIMALS) + 0.0


def _not_a_length(text: str) -> InputError:
    from housemap.model.text import shown  # noqa: PLC0415 - needed for this message only

    example = "write 3.1, 310 cm or 12'4\""
    return InputError.of(f"{shown(text)} is not a length; {example}")
