"""Lamps changed where they make two rooms differ by lamplight."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from itertools import permutations

from housemap.checks.check import Change
from housemap.checks.finding import Finding
from housemap.checks.words import room_name
from housemap.model.edits import put_part
from housemap.model.house import House, Lamp
from housemap.study import Study


def relamps(finding: Finding, study: Study) -> Iterator[Change]:
    """Each room's lamps as in the other."""
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
