"""Which kind of deck a source is, by what stands in it; its name says nothing."""

import re
import stat
from collections.abc import Mapping
from pathlib import Path

from housemap.deck.cgats import read_cgats
from housemap.deck.colours import observed_of
from housemap.deck.cxf import read_cxf3
from housemap.deck.reading import (
    LARGEST_BYTES,
    MARKS,
    DeckReading,
    Format,
    check_size,
    decode,
    one_line_end,
    refuse,
)
from housemap.deck.swatches import (
    JSON,
    PALETTE,
    hex_list,
    is_hex_list,
    json_table,
    palette,
    read_csv,
    read_rows,
)
from housemap.deck.table import Table
from housemap.model.text import clean_text, shown

HEAD_BYTES = 65_536
XML = re.compile(r"\s*<[?!\w]")
CGATS = re.compile(r"^[ \t]*BEGIN_DATA(_FORMAT)?\b|^(CGATS\.|ISO\s?28178|IT8\.)", re.MULTILINE)
TOML_DECK = re.compile(r"^\[(paint\.|house\]|finish\.|room\.)|^format\s*=\s*\d", re.MULTILINE)


def sniff(data: bytes) -> Format:
    """The kind of a source: what is neither XML, CGATS nor a house file's TOML is a table.

    A table is told to be CSV or TSV only when it is read; here it is "csv".
    """
    head = head_text(data)
    if XML.match(head):
        return "cxf"
    if CGATS.search(head):
        return "cgats"
    if TOML_DECK.search(head):
        return "deck"
    if JSON.match(head):
        return "json"
    if PALETTE.match(head.partition("\n")[0]):
        return "palette"
    return "list" if is_hex_list(head) else "csv"


def head_text(data: bytes) -> str:
    for mark, encoding, _ in MARKS:
        if data.startswith(mark):
            return one_line_end(data[:HEAD_BYTES].decode(encoding, errors="ignore"))
    return one_line_end(data[:HEAD_BYTES].decode("latin-1"))


def read_source(
    path: Path,
    *,
    columns: Mapping[str, str] | None = None,
    observed: str | None = None,
    deck: str | None = None,
) -> DeckReading:
    """Read a file of paints that is no deck yet; nothing is kept of one that cannot be read whole.

    See `read_csv` for `columns` and `observed`. `deck` is what the paints say they come from, the
    file's own name without its ending where it is None. Raises InputError.
    """
    name = clean_text(path.name) or "source"
    named = clean_text(path.stem) if deck is None else deck
    data = source_bytes(path, name)
    return read_bytes(data, name, columns=columns, observed=observed, deck=named)


def read_bytes(
    data: bytes,
    name: str,
    *,
    columns: Mapping[str, str] | None = None,
    observed: str | None = None,
    deck: str = "",
) -> DeckReading:
    """As `read_source`, of bytes from elsewhere; `name` stands in messages."""
    check_size(len(data), name)
    kind = sniff(data)
    under = checked_observed(observed, name)
    if columns and kind in {"cxf", "deck"}:
        raise refuse("only the columns of a table can be told what they mean", name)
    if kind == "cxf":
        return read_cxf3(data, name, observed=under, deck=deck)
    text, notes = decode(data, name)
    if kind == "deck":
        raise refuse("this is a deck or house file already; open it as it is", name)
    if kind == "cgats":
        reading = read_cgats(text, name, columns=columns, observed=under, deck=deck)
    elif kind == "csv":
        reading = read_csv(text, name, columns=columns, observed=under, deck=deck)
    else:
        table = swatch_table(kind, text, name)
        reading = read_rows(table, name, kind, columns=columns, observed=under, deck=deck)
    return reading.with_notes(notes)


def swatch_table(kind: Format, text: str, name: str) -> Table:
    """The rows of a list of screen colours. Raises InputError."""
    if kind == "json":
        return json_table(text, name)
    return palette(text) if kind == "palette" else hex_list(text)


def checked_observed(observed: str | None, name: str) -> str | None:
    """The illuminant/observer that a caller tells, spelled as house files spell it."""
    if not observed:
        return None
    found = observed_of(observed)
    if found is None:
        raise refuse(f"{shown(observed)} is no CIE illuminant and observer, such as D50/2", name)
    return found


def source_bytes(path: Path, name: str) -> bytes:
    """The bytes of a file of bearable size; raises InputError."""
    try:
        info = path.stat()
        if not (stat.S_ISREG(info.st_mode) or stat.S_ISFIFO(info.st_mode)):
            raise refuse("not a file", name)
        check_size(info.st_size, name)
        with path.open("rb") as file:
            return file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise refuse(f"cannot be read: {error.strerror or error}", name) from error
    except ValueError as error:
        # A path with a NUL in it.
        raise refuse("cannot be read: not the name of a file", name) from error
