"""ASTM D1535 notation as text: "5Y 7/1", "N 8/"."""

from typing import NamedTuple

from housemap.errors import ColourError
from housemap.model.notation import hue_name, read_notation

LEAST_CHROMA = 0.05
"""Below it the text says N: it rounds to /0.0."""


class MunsellNotation(NamedTuple):
    """Hue, value and chroma; `hue100` is 0 where there is no chroma."""

    hue100: float
    """ASTM hue number, 0 <= hue100 < 100."""
    value: float
    chroma: float

    @property
    def hue(self) -> str:
        """To one decimal, as in "2.5GY"; "N" where there is no chroma."""
        neutral = self.chroma < LEAST_CHROMA
        return "N" if neutral else hue_name(round(self.hue100 * 10.0) % 1000 / 10.0)

    @property
    def text(self) -> str:
        chroma = "" if self.chroma < LEAST_CHROMA else _short(self.chroma)
        return f"{self.hue} {_short(self.value)}/{chroma}"


def parse(text: str) -> tuple[float, float, float]:
    """Hue number 0..100, value 0..10 and chroma of a notation; raises ColourError."""
    found = read_notation(text)
    if found is None:
        raise ColourError(f'a notation is written "5Y 7/1" or "N 8/", found "{text}"')
    return found


def written(hue100: float, value: float, chroma: float) -> MunsellNotation:
    """The notation of three numbers."""
    return MunsellNotation(0.0 if chroma < LEAST_CHROMA else hue100, value, chroma)


def _short(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
