"""What was found: the list, one finding in full, its remedies and its limits."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

from textual.message import Message

from housemap.model.house import SURFACES
from housemap.tui.background import ReportReady, drop_work, work_beside
from housemap.tui.map.drawing import Sight
from housemap.tui.questions import Choice, Question
from housemap.tui.screens.choosing import Choosing
from housemap.tui.screens.limits import Limits
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.checks import Matter, Report
    from housemap.choose.remedies import Trial
    from housemap.tui.tasks.findings import FindingPanel, FindingsPanel
    from housemap.tui.tasks.findings_drawing import Search, Sifting
    from housemap.workbench.choosing import Target

REMEDIES = "remedies"
"""The group of the work that looks for them."""

MOST_REMEDIES, MOST_ELSEWHERE = 5, 3
"""Of the house itself, and of what else there is."""


@dataclass
class Searched(Message):
    """The search for remedies of a matter came further."""

    matter: "Matter"
    search: "Search"


class Findings(Limits, Choosing):
    """Actions on what was found."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._sifting: Sifting | None = None
        """Which are listed; None: all."""
        self._matter: Matter | None = None
        """The one that the map shows."""

    # The list

    def action_findings(self) -> None:
        """Show what was found, beginning with the selected room."""
        self._sifting = None
        self._show_list(self.session.selection.room)

    def _show_list(self, chosen: object) -> None:
        from housemap.tui.tasks.findings import FindingsPanel  # noqa: PLC0415 - the same
        from housemap.tui.tasks.findings_drawing import Sifting  # noqa: PLC0415 - when first needed

        sifting = self._sifting or Sifting()
        self.open_list(FindingsPanel(self.session, self.look, sifting, chosen))

    def on_findings_panel_looked(self, message: "FindingsPanel.Looked") -> None:
        if self._findings_panel() is not None:
            self._look_at(message.matter)

    def _look_at(self, matter: "Matter") -> None:
        """Select a room that it names, and let the lines of sight lead to the others."""
        self._matter = matter
        rooms = [room for room in matter.rooms if room in self.session.shown.rooms]
        if rooms and self.session.selection.room not in matter.first.rooms:
            self.select(rooms[0])
        else:
            self.follow_selection()

    def _sights(self) -> tuple[Sight, ...]:
        sights, matter = super()._sights(), self._matter
        return sights if matter is None else tuple(s for s in sights if s.room in matter.rooms)

    def close_panel(self) -> None:
        self._matter = None
        drop_work(self, REMEDIES)
        super().close_panel()

    def on_findings_panel_left(self) -> None:
        self.close_panel()

    def on_findings_panel_opened(self, message: "FindingsPanel.Opened") -> None:
        from housemap.tui.tasks.findings import FindingPanel  # noqa: PLC0415 - when first needed

        panel = self._findings_panel()
        if panel is not None:
            self._sifting = panel.sifting
            key = message.matter.first.key
            self.open_list(FindingPanel(self.session, self.look, panel.sifting, key))

    def _findings_panel(self) -> "FindingsPanel | None":
        from housemap.tui.tasks.findings import FindingsPanel  # noqa: PLC0415 - it is there

        return self.panel if isinstance(self.panel, FindingsPanel) else None

    # One finding

    def _finding_panel(self) -> "FindingPanel | None":
        from housemap.tui.tasks.findings import FindingPanel  # noqa: PLC0415 - it is there by now

        return self.panel if isinstance(self.panel, FindingPanel) else None

    def on_finding_panel_looked(self, message: "FindingPanel.Looked") -> None:
        """Show it on the map, and look for its remedies once the light is known."""
        matter, base = message.matter, self.session.base
        if self._finding_panel() is None or base is None:
            return
        self.session.try_out(None)
        self._look_at(matter)
        if not self._reporting.light_to_come:
            self._search(matter, base)

    def on_report_ready(self, message: ReportReady) -> None:
        """Do without the light where it could not be computed."""
        panel = self._finding_panel()
        if message.outcome.fault and panel is not None:
            self.call_later(panel.look_again)

    def _search(self, matter: "Matter", base: "Report") -> None:
        """Try every change that may clear the matter, telling how far that is."""

        def steps() -> Iterator[Message]:
            from housemap.choose.remedies import trials  # noqa: PLC0415 - in the thread
            from housemap.tui.tasks.findings_drawing import Search  # noqa: PLC0415 - the same

            search, finding = Search(), matter.first
            of_house = _few(trials(finding, base), MOST_REMEDIES)
            elsewhere = _few(self.remedies_elsewhere(finding, base), MOST_ELSEWHERE)
            for trial in chain(of_house, elsewhere):
                found = (trial.remedy,) if trial.remedy else ()
                search = Search((*search.remedies, *found), trial.number, trial.count)
                yield Searched(matter, search)
            yield Searched(matter, Search(search.remedies, done=True))

        work_beside(self, REMEDIES, steps)

    def on_searched(self, message: Searched) -> None:
        message.stop()
        panel = self._finding_panel()
        if panel is not None:
            panel.show_search(message.matter, message.search)

    def on_finding_panel_tried(self, message: "FindingPanel.Tried") -> None:
        remedy = message.remedy
        if self._finding_panel() is None:
            return
        if remedy is None:
            self.try_out(None)
        else:
            self.try_out(remedy.report.house, remedy.report)

    def on_finding_panel_applied(self, message: "FindingPanel.Applied") -> None:
        """Make the change, and go back to what is left."""
        from housemap.tui.tasks.choose_drawing import change_text  # noqa: PLC0415 - it is there by now

        remedy, base = message.remedy, self.session.base
        before = len(base.findings) if base else 0
        after = len(remedy.report.findings)
        label = remedy.change.label
        self._show_list(self.session.selection.room)
        if self.apply(remedy.report.house, label, remedy.report):
            change = change_text(before, after, self.look)
            self.say(f"Done, {change} findings, u takes it back: {label}")

    def on_finding_panel_none_yet(self, message: "FindingPanel.NoneYet") -> None:
        nothing = "Nothing that was tried clears it; c chooses another paint."
        self.say(nothing if message.done else "Still looking for what would clear it.")

    def on_finding_panel_left(self, message: "FindingPanel.Left") -> None:
        matter = self._matter
        self._show_list(matter.first.key if matter else None)
        if message.gone:
            self.say("That is no longer found.")

    # Another paint

    def on_findings_panel_paint_asked(self, message: "FindingsPanel.PaintAsked") -> None:
        self._ask_place(message.matter)

    def on_finding_panel_paint_asked(self, message: "FindingPanel.PaintAsked") -> None:
        self._ask_place(message.matter)

    def _ask_place(self, matter: "Matter") -> None:
        """Choose a paint for the place of a matter; ask which where there are several."""
        from housemap.workbench.choosing import Target  # noqa: PLC0415 - when first needed

        targets = [
            Target(place.room, place.surface)
            for place in dict.fromkeys(matter.first.places)
            if place.room and place.surface.partition(" ")[0] in {*SURFACES, "accent"}
        ]
        if not targets:
            self.say("No paint of a room would change that.")
        elif len(targets) == 1:
            self._choose_at(targets[0])
        else:
            house = self.session.house
            choices = [
                Choice(str(number), target.name_in(house), str(number))
                for number, target in enumerate(targets[:9], 1)
            ]

            def answered(answer: str | None) -> None:
                if answer:
                    self._choose_at(targets[int(answer) - 1])

            question = Question("Another paint for which?", choices, "leave it", self.look)
            self.app.push_screen(question, answered)

    def _choose_at(self, target: "Target") -> None:
        self.close_panel()
        self.select(target.room)
        surface = next((s for s in SURFACES if s == target.surface), None)
        if surface is not None:
            self.session.select_surface(surface)
        self.choose_for(target)

    # The checks themselves

    def action_checks(self) -> None:
        from housemap.tui.screens.checks import ChecksScreen  # noqa: PLC0415 - when first needed

        self.app.push_screen(ChecksScreen(self.session))


def _few(trials: "Iterator[Trial]", most: int) -> "Iterator[Trial]":
    """Trials until so many remedies are found."""
    found = 0
    for trial in trials:
        if trial.remedy is not None:
            len(trial.remedy.report.findings)  # computed here: no key waits for it
            found += 1
        yield trial
        if found == most:
            return
