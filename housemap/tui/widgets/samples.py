"""The panel of samples: it shows what is to be tried, and reports what was judged."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.model.house import Verdict
from housemap.model.shape import walls
from housemap.schedule.samples import Trial, trials_of_house, trials_of_room
from housemap.tui.keys import bindings_of
from housemap.tui.paper_commands import SAMPLES
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Row
from housemap.tui.render.samples import SamplesView, no_samples, samples_head, trial_rows
from housemap.tui.render.shades import shades_of
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session


class SamplesPanel(ListPanel):
    """Paints with the rooms in which they are tried."""

    CONTEXT: ClassVar[str] = SAMPLES
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SAMPLES)]

    @dataclass
    class Judged(Message):
        """A look is to be logged."""

        trial: Trial
        wall: str | None
        verdict: Verdict | None

    @dataclass
    class Opened(Message):
        """The newest sample is to be edited."""

        trial: Trial
        wall: str | None

    @dataclass
    class Doomed(Message):
        """The newest sample is to be deleted."""

        trial: Trial

    @dataclass
    class Looked(Message):
        """Another room is looked at."""

        room: str

    @dataclass
    class Left(Message):
        """The panel is to be closed."""

    def __init__(
        self, session: Session, look: Look, *, whole: bool = False, at: Hashable | None = None
    ) -> None:
        super().__init__(session, look)
        self.whole = whole
        """Whether the whole house is listed."""
        self._first = at
        """The trial that is chosen at the start, by its key."""
        self.most_seen: Mapping[str, str] = {}
        """By room: the wall most seen from others, once that has been found."""
        self._trials: Sequence[Trial] = ()
        self._walls: dict[tuple[str, str], str | None] = {}
        """What was chosen in place of the wall of the plan."""
        self.follow(session)  # at once: the next key is meant for an entry

    def follow(self, session: Session) -> None:
        self.session = session
        house, room = session.house, session.selection.room
        if self.whole or room not in house.rooms:
            report = session.base if session.base_is_current else None
            found = report.findings if report else ()
            untried = [f.places[0] for f in found if f.check == "untried"]
            self._trials = trials_of_house(house, untried, self.most_seen)
        else:
            self._trials = trials_of_room(house, str(room), self.most_seen)
        at, self._first = self.chosen or self._first, None
        self.show_entries([trial.key for trial in self._trials], at)
        self.redraw()

    @property
    def trial(self) -> Trial | None:
        number = self.chosen_number
        return None if number is None else self._trials[number]

    @property
    def wall(self) -> str | None:
        """Where the next look is logged: as chosen, else where the plan wants the tester first."""
        trial = self.trial
        if trial is None:
            return None
        first = trial.walls[0][0] if trial.walls else None
        return self._walls.get(trial.key, first)

    def _view(self) -> SamplesView:
        session = self.session
        report = session.base or session.report
        light = session.selection.light
        return SamplesView(
            session.house, report, self.trial, self.wall, light, self.whole, self.look
        )

    def head(self, width: int, height: int) -> Sequence[Row]:
        return samples_head(self._view(), width, height)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        line = Line(self.look, width, chosen)
        return trial_rows(self._trials[number], shades_of(self.session), line)

    def nothing(self, width: int) -> Sequence[Row]:
        return no_samples(self._view(), width)

    def moved(self) -> None:
        if self.trial is not None and self.whole:
            self.post_message(self.Looked(self.trial.room))

    def picked(self) -> None:
        self.action_sample_form()

    # What the user does

    def action_judge(self, verdict: str) -> None:
        if self.trial is not None:
            given: Mapping[str, Verdict] = {
                "keep": "keep", "unsure": "unsure", "reject": "reject",
            }  # fmt: skip
            self.post_message(self.Judged(self.trial, self.wall, given.get(verdict)))

    def action_sample_wall(self) -> None:
        trial = self.trial
        if trial is None:
            return
        keys: list[str | None] = [each.key for each in walls(self.session.house.rooms[trial.room])]
        keys.append(None)
        now = keys.index(self.wall) if self.wall in keys else -1
        self._walls[trial.key] = keys[(now + 1) % len(keys)]
        self.redraw_head()

    def action_sample_form(self) -> None:
        if self.trial is not None:
            self.post_message(self.Opened(self.trial, self.wall))

    def action_sample_delete(self) -> None:
        if self.trial is not None and self.trial.samples:
            self.post_message(self.Doomed(self.trial))

    def action_samples_scope(self) -> None:
        self.whole = not self.whole
        self.follow(self.session)
        self.moved()

    def action_samples_leave(self) -> None:
        self.post_message(self.Left())
