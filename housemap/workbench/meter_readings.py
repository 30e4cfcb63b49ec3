"""Readings of a colour meter as they are typed, one after another, and what they come to."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from housemap.choose.metameric_pairs import spread
from housemap.colorimetry.facts import ColourFacts, facts_or_errors
from housemap.deck.typed import Reading, mean_reading, parse_reading
from housemap.errors import InputError
from housemap.model.house import ColourSource

BLANK_LINES = re.compile(r"\n[ \t]*(?:\n[ \t]*)+")
MOST_READINGS = 50


@dataclass(frozen=True, slots=True)
class Entry:
    """One reading as typed: its colour, or what is wrong with it."""

    line: int
    """Where it begins, counted from 1."""
    reading: Reading | None = None
    colour: ColourFacts | None = None
    fault: str = ""
    apart: float | None = None
    """CIEDE2000 from the mean of all; None where there is no mean."""


@dataclass(frozen=True, slots=True)
class Metered:
    """Everything that was typed."""

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
        told = (note for entry in self.entries if entry.reading for note in entry.reading.notes)
        return tuple(dict.fromkeys(told))

    @property
    def widest(self) -> float | None:
        """The reading furthest from the mean; None for a single one."""
        apart = [entry.apart for entry in self.entries if entry.apart is not None]
        return max(apart) if len(apart) > 1 else None


def metered(text: str, observed: str) -> Metered:
    """What was typed: a reading a line, or a spectrum over several; blank lines keep them apart.

    `observed` is the illuminant and observer of readings that do not say.
    """
    entries = [_entry(line, block, observed) for line, block in blocks(text, observed)]
    known = [entry for entry in entries if entry.reading]
    made = facts_or_errors([entry.reading.source for entry in known if entry.reading])
    facts = dict(zip(map(id, known), made, strict=True))
    judged = tuple(_judged(entry, facts.get(id(entry))) for entry in entries)
    if not judged or any(entry.fault for entry in judged):
        return Metered(judged)
    return _averaged(judged)


def _entry(line: int, block: str, observed: str) -> Entry:
    try:
        return Entry(line, parse_reading(block, observed=observed))
    except InputError as error:
        return Entry(line, fault=str(error))


def _judged(entry: Entry, colour: ColourFacts | Exception | None) -> Entry:
    if isinstance(colour, ColourFacts):
        return replace(entry, colour=colour)
    return replace(entry, fault=entry.fault or str(colour))


def _averaged(entries: tuple[Entry, ...]) -> Metered:
    sources = [entry.reading.source for entry in entries if entry.reading]
    colours = [entry.colour for entry in entries if entry.colour]
    try:
        mean = sources[0] if len(sources) == 1 else mean_reading(sources)
    except InputError as error:
        return Metered(entries, fault=str(error))
    [colour] = facts_or_errors([mean])
    if not isinstance(colour, ColourFacts):
        return Metered(entries, fault=str(colour))
    apart = spread(colours, colour)
    told = (replace(entry, apart=de00) for entry, de00 in zip(entries, apart, strict=True))
    return Metered(tuple(told), mean, colour)


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
    """Whether a block of lines is a single reading, such as a spectrum; half typed ones are not."""
    try:
        parse_reading(part, observed=observed)
    except InputError:
        first = part.strip().split("\n", 1)[0]
        return not _parses(first, observed) and _looks_paired(part)
    return True


def _parses(text: str, observed: str) -> bool:
    try:
        parse_reading(text, observed=observed)
    except InputError:
        return False
    return True


def _looks_paired(part: str) -> bool:
    """Whether each line begins with a wavelength, or the first says where a spectrum starts."""
    lines = [line.strip() for line in part.strip().split("\n")]
    return "from" in lines[0].lower() or all(re.match(r"[3-9]\d\d\b", line) for line in lines)
