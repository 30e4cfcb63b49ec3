"""How far a notation deck of paint may reach: makes `housemap/deck/notation_limits.csv`.

Run it to print the table: `python -m tests.support.notation_limits`.

A chip is in where the renotation has real colours around it (Newhall, Nickerson & Judd 1943, as
colour-science carries them: `MUNSELL_COLOURS["real"]`) and where it is no more colourful than the
most colourful surfaces measured (Pointer 1980, Color Research & Application 5:145, likewise).
Pointer's data end at L* 90, which is taken for lighter chips too. Whites of value 9.5 are let in
to chroma 1 and no further: our assumption, as both sources end below them.
"""

from collections.abc import Iterator
from functools import cache
from itertools import takewhile

import numpy as np
import numpy.typing as npt

from tests.support.science import SCIENCE

FAMILIES = ("R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP")
HUES = tuple(f"{step:g}{family}" for family in FAMILIES for step in (2.5, 5, 7.5, 10))
VALUES = tuple(half / 2 for half in range(4, 20))
CHROMAS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, *(float(c) for c in range(4, 40, 2)))
WHITE_VALUE, WHITE_CHROMA = 9.5, 1.0
POINTER_ENDS_L = 90.0


@cache
def renotation_limits() -> dict[tuple[str, float], float]:
    """The largest chroma of the real renotation colours, by hue and whole value."""
    limits: dict[tuple[str, float], float] = {}
    for (hue, value, chroma), _ in SCIENCE.notation.MUNSELL_COLOURS["real"]:
        key = (str(hue), float(value))
        limits[key] = max(limits.get(key, 0.0), float(chroma))
    return limits


def renotation_limit(hue: str, value: float) -> float:
    """At half values, what both whole values around it have; above 9, what 9 has."""
    limits = renotation_limits()
    return min(limits[hue, float(whole)] for whole in {int(value), min(9, int(value + 0.5))})


@cache
def pointer_grid() -> npt.NDArray[np.float64]:
    """C*ab by L* 15(5)90 and hue 0(10)360, shape (16, 37)."""
    table = {(lightness, hue): c for lightness, c, hue in SCIENCE.models.DATA_POINTER_GAMUT_VOLUME}
    return np.array(
        [[table[low, hue % 360] for hue in range(0, 370, 10)] for low in range(15, 95, 5)],
        dtype=np.float64,
    )


def pointer_limit(lightness: float, hue_deg: float) -> float:
    """Linear between the tabulated lightnesses and hues."""
    grid = pointer_grid()
    row = np.clip((min(lightness, POINTER_ENDS_L) - 15) / 5, 0, 14.999)
    at, low = int(row), int(hue_deg // 10)
    part, across = row - at, hue_deg / 10 - low
    near = grid[at : at + 2, low : low + 2] @ np.array([1 - across, across])
    return float(near @ np.array([1 - part, part]))


def in_paint_gamut(hue: str, value: float, chroma: float) -> bool:
    """Whether a chip is no more colourful than Pointer's surfaces, both under illuminant C."""
    white = SCIENCE.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["C"]
    xyy = SCIENCE.munsell_colour_to_xyY(f"{hue} {value}/{chroma}")
    lightness, a_star, b_star = SCIENCE.XYZ_to_Lab(SCIENCE.xyY_to_XYZ(xyy), white)
    hue_deg = float(np.degrees(np.arctan2(b_star, a_star)) % 360)
    return float(np.hypot(a_star, b_star)) <= pointer_limit(float(lightness), hue_deg)


def limit(hue: str, value: float) -> float:
    """The largest chroma of `CHROMAS` that is in; 0 where not even the least is."""
    if value == WHITE_VALUE:
        return min(WHITE_CHROMA, limit(hue, 9.0))
    within = takewhile(lambda c: c <= renotation_limit(hue, value), CHROMAS)
    return max(takewhile(lambda c: in_paint_gamut(hue, value, c), within), default=0.0)


def lines() -> Iterator[str]:
    yield ",".join(["hue", *(f"{value:g}" for value in VALUES)])
    for hue in HUES:
        yield ",".join([hue, *(f"{limit(hue, value):g}" for value in VALUES)])


if __name__ == "__main__":
    print("\n".join(lines()))  # noqa: T201 (printing the table is its task)
