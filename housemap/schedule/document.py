"""The paint schedule as one value: what every form of it (Markdown, CSV, HTML, screen) tells."""

import datetime as dt
from dataclasses import dataclass

from housemap.checks import Matter, Report, matters_of
from housemap.file import dump_house
from housemap.file.reader import fingerprint
from housemap.model.house import House, Sample
from housemap.schedule.cautions import cautions
from housemap.schedule.meetings import Meeting, meetings
from housemap.schedule.quantities import Line, Quantities, quantities
from housemap.schedule.samples import Tester, testers
from housemap.study import Study, Swatch


@dataclass(frozen=True, slots=True)
class Schedule:
    """Everything that goes to the painter and the client."""

    report: Report
    date: dt.date
    revision: str
    """What tells this state of the house from another, as in "3fa9c2e1"."""
    quantities: Quantities
    meetings: tuple[Meeting, ...]
    testers: tuple[Tester, ...]
    matters: tuple[Matter, ...]
    """Open findings of the grade warning and fault, and notes on samples and sheen."""
    cautions: tuple[str, ...]

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

    def samples_of(self, paint: str, room: str) -> tuple[Sample, ...]:
        return tuple(
            sample
            for sample in self.house.samples.values()
            if (sample.paint, sample.room) == (paint, room)
        )


def schedule_of(report: Report, date: dt.date, before: Study | None = None) -> Schedule:
    """The schedule of a house; `before` is the house as it is painted now, where that is known."""
    house = report.house
    return Schedule(
        report=report,
        date=date,
        revision=revision_of(house),
        quantities=quantities(report.study, before),
        meetings=meetings(house),
        testers=testers(report),
        matters=matters_of(f for f in report.findings if f.check != "untried"),
        cautions=cautions(house),
    )


def revision_of(house: House) -> str:
    """The same for the same house, whoever writes the schedule."""
    return fingerprint(dump_house(house).encode())[:8]
