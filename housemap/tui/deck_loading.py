"""A deck read and its colours computed beside the screen, block by block."""

from collections.abc import Iterator
from dataclasses import dataclass

from textual.message import Message

from housemap.choose.deck.chips import Chips, growing_chips
from housemap.deck.notation_deck import notation_deck
from housemap.file.deck_file import DeckFile, read_deck_file


@dataclass
class DeckGrown(Message):
    """A deck has been read, and more of its colours are known."""

    deck: DeckFile
    paints: int
    """How many it has."""
    chips: Chips
    done: bool


def grow_deck(deck: DeckFile) -> Iterator[Message]:
    """Read a deck and tell its chips, more each time. Raises HouseFileError."""
    paints = read_deck_file(deck, {} if deck.path else notation_deck())
    for chips in growing_chips(paints):
        known = len(chips) + len(chips.faults)
        yield DeckGrown(deck, len(paints), chips, done=known == len(paints))
