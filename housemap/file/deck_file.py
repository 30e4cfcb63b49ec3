"""Decks as files: TOML of `[paint.*]` tables, each as in a house file."""

from collections.abc import Iterator, Mapping
from os import PathLike, fspath
from typing import Any

from housemap.errors import HouseFileError, Problem
from housemap.file.deck_lines import quick_deck
from housemap.file.reader import (
    check_format,
    decode,
    parse_toml,
    placed,
    printable,
    read_bytes,
)
from housemap.file.save import save_bytes
from housemap.file.writer import literal
from housemap.model.house import FORMAT, Paint
from housemap.model.kinds import Path, below
from housemap.model.records import TableOf, nearest
from housemap.model.rules import sentence
from housemap.model.schema import PAINT, SOME_ID, TABLES

MOST_BYTES = 32 * 2**20
"""10,000 paints with spectra take 4 MiB."""
MOST_PAINTS = 50_000
PAINTS = TableOf(PAINT, SOME_ID, MOST_PAINTS)
KNOWN = ("format", "house", *(table.key for table in TABLES))


def read_deck(path: str | PathLike[str]) -> dict[str, Paint]:
    """Read the paints of a deck, or those of a house file. Raises HouseFileError."""
    name = fspath(path)
    return parse_deck(decode(read_bytes(name, MOST_BYTES, "a deck"), name), name)


def parse_deck(text: str, file_name: str = "") -> dict[str, Paint]:
    """Read paints by id, in the order of the text. Raises HouseFileError with all problems.

    `format` may be missing; of a house file the other tables are passed over.
    """
    place = printable(file_name)
    raw = quick_deck(text) or parse_toml(text, place)
    if "format" in raw:
        check_format(raw, text, place)
    found: list[Problem] = []

    def note(path: Path, phrase: str) -> None:
        found.append(Problem(sentence(path, phrase), path))

    for key in raw:
        if key not in KNOWN:
            note((key,), f"is not a known table; the nearest one is {nearest(key, KNOWN)}")
    paints: dict[str, Paint] = PAINTS.read(raw.get("paint", {}), below(note, "paint"))
    if not found:
        PAINTS.faults(paints, below(note, "paint"))
    if found:
        raise HouseFileError(placed(found, text, place))
    return paints


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
        raise HouseFileError([Problem(text, file=printable(fspath(path)))])
    data = dump_deck(paints).encode()
    return save_bytes(data, path, expected=expected, most=MOST_BYTES, what="a deck")
