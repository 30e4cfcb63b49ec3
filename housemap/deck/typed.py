"""A reading typed in, or a spectrum pasted, as a colour source.

Forgiving in form (commas or points, any order of words, percent or 0..1), exact in what is wrong.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass

from housemap.deck.colours import hex_colour, lab, lch, xyz
from housemap.deck.conditions import ABOUT_M, m_condition_of, observed_of
from housemap.deck.decoding import refuse
from housemap.deck.guess import HEX
from housemap.deck.notation import tidy_notation
from housemap.deck.numbers import MINUS_SIGNS, numbers_among
from housemap.deck.pasted import FEWEST, pasted_spectrum
from housemap.deck.reading import RowError
from housemap.model.house import DEFAULT_OBSERVED, ColourSource, Notation
from housemap.model.text import shown

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
    "lab": lab, "lch": lch, "xyz": xyz,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reading:
    """What was typed, as a colour, and what had to be taken for granted."""

    source: ColourSource
    notes: tuple[str, ...] = ()


def parse_reading(text: str, *, kind: str = "", observed: str = "") -> Reading:
    """Lab, LCh or XYZ with conditions, a spectrum, a notation or #rrggbb.

    Examples: "L 62.1 a 1.2 b 8.3 D50/2", "XYZ 30,1 31,2 25,0 (D65/10) M1", "62.1 1.2 8.3",
    "5Y 7/1", a line for each wavelength such as "400 0.31", "from 400 step 10: 31.0 33.1 ...".

    `kind` ("lab", "lch" or "xyz") and `observed` are what the form beside the text says; what the
    text itself says goes before them. Raises InputError with one line that says what is wrong.
    """
    try:
        return reading_in(text, kind, observed)
    except RowError as error:
        raise refuse(str(error), "") from error


def reading_in(text: str, kind: str, observed: str) -> Reading:
    tidy = text.translate(MINUS_SIGNS).strip()
    if len(tidy) > LONGEST:
        raise RowError(f"more than {LONGEST:,} characters are no reading")
    if notation := tidy_notation(tidy):
        return Reading(Notation(notation))
    if HEX.fullmatch(tidy) and not tidy.isdecimal():
        return Reading(hex_colour(tidy), ("a screen colour: D65 and 2 degrees",))
    rest, told, notes = without_conditions(tidy)
    if kind not in MAKERS and looks_spectral(rest):
        made = pasted_spectrum(rest)
        return Reading(made.reflectance, (*notes, *made.notes))
    return three_numbers(rest, kind, told or observed_on_form(observed), notes)


def without_conditions(text: str) -> tuple[str, str, tuple[str, ...]]:
    """The text without its conditions, the illuminant/observer it names, and notes on M0..M3."""
    m = m_condition_of(text)
    notes = (ABOUT_M[m],) if m else ()
    rest = M_WORD.sub(" ", text)
    found = OBSERVED.search(rest)
    if not found:
        return rest, "", notes
    told = observed_of(found[0])
    if told is None:
        raise RowError(f"{shown(found[0])} is no CIE illuminant and observer, such as D50/2")
    return rest.replace(found[0], " ", 1), told, notes


def observed_on_form(observed: str) -> str:
    found = observed_of(observed) if observed else ""
    if found is None:
        raise RowError(f"{shown(observed)} is no CIE illuminant and observer, such as D50/2")
    return found


def looks_spectral(text: str) -> bool:
    """Whether there are too many words for three numbers."""
    return len(re.findall(r"\d[\d.,]*", text)) >= FEWEST


def three_numbers(text: str, kind: str, observed: str, notes: tuple[str, ...]) -> Reading:
    named = kind_named(text)
    which = named or kind or "lab"
    values = numbers_among(LETTER.sub(" ", LABEL.sub(" ", text)))
    if len(values) != len("Lab") or which not in MAKERS:
        raise RowError(
            f"three numbers are needed, such as L 62.1 a 1.2 b 8.3 D50/2; found {len(values)}"
        )
    taken = list(notes)
    if not named and not kind:
        taken.append("three numbers without a name: taken as L*, a*, b*")
    if not observed:
        taken.append(f"nothing says under which light: taken as {DEFAULT_OBSERVED}")
    first, second, third = values
    return Reading(MAKERS[which](first, second, third, observed or DEFAULT_OBSERVED), tuple(taken))


def kind_named(text: str) -> str:
    """The kind that a text names, by a word ("Lab") or by letters before its numbers."""
    label = LABEL.search(text)
    letters = label[1] if label else "".join(LETTER.findall(text))
    tidy = re.sub(r"[\s*°]", "", letters).lower().replace("hab", "h")
    return tidy if tidy in MAKERS else ""
