"""Tables of spectra that stand the other way round: wavelengths down, paints across."""

from collections.abc import Sequence

from housemap.deck.columns import plain, wavelength_nm
from housemap.deck.csv_table import Row, Table

DOWN = {"nm", "wavelength", "wavelength nm", "wl", "lambda", "λ", "wave length", ""}
FEWEST_ROWS = 16


def turned(table: Table) -> Table:
    """A table with a paint a row; as it is where it has that already.

    The line of each row is then that of the header, where the paint's name stands.
    """
    if not wavelengths_run_down(table):
        return table
    first = min(row.line for row in table.rows)
    across = zip(*(row.cells for row in table.rows), strict=True)
    nm, *spectra = across
    rows = tuple(
        Row(first - 1, (name, *spectrum))
        for name, spectrum in zip(table.headers[1:], spectra, strict=True)
    )
    note = "wavelengths run down: each column is a paint"
    return Table(
        ("name", *nm), rows, table.delimiter, has_header=True, rejected=table.rejected,
        notes=(*table.notes, note),
    )  # fmt: skip


def wavelengths_run_down(table: Table) -> bool:
    if len(table.rows) < FEWEST_ROWS or not table.has_header:
        return False
    if len(table.headers) == 1:
        return False
    return plain(table.headers[0]) in DOWN and all_wavelengths([r.cells[0] for r in table.rows])


def all_wavelengths(cells: Sequence[str]) -> bool:
    return all(wavelength_nm(cell) is not None for cell in cells)
