"""Wording that several checks share."""

from housemap.checks.finding import Finding, Place
from housemap.model.house import House

_THROUGH = {
    "open": "in open plan",
    "cased": "through a cased opening",
    "doorway": "through a doorway",
    "glazed": "through glass",
    "stairs": "over the stairs",
    "sightline": "along a sightline",
}


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


def surface_name(surface: str) -> str:
    kind, _, wall = surface.partition(" ")
    return f"accent wall {wall}" if kind == "accent" else kind


def place_name(house: House, place: Place) -> str:
    """As in "Hall walls (Oat Ladle)"."""
    name = f"{room_name(house, place.room)} {surface_name(place.surface)}".strip()
    return f"{name} ({paint_name(house, place)})" if place.paint or place.finish else name


def both(house: House, finding: Finding) -> str:
    """The two places of a finding, as in "Hall walls (Oat) and Study walls (Moss)"."""
    first, second = finding.places[:2]
    return f"{place_name(house, first)} and {place_name(house, second)}"


def through(finding: Finding) -> str:
    """How the two rooms see each other, from the kind of limit; "" within one room."""
    return _THROUGH.get(finding.kind, "")


def under(finding: Finding) -> str:
    """The light in which it was found, as in " by day"; "" under the reference light."""
    return {"reference": "", "day": " by day", "evening": " in the evening"}[finding.light]


def number(value: float | None) -> str:
    """A value as it is shown: one decimal, a dash where there is none."""
    return "-" if value is None else f"{value:.1f}"
