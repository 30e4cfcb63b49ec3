"""Samples on site: where testers go, and a log of what was seen by few keys."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from textual.message import Message

from housemap.model.edits import put
from housemap.model.house import House, Sample, SampleLight
from housemap.plan.wall_names import wall_name
from housemap.tui.background import work_beside
from housemap.tui.questions import Prompt
from housemap.tui.render.light_view import LIGHT_WORDS
from housemap.tui.screens.editing import Editing
from housemap.workbench.forms.targets import Target

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.schedule.existing import Before
    from housemap.schedule.samples import Trial
    from housemap.tui.screens.paper import PaperScreen
    from housemap.tui.tasks.samples import SamplesPanel

SAMPLE = Target("sample")


@dataclass
class MostSeen(Message):
    """By room: the wall that is most seen from the others."""

    walls: Mapping[str, str]


class Sampling(Editing):
    """Actions on samples, and on what is made for the painter."""

    _before: "Before | None" = None
    """How the house is painted now, once that was told on the schedule."""

    def action_samples(self) -> None:
        self._open_samples(whole=False)

    def _open_samples(self, *, whole: bool, at: tuple[str, str] | None = None) -> None:
        from housemap.tui.tasks.samples import SamplesPanel  # noqa: PLC0415 - when first needed

        self.open_panel(SamplesPanel(self.session, self.look, whole=whole, at=at))
        report = self.session.base
        if report is not None:
            work_beside(self, "most seen", partial(_most_seen, report))

    def action_schedule(self) -> None:
        from housemap.tui.screens.scheduling import ScheduleScreen  # noqa: PLC0415 - when needed

        def took(before: "Before | None") -> None:
            self._before = before

        self._show_over(ScheduleScreen(self.session, self._before, took))

    def action_board(self) -> None:
        from housemap.tui.screens.paper import BoardScreen  # noqa: PLC0415 - when first needed

        self._show_over(BoardScreen(self.session))

    def _show_over(self, screen: "PaperScreen") -> None:
        """Have it reported on, be the map covered before it was ever shown."""
        self.on_house_map_shown()
        self.app.push_screen(screen, lambda _: self.follow())

    @property
    def _samples(self) -> "SamplesPanel | None":
        from housemap.tui.tasks.samples import SamplesPanel  # noqa: PLC0415 - it was opened

        return self.panel if isinstance(self.panel, SamplesPanel) else None

    def on_most_seen(self, message: MostSeen) -> None:
        message.stop()
        panel = self._samples
        if panel is not None:
            panel.most_seen = message.walls
            panel.follow(self.session)

    def on_samples_panel_left(self) -> None:
        self.close_panel()

    def on_samples_panel_looked(self, message: "SamplesPanel.Looked") -> None:
        message.stop()
        self.select(message.room)

    def on_samples_panel_judged(self, message: "SamplesPanel.Judged") -> None:
        """Ask for what was seen, and log it with today's date."""
        message.stop()
        trial, house = message.trial, self.session.house
        light = self._light_to_log
        sample = Sample(
            trial.paint, trial.room, message.wall, _today(), light, message.verdict
        )  # fmt: skip
        verdict = message.verdict or "put up"
        name = f"{house.paints[trial.paint].name} in {house.rooms[trial.room].name}"
        wall = f", {wall_name(house, trial.room, message.wall)}" if message.wall else ""
        text = f"{name}{wall}, {LIGHT_WORDS[light]}: {verdict}. What was seen?"

        def answered(seen: str | None) -> None:
            if seen is not None:
                self._log(sample, seen, f"{name}: {verdict}")

        self.app.push_screen(Prompt(text, "", self.look), answered)

    def _log(self, sample: Sample, seen: str, label: str) -> None:
        def logged(house: House) -> House:
            made = replace(sample, seen=seen)
            return put(house, "samples", SAMPLE.new_key(house, made), made)

        self.apply(logged, label)

    @property
    def _light_to_log(self) -> SampleLight:
        """The light shown is the light in which one looks; the reference stands for the day."""
        return "evening" if self.session.selection.light == "evening" else "day"

    def on_samples_panel_opened(self, message: "SamplesPanel.Opened") -> None:
        message.stop()
        trial, panel = message.trial, self._samples
        if panel is None:  # the form is open already: the key came twice at once
            return
        given = {
            "paint": trial.paint, "room": trial.room, "wall": message.wall, "when": _today(),
            "light": self._light_to_log,
        }  # fmt: skip
        whole = panel.whole
        self.open_form(Target("sample", _newest(self.session.house, trial)), given)
        self._back = lambda target: self._open_samples(whole=whole, at=self._tried(target, trial))

    def _tried(self, target: Target, trial: "Trial") -> tuple[str, str]:
        """The paint and room of a sample as it is now; those of before where it is gone."""
        sample = self.session.house.samples.get(target.key or "")
        return (sample.paint, sample.room) if sample else trial.key

    def on_samples_panel_doomed(self, message: "SamplesPanel.Doomed") -> None:
        message.stop()
        self.delete(Target("sample", _newest(self.session.house, message.trial)))


def _newest(house: House, trial: "Trial") -> str | None:
    """The id of the sample that stands last in the file; None where there is none."""
    found = [key for key, each in house.samples.items() if (each.paint, each.room) == trial.key]
    return found[-1] if found else None


def _most_seen(report: "Report") -> Iterator[Message]:
    """In a thread."""
    from housemap.schedule.proportions import rounds_of  # noqa: PLC0415 - in the thread

    yield MostSeen(rounds_of(report.study).most_seen)


def _today() -> dt.date:
    return dt.datetime.now().astimezone().date()
