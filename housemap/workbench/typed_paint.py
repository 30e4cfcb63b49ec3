"""A new paint out of one line: a name with a colour, with an LRV, or with both.

"Heron #c9ccc4", "Stone 5Y 7/1 lrv 41", "Bark L 32 a 4 b 9 D65/10", "Cloud lrv 62". An LRV with a
name alone is a grey of that LRV, marked as made up.
"""

import re
from dataclasses import dataclass

from housemap.deck.colours import GREY, grey_of
from housemap.deck.typed import LABEL, LETTER, parse_reading
from housemap.errors import InputError, Problem
from housemap.model.house import Paint
from housemap.model.text import NAME_LENGTH, clean_text
from housemap.workbench.paint_lrv import Contradiction, contradiction

MOST_LRV = 100.0
_LRV = re.compile(r"\blrv\s*[:=]?\s*(\d+(?:[.,]\d+)?)(?![\w.,])", re.IGNORECASE)
_HEX = re.compile(r"#(?:[0-9a-f]{6}|[0-9a-f]{3})\b", re.IGNORECASE)
_NOTATION = re.compile(
    r"(?<![\w.,])(?:\d+(?:[.,]\d+)?\s?(?:R|YR|Y|GY|G|BG|B|PB|P|RP)\s+\d+(?:[.,]\d+)?\s*/\s*"
    r"\d+(?:[.,]\d+)?|N\s?\d+(?:[.,]\d+)?\s*/)(?![\w.,])",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class TypedPaint:
    """The paint of a line, what was taken for granted, and what has to be asked."""

    paint: Paint
    notes: tuple[str, ...] = ()
    question: Contradiction | None = None


def typed_paint(text: str) -> TypedPaint:
    """Read a line. Raises InputError, in one line, for what is no paint."""
    rest, lrv = _lrv(text)
    name, colour = _name_and_colour(rest)
    if not name:
        raise InputError([Problem("a paint needs a name: Heron #c9ccc4, or Cloud lrv 62")])
    if colour:
        reading = parse_reading(colour)
        paint = Paint(name, reading.source, lrv=lrv)
        return TypedPaint(paint, reading.notes, contradiction(paint))
    if lrv is None:
        raise InputError([Problem("a paint needs a colour or an LRV: #c9ccc4, 5Y 7/1 or lrv 62")])
    return TypedPaint(Paint(name, grey_of(lrv), lrv=lrv, derived=GREY), (GREY,))


def _lrv(text: str) -> tuple[str, float | None]:
    found = _LRV.search(text)
    if not found:
        return text, None
    lrv = float(found[1].replace(",", "."))
    if lrv > MOST_LRV:
        raise InputError([Problem(f"an LRV is 0 to 100, found {lrv:g}")])
    return f"{text[: found.start()]} {text[found.end() :]}", lrv


def _name_and_colour(text: str) -> tuple[str, str]:
    """The line in two; the colour is empty where there is none."""
    found = _HEX.search(text) or _NOTATION.search(text)
    if found:
        return _tidy(f"{text[: found.start()]} {text[found.end() :]}"), found[0]
    starts = [each.start() for each in (LABEL.search(text), LETTER.search(text)) if each]
    at = min(starts, default=len(text))
    return _tidy(text[:at]), text[at:].strip()


def _tidy(text: str) -> str:
    return clean_text(text.strip(" ,;:-"), NAME_LENGTH)
