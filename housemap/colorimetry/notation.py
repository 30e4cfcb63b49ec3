"""ASTM D1535 notation as text: "5Y 7/1", "N 8/"."""

from housemap.dataclass import dataclass
from housemap.errors import ColourError
from housemap.model.notation import hue_name, read_notation

LEAST_CHROMA = 0.05
"""Below it the text says N: it rounds to /0.0."""


@dataclass(frozen=True, slots=True)
class MunsellNotation:
    """Hue, value and chroma; `hue` is "N" and `hue100` 0 where there is no chroma."""

    hue: str
    hue100: float
    """ASTM hue number, 0 <= hue100 < 100."""
    value: float
    chroma: float
    text: str


def parse(text: str) -> tuple[float, float, float]:
    """Hue number 0..100, value 0..10 and chroma of a notation; raises ColourError."""
    found = read_notation(text)
    if found is None:
        raise ColourError(f'a notation is written "5Y 7/1" or "N 8/", found "{text}"')
    return found


def written(hue100: float, value: float, chroma: float) -> MunsellNotation:
    """The notation of three numbers, its text to one decimal."""
    if chroma < LEAST_CHROMA:
        return MunsellNotation("N", 0.0, value, chroma, f"N {_short(value)}/")
    hue = hue_name(round(hue100 * 10.0) % 1000 / 10.0)
    return MunsellNotation(hue, hue100, value, chroma, f"{hue} {_short(value)}/{_short(chroma)}")


def _short(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
