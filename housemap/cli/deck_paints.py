"""The paints of a deck that a command was given."""

import sys

from housemap.choose.chips import Chips, all_chips
from housemap.deck.notation_deck import NAME, notation_deck
from housemap.file.deck_file import DeckFile, find_deck, read_deck_file
from housemap.workbench.folders import data_folder


def deck_chips(wanted: str) -> tuple[DeckFile, Chips]:
    """A deck by its name or path, with its colours; a line for each left out. Raises InputError."""
    deck = find_deck(wanted, data_folder(), NAME)
    chips = all_chips(read_deck_file(deck, {} if deck.path else notation_deck()))
    for id_, fault in chips.faults.items():
        print(f'paint "{id_}" left out: {fault}', file=sys.stderr)
    return deck, chips
