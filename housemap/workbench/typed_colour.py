"""A colour as people write it down: a reading, a notation, an LRV, a name such as light brown."""

from collections.abc import Iterator
from typing import NamedTuple

from housemap.colorimetry.undertone import notation_of
from housemap.deck.colours import grey_of
from housemap.deck.typed import parse_reading
from housemap.errors import InputError
from housemap.model.house import ColourSource, Finish, Notation
from housemap.model.text import shown
from housemap.workbench.survey.vocabulary import COLOURS
from housemap.workbench.typed_paint import MOST_LRV, typed_paint

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
