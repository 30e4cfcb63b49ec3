"""The paint schedule as one value: what every edition and form of it (screen too) shows."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from housemap.checks import Cause, Report, causes_of
from housemap.file.reader import fingerprint
from housemap.file.writer import dump_house
from housemap.model.grouping import grouped
from housemap.model.house import Edition, House, Issue, Sample, SampleLight, part_surface
from housemap.model.samples import CHECKS as SAMPLES
from housemap.model.samples import Tried, Trying, come_to, light_to_see, samples_by_place
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import space_of
from housemap.schedule import wording
from housemap.schedule.existing import Before, ExistingCoats, existing_coats
from housemap.schedule.proportions import Rounds, Share, board_of, rounds_of
from housemap.schedule.quantities import Line, Quantities, quantities
from housemap.schedule.samples import Trial, trial_at
from housemap.schedule.views import RoomViews
from housemap.study import Study, Swatch


@dataclass(frozen=True)
class Schedule:
    """Everything that goes to the painter, the client and the supplier."""

    report: Report
    date: dt.date
    existing: ExistingCoats
    quantities: Quantities
    before: Before | None
    """The house file or save that the colours there now were read from, where one was."""
    issue: str = ""
    """Its number where it is handed out; empty for a draft."""

    @property
    def house(self) -> House:
        return self.report.house

    @property
    def study(self) -> Study:
        return self.report.study

    @cached_property
    def revision(self) -> str:
        """What marks this state of the house, whoever writes of it, as in "3fa9c2e1"."""
        return fingerprint(dump_house(self.house).encode())[:8]

    @cached_property
    def elevations(self) -> Elevations:
        return Elevations(self.house, self.study.plan, space_of(self.house, self.study.plan))

    @cached_property
    def views(self) -> RoomViews:
        return RoomViews(self.study, self.elevations)

    @cached_property
    def rounds(self) -> Rounds:
        return rounds_of(self.study, self.elevations)

    @cached_property
    def board(self) -> tuple[Share, ...]:
        return board_of(self.quantities.lines, self.rounds)

    @cached_property
    def testers(self) -> tuple[Trial, ...]:
        """What the samples list asks for, in its order."""
        graph, seen = self.study.graph, self.rounds.most_seen
        return tuple(
            trial_at(self.house, graph, (each.paint, each.room, each.surface), seen)
            for each in self.study.samples_to_see
        )

    @cached_property
    def sample_places(self) -> frozenset[tuple[str, str]]:
        """Rooms and walls on which a sample is to be put up."""
        return frozenset((each.room, wall) for each in self.testers for wall, _ in each.walls)

    @cached_property
    def matters(self) -> tuple[Cause, ...]:
        """Open findings, save those that the plan of samples shows."""
        left = (f for f in self.report.to_do if f.check not in SAMPLES)
        return *self.report.causes, *causes_of(left)

    @cached_property
    def numbers(self) -> Mapping[str, int]:
        """The number of each paint that is on something: the key of plan, walls and lists."""
        areas: dict[str, float] = {}
        for line in self.quantities.lines:
            areas[line.paint] = areas.get(line.paint, 0.0) + (line.area_m2 or 0.0)
        ordered = sorted(areas, key=lambda paint: (-areas[paint], paint))
        return {paint: number for number, paint in enumerate(ordered, 1)}

    def swatch(self, paint: str) -> Swatch:
        return self.study.paint(paint)

    @cached_property
    def _by_room(self) -> Mapping[str, Sequence[Line]]:
        return grouped((line.room, line) for line in self.quantities.lines)

    def lines_of(self, room: str) -> Sequence[Line]:
        return self._by_room.get(room, ())

    def part_m2(self, room: str, key: str) -> float | None:
        """As in the lists: by what it was measured, painted or not."""
        painted = {line.surface: line.area_m2 for line in self.lines_of(room)}
        left = {each.key: each.area_m2 for each in self.quantities.left if each.room == room}
        return painted.get(part_surface(key), left.get(key))

    def tried(self, place: Trying) -> Tried:
        return come_to(self._samples.get(place, ()))

    def light_to_see(self, place: Trying) -> SampleLight | None:
        """By which a paint that was approved there is still to be seen."""
        return light_to_see(self._samples.get(place, ()))

    @cached_property
    def _samples(self) -> Mapping[Trying, Sequence[Sample]]:
        return samples_by_place(self.house)

    @cached_property
    def last_issue(self) -> str | None:
        """The number of the issue before this one that says what it said."""
        earlier = [
            key for key, each in self.house.issues.items() if each.said and key != self.issue
        ]
        numbers = {key: (int(key) if key.isdecimal() else 0, key) for key in earlier}
        return max(earlier, key=lambda key: numbers[key], default=None)

    def change(self, line: Line) -> str | None:
        """What the last issue said of a line, "new" if nothing; None where it says the same."""
        if self.last_issue is None:
            return None
        said = self.house.issues[self.last_issue].said.get(line.room, {})
        before = said.get(surface_key(line.surface), "new")
        return None if before == said_of(self.house, line) else before

    def dropped(self) -> Iterator[tuple[str, str, str]]:
        """Room, surface and words of what the last issue had and this one has not."""
        if self.last_issue is None:
            return
        now = {(line.room, surface_key(line.surface)) for line in self.quantities.lines}
        for room, surfaces in self.house.issues[self.last_issue].said.items():
            for surface, text in surfaces.items():
                if (room, surface) not in now:
                    yield room, surface, text


def schedule_of(report: Report, date: dt.date, before: Before | None = None) -> Schedule:
    """Over what is on its walls now, where known. InputError for a colour that cannot be."""
    existing = existing_coats(report.house, before)
    return Schedule(report, date, existing, quantities(report.study, existing), before)


def issued(schedule: Schedule, edition: Edition, to: str = "") -> tuple[House, Schedule]:
    """The house with this schedule noted as handed out, and the schedule with its number."""
    house = schedule.house
    numbers = [int(key) for key in house.issues if key.isdecimal()]
    number = str(max(numbers, default=0) + 1)
    said: dict[str, dict[str, str]] = {}
    for line in schedule.quantities.lines:
        said.setdefault(line.room, {})[surface_key(line.surface)] = said_of(house, line)
    issue = Issue(schedule.date, edition, to, said=said)
    then = replace(house, issues={**house.issues, number: issue})
    return then, replace(schedule, report=schedule.report.after(then), issue=number)


def surface_key(surface: str) -> str:
    """A surface as an id: "accent n" as "accent-n"."""
    return surface.replace(" ", "-")


def said_of(house: House, line: Line) -> str:
    """What an issue says of a line, in short: whatever of it changes is a change."""
    system = line.system
    first = system.first.text if system.first else ""
    facts = wording.paint(house, line.paint), line.sheen or "", system.product, first
    return ", ".join([*filter(None, facts), f"{system.coats} coats"])
