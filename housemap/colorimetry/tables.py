"""The tables shipped beside the code, so that a house needs no half-second import.

`python -m housemap.colorimetry.tables` writes them anew from colour-science; a test holds the
shipped ones equal to it. The sources are CIE 15:2018 for observers, daylight and illuminants (the
LED series is CIE 015:2018 table 12) and Newhall, Nickerson & Judd 1943 with Judd & Wyszecki 1956
for the renotation, extended to the limits of real surfaces as colour-science carries it.
"""

from functools import cache
from importlib.resources import files
from pathlib import Path

import numpy as np

from housemap.colorimetry.arrays import Floats

ILLUMINANTS = (
    "A", "C", "D50", "D55", "D65", "D75",
    "LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-BH1", "LED-RGB1", "LED-V1", "LED-V2",
)  # fmt: skip
"""The illuminants that houses need often; the others are asked of colour-science."""
SPECTRA, RENOTATION = "spectra.csv", "renotation.csv"
HUES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")


@cache
def load(name: str) -> dict[str, Floats]:
    """The columns of a shipped table by their headings."""
    text = files("housemap.colorimetry").joinpath("data", name).read_text("ascii").splitlines()
    values = np.loadtxt(text[1:], delimiter=",")
    return dict(zip(text[0].split(","), values.T, strict=True))


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

    rows = [[hue100(hue), value, chroma, x, y] for hue, value, chroma, x, y in science.renotation()]
    return _csv(["hue100", "value", "chroma", "x", "y"], sorted(rows))


def hue100(hue: str) -> float:
    """ASTM D1535 hue number 0..100 of a hue such as "2.5GY"; 10RP is 0 and 5R is 5."""
    letters = hue.lstrip("0123456789.")
    number = float(hue.removesuffix(letters))
    return (10.0 * HUES.index(letters) + number) % 100.0


def _csv(head: list[str], rows: list[list[float]]) -> str:
    lines = [",".join(head)]
    lines += [",".join(f"{value:.12g}" for value in row) for row in rows]
    return "\n".join(lines) + "\n"


def main() -> None:
    folder = Path(__file__).parent / "data"
    for name, text in ((SPECTRA, spectra_csv()), (RENOTATION, renotation_csv())):
        (folder / name).write_text(text, "ascii")


if __name__ == "__main__":
    main()
