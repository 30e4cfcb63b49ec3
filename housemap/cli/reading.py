"""Reading house files for a command, with everything wrong with all of them listed at once."""

import sys
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from housemap.choose.chips import Chips, all_chips
from housemap.deck.notation_deck import NAME, notation_deck
from housemap.errors import InputError, Problem
from housemap.file.deck_file import DeckFile, find_deck, read_deck_file
from housemap.file.reader import read_house
from housemap.model.house import House
from housemap.workbench.folders import data_folder

T = TypeVar("T")


def each_house(files: Iterable[Path], compute: Callable[[House], T]) -> list[tuple[str, T]]:
    """What `compute` makes of each house, beside its file's name. Raises InputError."""
    made: list[tuple[str, T]] = []
    problems: list[Problem] = []
    for file in files:
        try:
            made.append((str(file), compute(read_house(file))))
        except InputError as error:
            problems += (replace(p, file=p.file or str(file)) for p in error.problems)
    if problems:
        raise InputError(problems)
    return made


def one_house(file: Path, compute: Callable[[House], T]) -> T:
    """What `compute` makes of the house in `file`. Raises InputError."""
    [(_, made)] = each_house([file], compute)
    return made


def deck_chips(wanted: str) -> tuple[DeckFile, Chips]:
    """A deck by its name or path, with its colours; a line for each left out. Raises InputError."""
    deck = find_deck(wanted, data_folder(), NAME)
    chips = all_chips(read_deck_file(deck, {} if deck.path else notation_deck()))
    for id_, fault in chips.faults.items():
        print(f'paint "{id_}" left out: {fault}', file=sys.stderr)
    return deck, chips
