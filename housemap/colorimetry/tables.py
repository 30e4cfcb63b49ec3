"""The tables shipped beside the code, so that a house needs no half-second import.

`python -m housemap.colorimetry.tables` writes them anew from colour-science; a test holds the
shipped ones equal to it. The sources are CIE 15:2018 for observers, daylight and illuminants (the
LED series is CIE 015:2018 table 12) and Newhall, Nickerson & Judd 1943 with Judd & Wyszecki 1956
for the renotation, extended to the limits of real surfaces as colour-science carries it.
"""

from functools import cache
from pathlib import Path

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.model.notation import hue_number

ILLUMINANTS = (
    "A", "C", "D50", "D55", "D65", "D75",
    "LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-BH1", "LED-RGB1", "LED-V1", "LED-V2",
)  # fmt: skip
"""The illuminants that houses need often; the others are asked of colour-science."""
FOLDER = Path(__file__).parent / "data"
SPECTRA, RENOTATION = "spectra.csv", "renotation.csv"


@cache
def load(name: str) -> dict[str, Floats]:
    """The columns of a shipped table of numbers by their headings."""
    head, *rows = lines(name)
    return dict(zip(head.split(","), np.loadtxt(rows, delimiter=",").T, strict=True))


def lines(name: str) -> list[str]:
    """The lines of a shipped table, headings first."""
    return (FOLDER / name).read_text("ascii").splitlines()


def spectra_csv() -> str:
    """380(5)780 nm against observers, daylight basis and illuminants, as text."""
    from housemap.colorimetry import science  # noqa: PLC0415 - slow; only to write tables

    columns = {"nm": science.FINE_NM}
    for degrees in (2, 10):
        for axis, values in zip("xyz", science.observer(degrees).T, strict=True):
            columns[f"{axis}{degrees}"] = values
    for i, values in enumerate(science.daylight_basis().T):
        columns[f"S{i}"] = values
    columns |= {name: science.illuminant(name) for name in ILLUMINANTS}
    rows = np.column_stack(list(columns.values()))
    return _csv(list(columns), rows.tolist())


def renotation_csv() -> str:
    """ASTM hue 0..100, value, chroma, x and y (illuminant C, 2 degrees), as text."""
    from housemap.colorimetry import science  # noqa: PLC0415 - slow; only to write tables

    rows = [
        [hue_number(hue.lstrip("0123456789."), float(hue.rstrip("RYGBP"))), value, chroma, x, y]
        for hue, value, chroma, x, y in science.renotation()
    ]
    return _csv(["hue100", "value", "chroma", "x", "y"], sorted(rows))


def _csv(head: list[str], rows: list[list[float]]) -> str:
    lines = [",".join(head)]
    lines += [",".join(f"{value:.12g}" for value in row) for row in rows]
    return "\n".join(lines) + "\n"


def main() -> None:
    for name, text in ((SPECTRA, spectra_csv()), (RENOTATION, renotation_csv())):
        (FOLDER / name).write_text(text, "ascii")


if __name__ == "__main__":
    main()
