"""The report of a house: every finding of every check, recomputed only where the study changed."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from housemap.checks.every import CHECKS, check_of
from housemap.checks.finding import SEVERITIES, Finding
from housemap.checks.looking import (
    Found,
    Subject,
    all_subjects,
    found_in_light,
    found_plainly,
    touched_subjects,
)
from housemap.model.house import House
from housemap.study import Study, study_of

Look = Callable[[Study, Iterable[Subject]], Iterator[tuple[Subject, tuple[Finding, ...]]]]


@dataclass(frozen=True, eq=False)
class Report:
    """Everything computed of a house together with everything found in it."""

    study: Study
    plain: Found
    """Found under the reference light."""
    lit: Found | None
    """Found by day and in the evening; None where light was not asked for."""

    @property
    def house(self) -> House:
        return self.study.house

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Grave first, then in the order of the checks, then by place.

        What is found under several lights is told once, with the light in which it is worst.
        """
        subjects = dict.fromkeys((*self.plain, *(self.lit or {})))
        return tuple(sorted((f for s in subjects for f in self._worst(s)), key=_order))

    @cached_property
    def by_room(self) -> Mapping[str, tuple[Finding, ...]]:
        """The findings that name each room."""
        rooms: dict[str, list[Finding]] = {}
        for finding in self.findings:
            for room in finding.rooms:
                rooms.setdefault(room, []).append(finding)
        return {room: tuple(found) for room, found in rooms.items()}

    def _worst(self, subject: Subject) -> Iterable[Finding]:
        plain = self.plain.get(subject, ())
        lit = self.lit.get(subject, ()) if self.lit else ()
        if not lit:
            return plain
        worst: dict[object, Finding] = {}
        for finding in (*plain, *lit):
            known = worst.get(finding.key)
            if known is None or _gravity(finding) > _gravity(known):
                worst[finding.key] = finding
        return worst.values()


def _gravity(finding: Finding) -> tuple[int, float]:
    return SEVERITIES.index(finding.severity), check_of(finding.check).cost(finding)


_RANK = {check.id: rank for rank, check in enumerate(CHECKS)}


def _order(finding: Finding) -> tuple[object, ...]:
    places = tuple((p.room, p.surface, p.paint, p.finish) for p in finding.places)
    return -SEVERITIES.index(finding.severity), _RANK[finding.check], places, finding.kind


def report_of(house: House, previous: Report | None = None, *, lit: bool = True) -> Report:
    """The report of `house`; equal to one from scratch whatever `previous` was.

    `lit` asks for the light of every room, which takes longer than all the rest. Raises
    InputError, a line each, for paints and finishes whose colour no surface can have.
    """
    study = study_of(house, previous.study if previous else None)
    if previous is not None and _rules_differ(house, previous.house):
        previous = None
    before = previous.plain if previous else None
    plain = _renewed(study, before, found_plainly)
    if not lit:
        return Report(study, plain, None)
    lit_before = previous.lit if previous else None
    return Report(study, plain, _renewed(study, lit_before, found_in_light))


def _rules_differ(house: House, old: House) -> bool:
    return _rules(house) != _rules(old)


def _rules(house: House) -> tuple[object, ...]:
    """What findings depend on beside the parts of the study."""
    return house.limits, house.low_vision, house.north_deg, house.latitude_deg


def _renewed(study: Study, before: Found | None, look: Look) -> Found:
    if before is None:
        return dict(look(study, all_subjects(study)))
    stale = set(touched_subjects(study))
    if not stale:
        return before
    found = dict(before)
    for subject in stale & found.keys():
        del found[subject]
    return found | dict(look(study, stale))
