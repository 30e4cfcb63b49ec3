"""The report of a house: every finding of every check, recomputed only where the study changed."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from housemap.checks.every import CHECKS
from housemap.checks.finding import SEVERITIES, Finding
from housemap.checks.page import Check, Scope
from housemap.model.house import House
from housemap.study import Study, study_of

Subject = tuple[str, object]
"""What a check looked at: the name of its kind and its key there."""

_KINDS: tuple[str, ...] = ("swatches", "rooms", "pairs", "views", "surroundings")
"""Both the Study's tables and the fields of Touched."""

_FUNCTION: Mapping[str, Callable[[Check], Any]] = {
    "swatches": lambda check: check.of_swatch,
    "rooms": lambda check: check.of_room,
    "pairs": lambda check: check.of_pair,
    "views": lambda check: check.of_view,
    "surroundings": lambda check: check.of_surroundings,
}


@dataclass(frozen=True, eq=False)
class Report:
    """Everything computed of a house together with everything found in it."""

    study: Study
    by_subject: Mapping[Subject, tuple[Finding, ...]]
    """Only of subjects in which something was found."""

    @property
    def house(self) -> House:
        return self.study.house

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Grave first, then in the order of the checks, then by place."""
        return tuple(sorted((f for found in self.by_subject.values() for f in found), key=_order))

    @cached_property
    def by_room(self) -> Mapping[str, tuple[Finding, ...]]:
        """The findings that name each room."""
        rooms: dict[str, list[Finding]] = {}
        for finding in self.findings:
            for room in finding.rooms:
                rooms.setdefault(room, []).append(finding)
        return {room: tuple(found) for room, found in rooms.items()}


_RANK = {check.id: rank for rank, check in enumerate(CHECKS)}


def _order(finding: Finding) -> tuple[object, ...]:
    places = tuple((p.room, p.surface, p.paint, p.finish) for p in finding.places)
    return -SEVERITIES.index(finding.severity), _RANK[finding.check], places, finding.kind


def report_of(house: House, previous: Report | None = None) -> Report:
    """The report of `house`; equal to one from scratch whatever `previous` was.

    Raises InputError, a line each, for paints and finishes whose colour no surface can have.
    """
    study = study_of(house, previous.study if previous else None)
    scopes = {check.id: Scope(study, check.limits_in(house)) for check in CHECKS}
    if previous is None or _rules_differ(house, previous.house):
        return Report(study, dict(_found(study, scopes, _all_subjects(study))))
    stale = set(_touched_subjects(study))
    if not stale:
        return Report(study, previous.by_subject)
    by_subject = dict(previous.by_subject)
    for subject in stale & by_subject.keys():
        del by_subject[subject]
    return Report(study, by_subject | dict(_found(study, scopes, stale)))


def _rules_differ(house: House, old: House) -> bool:
    return (house.limits, house.low_vision) != (old.limits, old.low_vision)


def _all_subjects(study: Study) -> Iterator[Subject]:
    for kind in _KINDS:
        for key in getattr(study, kind):
            yield kind, key


def _touched_subjects(study: Study) -> Iterator[Subject]:
    for kind in _KINDS:
        for key in getattr(study.touched, kind):
            yield kind, key


def _found(
    study: Study, scopes: Mapping[str, Scope], subjects: Iterable[Subject]
) -> Iterator[tuple[Subject, tuple[Finding, ...]]]:
    functions = {
        kind: [(function(check), scopes[check.id]) for check in CHECKS if function(check)]
        for kind, function in _FUNCTION.items()
    }
    for kind, key in subjects:
        part = getattr(study, kind).get(key)
        if part is None:
            continue
        found = tuple(f for look, scope in functions[kind] for f in look(part, scope))
        if found:
            yield (kind, key), found
