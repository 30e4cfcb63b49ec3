"""What the keywords of a CGATS.17 table say about how it was measured."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from housemap.deck.cgats_text import Section
from housemap.deck.columns import NM
from housemap.deck.conditions import (
    ABOUT_M,
    GRAPHIC_ARTS,
    illuminant_of,
    m_condition_of,
    observed_of,
    observer_of,
)
from housemap.deck.decoding import refuse
from housemap.deck.reading import Column
from housemap.deck.tabular import WITH_OBSERVER
from housemap.model.text import shown

CONDITION_WORDS = ("WEIGHTING", "ILLUM", "OBSERVER", "MEASUREMENT", "FILTER", "COMPUTATION")
NO_SURFACE = re.compile(r"emission|emissive|transmi|ambient|radian", re.IGNORECASE)
ILLUMINATION = re.compile(r"illum\w*\s*[=,:]\s*([\w-]+)", re.IGNORECASE)
OBSERVER = re.compile(r"observer\w*\s*[=,:]\s*(\d+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Conditions:
    """What the keywords of a table say about its measurement; empty where they say nothing."""

    illuminant: str = ""
    observer: str = ""
    m: str = ""
    unknown: str = ""
    """An illuminant that is named and is none of the CIE's."""

    @property
    def observed(self) -> str | None:
        """What Lab and XYZ refer to; a missing half is that of ISO 13655."""
        if self.unknown or not (self.illuminant or self.observer):
            return None
        light, _, angle = GRAPHIC_ARTS.partition("/")
        return f"{self.illuminant or light}/{self.observer or angle}"


def check_surface(section: Section, name: str) -> None:
    for keyword, value in section.keywords:
        if keyword.startswith(CONDITION_WORDS) and NO_SURFACE.search(value):
            raise refuse(
                f"{keyword} {shown(value)}: light or a transparency was measured, not a surface",
                name,
                section.line,
            )


def conditions_in(section: Section, before: Conditions) -> Conditions:
    """What a table's keywords say, over what the table before it said."""
    found = before
    for keyword, value in section.keywords:
        if keyword.startswith(CONDITION_WORDS):
            light, angle = pair_in(keyword, value)
            illuminant = illuminant_of(light)
            found = Conditions(
                illuminant or found.illuminant,
                observer_of(angle) or found.observer,
                m_condition_of(value) or found.m,
                light if light and not illuminant else found.unknown,
            )
    return found


def pair_in(keyword: str, value: str) -> tuple[str, str]:
    """The illuminant and the observer as a keyword names them; empty where it does not."""
    if whole := observed_of(value):
        illuminant, _, observer = whole.partition("/")
        return illuminant, observer
    lights, angles = ILLUMINATION.search(value), OBSERVER.search(value)
    light = value if keyword.startswith("ILLUM") else lights[1] if lights else ""
    angle = value if keyword.startswith("OBSERVER") else angles[1] if angles else ""
    return light, angle


def observed_of_table(
    mapping: Sequence[Column], conditions: Conditions, told: str | None, name: str
) -> str:
    """What Lab and XYZ of a table refer to; raises InputError for an unknown illuminant."""
    if conditions.unknown and not told and needs_observer(mapping):
        raise refuse(
            f"measured under {shown(conditions.unknown)}, which is no CIE illuminant; say which "
            "illuminant and observer its values refer to, such as D50/2",
            name,
        )
    return conditions.observed or told or GRAPHIC_ARTS


def needs_observer(mapping: Sequence[Column]) -> bool:
    """Whether the colour of a table depends on the light it was computed for."""
    meanings = {column.meaning for column in mapping}
    return bool(meanings & WITH_OBSERVER) and not any(m.endswith(NM) for m in meanings)


def condition_notes(mapping: Sequence[Column], conditions: Conditions, observed: str) -> list[str]:
    notes = [ABOUT_M[conditions.m]] if conditions.m else []
    if not needs_observer(mapping):
        return [*notes, "spectra need no illuminant: colour is computed for D65 and 10 degrees"]
    if conditions.observed == observed:
        return [*notes, f"measured under {observed}"]
    return [*notes, f"nothing says under which light: taken as {observed}"]
