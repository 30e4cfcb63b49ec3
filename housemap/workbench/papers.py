"""The painter's schedule of the open house, and writing it for a reader."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from housemap.checks import Report
from housemap.file.paths import file_stem
from housemap.file.reader import read_house
from housemap.model.house import Edition
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.existing import Before, names_of, saves_before
from housemap.schedule.publishing import files_of, write_schedule
from housemap.workbench.folders import state_folder
from housemap.workbench.session import Session, Written, today


@dataclass(slots=True)
class Papers:
    """The newest schedule of a session, and what is known of the house beyond its file."""

    session: Session
    before: Before | None = None
    """How the house is painted now, once that was said: it sets the number of coats."""
    schedule: Schedule | None = None
    asked: Report | None = None
    """What the newest schedule that was asked for is of."""

    def next_report(self) -> Report | None:
        """A report of the decided house, with light, that has no schedule yet."""
        report = self.session.base if self.session.base_is_current else None
        is_new = report is not None and report.deep is not None and report is not self.asked
        return report if is_new else None

    def make(self, report: Report, before: Before | None) -> Schedule:
        """Some seconds; raises PlanError and others for a house before that means nothing."""
        return schedule_of(report, today(), before)

    def take(self, schedule: Schedule) -> None:
        """Keep a schedule that was made, unless a newer one was asked for meanwhile."""
        if schedule.report is self.asked:
            self.schedule = schedule

    # What is on the walls now

    def earlier_saves(self) -> Mapping[str, Before]:
        """The earlier saves of the house by the names that they are offered under."""
        file = self.session.file
        saves = saves_before(state_folder(), file.path, self.session.house) if file else ()
        return dict(zip(names_of(saves), (save.before for save in saves), strict=True))

    def before_in(self, path: Path) -> Before:
        """The house in a file, named beside the house's own; raises HouseFileError."""
        file = self.session.file
        path = (file.path.parent if file else Path()) / path
        return Before(read_house(path), path.name)

    # Writing

    def file_for(self, edition: Edition) -> Path:
        ending = "schedule.html" if edition == "full" else f"{edition}.html"
        if self.session.file is None:
            return Path(f"{file_stem(self.session.house.name)}-{ending}")
        path = self.session.file.path
        return path.with_name(f"{path.stem}-{ending}")

    def in_the_way(self, path: Path, edition: Edition) -> Path | None:
        """A file that writing would replace; raises InputError for a name without a known form."""
        return next((each for each in files_of(path, edition) if each.exists()), None)

    def write(self, path: Path, edition: Edition) -> tuple[Path, ...]:
        """Write the schedule for a reader; pictures and a PDF take seconds."""
        schedule = self.schedule
        assert schedule is not None
        paths = write_schedule(schedule, path, edition)
        self.session.written = Written(schedule.report.house, today())
        return paths
