"""The user's decks: files in one folder, named by their stem, and the built-in deck.

A deck is asked for by its name or by the path of a file; a house file is a deck too.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from housemap.errors import HouseFileError, InputError, Problem
from housemap.file.deck_file import read_deck
from housemap.model.house import Paint
from housemap.model.text import clean_text, shown

ENDING = ".toml"
FOLDER = "decks"
"""Below the user's data folder."""
LONGEST_NAME = 60
NAME = re.compile(r"[^\W_][\w .-]*")
"""What is a name and no path: no slash, and no dot at its head."""


@dataclass(frozen=True, slots=True)
class DeckFile:
    """A deck that can be opened."""

    name: str
    path: Path | None
    """None: the built-in deck."""


def deck_files(folder: Path, built_in: str) -> tuple[DeckFile, ...]:
    """The built-in deck, then the user's own by name; a folder that is not there has none."""
    try:
        found = sorted((folder / FOLDER).glob(f"*{ENDING}"), key=lambda path: path.stem.casefold())
    except OSError:
        found = []
    own = (DeckFile(clean_text(path.stem), path) for path in found if path.is_file())
    return DeckFile(built_in, None), *own


def deck_path(folder: Path, name: str, built_in: str) -> Path:
    """Where a deck of that name is kept. Raises InputError for what can be no name."""
    if name.casefold() == built_in.casefold():
        raise InputError([Problem(f"{shown(name)} is the built-in deck: choose another name")])
    if not NAME.fullmatch(name) or len(name) > LONGEST_NAME:
        line = f"a deck's name is up to {LONGEST_NAME} letters, digits, spaces, - and ."
        raise InputError([Problem(f"{line}; found {shown(name)}")])
    return folder / FOLDER / f"{name}{ENDING}"


def find_deck(wanted: str, folder: Path, built_in: str) -> DeckFile:
    """The deck of that name, else the file of that path. Raises InputError where there is none."""
    decks = deck_files(folder, built_in)
    for deck in decks:
        if deck.name.casefold() == wanted.casefold():
            return deck
    path = Path(wanted).expanduser()
    if path.exists():
        return DeckFile(clean_text(path.stem), path)
    names = ", ".join(deck.name for deck in decks)
    line = f"there is no deck {shown(wanted)}, and no file of that name; there are {names}"
    raise InputError([Problem(line)])


def read_deck_file(deck: DeckFile, built_in: Mapping[str, Paint]) -> Mapping[str, Paint]:
    """The paints of a deck. Raises HouseFileError with all that is wrong with its file."""
    if deck.path is None:
        return built_in
    paints = read_deck(deck.path)
    if not paints:
        raise HouseFileError([Problem("it holds no paint", file=deck.name)])
    return paints
