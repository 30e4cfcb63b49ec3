"""What was found: the list, one finding in full, its remedies and its limits."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from textual.events import Click

from housemap.checks import Cause, Check, Finding, Limit, Report, Severity, check_of
from housemap.checks.words import unit_words
from housemap.choose.remedies import Remedy
from housemap.model.edits import accept, set_limit, withdraw
from housemap.model.house import SURFACES, Accepted
from housemap.model.severity import findings_text
from housemap.tui.background import drop_work, steps_beside
from housemap.tui.house_screen import Task
from housemap.tui.map.drawing import Sight
from housemap.tui.panels import ListPanel, RowsPanel
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.tasks import findings_drawing as drawing
from housemap.tui.tasks.checks import ChecksScreen
from housemap.tui.tasks.choose import ChooseTask
from housemap.workbench.choosing import Target
from housemap.workbench.listed_findings import (
    FindingFilter,
    RemedySearch,
    judged,
    limits_of,
    paint_targets,
    rooms_of,
    search_remedies,
)
from housemap.workbench.session import Selection, today

GRAVER: Mapping[Severity, Severity] = {"note": "warn", "warn": "fault", "fault": "note"}
REMEDIES = "remedies"
"""The group of the work that looks for them."""
NONE = -1
"""Above the first remedy: none is on show."""


class FindingsPanel(ListPanel[Cause]):
    owner: "FindingsTask"
    CONTEXT = "findings"
    BAR = ("open", "scope", "view", "back")

    def __init__(
        self, owner: "FindingsTask", filter_: FindingFilter, chosen: object = None
    ) -> None:
        """`chosen`: the key of the finding to begin with."""
        super().__init__(owner)
        self.filter = filter_
        self._report: Report | None = None
        self._accepted: Mapping[object, Accepted] = {}
        """By the key of its matter."""
        self._first = chosen

    def follow(self) -> None:
        """List the findings of the newest report of the decided house."""
        report = self.session.base
        if self.filter.room is not None and self.filter.room not in self.session.house.rooms:
            self.filter = self.filter._replace(room=None)
        if report is not self._report or report is None:
            self._report = report
            self._list()

    def _list(self) -> None:
        """The chosen finding stays chosen; of one that no longer counts the next does, if any."""
        report, before = self._report, self._accepted
        accepted = self.filter.accepted(report) if report else []
        self._accepted = {matter.first.key: entry for matter, entry in accepted}
        found = self.filter.matters(report) if report else ()
        matters = (*found, *(matter for matter, _ in accepted))
        keys = [matter.first.key for matter in matters]
        chosen, passed = self.chosen or self._first, self._keys[: self.chosen_number]
        if chosen not in keys or (chosen in self._accepted and chosen not in before):
            chosen = next((key for key in keys if key not in passed and key != chosen), None)
        self.show_entries(matters, chosen, keys)
        self.redraw()
        self.moved()

    def head(self, page: Page) -> Sequence[Row]:
        return drawing.findings_head(self.filter, self._report, self.session.house, page)

    def entry(self, item: Cause, page: Page) -> Sequence[Row]:
        assert self._report is not None
        entry = self._accepted.get(item.first.key)
        if entry is not None:
            return drawing.accepted_rows(item, entry, self._report.house, page)
        return drawing.matter_rows(item, self._report.house, page)

    def nothing(self, page: Page) -> Sequence[Row]:
        return drawing.nothing_rows(self.filter, self._report, page)

    def moved(self) -> None:
        if self.item is not None:
            self.owner.look_at(self.item)

    def picked(self) -> None:
        entry = self._accepted.get(self.chosen)
        if entry is not None:
            self.owner.show_accepted(entry)
        elif self.item is not None:
            self.owner.show_finding(self.item.first.key, self.filter)

    def action_repaint(self) -> None:
        if self.item is not None:
            self.owner.ask_place(self.item)

    def action_back(self) -> None:
        self.owner.leave_list()

    def action_scope(self) -> None:
        room = None if self.filter.room is not None else self.session.selection.room
        self.filter = self.filter._replace(room=room)
        self._list()

    def action_view(self) -> None:
        self.filter = self.filter._replace(least=GRAVER[self.filter.least])
        self._list()


class FindingPanel(RowsPanel):
    owner: "FindingsTask"
    CONTEXT = "finding"
    DECIDES = True
    BAR = ("down", "open", "next", "edit", "back")

    def __init__(
        self, owner: "FindingsTask", filter_: FindingFilter, key: tuple[object, ...]
    ) -> None:
        super().__init__(owner)
        self.filter, self._key = filter_, key
        self._view: drawing.FindingView | None = None
        self._places: list[range] = []

    @property
    def matter(self) -> Cause | None:
        return self._view.matter if self._view else None

    def follow(self) -> None:
        """Tell the same matter of the newest report of the decided house."""
        report = self.session.base
        if report is None or not self.session.base_is_current:
            return
        if self._view is None or self._view.report is not report:
            self._show(report)
        else:
            self.redraw()

    def _show(self, report: Report) -> None:
        matters = self.filter.matters(report)
        for number, matter in enumerate(matters, 1):
            if any(finding.key == self._key for finding in matter.findings):
                seen, search = judged(matter.first, report), RemedySearch()
                count = len(matters)
                self._view = drawing.FindingView(report, matter, number, count, seen, search, None)
                self.redraw()
                self.call_later(self.look_again)
                return
        # Not at once: the panel is being shown the house.
        self.call_later(self.owner.leave_finding, gone=True)

    def look_again(self) -> None:
        """Show it on the map, and have its remedies looked for (again)."""
        if self.is_attached and self._view is not None:
            self.owner.show_on_map(self._view.matter)

    def show_search(self, matter: Cause, search: RemedySearch) -> None:
        if self._view is not None and matter is self._view.matter:
            self._view = replace(self._view, search=search)
            self.redraw()

    def draw(self, width: int) -> Sequence[Row]:
        if self._view is None:
            return ()
        drawn = drawing.finding_rows(self._view, Page(self.look, width))
        self._places = drawn.remedies
        return drawn.rows

    def action_go(self, way: str) -> None:
        """Show another remedy on the map; scroll where there is none that way."""
        by = -1 if way == "up" else 1
        view = self._view
        count = len(view.search.remedies) if view else 0
        number = by - 1 if view is None or view.chosen is None else view.chosen + by
        if 0 <= number < count:
            self._choose(number)
        else:
            self.scroll_rows(by)
            if number == NONE and view is not None:
                self._view = replace(view, chosen=None)
                self.redraw()
                self.owner.desk.try_out(None)

    def _choose(self, number: int) -> None:
        assert self._view is not None
        self._view = replace(self._view, chosen=number)
        self.redraw()
        for place in self._places[number : number + 1]:  # none where there is no room to draw
            self.reveal(place.stop)
            self.reveal(place.start)
        remedy = self._view.search.remedies[number]
        self.owner.desk.try_out(remedy.report.house, remedy.report)

    def action_open(self) -> None:
        view = self._view
        if view is None:
            return
        if not view.search.done and not view.search.remedies:
            self.owner.say("Still looking for what would clear it.")
        elif not view.search.remedies:
            nothing = "Nothing that was tried clears it. Press ctrl+p for another paint."
            self.owner.say(view.check.advice if view.check.to_do else nothing)
        elif view.chosen is None:
            self._choose(0)
        else:
            self.owner.apply(view.search.remedies[view.chosen])

    def action_page(self, by: int) -> None:
        self.scroll_pages(by)

    def action_next(self, by: int) -> None:
        """Tell the next matter of the list, or the one before."""
        if self._view is None:
            return
        matters = self.filter.matters(self._view.report)
        number = self._view.number - 1 + by
        if 0 <= number < len(matters):
            self._key = matters[number].first.key
            self.scroll_rows(-self.top)
            self._show(self._view.report)

    def action_repaint(self) -> None:
        if self.matter is not None:
            self.owner.ask_place(self.matter)

    def action_edit(self) -> None:
        if self.matter is not None:
            self.owner.edit_limit(self.matter.first)

    def action_delete(self) -> None:
        if self.matter is not None:
            self.owner.restore_limits(self.matter.first)

    def action_back(self) -> None:
        self.owner.leave_finding()

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        row = at.y + self.top if at else -1
        number = next((i for i, place in enumerate(self._places) if row in place), None)
        if number is not None and self._view is not None:
            if number == self._view.chosen:
                self.action_open()
            else:
                self._choose(number)


class FindingsTask(Task):
    _filter = FindingFilter()
    _matter: Cause | None = None
    """The one that the map shows."""
    _came_from: Selection | None = None
    """What was selected when the list was opened."""

    def open(self) -> None:
        """List the findings, unless a paint is on trial: that would be lost."""
        if self.session.tried is not None:
            self.say("What you see is only tried. Press enter to use it or esc to drop it, then f.")
            return
        self._filter = FindingFilter()
        self._came_from = self.session.selection
        self.show_list(None)

    def open_one(self, key: tuple[object, ...]) -> None:
        self._filter = FindingFilter()
        self.desk.open_panel(FindingPanel(self, self._filter, key))

    def show_list(self, chosen: object) -> None:
        self.desk.open_list(FindingsPanel(self, self._filter, chosen))

    def show_finding(self, key: tuple[object, ...], filter_: FindingFilter) -> None:
        self._filter = filter_
        self.desk.open_list(FindingPanel(self, filter_, key))

    def leave_list(self) -> None:
        self.desk.close_panel()
        before = self._came_from
        if before is not None and before.room and before.room in self.session.shown.rooms:
            self.session.select(before.room)
            self.session.select_surface(before.surface)
            self.desk.follow_selection()

    def look_at(self, matter: Cause) -> None:
        """Select a room of it, and let the lines of sight lead to the others."""
        self._matter = matter
        for task in self.desk.tasks:
            task.matter_chosen(matter)
        named = matter.first.rooms
        rooms = rooms_of(matter, self.session.base) if self.session.base else ()
        if rooms and self.session.selection.room not in (named or rooms):
            self.desk.select(rooms[0])
        else:
            self.desk.follow_selection()

    def sights(self, sights: tuple[Sight, ...]) -> tuple[Sight, ...]:
        matter = self._matter
        return sights if matter is None else tuple(s for s in sights if s.room in matter.rooms)

    def closing(self) -> None:
        self._matter = None
        drop_work(self.desk, REMEDIES)

    @property
    def _panel(self) -> FindingPanel | None:
        return self.desk.panel if isinstance(self.desk.panel, FindingPanel) else None

    def show_on_map(self, matter: Cause) -> None:
        """Show it on the map, and look for its remedies once the light is known."""
        base = self.session.base
        if self._panel is None or base is None:
            return
        self.session.try_out(None)
        self.look_at(matter)
        if self.desk.light_to_come:
            return
        decks = (task.deck_for_remedies() for task in self.desk.tasks)
        deck = next(filter(None, decks), None)  # its paints are tried too

        def show(search: RemedySearch) -> None:
            if self._panel is not None:
                self._panel.show_search(matter, search)

        steps_beside(self.desk, REMEDIES, lambda: search_remedies(matter, base, deck), show)

    def report_failed(self) -> None:
        """Do without the light where it could not be computed."""
        if self._panel is not None:
            self.desk.call_later(self._panel.look_again)

    def apply(self, remedy: Remedy) -> None:
        base = self.session.base
        if remedy.change.accepts is not None:
            accept_it = partial(self._accept, remedy.change.accepts)
            self.desk.ask_line("Why is it accepted here?", "", accept_it, empty=True)
            return
        label = remedy.change.label
        self.leave_finding()
        if self.desk.paint(remedy.report.house, label, remedy.report):
            done = findings_text(base.tally if base else None, remedy.report.tally)
            self.say(f"Done: {done}. Press u to undo.")

    def leave_finding(self, *, gone: bool = False) -> None:
        if self._panel is None:
            return
        matter = self._matter
        self.show_list(matter.first.key if matter else None)
        if gone:
            self.say("That is no longer found.")

    def _accept(self, entry: Accepted, why: str) -> None:
        if not why:
            self.say("Not accepted: it needs a reason. Press enter to write one.")
            return
        entry = replace(entry, when=today(), by=self.session.house.client.by, why=why)
        self.leave_finding()
        if self.desk.apply(lambda house: accept(house, entry), "Finding accepted"):
            self.say("Accepted. It returns when the colours here change.")

    def show_accepted(self, entry: Accepted) -> None:
        """Show why it was accepted, and let it count again where that is asked for."""
        who = f" by {entry.by}" if entry.by else ""
        when = f" on {entry.when}" if entry.when else ""

        def count_again() -> None:
            edit = partial(withdraw, check=entry.check, rooms=entry.rooms, surfaces=entry.surfaces)
            if self.desk.apply(edit, "Finding no longer accepted"):
                self.say("It counts again. Press u to undo.")

        text = f"Accepted{who}{when}: {entry.why or 'no reason given'}"
        self.desk.ask(text, [Choice("a", "let it count again", count_again)], "leave it")

    def ask_place(self, matter: Cause) -> None:
        """Choose a paint for the place of a matter; ask which where there are several."""
        house, targets = self.session.house, paint_targets(matter)
        if not targets:
            self.say("No paint of a room would change that.")
        elif len(targets) == 1:
            self._choose_at(targets[0])
        else:
            each = enumerate(targets[:9], 1)
            choices = [
                Choice(str(n), t.name_in(house), partial(self._choose_at, t)) for n, t in each
            ]
            self.desk.ask("Another paint for which?", choices, "leave it")

    def _choose_at(self, target: Target) -> None:
        self.desk.close_panel()
        self.desk.select(target.room)
        surface = next((s for s in SURFACES if s == target.surface), None)
        if surface is not None:
            self.session.select_surface(surface)
        self.desk.find_task(ChooseTask).choose_for(target)

    def open_checks(self) -> None:
        self.desk.push(ChecksScreen(self.session))

    def edit_limit(self, finding: Finding) -> None:
        """Ask for the limit, and for which one where several decide."""
        check = check_of(finding.check)
        limits = limits_of(finding, check)
        if not limits:
            self.say(f"{check.title} has no limit that could be set.")
        elif len(limits) == 1:
            self._ask_limit(check, finding, limits[0])
        else:
            ask, each = partial(self._ask_limit, check, finding), enumerate(limits, 1)
            choices = [Choice(str(n), limit.kind, partial(ask, limit)) for n, limit in each]
            self.desk.ask(f"Which limit of {check.title}?", choices, "leave it")

    def restore_limits(self, finding: Finding) -> None:
        house, check = self.session.house, check_of(finding.check)
        for limit in limits_of(finding, check):
            house = set_limit(house, check.id, limit.kind, None)
        if not self.desk.apply(house, f"{check.title}: default limit"):
            self.say("The limit is the default already.")

    def _ask_limit(self, check: Check, finding: Finding, limit: Limit) -> None:
        held = check.limits_in(self.session.house)[limit.kind]
        is_its = finding.value and limit.kind == finding.kind
        found = f", found {finding.value:.1f}" if is_its else ""
        unit = unit_words(limit.unit)
        text = f"{check.title}, {limit.kind} in {unit} (default {limit.default:g}{found}):"
        set_it = partial(self._set_limit, check, limit)
        self.desk.ask_line(text, f"{held:g}", set_it, replaces=True)

    def _set_limit(self, check: Check, limit: Limit, answer: str) -> None:
        try:
            value = float(answer.replace(",", "."))
        except ValueError:
            self.say(f'A limit is a number, such as {limit.default:g}; found "{answer}".')
            return
        label = f"{check.title}, {limit.kind}: limit {value:g}"
        self.desk.apply(lambda house: set_limit(house, check.id, limit.kind, value), label)
