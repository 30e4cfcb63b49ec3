"""The tables shipped beside the code, so that a house needs no half-second import.

`python -m tests.support.colour_tables` writes them anew from colour-science; a test holds the
shipped ones equal to it. The sources are CIE 15:2018 for observers, daylight and illuminants (the
LED series is CIE 015:2018 table 12) and Newhall, Nickerson & Judd 1943 with Judd & Wyszecki 1956
for the renotation, extended to the limits of real surfaces as colour-science carries it.
"""

from functools import cache
from pathlib import Path

import numpy as np

from housemap.colorimetry.arrays import Floats

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
