"""What the program says of its light: texts alone, so that help is there before anything else."""

from housemap.light.orientation import DAYLIGHT_HELP

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
"""

FACTOR_HELP = """\
Daylight on the working plane, 0.85 m high and 0.5 m off the walls, against the light outside:
what half of the plane has at least, by windows and through openings. BS EN 17037:2018 with its UK
annex asks for 100 lx in bedrooms, 150 in living rooms and 200 in kitchens under a sky of 14,100 lx
(0.7, 1.1 and 1.4 %); for other rooms we take 0.7 %. Beside it stands the average daylight factor
T W theta / (A (1 - R^2)) of BS 8206-2, withdrawn: 1 % in bedrooms, 1.5 % in living rooms,
2 % in kitchens.
"""

LIGHT_HELP = (SHOWN_HELP, SEEN_HELP, DAYLIGHT_HELP, LAMP_HELP, FACTOR_HELP)
