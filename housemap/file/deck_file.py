"""Decks as files: TOML of `[paint.*]` tables, each as in a house file.

The user's decks are files in one folder, named by their stem, beside the built-in deck; a house
file is a deck too.
"""

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from os import PathLike, fspath
from pathlib import Path
from typing import Any, NamedTuple

from housemap.errors import HouseFileError, InputError, Problem
from housemap.file import kept
from housemap.file.paths import is_there, typed_path
from housemap.file.processes import in_two
from housemap.file.reader import check_format, decode, parse_toml, placed, printable, read_bytes
from housemap.file.save import save_bytes
from housemap.file.writer import literal
from housemap.model.fieldtypes import ID, KeyPath, Shape, TableOf, below, unknown_keys
from housemap.model.house import FORMAT, Paint
from housemap.model.schema import PAINT, TABLES
from housemap.model.text import clean_text, shown
from housemap.model.validation import sentence

MOST_BYTES = 32 * 2**20
"""10,000 paints with spectra take 4 MiB."""
MOST_PAINTS = 50_000
LARGE = 2**18
"""From so many characters on, reading TOML takes longer than all that is made of it."""
NEXT_PAINT = "\n[paint."
PAINTS = TableOf(PAINT, Shape(ID, "made of a-z, 0-9 and -"), MOST_PAINTS)
KNOWN = ("format", "house", *(table.key for table in TABLES))


def read_deck(path: str | PathLike[str]) -> dict[str, Paint]:
    """Read the paints of a deck, or those of a house file. Raises HouseFileError."""
    name = fspath(path)
    return parse_deck(decode(read_bytes(name, MOST_BYTES, "a deck"), name), name)


def parse_deck(text: str, file_name: str = "") -> dict[str, Paint]:
    """Read paints by id, in the order of the text. Raises HouseFileError with all problems.

    `format` may be missing; of a house file the other tables are passed over. Of a large deck
    another process reads half, where each half is a deck by itself.
    """
    middle = text.find(NEXT_PAINT, len(text) // 2) if len(text) >= 2 * LARGE else -1
    if middle >= 0:
        with suppress(HouseFileError):
            halves = text[:middle], text[middle:]
            one, other = in_two(lambda half: _parsed(half, file_name), halves, len(halves))
            if one.keys().isdisjoint(other) and len(one) + len(other) <= MOST_PAINTS:
                return one | other
    return _parsed(text, file_name)


def _parsed(text: str, file_name: str) -> dict[str, Paint]:
    place = printable(file_name)
    raw = _tables(text, place)
    if "format" in raw:
        check_format(raw, text, place)
    found: list[Problem] = []

    def note(path: KeyPath, phrase: str) -> None:
        found.append(Problem(sentence(path, phrase), path))

    unknown_keys(raw, KNOWN, note, "table")
    paints: dict[str, Paint] = PAINTS.read(raw.get("paint", {}), below(note, "paint"))
    if not found:
        PAINTS.faults(paints, below(note, "paint"))
    if found:
        raise HouseFileError(placed(found, text, place))
    return paints


def _tables(text: str, place: str) -> dict[str, Any]:
    """As `parse_toml`; those of a large deck are kept in the user's cache folder, as JSON."""
    if len(text) < LARGE:
        return parse_toml(text, place)
    key = kept.key_of("deck", repr(kept.program("file")).encode(), text.encode())
    with suppress(ValueError):
        tables: dict[str, Any] = json.loads(kept.recall(key) or b"")
        return tables
    tables = parse_toml(text, place)
    with suppress(TypeError):  # a date, which no deck may hold
        kept.keep(key, json.dumps(tables).encode())
    return tables


def dump_deck(paints: Mapping[str, Paint]) -> str:
    """Write a deck: the same paints in the same order always give the same text."""
    return "".join(f"{line}\n" for line in lines(paints))


def lines(paints: Mapping[str, Paint]) -> Iterator[str]:
    yield f"format = {FORMAT}"
    for id_, paint in paints.items():
        yield ""
        yield f"[paint.{id_}]"
        written: dict[str, Any] = PAINT.write(paint)
        for key, value in written.items():
            yield f"{key} = {literal(value)}"


def save_deck(
    paints: Mapping[str, Paint], path: str | PathLike[str], *, expected: str | None = None
) -> str:
    """Write a deck to a file, whole or not at all; return its fingerprint, as `save_house`.

    Raises HouseFileError also for more paints than can be read again.
    """
    if len(paints) > MOST_PAINTS:
        text = f"could not be saved: a deck holds at most {MOST_PAINTS:,} paints"
        raise HouseFileError.of(text, file=printable(fspath(path)))
    data = dump_deck(paints).encode()
    return save_bytes(data, path, expected=expected, most=MOST_BYTES, what="a deck")


# The user's decks

ENDING = ".toml"
FOLDER = "decks"
"""Below the user's data folder."""
LONGEST_NAME = 60
NAME = re.compile(r"[^\W_][\w .-]*")
"""What is a name and no path: no slash, and no dot at its head."""


class DeckFile(NamedTuple):
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
        raise InputError.of(f"{shown(name)} is the built-in deck: choose another name")
    if not NAME.fullmatch(name) or len(name) > LONGEST_NAME:
        line = f"a deck's name is up to {LONGEST_NAME} letters, digits, spaces, - and ."
        raise InputError.of(f"{line}; found {shown(name)}")
    return folder / FOLDER / f"{name}{ENDING}"


def find_deck(name: str, folder: Path, built_in: str) -> DeckFile:
    """The deck of that name, else the file of that path. Raises InputError where there is none."""
    decks = deck_files(folder, built_in)
    for deck in decks:
        if deck.name.casefold() == name.casefold():
            return deck
    path = typed_path(name)
    if is_there(path):
        return DeckFile(clean_text(path.stem), path)
    names = ", ".join(deck.name for deck in decks)
    line = f"there is no deck {shown(name)}, and no file of that name; there are {names}"
    raise InputError.of(line)


def read_deck_file(deck: DeckFile, built_in: Mapping[str, Paint]) -> Mapping[str, Paint]:
    """The paints of a deck. Raises HouseFileError with all that is wrong with its file."""
    if deck.path is None:
        return built_in
    paints = read_deck(deck.path)
    if not paints:
        raise HouseFileError.of("it holds no paint", file=deck.name)
    return paints
