"""The report of a house: every finding, and those with one cause as one.

It is made anew only where the study changed.
"""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

from housemap.checks.counting import IN_FULL, Visibility, acceptance_of, visibility
from housemap.checks.every import CHECKS, check_of
from housemap.checks.finding import SEVERITY_COST, Finding
from housemap.checks.judging import (
    Found,
    Subject,
    found_in,
    relit_subjects,
    subjects_of,
)
from housemap.checks.pages.steps import usual_lamps
from housemap.checks.pages.undertones import made_by_lamps
from housemap.checks.words import MOST_ROOMS, listed, paint_name, room_name, under
from housemap.model.frozen import frozen
from housemap.model.grouping import grouped
from housemap.model.house import Accepted, House
from housemap.model.samples import approved_paints
from housemap.model.severity import SEVERITIES, Severity, Tally
from housemap.plan.house_graph import Pair
from housemap.study import Study, study_of

_SURFACES = {
    "trim": "woodwork",
    "doors": "woodwork",
    "accent": "one wall",
}


class Cause(NamedTuple):
    """One or more findings with one cause; the gravest stands for the rest."""

    findings: tuple[Finding, ...]
    """The gravest first."""

    @property
    def first(self) -> Finding:
        return self.findings[0]

    @property
    def check(self) -> str:
        return self.first.check

    @property
    def severity(self) -> Severity:
        return self.first.severity

    @property
    def rooms(self) -> tuple[str, ...]:
        """Every room that it names, those of the gravest finding first."""
        return tuple(dict.fromkeys(room for f in self.findings for room in f.rooms))

    @property
    def surfaces(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(surface for f in self.findings for surface in f.surfaces))

    @property
    def paints(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(paint for f in self.findings for paint in f.paints))

    @property
    def cost(self) -> float:
        return sum(finding.cost for finding in self.findings)

    def describe(self, house: House) -> str:
        """The finding in words; of several what they have in common, and where."""
        if len(self.findings) == 1:
            return check_of(self.check).describe(self.first, house)
        return f"{self.headline(house)}: {self.where(house)}."

    def headline(self, house: House) -> str:
        """What is wrong, as in "Quince Blush and Sluice Green fight"."""
        names = [paint_name(house, place) for place in self.first.places]
        check = check_of(self.check)
        [words, *more] = {check.other_headline(finding, house) for finding in self.findings}
        return (check.headline if more else words or check.headline).format(*names)

    def where(self, house: House) -> str:
        """As in "walls and woodwork in Dining room and Kitchen, most by day"."""
        rooms = [room_name(house, room) for room in self.rooms]
        more = [f"{len(rooms) - MOST_ROOMS} more"] * (len(rooms) > MOST_ROOMS)
        named = listed([*rooms[:MOST_ROOMS], *more])
        places = (place for finding in self.findings for place in finding.places)
        kinds = (p.surface.partition(" ")[0] for p in places if p.surface and not p.finish)
        surfaces = listed([*dict.fromkeys(_SURFACES.get(kind, kind) for kind in kinds)])
        light = "" if check_of(self.check).names_light else under(self.first)
        return " in ".join(filter(None, (surfaces, named))) + (light and f", most{light}")


def causes_of(findings: Iterable[Finding]) -> tuple[Cause, ...]:
    """The findings gathered by cause, the gravest cause first."""
    by_cause = grouped((_cause(finding), finding) for finding in findings)
    causes = [Cause(tuple(sorted(found, key=_gravity))) for found in by_cause.values()]
    return tuple(sorted(causes, key=lambda cause: (*_gravity(cause.first)[:2], -cause.cost)))


_WITHIN_SEVERITY = {"rejected": -1, "label": 1}
"""What was seen on the wall comes first among those as grave, a wrong figure on a card last."""


def _gravity(finding: Finding) -> tuple[int, int, float]:
    place = _WITHIN_SEVERITY.get(finding.check, 0)
    return -SEVERITIES.index(finding.severity), place, -finding.cost


def _cause(finding: Finding) -> object:
    """What one would change: lamps, two colours wherever they meet, one paint, or one place."""
    if finding.lamps_of:
        return finding.lamps_of
    check = check_of(finding.check)
    if check.caused_by == "place":
        return finding.check, finding.kind, finding.places
    places = finding.places if check.caused_by == "paints" else finding.places[:1]
    return finding.check, frozenset((place.paint, place.finish) for place in places)


def counted(causes: Iterable[Cause]) -> Counter[Severity]:
    return Counter(cause.severity for cause in causes)


Ordered = tuple[tuple[Subject, Finding], ...]


@frozen(eq=False)
class Report:
    """Everything computed of a house together with everything found in it."""

    study: Study
    plain: Found
    """Found under the reference light."""
    deep: Found | None
    """Found by day and in the evening, and from sight; None where that was not asked for."""

    @property
    def house(self) -> House:
        return self.study.house

    def after(self, house: House) -> "Report":
        """The report of an edited house, as deep as this one."""
        return report_of(house, self, deep=self.deep is not None)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Grave first, then by check and place; of several lights the one in which it is worst."""
        usual = usual_lamps(self.house) if self.deep else ()
        return tuple(made_by_lamps(finding, self.house, usual) for _, finding in self.counted)

    @cached_property
    def causes(self) -> tuple[Cause, ...]:
        """The findings by what one would change, the gravest cause first."""
        return causes_of(self.findings)

    @cached_property
    def tally(self) -> Tally:
        counts = counted(self.causes)
        return Tally(len(self.causes), sum(each.cost for each in self.causes), counts["fault"])

    @cached_property
    def to_do(self) -> tuple[Finding, ...]:
        """Work that is left: rooms without paint, paints without an approved sample."""
        return tuple(f for _, f in self.ordered if check_of(f.check).to_do)

    @cached_property
    def accepted(self) -> tuple[tuple[Finding, Accepted], ...]:
        """What somebody looked at and accepted, with what they wrote."""
        entries = ((f, acceptance_of(f, self.house)) for _, f in self.ordered)
        return tuple((finding, entry) for finding, entry in entries if entry is not None)

    @cached_property
    def counted(self) -> Ordered:
        """What is neither accepted nor work that is left."""
        return tuple(
            (subject, finding)
            for subject, finding in self.ordered
            if not check_of(finding.check).to_do and not acceptance_of(finding, self.house)
        )

    def describe(self, finding: Finding) -> str:
        return check_of(finding.check).describe(finding, self.house)

    def visibility(self, pair: Pair) -> Visibility:
        """How much of each other two rooms see; in full where sight was not asked for."""
        if self.deep is None:
            return IN_FULL
        return visibility(self.study, self.study.pairs[pair])

    @cached_property
    def ordered(self) -> Ordered:
        """Every finding behind its subject."""
        subjects = {**self.plain, **(self.deep or {})}
        found = [(subject, finding) for subject in subjects for finding in self._worst(subject)]
        return tuple(sorted(found, key=lambda each: _order(each[1])))

    @cached_property
    def by_room(self) -> Mapping[str, tuple[Finding, ...]]:
        rooms = grouped((room, finding) for finding in self.findings for room in finding.rooms)
        return {room: tuple(found) for room, found in rooms.items()}

    @cached_property
    def causes_by_room(self) -> Mapping[str, tuple[Cause, ...]]:
        return {room: causes_of(found) for room, found in self.by_room.items()}

    def _worst(self, subject: Subject) -> Iterable[Finding]:
        """Each finding once, in the light in which it is worst, as grave as it is seen."""
        found: Collection[Finding] = self.plain.get(subject, ())
        if deep := self.deep.get(subject) if self.deep else None:
            worst: dict[object, Finding] = {}
            for finding in (*found, *deep):
                known = worst.get(finding.key)
                if known is None or finding.cost > known.cost:
                    worst[finding.key] = finding
            found = worst.values()
        table, key = subject
        if table == "swatches" and key not in self.study.worn:  # does no harm yet
            unworn = (each for each in found if each.severity != "note")
            return [replace(each, severity="note", cost=SEVERITY_COST["note"]) for each in unworn]
        return map(self.visibility(key).weighed, found) if table == "pairs" and found else found


_RANK = {check.id: rank for rank, check in enumerate(CHECKS)}


def _order(finding: Finding) -> tuple[object, ...]:
    places = tuple((p.room, p.surface, p.paint, p.finish) for p in finding.places)
    return *_gravity(finding)[:2], _RANK[finding.check], places, finding.kind


def report_of(house: House, previous: Report | None = None, *, deep: bool = True) -> Report:
    """The report of `house`; equal to one from scratch whatever `previous` was.

    `deep` asks for light and sight, which take longer than all the rest. Raises InputError, a
    line each, for paints and finishes whose colour no surface can have.
    """
    study = study_of(house, previous.study if previous else None)
    if previous is not None and _rules(study) != _rules(previous.study):
        previous = None
    touched = frozenset(subjects_of(study.touched))
    plain = _renewed(study, previous.plain if previous else None, touched, deep=False)
    if not deep:
        return Report(study, plain, None)
    study.lighting.compute()  # also where no finding asked for it: the screen shows it
    before = previous.deep if previous else None
    if previous is not None and before is not None:
        touched |= relit_subjects(study, previous.study)
    return Report(study, plain, _renewed(study, before, touched, deep=True))


def _rules(study: Study) -> tuple[object, ...]:
    """What findings depend on beside the parts of the study."""
    house = study.house
    sky = house.north_deg, house.latitude_deg
    rules = house.limits, house.low_vision, house.country, house.brief.colours, sky
    return *rules, approved_paints(house), study.lightest_lrv


def _renewed(study: Study, before: Found | None, stale: frozenset[Subject], *, deep: bool) -> Found:
    if before is None:
        return found_in(study, subjects_of(study), deep=deep)
    if not stale:
        return before
    kept = {subject: found for subject, found in before.items() if subject not in stale}
    return {**kept, **found_in(study, stale, deep=deep)}
