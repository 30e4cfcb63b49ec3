"""The five ways in which a house file gives a colour. Data only: nothing here computes."""

from dataclasses import dataclass

Triple = tuple[float, float, float]

DEFAULT_OBSERVED = "D65/10"


@dataclass(frozen=True, slots=True)
class Reflectance:
    """Spectral reflectance, 0..1, at equal steps."""

    start_nm: float
    step_nm: float
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Lab:
    """CIELAB as measured under `observed` (illuminant/observer, such as "D50/2")."""

    lab100: Triple
    observed: str = DEFAULT_OBSERVED


@dataclass(frozen=True, slots=True)
class Xyz:
    """Tristimulus values under `observed`; Y of the perfect diffuser is 100."""

    xyz100: Triple
    observed: str = DEFAULT_OBSERVED


@dataclass(frozen=True, slots=True)
class Srgb:
    """An IEC 61966-2-1 screen colour (D65, 2 degree observer), as "#rrggbb" in lower case."""

    hex: str


@dataclass(frozen=True, slots=True)
class Notation:
    """ASTM D1535 hue value/chroma, such as "5Y 7/1" or "N 8/"."""

    text: str


ColourSource = Reflectance | Lab | Xyz | Srgb | Notation
"""How a paint or finish says what colour it is; exactly one of the five."""
