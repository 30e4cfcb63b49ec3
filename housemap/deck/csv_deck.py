"""Paints from a CSV or TSV text, whatever its columns are called and in whatever order."""

from collections.abc import Iterable, Mapping, Sequence

from housemap.deck.columns import check_columns, gives_colour, guesses, meanings_of
from housemap.deck.decoding import refuse
from housemap.deck.numbers import is_blank
from housemap.deck.reading import Column, DeckReading, Format
from housemap.deck.table import Table, Told, harvested, read_table, source_of, turned
from housemap.model.text import clean_text

SHOWN_HEADERS = 20
SHOWN_CHARACTERS = 40


def read_csv(
    text: str,
    name: str,
    *,
    columns: Mapping[str, str] | None = None,
    observed: str | None = None,
    deck: str = "",
) -> DeckReading:
    """Every paint of a table, the mapping it was read by, and every rejected row.

    `columns` says what columns mean, by header (`Column.header`), in the words of `MEANINGS`, or
    "400 nm" for a spectral one, or "" to leave it out; it overrides what would be found. `observed`
    is the illuminant/observer of Lab and XYZ where no column or header says. Raises InputError
    where there is no table, no colour or no paint, or `columns` names what does not exist.
    """
    table = turned(read_table(text, name))
    format_: Format = "tsv" if table.delimiter == "\t" else "csv"
    return read_rows(table, name, format_, columns=columns, observed=observed, deck=deck)


def read_rows(
    table: Table,
    name: str,
    format_: Format,
    *,
    columns: Mapping[str, str] | None = None,
    observed: str | None = None,
    deck: str = "",
) -> DeckReading:
    """As `read_csv`, of a table that is read already."""
    found = mapping_of(table, columns or {}, name)
    check_mapping(found, name)
    source, notes = source_of(table, found, Told(observed, deck=deck))
    harvest = harvested(table, found, source)
    return harvest.reading(format_, found, (*table.notes, *notes), name)


def mapping_of(table: Table, told: Mapping[str, str], name: str) -> tuple[Column, ...]:
    labels = unique(table.headers)
    check_columns(told, labels, name)
    headed = meanings_of(table.headers) if table.has_header else ("",) * len(labels)
    headed = tuple(
        told.get(label, "" if meaning in told.values() else meaning)
        for label, meaning in zip(labels, headed, strict=True)
    )
    cells = [[row.cells[i] for row in table.rows] for i in range(len(labels))]
    final = [
        "" if label in told else meaning
        for label, meaning in zip(labels, guesses(cells, headed), strict=True)
    ]
    return tuple(
        Column(label, known or guess, guessed=not known and bool(guess), example=example(column))
        for label, known, guess, column in zip(labels, headed, final, cells, strict=True)
    )


def unique(headers: Sequence[str]) -> list[str]:
    """Headers as names of columns: a second "b" becomes "b (2)"."""
    result: list[str] = []
    for header in headers:
        number = 1 + sum(header in (label, label.rpartition(" (")[0]) for label in result)
        result.append(header if number == 1 else f"{header} ({number})")
    return result


def example(cells: Iterable[str]) -> str:
    return clean_text(next((cell for cell in cells if not is_blank(cell)), ""), SHOWN_CHARACTERS)


def check_mapping(columns: Sequence[Column], name: str) -> None:
    meanings = [column.meaning for column in columns]
    if not gives_colour(meanings) and "LRV" not in meanings:
        found = ", ".join(column.header for column in columns[:SHOWN_HEADERS])
        raise refuse(
            "no column gives a colour: hex, rgb, Lab, XYZ, LCh, notation, a spectrum or an LRV is"
            f" needed; found {found}",
            name,
        )
