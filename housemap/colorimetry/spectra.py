"""Spectra on one working grid, and tristimulus values as one matrix product.

Reflectances live at 380(10)780 nm, light at 380(5)780 nm. A table of weights holds light times
observer summed at 5 nm with the reflectance interpolated between its bands as ASTM E2022 does it
(third-order Lagrange, second-order in the end intervals), so spiky lamps need no finer
reflectance. The perfect diffuser has Y 100 under every light.
"""

from functools import cache

import numpy as np

from housemap.colorimetry import tables
from housemap.colorimetry.arrays import Floats
from housemap.errors import ColourError

GRID_STEP_NM = 10.0
GRID_NM: Floats = np.arange(380.0, 781.0, GRID_STEP_NM)
"""The bands of a reflectance, 41 of them."""
FINE_NM: Floats = np.arange(380.0, 781.0, 5.0)
"""The bands of a light, 81 of them."""
REFERENCE = "D65/10"
"""What LRV, CIELAB and appearance refer to: illuminant D65, 10 degree observer."""
MUST_COVER_NM = (400.0, 700.0)
"""What measured reflectances must reach to; outside, the end values go on."""
LONGEST_STEP_NM = 20.0
DAYLIGHT_K = (4000.0, 7000.0, 25000.0)
"""Where the two polynomials of CIE daylight begin and end."""
C2_M_K = 1.4388e-2
"""Second radiation constant, m K (CIE 15:2018)."""


def lagrange(start_nm: float, step_nm: float, count: int, at_nm: Floats) -> Floats:
    """Matrix that interpolates `count` (at least 4) equally spaced values, shape (at, count).

    Third-order Lagrange within, second-order in the end intervals, constant beyond the ends.
    """
    places = np.clip((at_nm - start_nm) / step_nm, 0.0, count - 1.0)
    matrix = np.zeros((len(at_nm), count))
    for row, place in zip(matrix, places.tolist(), strict=True):
        first = min(int(place) - 1, count - 4)
        nodes = range(first, first + 4)
        if place < 1.0:
            nodes = range(3)
        elif place > count - 2:
            nodes = range(count - 3, count)
        for node in nodes:
            rest = [other for other in nodes if other != node]
            row[node] = np.prod([(place - other) / (node - other) for other in rest])
    return matrix


@cache
def _to_fine() -> Floats:
    return lagrange(380.0, 10.0, len(GRID_NM), FINE_NM)


@cache
def _to_grid(start_nm: float, step_nm: float, count: int) -> Floats:
    """Matrix from measured values to the grid: interpolation, or the best fit to finer ones."""
    if step_nm > GRID_STEP_NM / 2.0:
        return lagrange(start_nm, step_nm, count, GRID_NM)
    measured = start_nm + step_nm * np.arange(count)
    bands = GRID_NM[(start_nm <= GRID_NM) & (measured[-1] >= GRID_NM)]
    within = (measured >= bands[0]) & (measured <= bands[-1])
    fit = np.zeros((len(bands), count))
    fit[:, within] = np.linalg.pinv(_between_bands(bands, measured[within]))
    return np.asarray(_between_bands(bands, GRID_NM) @ fit)


def _between_bands(bands: Floats, at_nm: Floats) -> Floats:
    return lagrange(float(bands[0]), GRID_STEP_NM, len(bands), at_nm)


def resampled(values: Floats, start_nm: float, step_nm: float) -> Floats:
    """Reflectance measured at equal steps, on the working grid: (..., bands) to (..., 41).

    Steps of 5 nm or less are fitted, so that the interpolated curve lies on them as closely as it
    can and nothing measured is dropped. Raises ColourError where the values leave 0..1, the steps
    are longer than 20 nm or 400 to 700 nm are not covered.
    """
    count = values.shape[-1]
    if not 0.0 < step_nm <= LONGEST_STEP_NM:
        raise ColourError(f"reflectance must be given every 20 nm or closer, found {step_nm:g} nm")
    end_nm = start_nm + step_nm * (count - 1)
    if start_nm > MUST_COVER_NM[0] or end_nm < MUST_COVER_NM[1]:
        raise ColourError(
            f"reflectance must reach from 400 to 700 nm, found {start_nm:g} to {end_nm:g} nm"
        )
    if not np.all((values >= 0.0) & (values <= 1.0)):
        raise ColourError("reflectance must lie within 0..1")
    return np.clip(values @ _to_grid(start_nm, step_nm, count).T, 0.0, 1.0)


@cache
def observer(degrees: int) -> Floats:
    """Colour-matching functions of the 2 or 10 degree standard observer, shape (81, 3)."""
    columns = tables.load(tables.SPECTRA)
    return np.stack([columns[f"{axis}{degrees}"] for axis in "xyz"], axis=-1)


@cache
def illuminant(name: str) -> Floats:
    """Relative power of a CIE illuminant at 5 nm, (81,). ColourError for an unknown name."""
    if name in tables.ILLUMINANTS:
        return tables.load(tables.SPECTRA)[name]
    from housemap.colorimetry import science  # noqa: PLC0415 - half a second, for rare names only

    return science.illuminant(name)


def daylight(kelvin: float) -> Floats:
    """Relative power of CIE daylight of a correlated colour temperature, shape (81,).

    CIE 15:2018 equations 4.1 to 4.4, M1 and M2 not rounded; 4,000 to 25,000 K, else ColourError.
    """
    if not DAYLIGHT_K[0] <= kelvin <= DAYLIGHT_K[2]:
        raise ColourError(f"CIE daylight runs from 4000 to 25000 K, found {kelvin:g} K")
    x, y = daylight_xy(kelvin)
    scale = 0.0241 + 0.2562 * x - 0.7341 * y
    m1 = (-1.3515 - 1.7703 * x + 5.9114 * y) / scale
    m2 = (0.0300 - 31.4424 * x + 30.0717 * y) / scale
    columns = tables.load(tables.SPECTRA)
    power: Floats = columns["S0"] + m1 * columns["S1"] + m2 * columns["S2"]
    return power


def daylight_xy(kelvin: float) -> tuple[float, float]:
    """Chromaticity of CIE daylight, 2 degrees (CIE 15:2018 equation 4.2)."""
    a, b, c, d = (
        (0.244063, 99.11, 2.9678e6, -4.6070e9)
        if kelvin <= DAYLIGHT_K[1]
        else (0.237040, 247.48, 1.9018e6, -2.0064e9)
    )
    x = a + b / kelvin + c / kelvin**2 + d / kelvin**3
    return x, -3.0 * x**2 + 2.870 * x - 0.275


def planckian(kelvin: float) -> Floats:
    """Relative power of a full radiator (Planck, c2 = 1.4388e-2 m K), 1 at 560 nm, shape (81,)."""
    scale_nm = C2_M_K / kelvin * 1e9
    power: Floats = (560.0 / FINE_NM) ** 5 / np.expm1(scale_nm / FINE_NM)
    return np.asarray(power * np.expm1(scale_nm / 560.0))


def weights_of(power: Floats, degrees: int = 10) -> Floats:
    """Tristimulus weights of lights at 5 nm: (..., 81) to (..., 41, 3), Y of white 100."""
    light = power[..., None] * observer(degrees)
    table: Floats = _to_fine().T @ light
    return np.asarray(table * (100.0 / light[..., 1].sum(-1)[..., None, None]))


@cache
def weights(observed: str = REFERENCE) -> Floats:
    """Tristimulus weights of "D50/2" and the like, (41, 3). Raises ColourError."""
    name, slash, degrees = observed.rpartition("/")
    if not slash or degrees not in {"2", "10"}:
        raise ColourError(f'observed must be an illuminant, "/" and 2 or 10, found "{observed}"')
    table = weights_of(illuminant(name), int(degrees))
    table.flags.writeable = False
    return table


def white(observed: str = REFERENCE) -> Floats:
    """XYZ of the perfect diffuser, Y 100, shape (3,)."""
    total: Floats = weights(observed).sum(0)
    return total


def to_xyz(reflectance: Floats, observed: str = REFERENCE) -> Floats:
    """XYZ100 of reflectances on the working grid: (..., 41) to (..., 3)."""
    return reflectance @ weights(observed)
