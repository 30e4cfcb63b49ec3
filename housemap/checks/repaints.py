"""Edits that several checks try against their findings."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import permutations

from housemap.checks.check import Change
from housemap.checks.finding import Finding, Place
from housemap.checks.words import room_name, surface_name
from housemap.model.edits import paint_on, put_part
from housemap.model.house import House, Lamp
from housemap.study import Study


def repaint(finding: Finding, study: Study) -> Iterator[Change]:
    """Each painted place of the finding in each other paint of the house."""
    for place in finding.places:
        if place.paint:
            yield from repaints_of(place, study)


def repaint_or_relamp(finding: Finding, study: Study) -> Iterator[Change]:
    """As `repaint`; where lamps make the rooms differ, also each room's lamps as in the other."""
    yield from repaint(finding, study)
    if finding.light == "evening":
        for room, other in permutations(finding.rooms, 2):
            yield from _relamps(room, other, study.house)


def _relamps(room: str, other: str, house: House) -> Iterator[Change]:
    model = next(iter(house.rooms[other].lamps.values()), None)
    if model is not None and house.rooms[room].lamps:
        kind = model.spectrum or f"{model.kelvin:g} K"
        label = f"Lamps of {kind} in {room_name(house, room)}, as in {room_name(house, other)}"
        yield Change(label, partial(_relamp, room, model), 0.0)


def _relamp(room: str, model: Lamp, house: House) -> House:
    for key, lamp in house.rooms[room].lamps.items():
        alike = replace(lamp, kelvin=model.kelvin, spectrum=model.spectrum)
        house = put_part(house, room, "lamps", key, alike)
    return house


def repaints_of(place: Place, study: Study) -> Iterator[Change]:
    """One surface in each other paint of the house, with the CAM16-UCS step it means."""
    old = study.paint(place.paint)
    for paint_id, paint in study.house.paints.items():
        if paint_id != place.paint:
            step = study.difference(old, study.paint(paint_id)).ucs
            where = where_name(study.house, place)
            yield Change(f"Paint {where} in {paint.name}", partial(_paint, place, paint_id), step)


def where_name(house: House, place: Place) -> str:
    """As in "Hall walls"."""
    return f"{room_name(house, place.room)} {surface_name(house, place.room, place.surface)}"


def _paint(place: Place, paint_id: str, house: House) -> House:
    return paint_on(house, place.room, place.surface, paint_id)
