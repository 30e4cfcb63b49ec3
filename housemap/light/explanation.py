"""What the program says of its light, and how far it may be off: no more than texts and figures.

Help is there before anything else, so nothing here needs numpy.
"""

from collections.abc import Iterator
from math import hypot
from typing import NamedTuple

RECOVERED, FURNITURE = 1.5, 1.5
"""CAM16-UCS units that a colour as seen may be off: by a spectrum that is recovered (1 to 2, the
table in `colorimetry.recovery`), by furniture (1 to 2, our assumption)."""
ADAPTATION_OF_SHIFT = 0.75
"""The same of a shift between day and lamplight, by how much of the tint of bounces the eye
discounts: both ends move alike (0.1 to 1.4, computed for rooms of the demo house)."""
SHIFT_BAND = hypot(ADAPTATION_OF_SHIFT, RECOVERED, FURNITURE)
DIFFERENCE_BAND = hypot(RECOVERED, RECOVERED, FURNITURE, FURNITURE)
"""Of two colours in one view, which one adapted eye sees."""
CLASH_BAND = hypot(RECOVERED, FURNITURE)
"""Of the strength of a clash, which goes by the weaker of two leans."""
DAYLIGHT_BAND = 0.1
"""Part of a daylight factor, by furniture and by glass as it is (our assumption)."""

SHIFT, FAMILY_SHIFT = 6.0, 4.0
"""CAM16-UCS units between day and lamplight from which a colour visibly changes: in all cases, and
where it turns to another hue."""
SHIFT_TEXT = f"{SHIFT:g} is seen, {FAMILY_SHIFT:g} where the hue turns too"
HARDLY = "much the same"
"""Of a colour under a light, where that makes nothing of it that is worth a word."""
TINTED = 5.0
"""CAM16-UCS units that the floor or a wall must add to be worth a word."""
WELL_LIT_PERCENT = 5.0
"""From this daylight factor on a room looks well lit by day (BS 8206-2, of its average)."""
DIM_EVENING_LUX, BRIGHT_EVENING_LUX = 50.0, 200.0
"""Mean on the walls (our assumption)."""


class LightFigures(NamedTuple):
    """Of one room; None where it is not known."""

    median_percent: float | None
    """Daylight factor that half of the working plane has."""
    aim_percent: float
    evening_lux: float | None
    tint_name: str = ""
    """What bounces make of a white wall by day, such as "a little warmer"."""
    tint_from: str = ""
    """What does it, such as "oak floor"."""
    tint_size: float = 0.0
    shift: float | None = None
    """Of the walls' colour between day and evening."""
    band: float = 0.0
    """How far `shift` may be off."""
    by_lamp: str = ""
    """What the lamps make of the walls' colour, such as "a little warmer"; empty for hardly."""


def sentences(room: LightFigures) -> tuple[str, ...]:
    """Two or three sentences; one where hardly anything is known."""
    return tuple(_each(room))[:3]


def _each(room: LightFigures) -> Iterator[str]:
    yield _by_day(room)
    if room.tint_size > TINTED and room.tint_name:
        yield f"The {room.tint_from or 'room'} makes the walls look {room.tint_name}."
    yield from _by_lamp(room)


def _by_day(room: LightFigures) -> str:
    if room.median_percent is None:
        return "No daylight is known: measure the room and its windows."
    part = room.median_percent / room.aim_percent
    if part < 0.1:  # noqa: PLR2004 - a tenth of what one aims for
        return "Dark by day: lamps are on all the time."
    if part < 1.0:
        return "Dim by day."
    return "Bright by day." if room.median_percent >= WELL_LIT_PERCENT else "Light enough by day."


def _by_lamp(room: LightFigures) -> Iterator[str]:
    if room.shift is not None and room.shift > SHIFT + room.band:
        yield "By lamplight the colour shifts visibly: put a sample up."
    elif room.shift is not None and room.shift > SHIFT - room.band:
        yield "By lamplight the colour may shift: judge it by a sample."
    elif room.evening_lux is None:
        yield "No lamp lights it in the evening."
    elif room.evening_lux < DIM_EVENING_LUX:
        yield "By lamplight it is dim."
    elif room.evening_lux > BRIGHT_EVENING_LUX:
        yield f"By lamplight it is bright, and the colour looks {room.by_lamp or HARDLY}."
    else:
        yield f"By lamplight the colour looks {room.by_lamp or HARDLY}."
