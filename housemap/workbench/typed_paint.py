"""A new paint out of whatever is known of it: LRV, hex, Lab, notation, readings of a meter.

"Heron #c9ccc4", "Stone 5Y 7/1 lrv 41", "Bark L 32 a 4 b 9 D65/10", "Cloud lrv 62"; or a name, and
on the lines after it readings, of which the mean counts, or a spectrum. A line such as "D50/2" says
under which light the readings were made that do not say. An LRV alone is a grey of that LRV.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

import numpy as np

from housemap.choose.metameric_pairs import spread
from housemap.colorimetry.facts import ColourFacts, colour_facts, facts_or_errors
from housemap.colorimetry.spaces import lightness
from housemap.colorimetry.undertone import notation_of
from housemap.deck.colours import GREY, grey_of, observed_of
from housemap.deck.typed import LABEL, LETTER, OBSERVED, Reading, mean_reading, parse_reading
from housemap.errors import ColourError, InputError
from housemap.model.house import ColourSource, Finish, Lab, Notation, Paint, Reflectance, Srgb, Xyz
from housemap.model.text import NAME_LENGTH, clean_text, shown
from housemap.study.parts import PRINTED_LRV_TRUSTED
from housemap.workbench.survey.vocabulary import COLOURS

# Readings of a meter, one after another, and what they come to

BLANK_LINES = re.compile(r"\n[ \t]*(?:\n[ \t]*)+")
MOST_READINGS = 50


class Entry(NamedTuple):
    """One reading as typed: its colour, or what is wrong with it."""

    line: int
    """Where it begins, counted from 1."""
    reading: Reading | None = None
    colour: ColourFacts | None = None
    fault: str = ""
    apart: float | None = None
    """CIEDE2000 from the mean of all; None where there is no mean."""


class Metered(NamedTuple):
    entries: tuple[Entry, ...] = ()
    mean: ColourSource | None = None
    """Of all readings; None while any of them is wrong, or they cannot be averaged."""
    colour: ColourFacts | None = None
    """Of the mean."""
    fault: str = ""
    """Why there is no mean of readings that are right each."""

    @property
    def notes(self) -> tuple[str, ...]:
        """What was taken for granted, each once."""
        notes = (note for entry in self.entries if entry.reading for note in entry.reading.notes)
        return tuple(dict.fromkeys(notes))

    @property
    def widest(self) -> float | None:
        """The reading furthest from the mean; None for a single one."""
        apart = [entry.apart for entry in self.entries if entry.apart is not None]
        return max(apart) if len(apart) > 1 else None


def metered(text: str, observed: str) -> Metered:
    """What was typed: a reading a line, or a spectrum over several; blank lines keep them apart.

    `observed` is the illuminant and observer of readings that do not say.
    """
    read = [(line, read_or_fault(block, observed)) for line, block in blocks(text, observed)]
    readings = [found for _, found in read if isinstance(found, Reading)]
    colours = iter(facts_or_errors([reading.source for reading in readings]))
    entries = []
    for line, found in read:
        colour = next(colours) if isinstance(found, Reading) else found
        reading = found if isinstance(found, Reading) else None
        if isinstance(colour, ColourFacts):
            entries.append(Entry(line, reading, colour))
        else:
            entries.append(Entry(line, reading, fault=str(colour)))
    if not entries or any(entry.fault for entry in entries):
        return Metered(tuple(entries))
    return _averaged(entries, [reading.source for reading in readings])


def read_or_fault(text: str, observed: str) -> Reading | str:
    """The reading in a text, or what is wrong with it."""
    try:
        return parse_reading(text, observed=observed)
    except InputError as error:
        return str(error)


def _averaged(entries: Sequence[Entry], sources: Sequence[ColourSource]) -> Metered:
    """With the mean, and how far each is from it."""
    try:
        mean = sources[0] if len(sources) == 1 else mean_reading(sources)
    except InputError as error:
        return Metered(tuple(entries), fault=str(error))
    [colour] = facts_or_errors([mean])
    if not isinstance(colour, ColourFacts):
        return Metered(tuple(entries), fault=str(colour))
    apart = spread([entry.colour for entry in entries if entry.colour], colour)
    judged = (entry._replace(apart=de00) for entry, de00 in zip(entries, apart, strict=True))
    return Metered(tuple(judged), mean, colour)


def blocks(text: str, observed: str) -> Iterator[tuple[int, str]]:
    """The readings of a text with the lines that they begin on."""
    line = 1
    found = 0
    for part in re.split(f"({BLANK_LINES.pattern})", text):
        if part.strip():
            for first, block in _readings(part, observed):
                found += 1
                if found <= MOST_READINGS:
                    yield line + first, block
        line += part.count("\n")


def _readings(part: str, observed: str) -> Sequence[tuple[int, str]]:
    """Lines that each are a reading; else all of them are one."""
    lines = [(i, text) for i, text in enumerate(part.split("\n")) if text.strip()]
    if len(lines) > 1 and not _is_one(part, observed):
        return lines
    return [(lines[0][0], "\n".join(text for _, text in lines))]


def _is_one(part: str, observed: str) -> bool:
    """Whether a block of lines is a single reading, such as a spectrum; half typed ones are not.

    One that cannot be read is, where each line begins with a wavelength, or the first says where a
    spectrum starts.
    """
    if isinstance(read_or_fault(part, observed), Reading):
        return True
    lines = [line.strip() for line in part.strip().split("\n")]
    if isinstance(read_or_fault(lines[0], observed), Reading):
        return False
    return "from" in lines[0].lower() or all(re.match(r"[3-9]\d\d\b", line) for line in lines)


# The paint

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


class Contradiction(NamedTuple):
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
        if self.readings.entries:
            return self.readings.notes
        return (GREY,) if self.lrv is not None else ()

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
    lines, observed = [], ""
    for line in (text[: found.start()] + text[found.end() :] if found else text).split("\n"):
        said = observed_of(line) if OBSERVED.fullmatch(line.strip()) else None
        observed = observed or said or ""
        lines.append("" if said else line)
    own, rest = _without_name(lines)
    return TypedPaint(_tidy(name) or own, metered(rest, observed), lrv)


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


# A colour as people write it down: a reading, a notation, an LRV, a name such as light brown.

UNNAMED = "floor"
"""What is kept and only has a colour is called so: all else has a word of its own."""


class NamedColour(NamedTuple):
    """What was typed of something that is kept: its name and colour."""

    name: str
    colour: ColourSource | None
    """None where the words give none."""
    lrv: float | None = None
    how: str = ""
    """How the colour was understood, as in "light brown, 6YR 5.5/4.5"."""

    @property
    def finish(self) -> Finish | None:
        named = self.name or UNNAMED
        name = named[:1].upper() + named[1:]
        return Finish(name, self.colour, self.lrv) if self.colour else None


def named_colour(text: str) -> NamedColour:
    """A name with a colour: "oak 10YR 6/4", "grey carpet", "stone lrv 35". Raises InputError."""
    typed = typed_paint(text)
    if typed.readings.entries or typed.lrv is not None:
        if typed.colour is None:
            raise InputError.of(typed.fault)
        how = "a grey of that LRV" if not typed.readings.entries else ""
        return NamedColour(typed.name, typed.colour, typed.lrv, how)
    words = text.split()
    for start, end in _runs(len(words)):
        said = " ".join(words[start:end])
        if notation := notation_of(said):
            rest = words[:start] if start and end == len(words) else words
            return NamedColour(" ".join(rest), Notation(notation), None, f"{said}, {notation}")
    return NamedColour(" ".join(words), None)


def _runs(count: int) -> Iterator[tuple[int, int]]:
    """Every run of some words, the longest first."""
    for size in range(count, 0, -1):
        yield from ((start, start + size) for start in range(count - size + 1))


def colour_of(text: str) -> ColourSource:
    """A colour alone. Raises InputError with one phrase that says what would be right."""
    if notation := notation_of(text):
        return Notation(notation)
    typed = typed_paint(text)
    if not typed.readings.entries and typed.lrv is not None and typed.lrv <= MOST_LRV:
        return grey_of(typed.lrv)
    try:
        return parse_reading(text).source
    except InputError as error:
        if any(letter.isdecimal() for letter in text):
            raise
        raise InputError.of(f"{shown(text)} is no colour: write it as {COLOURS}") from error
