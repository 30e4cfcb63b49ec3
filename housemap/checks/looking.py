"""Running the checks over the parts of a study, under the reference light and under each other."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from housemap.checks.every import CHECKS
from housemap.checks.finding import Finding
from housemap.checks.page import Check, Scope
from housemap.light.room_scene import LIGHTS, LightName
from housemap.study import PaintedRoom, SeenPair, SeenView, Study

Subject = tuple[str, Any]
"""What a check looked at: the name of the Study's table, and the key there."""
Found = Mapping[Subject, tuple[Finding, ...]]
"""Only the subjects in which something was found."""

_LOOK: Mapping[str, Callable[[Check], Any]] = {
    "swatches": lambda check: check.of_swatch,
    "rooms": lambda check: check.of_room,
    "pairs": lambda check: check.of_pair,
    "views": lambda check: check.of_view,
    "surroundings": lambda check: check.of_surroundings,
    "plans": lambda check: check.of_plan,
}
"""The tables of a Study (and the fields of Touched), with the function that looks at a part."""


def all_subjects(study: Study) -> Iterator[Subject]:
    for table in _LOOK:
        for key in getattr(study, table):
            yield table, key


def touched_subjects(study: Study) -> Iterator[Subject]:
    for table in _LOOK:
        for key in getattr(study.touched, table):
            yield table, key


def found_plainly(study: Study, subjects: Iterable[Subject]) -> Iterator[tuple[Subject, Any]]:
    """What the checks find under the reference light."""
    scopes = {check: Scope(study, check.limits_in(study.house)) for check in CHECKS}
    looks = _looks(lambda check: check.judged != "in depth")
    for subject, part in _parts(study, subjects):
        found = [f for check, look in looks[subject[0]] for f in look(part, scopes[check])]
        if found:
            yield subject, tuple(found)


def found_in_depth(study: Study, subjects: Iterable[Subject]) -> Iterator[tuple[Subject, Any]]:
    """What they find by day and in the evening, and what needs light or sight to be found."""
    needed = _looks(lambda check: check.judged == "in depth")
    each = _looks(lambda check: check.judged == "in each light")
    limits = {check: check.limits_in(study.house) for check in CHECKS}
    for subject, part in _parts(study, subjects):
        table = subject[0]
        found = [f for c, look in needed[table] for f in look(part, Scope(study, limits[c]))]
        if each[table]:
            for light, view in _eyes(study, part):
                for check, look in each[table]:
                    found += look(part, Scope(study, limits[check], light, view))
        if found:
            yield subject, tuple(found)


def _looks(wanted: Callable[[Check], bool]) -> dict[str, list[tuple[Check, Any]]]:
    return {
        table: [(check, look(check)) for check in CHECKS if wanted(check) and look(check)]
        for table, look in _LOOK.items()
    }


def _parts(study: Study, subjects: Iterable[Subject]) -> Iterator[tuple[Subject, Any]]:
    """The parts that (still) are there."""
    for table, key in subjects:
        part = getattr(study, table).get(key)
        if part is not None:
            yield (table, key), part


def _eyes(study: Study, part: PaintedRoom | SeenPair) -> Iterator[tuple[LightName, SeenView]]:
    """Every light that falls on all of the part's rooms, with the eye in each of them."""
    rooms = (part,) if isinstance(part, PaintedRoom) else (part.first, part.second)
    for light in LIGHTS:
        if all(light in study.lighting.rooms[room.id].light.lights for room in rooms):
            for room in rooms:
                if view := study.lighting.seen[room.id, light]:
                    yield light, view
