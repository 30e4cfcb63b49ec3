"""Spectra of daylight and lamps, and the weights that turn band light into lux and colour."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from housemap.colorimetry import spectra
from housemap.colorimetry.arrays import Floats
from housemap.model.house import SpectralPower

LED_SERIES = ((2733.0, "LED-B1"), (2998.0, "LED-B2"), (4103.0, "LED-B3"))
"""Blue-pumped phosphor lamps, the usual white LEDs (CIE 15:2018 table 12)."""
USUAL_KELVIN = 2700.0
"""Of a lamp of which nothing is said (common practice)."""
LED_BELOW_K = 4000.0
DAYLIGHT_K = (4000.0, 25000.0)


class Spectrum(NamedTuple):
    """What distinguishes one light from another: an illuminant's name, or a kind and its kelvin."""

    kind: str
    """"daylight", "lamp", "named" or "measured"."""
    kelvin: float = 0.0
    name: str = ""
    measured: tuple[float, ...] = ()
    """Start and step in nm, then relative power at each step."""

    def __str__(self) -> str:
        return self.name or f"{self.kind} of {self.kelvin:.0f} K"


def daylight(kelvin: float) -> Spectrum:
    return Spectrum("daylight", kelvin)


def lamp(kelvin: float | None, name: str | None, power: SpectralPower | None = None) -> Spectrum:
    """Of a lamp: as measured, else by its CIE illuminant, else by its colour temperature."""
    if power:
        return Spectrum("measured", measured=(power.start_nm, power.step_nm, *power.values))
    return Spectrum("named", name=name) if name else Spectrum("lamp", kelvin or USUAL_KELVIN)


@lru_cache(maxsize=256)
def power(spectrum: Spectrum) -> Floats:
    """Relative power at 380(5)780 nm, (81,). ColourError for an illuminant that does not exist."""
    if spectrum.kind == "measured":
        start, step, *values = spectrum.measured
        nm = start + step * np.arange(len(values))
        found = np.interp(spectra.FINE_NM, nm, values, left=0.0, right=0.0)
        return np.asarray(found / max(values))
    if spectrum.kind == "named":
        return spectra.illuminant(spectrum.name)
    if spectrum.kind == "lamp" and spectrum.kelvin < LED_BELOW_K:
        return _led(spectrum.kelvin)
    if DAYLIGHT_K[0] <= spectrum.kelvin <= DAYLIGHT_K[1]:
        return spectra.daylight(spectrum.kelvin)
    return spectra.planckian(spectrum.kelvin)


@lru_cache(maxsize=256)
def band_weights(spectrum: Spectrum) -> Floats:
    """X, Y, Z (10 degrees) and lux of each band of a light of 1 lx, shape (41, 4).

    Photometric quantities follow V(lambda), the 2 degree observer's y; colours the 10 degree
    observer. The columns share one scale of power, so that lights of different spectra add up.
    """
    light = power(spectrum)
    y10, v = (light @ spectra.observer(degrees)[:, 1] for degrees in (10, 2))
    weights = np.empty((len(spectra.GRID_NM), 4))
    weights[:, :3] = spectra.weights_of(light, 10) / 100.0 * y10 / v
    weights[:, 3] = spectra.weights_of(light, 2)[:, 1] / 100.0
    weights.flags.writeable = False
    return weights


def _led(kelvin: float) -> Floats:
    coolest, name = LED_SERIES[0]
    if kelvin <= coolest:
        warmer = spectra.planckian(kelvin) / spectra.planckian(coolest)
        return np.asarray(spectra.illuminant(name) * warmer)
    i = 0 if kelvin < LED_SERIES[1][0] else 1
    (low, low_name), (high, high_name) = LED_SERIES[i : i + 2]
    part = (1.0 / low - 1.0 / kelvin) / (1.0 / low - 1.0 / high)
    return (1.0 - part) * _of_one_lux(low_name) + part * _of_one_lux(high_name)


def _of_one_lux(name: str) -> Floats:
    light = spectra.illuminant(name)
    return np.asarray(light / (light @ spectra.observer(2)[:, 1]))
