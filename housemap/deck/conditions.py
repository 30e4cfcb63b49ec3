"""Measurement conditions: illuminant, observer and M0..M3, as files and people write them.

M0..M3 are the measurement conditions of ISO 13655:2017.
"""

import re

from housemap.model.fieldtypes import ILLUMINANTS

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


def m_condition_of(text: str) -> str | None:
    """The first of M0..M3 that a text names."""
    found = M_CONDITION.search(text)
    return f"M{found[1]}" if found else None
