"""The average daylight factor, and the limits that standards set for daylight."""

from collections.abc import Collection, Mapping
from typing import NamedTuple

import numpy as np

from housemap.colorimetry.arrays import Floats
from housemap.model.house import Use

GLASS_REFLECTANCE = 0.1
"""Of a window seen from inside, as in the worked room of the daylight factor (common practice)."""
ROOM_TOO_DEEP = 3.0
"""Depth over height above which inter-reflection formulas fail (US DOE, EnergyPlus Engineering
Reference, split-flux method)."""

BS8206_PERCENT: dict[Use, float] = {"bedroom": 1.0, "living": 1.5, "kitchen": 2.0}
"""Least average daylight factor in a dwelling (BS 8206-2, withdrawn; as restated by consultants'
pages, the standard itself not read)."""

MEDIAN_LUX: dict[Use, float] = {"bedroom": 100.0, "living": 150.0, "kitchen": 200.0}
"""On half of the working plane for half of the hours of daylight in a dwelling (BS EN 17037:2018,
UK annex; from memory, the standard itself not read)."""
LEAST_MEDIAN_LUX = 100.0
"""In other rooms: as in bedrooms (our assumption)."""
EUROPEAN_LUX = 300.0
"""The same by EN 17037:2018 itself, in any room that people use (its minimum; from memory)."""
BRITAIN = "GB"
SKY_LUX = {
    BRITAIN: 14_100.0, "DE": 13_900.0, "ES": 16_900.0, "FR": 15_900.0, "IT": 19_200.0,
    "SE": 12_100.0,
}  # fmt: skip
"""Diffuse light outside that a capital has for half of the hours of daylight, by country (EN 17037,
table A.3; from memory)."""


def median_percent(use: Use | str, country: str = "") -> float:
    """The daylight factor that half of a room's working plane should have.

    By its use and the UK annex; in another country of SKY_LUX by EN 17037 itself. Of a country
    that is not known, or has no figure, as in Britain (our assumption).
    """
    if country in SKY_LUX and country != BRITAIN:
        return 100.0 * EUROPEAN_LUX / SKY_LUX[country]
    lux = next((lux for known, lux in MEDIAN_LUX.items() if known == use), LEAST_MEDIAN_LUX)
    return 100.0 * lux / SKY_LUX[BRITAIN]


def least_average(use: Use, country: str = "") -> float | None:
    """The average daylight factor that BS 8206-2 asked for, in Britain or of a country unknown."""
    return BS8206_PERCENT.get(use) if country in {"", BRITAIN} else None


class DaylightFactor(NamedTuple):
    """DF = T W theta / (A (1 - R^2)), in percent, summed over windows (BS 8206-2; Lynes 1979).

    An average for early design, 0.6 to 0.8 of the mean over a working plane.
    """

    window_term: float
    """Sum of T W theta: transmittance, m2, visible sky angle in degrees."""
    area_m2: Mapping[str, float]
    """Of every surface of the room, windows and openings included."""
    reflectance: Mapping[str, float]
    """LRV / 100 of each."""
    worn: Mapping[str, frozenset[str]]
    """What wears the paint of "walls" and of "doors", where that is not one surface."""

    @property
    def total_m2(self) -> float:
        return sum(self.area_m2.values())

    @property
    def mean_reflectance(self) -> float:
        """Area mean of all surfaces, R."""
        return self._reflected_m2(self.area_m2.keys()) / self.total_m2

    @property
    def percent(self) -> float:
        return float(average_percent(self.window_term, self.total_m2, self.mean_reflectance))

    def percent_with(self, surface: str, lrv: Floats) -> Floats:
        """What it becomes with other LRVs on "walls", "doors", "ceiling", "floor" or a wall."""
        painted = self.worn.get(surface, frozenset({surface}))
        area = sum(self.area_m2[key] for key in painted)
        rest = self._reflected_m2(self.area_m2.keys() - painted)
        mean = (rest + area * np.asarray(lrv, dtype=np.float64) / 100.0) / self.total_m2
        return average_percent(self.window_term, self.total_m2, mean)

    def _reflected_m2(self, surfaces: Collection[str]) -> float:
        return sum(self.area_m2[key] * self.reflectance[key] for key in sorted(surfaces))


class MedianDaylight(NamedTuple):
    """The daylight factor that half of a room's working plane has, whichever way daylight comes."""

    percents: Floats
    """With each of some greys on a surface, or as the room is: (greys,)."""
    greys: Floats
    """Their reflectances; none where the room is as it is."""

    @property
    def percent(self) -> float:
        return float(self.percents[0])

    def percent_with(self, lrv: Floats) -> Floats:
        """With paints of other LRVs on the surface, by the polynomial through the greys."""
        if len(self.percents) == 1:
            return np.full(np.shape(lrv), self.percents[0])
        powers = np.vander(self.greys, increasing=True)
        basis = np.vander(np.asarray(lrv, np.float64) / 100.0, len(self.greys), increasing=True)
        return np.asarray(basis @ np.linalg.solve(powers, self.percents))


def average_percent(window_term: float, area_m2: float, mean_reflectance: Floats | float) -> Floats:
    """DF of T W theta (theta in degrees), total area and area-mean reflectance."""
    return np.asarray(window_term / (area_m2 * (1.0 - np.square(mean_reflectance))))
