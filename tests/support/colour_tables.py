"""The tables of `housemap/colorimetry/data`, made of colour-science.

`python -m tests.support.colour_tables` writes them anew.
"""

import numpy as np

from housemap.colorimetry.science import FINE_NM, illuminant
from housemap.colorimetry.tables import FOLDER, ILLUMINANTS, RENOTATION, SPECTRA
from housemap.model.notation import hue_number
from tests.support.science import SCIENCE

OBSERVERS = {
    2: "CIE 1931 2 Degree Standard Observer",
    10: "CIE 1964 10 Degree Standard Observer",
}


def spectra_csv() -> str:
    """380(5)780 nm against observers, daylight basis (CIE 15:2018 table 6) and illuminants."""
    columns = {"nm": FINE_NM}
    for degrees, name in OBSERVERS.items():
        for axis, values in zip("xyz", SCIENCE.MSDS_CMFS[name][FINE_NM].T, strict=True):
            columns[f"{axis}{degrees}"] = values
    basis = SCIENCE.colorimetry.SDS_BASIS_FUNCTIONS_CIE_ILLUMINANT_D_SERIES
    columns |= {name: basis[name][FINE_NM] for name in ("S0", "S1", "S2")}
    columns |= {name: illuminant(name) for name in ILLUMINANTS}
    return _csv(list(columns), np.column_stack(list(columns.values())).tolist())


def renotation_csv() -> str:
    """ASTM hue 0..100, value, chroma, x and y (illuminant C, 2 degrees)."""
    rows = [
        [
            hue_number(hue.lstrip("0123456789."), float(hue.rstrip("RYGBP"))),
            value,
            chroma,
            *xy_y[:2],
        ]
        for (hue, value, chroma), xy_y in SCIENCE.notation.MUNSELL_COLOURS["Munsell Colours All"]
    ]
    return _csv(["hue100", "value", "chroma", "x", "y"], sorted(rows))


def _hue100(hue: str) -> float:
    return hue_number(hue.lstrip("0123456789."), float(hue.rstrip("RYGBP")))


def _csv(head: list[str], rows: list[list[float]]) -> str:
    lines = [",".join(head)]
    lines += [",".join(f"{value:.12g}" for value in row) for row in rows]
    return "\n".join(lines) + "\n"


def main() -> None:
    for name, text in ((SPECTRA, spectra_csv()), (RENOTATION, renotation_csv())):
        (FOLDER / name).write_text(text, "ascii")


if __name__ == "__main__":
    main()
