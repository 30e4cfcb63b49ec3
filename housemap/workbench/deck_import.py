"""Any file of paints as a deck: a table, a meter's file, CxF, a deck or a house."""

from collections.abc import Mapping
from pathlib import Path

from housemap.deck.reading import DeckReading, refuse
from housemap.deck.sources import checked_observed, read_bytes, sniff, source_bytes
from housemap.errors import InputError
from housemap.file.deck_file import MOST_BYTES, parse_deck
from housemap.file.reader import decode
from housemap.model.text import clean_text

NOT_OF_A_DECK = "a deck says itself what its colours are: nothing else can be told of it"


def read_paints(
    path: Path,
    *,
    columns: Mapping[str, str] | None = None,
    observed: str | None = None,
    deck: str | None = None,
) -> DeckReading:
    """The paints of a file of any kind; nothing of one that cannot be read whole.

    `columns` says what columns mean by their header, `observed` under which light Lab and XYZ were
    measured where the file does not say, `deck` what its paints say they come from (the file's
    name without its ending where it is None). Raises InputError with all that is wrong.
    """
    name = clean_text(path.name) or "source"
    data = source_bytes(path, name)
    if sniff(data) != "deck":
        named = clean_text(path.stem) if deck is None else deck
        return read_bytes(data, name, columns=columns, observed=observed, deck=named)
    if columns or checked_observed(observed, name):
        raise refuse(NOT_OF_A_DECK, name)
    if len(data) > MOST_BYTES:
        raise refuse(f"too large: a deck is at most {MOST_BYTES // 2**20} MiB", name)
    paints = parse_deck(decode(data, name), name)
    if not paints:
        raise InputError.of("it holds no paint", file=name)
    return DeckReading(paints, "deck", ())
