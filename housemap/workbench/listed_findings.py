"""What was found in the open house: what is listed of it, and what would clear it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isclose
from typing import NamedTuple

from housemap.checks import Cause, Check, Finding, Limit, Place, Report, Severity, causes_of
from housemap.choose.remedies import Deck, Remedy, trials
from housemap.colorimetry.difference import Difference, difference, look_of
from housemap.model.house import SURFACES, Accepted
from housemap.study import Coat, Study
from housemap.workbench.choosing import Target

MOST_REMEDIES = 9
"""Of the house itself, and of what else there is."""
MOST_TOGETHER = 3
"""Limits that are listed together."""


class FindingFilter(NamedTuple):
    room: str | None = None
    """Those that name this room; None: of the whole house."""
    least: Severity = "note"
    """None slighter than this."""

    def found(self, report: Report) -> Sequence[Finding]:
        graver = {"note": ("note", "warn", "fault"), "warn": ("warn", "fault"), "fault": ("fault",)}
        findings = report.findings if self.room is None else report.by_room.get(self.room, ())
        return [f for f in findings if f.severity in graver[self.least]]

    def matters(self, report: Report) -> tuple[Cause, ...]:
        return *causes_of(self.found(report)), *causes_of(self.to_do(report))

    def to_do(self, report: Report) -> Sequence[Finding]:
        """What is left to do in what is listed; none where only graver findings are."""
        if self.least != "note":
            return []
        return [f for f in report.to_do if self.room is None or self.room in f.rooms]

    def accepted(self, report: Report) -> Sequence[tuple[Cause, Accepted]]:
        """What was accepted in what is listed, each by itself; none where only graver ones are."""
        if self.least != "note":
            return []
        return [
            (Cause((finding,)), entry)
            for finding, entry in report.accepted
            if self.room is None or self.room in finding.rooms
        ]


def rooms_of(matter: Cause, report: Report) -> tuple[str, ...]:
    """The rooms that it names; of a paint or finish by itself those that have it."""
    places = matter.first.places
    worn = {("Paint", p.paint) if p.paint else ("Finish", p.finish) for p in places}
    rooms = report.study.rooms.items()
    return matter.rooms or tuple(
        room for room, part in rooms if any(coat.swatch.key in worn for coat in part.every_coat)
    )


# The colours that a finding is about, as they looked to the eye that judged them.

MOST_COLOURS = 6


class Judged(NamedTuple):
    eye: str | None
    """The room from which it was judged; None under the reference light."""
    places: tuple[Place, ...]
    """Those that have a colour, at most MOST_COLOURS."""
    difference: Difference | None
    """Of the first two."""


def judged(finding: Finding, report: Report) -> Judged:
    """The colours of a finding of the report, in the light in which it was found."""
    places = [p for p in dict.fromkeys(finding.places) if p.paint or p.finish][:MOST_COLOURS]
    eye, difference = _judgement(finding, places[:2], report.study)
    return Judged(eye, tuple(places), difference)


def _judgement(
    finding: Finding, pair: Sequence[Place], study: Study
) -> tuple[str | None, Difference | None]:
    """From which room it was judged, and how far apart the first two looked from there."""
    first, second = (*(_coat(place, study) for place in pair), None, None)[:2]
    if first is None or second is None:
        return next(iter(finding.rooms), None), None
    if finding.light == "reference":
        return None, difference(look_of(first.swatch.colour), look_of(second.swatch.colour))
    seen: dict[str, Difference] = {}
    for room in finding.rooms:
        view = study.lighting.seen.get((room, finding.light))
        if view and first in view.colours and second in view.colours:
            seen[room] = view.difference(first, second)
    for eye, apart in seen.items():
        figures = (apart.ucs, apart.de00, apart.hue_apart_deg)
        if any(isclose(finding.value or 0.0, figure) for figure in figures):
            return eye, apart
    return next(iter(seen.items()), (None, None))


def _coat(place: Place, study: Study) -> Coat | None:
    """The coat at a place; None where none is there, as for a paint that is on no wall."""
    part = study.rooms.get(place.room)
    coats = part.every_coat if part else iter(())
    named = ("Paint", place.paint) if place.paint else ("Finish", place.finish)
    return next((c for c in coats if c.surface == place.surface and c.swatch.key == named), None)


# What would clear it


@dataclass(frozen=True, slots=True)
class RemedySearch:
    remedies: tuple[Remedy, ...] = ()
    tried: int = 0
    count: int = 0
    done: bool = False


def search_remedies(matter: Cause, base: Report, deck: Deck | None) -> Iterator[RemedySearch]:
    """Try every change that may clear it, one after the other; some seconds in all."""
    search = RemedySearch()
    for trial in trials(matter, base, deck, MOST_REMEDIES):
        search = RemedySearch((*search.remedies, *trial.remedies), trial.number, trial.count)
        yield search
    yield RemedySearch(search.remedies, done=True)


def paint_targets(matter: Cause) -> list[Target]:
    """The places of it that another paint could change."""
    return [
        Target(place.room, place.surface)
        for place in dict.fromkeys(matter.first.places)
        if place.room and place.surface.partition(" ")[0] in {*SURFACES, "accent"}
    ]


def limits_of(finding: Finding, check: Check) -> tuple[Limit, ...]:
    """The limits that decide on a finding, the one that it broke first.

    A check whose limits tell openings apart is decided by the one alone.
    """
    broken = tuple(limit for limit in check.limits if limit.kind == finding.kind)
    if broken and len(check.limits) > MOST_TOGETHER:
        return broken
    return broken + tuple(limit for limit in check.limits if limit not in broken)
