"""Wording that several checks share."""

from collections.abc import Sequence
from math import inf

from housemap.checks.finding import Finding, Place
from housemap.model.house import LIGHT_WORDS, House
from housemap.plan.floor_plan import short_wall_name

THROUGH = {
    "open": "in open plan", "cased": "through the opening", "doorway": "through the doorway",
    "glazed": "through the glass", "stairs": "over the stairs", "sightline": "from a distance",
}  # fmt: skip
UNIT_WORDS = {
    "CAM16-UCS": "units of difference (CAM16-UCS)",
    "CIEDE2000": "units of difference (CIEDE2000)",
    "a'b'": "units of hue and chroma (CAM16-UCS)",
    "M'": "units of chroma (CAM16-UCS)",
    "LRV": "points of LRV",
    "deg": "degrees",
}


def unit_words(unit: str) -> str:
    return UNIT_WORDS.get(unit, unit)


MOST_ROOMS = 4
"""Rooms that a finding names; of more it says how many."""


def listed(names: Sequence[str], named: float = inf, what: str = "") -> str:
    """As in "a, b and c"; of more names than are to be named, as in "7 rooms"."""
    if len(names) > named:
        return f"{len(names)} {what}"
    *most, last = names or ("",)
    return f"{', '.join(most)} and {last}" if most else last


def room_name(house: House, room: str) -> str:
    return house.rooms[room].name if room in house.rooms else room


def paint_name(house: House, place: Place) -> str:
    """The name of what is on the surface; "no paint" where it is bare."""
    if place.paint:
        return house.paints[place.paint].name if place.paint in house.paints else place.paint
    if place.finish:
        finish = house.finishes.get(place.finish)
        return finish.name if finish else place.finish
    return "no paint"


def surface_name(house: House, room: str, surface: str) -> str:
    """A surface in words; a single wall by its side and length."""
    kind, _, key = surface.partition(" ")
    if kind == "piece":
        return key
    if kind != "accent":
        return kind
    return short_wall_name(house, room, key, always=True) if room in house.rooms else key


def place_name(house: House, place: Place) -> str:
    """As in "Hall walls (Oat Ladle)"."""
    surface = surface_name(house, place.room, place.surface)
    name = f"{room_name(house, place.room)} {surface}".strip()
    return f"{name} ({paint_name(house, place)})" if place.paint or place.finish else name


def both(house: House, finding: Finding) -> str:
    """The two places of a finding, as in "Hall walls (Oat) and Study walls (Moss)"."""
    first, second = finding.places[:2]
    return f"{place_name(house, first)} and {place_name(house, second)}"


def both_rooms(house: House, finding: Finding) -> tuple[str, str]:
    """The names of the two rooms, in the order in which they are named."""
    first, second = finding.rooms[:2]
    return room_name(house, first), room_name(house, second)


def through(finding: Finding) -> str:
    """How the two rooms see each other, from the kind of limit; "" within one room."""
    return THROUGH.get(finding.kind, "")


def under(finding: Finding) -> str:
    """The light in which it was found, as in " by day"; "" under the reference light."""
    return "" if finding.light == "reference" else f" {LIGHT_WORDS[finding.light]}"


_WHOLE_FROM = 10.0
_MOST_DIGITS = 3


def figures(finding: Finding, words: str) -> str:
    """`words` with the finding's value and its limit in the place of two {}, told apart."""
    value, limit = finding.value, finding.limit
    return words.format(number(value, limit), number(limit, value))


def number(value: float | None, beside: float | None = None) -> str:
    """A value as it is shown: whole from 10 on, a dash where there is none.

    With the digits that tell it from another `beside` it: 14.9 from 15.0.
    """
    if value is None:
        return "-"
    digits = 0 if abs(value) >= _WHOLE_FROM else 1
    if beside is not None and value != beside:
        while digits < _MOST_DIGITS and round(value, digits) == round(beside, digits):
            digits += 1
    return f"{value:.{digits}f}"
