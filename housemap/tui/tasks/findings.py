"""What was found: the list, one finding in full, its remedies and its limits; the checks."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from textual.app import ComposeResult
from textual.events import Click

from housemap.checks import (
    CHECKS,
    Cause,
    Check,
    Finding,
    Limit,
    Report,
    Severity,
    causes_of,
    check_of,
)
from housemap.checks.words import unit_words
from housemap.choose.remedies import Remedy
from housemap.model.edits import accept, set_limit, withdraw
from housemap.model.house import SURFACES, Accepted, House
from housemap.model.severity import counts_text, findings_text
from housemap.model.text import counted
from housemap.tui.background import drop_work, steps_beside
from housemap.tui.house_screen import Task
from housemap.tui.map.drawing import Sight
from housemap.tui.panels import ListPanel, RowsPanel
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page, first_fitting
from housemap.tui.scroller import DrawnRows
from housemap.tui.tasks import findings_drawing as drawing
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
from housemap.workbench.session import Selection, Session, today

# About the checks: what each looks for and why, its limits, and its two examples.


def check_rows(check: Check, house: House | None, page: Page) -> list[Row]:
    """With the limits of the open house."""
    return [
        *page.title(check.title),
        page.line(f"In the house file: limits.{check.id}", quiet=True),
        *page.text(check.help),
        *(page.heading("Limits") if check.limits else ()),
        *drawing.limit_rows(check, check.limits, house, page),
        *page.heading("Two examples"),
        *page.text(f"Passes: {check.clean.words}"),
        *page.text(f"Fails: {check.caught.words}"),
    ]


class CheckList(ListPanel[Check]):
    owner: "ChecksScreen"
    CONTEXT = "checks"
    BAR = ("page-down", "back")
    ENTRY_ROWS = 1

    def on_mount(self) -> None:
        self.show_entries(CHECKS)
        self.moved()

    def entry(self, item: Check, page: Page) -> Sequence[Row]:
        return (page.row((page.mark(),), item.title, strong=page.chosen),)

    def moved(self) -> None:
        self.owner.look_at(self.items[self.chosen_number or 0])

    def action_page(self, by: int) -> None:
        self.owner.page.scroll_pages(by)


class ChecksScreen(ProgramScreen):
    TITLE = "About the checks"
    HINT = "No source named: common practice, or an assumption of ours."

    session: Session

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._check = CHECKS[0]

    def body(self) -> ComposeResult:
        self.page = DrawnRows(self._draw, self.look)
        yield CheckList(self)
        yield self.page

    def on_mount(self) -> None:
        self.query_one(CheckList).focus()

    def _draw(self, page: Page, _height: int) -> list[Row]:
        return check_rows(self._check, self.session.house, page)

    def look_at(self, check: Check) -> None:
        self._check = check
        self.page.redraw()
        self.page.go_to_end(-1)


# The list of what was found, and one finding in full

GRAVER: Mapping[Severity, Severity] = {"note": "warn", "warn": "fault", "fault": "note"}
REMEDIES = "remedies"
"""The group of the work that looks for them."""
EVERY_FINDING = FindingFilter()
LEAST_WORDS = {"note": "", "warn": "serious and look again", "fault": "serious only"}
NONE_OF = {"warn": "serious or to look at again", "fault": "serious"}
_TURN = ("Before the first finding comes the last.", "After the last finding comes the first.")
STILL_LOOKING = "Still looking for what would clear it."
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
            opened, self._report = self._report is None, report
            self._list()
            if opened:  # later the map stays where something was changed
                self.moved()

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

    def head(self, page: Page) -> Sequence[Row]:
        """Which are listed, how many of each severity, and how much is left to do."""
        listed, report, counts = self.filter, self._report, "being looked for"
        room, least = self.session.house.rooms.get(listed.room or ""), LEAST_WORDS[listed.least]
        if report is not None:
            found = [cause.severity for cause in causes_of(listed.found(report))]
            left, accepted = len(causes_of(listed.to_do(report))), len(listed.accepted(report))
            each = (
                f"{counted(len(found), 'finding')}: {counts_text(found)}" if found else "",
                f"{left} to do" if left else "",
                f"{accepted} accepted" if accepted else "",
            )
            counts = "; ".join(filter(None, each)) or "nothing"
            counts += "; light is still being computed" if report.deep is None else ""
        where = ", ".join(filter(None, (room.name if room else "whole house", least)))
        rows = [*page.text(counts, quiet=True)]
        space = [] if len(rows) > 1 else [page.blank()]
        return [page.title_row("To look at", where), *rows, *space]

    def entry(self, item: Cause, page: Page) -> Sequence[Row]:
        assert self._report is not None
        entry, house = self._accepted.get(item.first.key), self._report.house
        if entry is None:
            return drawing.matter_rows(item, house, page)
        why = entry.why or "no reason given"
        where = f"accepted, {drawing.rooms_text(item, house)}: {why}"
        return (
            page.row((page.mark(), page.run("   ")), check_of(item.check).title, quiet=True),
            page.row((page.run("    "),), where, quiet=True),
        )

    def nothing(self, page: Page) -> Sequence[Row]:
        """What was not found, and how many slighter findings are not listed."""
        listed, report = self.filter, self._report
        if report is None:
            return [*page.text("The house is being looked at.")]
        here = " here" if listed.room else ""
        hidden = len(causes_of(listed._replace(least="note").found(report)))
        none = f"Nothing was found{here}."
        if hidden and listed.least != "note":
            slighter = counted(hidden, "slighter finding")
            none = f"Nothing {NONE_OF[listed.least]}{here}; {slighter}."
        more = ["Press h for this room or the whole house, v to see notes too."]
        return [*page.text(none), *page.texts(more if listed != EVERY_FINDING else (), quiet=True)]

    def moved(self) -> None:
        if self.item is not None:
            self.owner.look_at(self.item)

    def picked(self) -> None:
        entry = self._accepted.get(self.chosen)
        if entry is not None:
            self._show_accepted(entry)
        elif self.item is not None:
            self.owner.show_finding(self.item.first.key, self.filter)

    def _show_accepted(self, entry: Accepted) -> None:
        """Show why it was accepted, and let it count again where that is asked for."""
        who = f" by {entry.by}" if entry.by else ""
        when = f" on {entry.when}" if entry.when else ""

        def count_again() -> None:
            edit = partial(withdraw, accepted=entry)
            if self.owner.desk.apply(edit, "Finding no longer accepted"):
                self.owner.say("It counts again. Press u to undo.")

        text = f"Accepted{who}{when}: {entry.why or 'no reason given'}"
        choice = Choice("a", "let it count again", count_again)
        self.owner.desk.ask(text, [choice], "leave it")

    def action_scope(self) -> None:
        room = self.owner.room_before if self.filter.room is None else None
        self._list_only(self.filter._replace(room=room))

    def action_view(self) -> None:
        self._list_only(self.filter._replace(least=GRAVER[self.filter.least]))

    def _list_only(self, filter_: FindingFilter) -> None:
        self.filter = filter_
        self._list()
        self.moved()


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
    def bar_words(self) -> Mapping[str, str]:
        is_shown = self._view is not None and self._view.chosen is not None
        return {} if is_shown else {"open": "try the first"}

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
        to_do = sum(check_of(matter.check).to_do for matter in matters)
        count = len(matters) - to_do, to_do
        for number, matter in enumerate(matters, 1):
            if any(finding.key == self._key for finding in matter.findings):
                seen, search = judged(matter.first, report), RemedySearch()
                self._view = drawing.FindingView(report, matter, number, *count, seen, search, None)
                self.redraw()
                self.call_later(self.look_again)
                return
        # Not at once: the panel is being shown the house.
        self.call_later(self.owner.leave_finding, gone=True)

    def look_again(self) -> None:
        """Show it on the map, and look for its remedies (again) once the light is known."""
        base, desk = self.session.base, self.owner.desk
        if not self.is_attached or self._view is None or base is None:
            return
        matter = self._view.matter
        self.session.try_out(None)
        self.owner.look_at(matter)
        if desk.reporting.light_to_come:
            return
        decks = (task.deck_for_remedies() for task in desk.tasks)
        deck = next(filter(None, decks), None)  # its paints are tried too

        def show(search: RemedySearch) -> None:
            if self.is_attached and self._view is not None and self._view.matter is matter:
                self._view = self._view._replace(search=search)
                self.redraw()

        steps_beside(desk, REMEDIES, lambda: search_remedies(matter, base, deck), show)

    def draw(self, width: int) -> Sequence[Row]:
        if self._view is None:
            return ()
        drawn = drawing.finding_rows(self._view, Page(self.look, width))
        self._places = drawn.places[1:-1]
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
            if by > 0 and view is not None and not view.search.done:
                self.owner.say(STILL_LOOKING)
            if number == NONE and view is not None:
                self._view = view._replace(chosen=None)
                self.redraw()
                self.owner.desk.try_out(None)

    def _choose(self, number: int) -> None:
        assert self._view is not None
        self._view = self._view._replace(chosen=number)
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
            self.owner.say(STILL_LOOKING)
        elif not view.search.remedies:
            self.owner.say(view.check.advice or "Nothing that was tried clears it.")
        elif view.chosen is None:
            self._choose(0)
        else:
            self._apply(view.search.remedies[view.chosen])

    def _apply(self, remedy: Remedy) -> None:
        base, desk, accepts = self.session.base, self.owner.desk, remedy.change.accepts
        if accepts:
            desk.ask_line(
                "Why is it accepted here?", "", partial(self._accept, accepts), empty=True
            )
            return
        self.owner.leave_finding()
        if desk.paint(remedy.report.house, remedy.change.label, remedy.report):
            done = findings_text(base.tally if base else None, remedy.report.tally)
            desk.say(first_fitting([*self.owner.done_texts(done)], desk.size.width))

    def _accept(self, accepts: Sequence[Accepted], why: str) -> None:
        desk = self.owner.desk
        if not why:
            desk.say("Not accepted: it needs a reason. Press enter to write one.")
            return
        by = self.session.house.client.by
        entries = [replace(each, when=today(), by=by, why=why) for each in accepts]
        self.owner.leave_finding()
        if desk.apply(partial(accept, accepted=entries), "Finding accepted"):
            desk.say("Accepted. It returns when the colours here change.")

    def action_end(self, end: int) -> None:
        self.go_to_end(end)

    def action_page(self, by: int) -> None:
        self.scroll_pages(by)

    def action_next(self, by: int) -> None:
        """Show the next matter of the list, or the one before; after the last the first."""
        if self._view is None:
            return
        matters = self.filter.matters(self._view.report)
        number = self._view.number - 1 + by
        if not 0 <= number < len(matters):
            self.owner.say(_TURN[by > 0])
        self._key = matters[number % len(matters)].first.key
        self.scroll_rows(-self.top)
        self._show(self._view.report)

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
    _filter = EVERY_FINDING
    _matter: Cause | None = None
    """The one that the map shows."""
    _came_from: Selection | None = None
    """What was selected when the list was opened."""

    @property
    def room_before(self) -> str | None:
        """The room that was selected when the list was opened."""
        return self._came_from.room if self._came_from else self.session.selection.room

    def open(self) -> None:
        """List the findings, unless a paint is on trial: that would be lost."""
        if self.session.tried is not None:
            self.say("What you see is only tried. Press enter to use it or esc to drop it, then f.")
            return
        self._filter = EVERY_FINDING
        self._came_from = self.session.selection
        self.show_list(None)

    def show_list(self, chosen: object) -> None:
        self.desk.open_list(FindingsPanel(self, self._filter, chosen))

    def show_finding(self, key: tuple[object, ...], filter_: FindingFilter = EVERY_FINDING) -> None:
        self._filter = filter_
        self.desk.open_list(FindingPanel(self, filter_, key))

    def leave_list(self) -> None:
        self.desk.close_panel()
        before = self._came_from
        if before is not None and before.room and before.room in self.session.shown.rooms:
            self.session.select(before.room)
            self.session.select_surface(before.surface)
            self.desk.follow_selection()

    def done_texts(self, done: str) -> Iterator[str]:
        """What was done, and which finding is now chosen in the list; from long to short."""
        text, panel = f"{done}. Press u to undo.", self.desk.panel
        if isinstance(panel, FindingsPanel) and panel.item is not None:
            coming = f"{text} Next: {check_of(panel.item.check).title}"
            yield f"{coming}, {drawing.rooms_text(panel.item, self.session.house)}."
            yield f"{coming}."
        yield text

    def leave_finding(self, *, gone: bool = False) -> None:
        if isinstance(self.desk.panel, FindingPanel):
            self.show_list(self._matter.first.key if self._matter else None)
            if gone:
                self.say("That is no longer found.")

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

    def report_failed(self) -> None:
        """Do without the light where it could not be computed."""
        if isinstance(self.desk.panel, FindingPanel):
            self.desk.call_later(self.desk.panel.look_again)

    # What can be done about the matter that the map shows

    def repaint(self) -> None:
        """Choose a paint for the place of it; ask which where there are several."""
        if self._matter is None:
            return
        targets = [(t.name_in(self.session.house), t) for t in paint_targets(self._matter)]
        if targets:
            self.desk.ask_which("Another paint for which?", targets, self._choose_at)
        else:
            self.say("No paint of a room would change that.")

    def _choose_at(self, target: Target) -> None:
        self.desk.close_panel()
        self.desk.select(target.room)
        surface = next((s for s in SURFACES if s == target.surface), None)
        if surface is not None:
            self.session.select_surface(surface)
        self.desk.find_task(ChooseTask).choose_for(target)

    def open_checks(self) -> None:
        self.desk.push(ChecksScreen(self.session))

    def edit_limit(self) -> None:
        """Ask for the limit, and for which one where several decide."""
        if self._matter is None:
            return
        finding, check = self._matter.first, check_of(self._matter.check)
        limits = [(limit.kind, limit) for limit in limits_of(finding, check)]
        if limits:
            ask = partial(self._ask_limit, check, finding)
            self.desk.ask_which(f"Which limit of {check.title}?", limits, ask)
        else:
            self.say(f"{check.title} has no limit that could be set.")

    def restore_limits(self) -> None:
        if self._matter is None:
            return
        house, check = self.session.house, check_of(self._matter.check)
        for limit in limits_of(self._matter.first, check):
            house = set_limit(house, check.id, limit.kind, None)
        if not self.desk.apply(house, f"{check.title}: default limit"):
            self.say("The limit is the default already.")

    def _ask_limit(self, check: Check, finding: Finding, limit: Limit) -> None:
        held = check.limits_in(self.session.house)[limit.kind]
        is_its = finding.value and limit.kind == finding.kind
        found = f", found {finding.value:.1f}" if is_its else ""
        unit = unit_words(limit.unit)
        text = f"{check.title}, {limit.kind} in {unit} (default {limit.default:g}{found}):"

        def answered(answer: str) -> None:
            try:
                value = float(answer.replace(",", "."))
            except ValueError:
                example = f"A limit is a number, such as {limit.default:g}"
                self.say(f'{example}; found "{answer}".')
                return
            label = f"{check.title}, {limit.kind}: limit {value:g}"
            self.desk.apply(lambda house: set_limit(house, check.id, limit.kind, value), label)

        self.desk.ask_line(text, f"{held:g}", answered, replaces=True)
