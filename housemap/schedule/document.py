"""The paint schedule as one value: what every form of it (Markdown, CSV, HTML, screen) tells."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace

from housemap.checks import Matter, Report, matters_of
from housemap.errors import InputError
from housemap.file import dump_house
from housemap.file.reader import fingerprint
from housemap.model.house import House
from housemap.model.samples import Tried, all_tried
from housemap.plan.elevations import Elevations
from housemap.schedule.cautions import cautions
from housemap.schedule.meetings import Meeting, meetings
from housemap.schedule.proportions import Share, board_of, rounds_of
from housemap.schedule.quantities import Line, Quantities, quantities
from housemap.schedule.samples import Tester, testers
from housemap.study import Study, Swatch, study_of

TOLD_ELSEWHERE = "untried"
"""The check whose findings are the plan of samples."""


@dataclass(frozen=True, slots=True)
class Before:
    """The house as it is painted now."""

    house: House
    told: str
    """Where that is known from, as in "as-found.toml"."""


@dataclass(frozen=True, slots=True)
class Schedule:
    """Everything that goes to the painter and the client."""

    report: Report
    elevations: Elevations
    date: dt.date
    revision: str
    """What tells this state of the house from another, as in "3fa9c2e1"."""
    quantities: Quantities
    board: tuple[Share, ...]
    meetings: tuple[Meeting, ...]
    testers: tuple[Tester, ...]
    matters: tuple[Matter, ...]
    """Open findings, save those that the plan of samples tells."""
    cautions: tuple[str, ...]
    before: Before | None
    """What coats go over, where that is known."""
    _tried: Mapping[tuple[str, str], Tried]

    @property
    def house(self) -> House:
        return self.report.house

    @property
    def study(self) -> Study:
        return self.report.study

    def swatch(self, paint: str) -> Swatch:
        return self.study.paint(paint)

    def lines_of(self, room: str) -> tuple[Line, ...]:
        return tuple(line for line in self.quantities.lines if line.room == room)

    def tried(self, paint: str, room: str) -> Tried:
        """What the samples of a paint in a room have come to."""
        return self._tried.get((paint, room), "untried")


def schedule_of(report: Report, date: dt.date, before: Before | None = None) -> Schedule:
    """The schedule of a house, its coats by the step from what is there before, where known.

    Raises InputError for a paint before whose colour no surface can have.
    """
    house, study = report.house, report.study
    elevations = Elevations(house, study.plan, study.sight.space)
    rounds = rounds_of(study, elevations)
    amounts = quantities(study, _study(before) if before else None)
    return Schedule(
        report=report,
        elevations=elevations,
        date=date,
        revision=revision_of(house),
        quantities=amounts,
        board=board_of(amounts.lines, rounds),
        meetings=meetings(house),
        testers=testers(report, rounds),
        matters=matters_of(f for f in report.findings if f.check != TOLD_ELSEWHERE),
        cautions=cautions(house),
        before=before,
        _tried=all_tried(house),
    )


def _study(before: Before) -> Study:
    """Its faults are told as those of where it is from."""
    try:
        return study_of(before.house)
    except InputError as error:
        told = [replace(p, file=p.file or before.told) for p in error.problems]
        raise InputError(told) from error


def revision_of(house: House) -> str:
    """The same for the same house, whoever writes the schedule."""
    return fingerprint(dump_house(house).encode())[:8]
