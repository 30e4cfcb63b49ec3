"""A new paint out of whatever is known of it: LRV, hex, Lab, notation, readings of a meter.

"Heron #c9ccc4", "Stone 5Y 7/1 lrv 41", "Bark L 32 a 4 b 9 D65/10", "Cloud lrv 62"; or a name, and
on the lines after it readings, of which the mean counts, or a spectrum. A line such as "D50/2" says
under which light the readings were made that do not say. An LRV alone is a grey of that LRV.
"""

import re
from dataclasses import dataclass, field, replace

import numpy as np

from housemap.colorimetry.facts import colour_facts
from housemap.colorimetry.spaces import lightness
from housemap.deck.colours import GREY, grey_of, observed_of
from housemap.deck.typed import LABEL, LETTER, OBSERVED
from housemap.errors import ColourError
from housemap.model.house import (
    ColourSource,
    Finish,
    Lab,
    Notation,
    Paint,
    Reflectance,
    Srgb,
    Xyz,
)
from housemap.model.text import NAME_LENGTH, clean_text
from housemap.study.parts import PRINTED_LRV_TRUSTED
from housemap.workbench.meter_readings import Metered, metered

MOST_LRV = 100.0
LRV_OBSERVED = "D65/10"
"""The conditions of an LRV, and of `ColourFacts.lab100`."""
FROM_LRV = "lightness from its LRV"
_LRV = re.compile(r"\blrv\s*[:=]?\s*(\d+(?:[.,]\d+)?)(?![\w.,])", re.IGNORECASE)
_COLOUR = re.compile(
    r"#(?:[0-9a-f]{6}|[0-9a-f]{3})\b"
    r"|(?<![\w.,])(?:\d+(?:[.,]\d+)?\s?(?:R|YR|Y|GY|G|BG|B|PB|P|RP)\s+\d+(?:[.,]\d+)?\s*/\s*"
    r"\d+(?:[.,]\d+)?|N\s?\d+(?:[.,]\d+)?\s*/)(?![\w.,])",
    re.IGNORECASE,
)
"""A hex or a notation."""


@dataclass(frozen=True, slots=True)
class Contradiction:
    """The colour gives another LRV than the one that was typed."""

    entity: Paint | Finish
    typed: float
    computed: float

    @property
    def question(self) -> str:
        source = self.entity.colour
        kind = {Srgb: "hex", Notation: "notation"}.get(type(source), "reading")
        return (
            f"{self.entity.name}: the {kind} gives LRV {self.computed:.0f},"
            f" you typed {self.typed:.0f}. Which is right?"
        )

    def by_colour(self) -> Paint | Finish:
        """The colour is right: its own LRV holds, and none is kept beside it."""
        return replace(self.entity, lrv=None)

    def by_lrv(self) -> Paint | Finish:
        """The LRV is right: the colour keeps hue and chroma and becomes as light as that says."""
        _, a, b = colour_facts([self.entity.colour])[0].lab100
        level = float(lightness(np.array(self.typed)))
        colour = Lab((round(level, 3), round(a, 3), round(b, 3)), LRV_OBSERVED)
        if isinstance(self.entity, Paint):
            return replace(self.entity, colour=colour, derived=FROM_LRV)
        return replace(self.entity, colour=colour)


def contradiction(entity: Paint | Finish) -> Contradiction | None:
    """None where no LRV was typed, where it fits, and where the colour cannot be."""
    if entity.lrv is None:
        return None
    try:
        [facts] = colour_facts([entity.colour])
    except ColourError:
        return None
    if abs(facts.lrv - entity.lrv) <= PRINTED_LRV_TRUSTED:
        return None
    return Contradiction(entity, entity.lrv, facts.lrv)


@dataclass(frozen=True, slots=True)
class TypedPaint:
    """What was typed of a paint: all that can be made of it so far, and what is missing."""

    name: str = ""
    readings: Metered = field(default_factory=Metered)
    lrv: float | None = None

    @property
    def fault(self) -> str:
        """What is missing or wrong, in one line; empty for a whole paint."""
        wrong = [entry.fault for entry in self.readings.entries if entry.fault]
        if self.lrv is not None and self.lrv > MOST_LRV:
            return f"An LRV is 0 to 100, found {self.lrv:g}."
        if wrong or self.readings.fault:
            return (wrong or [self.readings.fault])[0]
        if self.colour is None:
            return "A paint needs a colour or an LRV: #c9ccc4, 5Y 7/1 or lrv 62."
        return "" if self.name else "A paint needs a name."

    @property
    def colour(self) -> ColourSource | None:
        """The mean of the readings, else a grey of the LRV; None where neither can be made."""
        if self.readings.entries:
            return self.readings.mean
        return grey_of(self.lrv) if self.lrv is not None and self.lrv <= MOST_LRV else None

    @property
    def assumed(self) -> tuple[str, ...]:
        """What was taken for granted."""
        return self.readings.notes or ((GREY,) if self.lrv is not None else ())

    @property
    def paint(self) -> Paint | None:
        """None while something is missing."""
        if self.fault or self.colour is None:
            return None
        derived = "" if self.readings.entries else GREY
        return Paint(self.name, self.colour, lrv=self.lrv, derived=derived, notes=self._measured)

    @property
    def finish(self) -> Finish | None:
        """The same as a finish: a floor, a tile, a top, a cloth."""
        made = self.paint
        return Finish(made.name, made.colour, made.lrv, made.notes) if made else None

    @property
    def _measured(self) -> str:
        """How it was measured, for whoever reads the house file."""
        found = self.readings
        if not isinstance(found.mean, Lab | Xyz | Reflectance):
            return ""
        count = f"mean of {len(found.entries)} readings" if found.widest else "one reading"
        under = "" if isinstance(found.mean, Reflectance) else f" under {found.mean.observed}"
        spread = f", at most {found.widest:.2f} CIEDE2000 from it" if found.widest else ""
        return count + under + spread


def typed_paint(text: str, name: str = "") -> TypedPaint:
    """Read what was typed; a name that is given goes before one in the text."""
    found = _LRV.search(text)
    lrv = float(found[1].replace(",", ".")) if found else None
    lines = (text[: found.start()] + text[found.end() :] if found else text).split("\n")
    conditions = {at: told for at, line in enumerate(lines) if (told := _conditions(line))}
    lines = ["" if at in conditions else line for at, line in enumerate(lines)]
    own, rest = _without_name(lines)
    observed = next(iter(conditions.values()), "")
    return TypedPaint(_tidy(name) or own, metered(rest, observed), lrv)


def _conditions(line: str) -> str | None:
    return observed_of(line) if OBSERVED.fullmatch(line.strip()) else None


def _without_name(lines: list[str]) -> tuple[str, str]:
    """The name in the first line that says something, and the text without it."""
    at = next((at for at, line in enumerate(lines) if line.strip()), 0)
    line = lines[at]
    if found := _COLOUR.search(line):
        name, colour = f"{line[: found.start()]} {line[found.end() :]}", found[0]
    else:
        starts = [each.start() for each in (LABEL.search(line), LETTER.search(line)) if each]
        no_digits = not any(char.isdecimal() for char in line)
        start = min(starts, default=len(line) if no_digits else 0)
        name, colour = line[:start], line[start:]
    return _tidy(name), "\n".join([*lines[:at], colour, *lines[at + 1 :]])


def _tidy(text: str) -> str:
    return clean_text(text.strip(" ,;:-"), NAME_LENGTH)
