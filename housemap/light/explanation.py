"""What the program says of its light, and how far it may be off: no more than texts and figures.

Help is there before anything else, so nothing here needs numpy.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from housemap.light.orientation import DAYLIGHT_HELP

ADAPTATION, RECOVERED, FURNITURE = 5.5, 1.5, 1.5
"""CAM16-UCS units that a colour as seen may be off: by whether the eye adapts to the source or to
the walls' own light (4 to 7, computed both ways for rooms of the demo house), by a spectrum that is
recovered (1 to 2, the table in `colorimetry.recovery`), by furniture (1 to 2, our assumption)."""
ADAPTATION_OF_SHIFT = 1.5
"""The same of a shift between day and lamplight: both ends move alike (0.2 to 1.7, computed)."""
SEEN_BAND = hypot(ADAPTATION, RECOVERED, FURNITURE)
SHIFT_BAND = hypot(ADAPTATION_OF_SHIFT, RECOVERED, FURNITURE)
DIFFERENCE_BAND = hypot(RECOVERED, RECOVERED, FURNITURE, FURNITURE)
"""Of two colours in one view, which one adapted eye sees."""
CLASH_BAND = hypot(RECOVERED, FURNITURE)
"""Of the strength of a clash, which goes by the weaker of two leans."""
DAYLIGHT_BAND = 0.1
"""Part of a daylight factor, by furniture and by glass as it is (our assumption)."""

LAMP_HELP = """\
Lamps without a spectrum of their own:
  below 4000 K   the CIE LED-B series (LED-B1 2733 K, B2 2998 K, B3 4103 K), mixed between its two
                 neighbours in proportion to reciprocal temperature; below 2733 K, LED-B1 times
                 the ratio of the full radiators at the two temperatures
  from 4000 K    CIE daylight of that temperature; above 25000 K the full radiator
The mixing and what is done below 2733 K are our assumption.
"""

SHOWN_HELP = """\
Which light is shown:
  reference   D65 at 300 lx, the same in every room
  day         an overcast sky of 10,000 lx outside, through the windows of each room
  evening     the lamps of each room
Light passes openings both ways, with all its bounces; a shut door is a surface in the doors' paint.
What has no such light shows as under the reference light, and says so.
"""

SEEN_HELP = """\
Colours as seen: the light on a surface after all bounces, at every 10 nm, times its reflectance,
as an eye sees it that has adapted to the light as it comes into its own room. The tint that bounces
add is seen (our assumption, in line with Harleman 2007 and Billger 1999). A room seen through an
opening is judged in hue and chroma by the eye's own light, in lightness by the light over there
(our assumption). CIECAM16 (CIE 248:2022); two-step CAT16 (Zhai & Luo 2018) for the screen.
A glossy wall mirrors what is opposite and looks deeper than a matt one in the same paint, by up to
a few LRV points. That is shown where the paint says whether it was measured with gloss (included)
or without (excluded); else it is not known. 4 % of the light at the face (Fresnel), of which gloss
mirrors nine tenths and satin three (our assumption).
How far a colour as seen may be off: 6 units, mostly by what the eye adapts to. A shift between day
and lamplight may be off by 3, and so may a step between two colours in view. What lies that near to
its limit is called close, and counts for half.
"""

FACTOR_HELP = """\
Daylight on the working plane, 0.85 m high and 0.5 m off the walls, against the light outside:
what half of the plane has at least, by windows and through openings. What it should have depends
on the country of the house. In Britain BS EN 17037:2018 with its UK annex asks for 100 lx in
bedrooms, 150 in living rooms and 200 in kitchens under a sky of 14,100 lx (0.7, 1.1 and 1.4 %);
for other rooms we take 0.7 %. Elsewhere in Europe EN 17037 itself asks for 300 lx, under the sky
of the capital. Where no country is given, Britain's figures are used. Beside it stands the average
daylight factor T W theta / (A (1 - R^2)) of BS 8206-2 (Britain, withdrawn): 1 % in bedrooms,
1.5 % in living rooms, 2 % in kitchens.
"""

LIGHT_HELP = (SHOWN_HELP, SEEN_HELP, DAYLIGHT_HELP, LAMP_HELP, FACTOR_HELP)

SHIFT = 6.0
"""CAM16-UCS units between day and lamplight from which a colour visibly changes."""
TINTED = 5.0
"""CAM16-UCS units that the floor or a wall must add to be worth a word."""
DIM_EVENING_LUX, BRIGHT_EVENING_LUX = 50.0, 200.0
"""Mean on the walls (our assumption)."""


@dataclass(frozen=True, slots=True)
class LightFigures:
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
    return "Bright by day." if part > 2.0 else "Light enough by day."  # noqa: PLR2004


def _by_lamp(room: LightFigures) -> Iterator[str]:
    if room.shift is not None and room.shift > SHIFT + room.band:
        yield "By lamp the colour shifts visibly: put a sample up."
    elif room.shift is not None and room.shift > SHIFT - room.band:
        yield "By lamp the colour may shift: judge it by a sample."
    elif room.evening_lux is None:
        yield "No lamp lights it in the evening."
    elif room.evening_lux < DIM_EVENING_LUX:
        yield "By lamp it is dim."
    elif room.evening_lux > BRIGHT_EVENING_LUX:
        yield "By lamp it is bright, and the colour looks much as by day."
    else:
        yield "By lamp the colour looks much as by day."
