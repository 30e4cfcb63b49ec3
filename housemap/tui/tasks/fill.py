"""Filling the house: how far the search is, and each room's wall paint before and after."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.errors import HousemapError
from housemap.model.house import House
from housemap.tui.background import drop_work, work_beside
from housemap.tui.commands import FILLING
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line, Page, patch
from housemap.tui.render.shades import Shades, shades_of
from housemap.tui.task import Desk, Task, TaskMessage
from housemap.tui.tasks.choose_drawing import findings_text, title_row
from housemap.workbench.searching import Searching
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.optimiser.problem import Progress
    from housemap.tui.render.shades import Shades


_HALF = 3
"""Columns of each of the two swatches of a room."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked for."""

    every: bool = False
    """All rooms but the kept ones; else only those without a wall paint."""
    kept: frozenset[str] = frozenset()
    limit: int | None = None
    """Of distinct wall paints."""


@dataclass(frozen=True, slots=True)
class Fill:
    """How far the search has come."""

    progress: "Progress | None" = None
    house: House | None = None
    """The house so filled; None as long as no choice is known."""
    findings: tuple[int, int] | None = None
    """Before and after, once reported."""
    fault: str = ""
    """Why there is nothing to choose."""
    running: bool = True


def fill_head(wish: Wish, fill: Fill, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    rooms = "all rooms but the kept ones" if wish.every else "the unpainted rooms"
    limit = "any number of wall paints" if wish.limit is None else _at_most(wish.limit)
    return [
        title_row("Suggest wall paints", "searching" if fill.running else "", line),
        *page.text(rooms, quiet=True),
        *page.text(limit, quiet=True),
        page.blank(),
        *page.text(_told(fill)),
        *page.text(_findings(fill)),
        *page.text(
            "Compared in every light, by rooms and pairs. Then check the result for lone accents"
            " and crowded views. A screen is a poor judge of paint: sample before you buy.",
            quiet=True,
        ),
        page.blank(),
    ]


def _at_most(limit: int) -> str:
    return f"at most {limit} wall paint{'' if limit == 1 else 's'}"


def _told(fill: Fill) -> str:
    progress = fill.progress
    if fill.fault:
        return fill.fault
    if progress is None or not progress.assignment:
        return "looking for a first choice"
    return progress_text(progress)


def progress_text(progress: "Progress") -> str:
    """How many problems a choice has, and whether it is the best of those compared."""
    problems = f"problems {progress.cost:.1f} (fewer is better)"
    if progress.gap == 0.0:
        return f"{problems}: best of the paints compared, under these rules"
    best = f"none has fewer than {progress.bound:.1f}"
    return f"{problems}: best found in {progress.seconds:.1f} s; {best}"


def _findings(fill: Fill) -> str:
    return findings_text(*fill.findings) if fill.findings else ""


def fill_rows(
    room: str, before: "Shades", after: House | None, wish: Wish, line: Line
) -> Sequence[Row]:
    """A room: its wall colour before and after, touching, and the paints' names."""
    house = before.house
    old, new = _walls(house, room), _walls(after, room) if after else None
    swatches = (
        patch(before.on(room, "walls", old), _HALF, line.look),
        patch(before.on(room, "walls", new), _HALF, line.look),
    )
    changed = after is not None and new != old
    state = "kept" if room in wish.kept else "new" if changed else ""
    name = house.rooms[room].name
    return (
        line.row((line.mark(), *swatches, line.run(" ")), name, state, strong=line.chosen),
        line.row(
            (line.run(" "), *swatches, line.run(" ")),
            _names(house, old, new, line.look),
            "",
            quiet=True,
        ),
    )


def _walls(house: House, room: str) -> str | None:
    return house.rooms[room].paints.walls if room in house.rooms else None


def _names(house: House, old: str | None, new: str | None, look: Look) -> str:
    before = house.paints[old].name if old else "bare"
    if new is None or new == old:
        return before
    return f"{before} {look.glyphs.to} {house.paints[new].name}"


# The rooms that are being filled as a list, with what is asked for and how far the search is.


class FillPanel(ListPanel):
    """Reports what is asked for; searches and decides nothing by itself."""

    CONTEXT: ClassVar[str] = FILLING
    BAR: ClassVar[tuple[str, ...]] = ("open", "view", "decks", "mark", "scope", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FILLING)]

    @dataclass
    class Wished(TaskMessage):
        """Something else is asked for."""

        wish: Wish

    @dataclass
    class Looked(TaskMessage):
        """A room is to be shown."""

        room: str

    @dataclass
    class Asked(TaskMessage):
        """take, leave, stop, or before."""

        what: str

    @dataclass
    class FromDeck(TaskMessage):
        """The same is to be chosen out of a deck."""

        keep: frozenset[str] | None
        """None: only the rooms without a wall paint are to be painted."""
        limit: int | None

    def __init__(self, session: Session, look: Look, shades: Shades, wish: Wish) -> None:
        super().__init__(session, look)
        self._shades = shades
        self.wish, self.fill = wish, Fill()
        rooms = shades.house.rooms
        self.show_entries([r for r in rooms if rooms[r].use != "outdoor"], None)

    def show_fill(self, wish: Wish, fill: Fill) -> None:
        self.wish, self.fill = wish, fill
        self.redraw()

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return fill_head(self.wish, self.fill, self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        room, line = str(self._keys[number]), Line(self.look, width, chosen)
        return fill_rows(room, self._shades, self.fill.house, self.wish, line)

    def nothing(self, width: int) -> Sequence[Row]:
        return [*Page(self.look, width).text("No room to fill.")]

    def moved(self) -> None:
        if self.chosen:
            self.post_message(self.Looked(str(self.chosen)))

    # What the user asks

    def picked(self) -> None:
        self.post_message(self.Asked("take"))

    def action_back(self) -> None:
        self.post_message(self.Asked("leave"))

    def action_stop(self) -> None:
        self.post_message(self.Asked("stop"))

    def action_view(self) -> None:
        self.post_message(self.Asked("before"))

    def action_from_deck(self) -> None:
        keep = self.wish.kept if self.wish.every else None
        self.post_message(self.FromDeck(keep, self.wish.limit))

    def action_scope(self) -> None:
        self._wish(Wish(not self.wish.every, self.wish.kept, self.wish.limit))

    def action_mark(self) -> None:
        room = str(self.chosen)
        if self.chosen and self._shades.house.rooms[room].paints.walls:
            self._wish(Wish(self.wish.every, self.wish.kept ^ {room}, self.wish.limit))

    def action_more(self, by: int) -> None:
        """From no limit, the first step down is to the paints in use."""
        paints = len(self._shades.house.paints)
        limit = paints if self.wish.limit is None else self.wish.limit
        limit = max(limit + by, 1)
        self._wish(Wish(self.wish.every, self.wish.kept, limit if limit < paints else None))

    def _wish(self, wish: Wish) -> None:
        self.wish = wish  # at once: the next key builds on it
        self.post_message(self.Wished(wish))


# Filling the house: the search runs in a process of its own, the map shows what it finds.

SEARCH = "fill"
"""The group of its work."""

NOTHING_FITS = "no choice keeps to the limit"
SECONDS = 30.0
"""Then the best so far is kept, and how good it is at least is told."""


@dataclass
class FillFound(TaskMessage):
    """The search came further."""

    wish: "Wish"
    fill: "Fill"
    report: "Report | None" = None
    """Of the filled house, at the end."""


class FillTask(Task):
    """Looks for the best wall paints of the whole house."""

    NAME: ClassVar[str] = "fill"

    _fill_wish: "Wish"
    _fill: "Fill"
    """Both are there from the first search on."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._fill_search: Searching | None = None
        self._filled_report: Report | None = None
        self._fill_before = False
        """Whether the map shows the house as it is."""

    def open(self) -> None:
        """Look for the best wall paints of the bare rooms, or of all where none is bare."""
        rooms = self.session.house.rooms.values()
        bare = any(room.use != "outdoor" and room.paints.walls is None for room in rooms)
        wish = Wish(every=not bare)
        self.desk.open_panel(FillPanel(self.session, self.look, shades_of(self.session), wish))
        self._search_fill(wish)

    def _search_fill(self, wish: "Wish") -> None:
        """Begin anew with what is asked for now."""
        house, base = self.session.house, self.session.base
        self._end_search()
        self._fill_wish, self._fill, self._filled_report = wish, Fill(), None
        search = self._fill_search = Searching(SECONDS)
        self._show_fill()
        work_beside(self.desk.screen, SEARCH, lambda: _fill_steps(house, base, wish, search))

    def on_fill_found(self, message: FillFound) -> None:
        if self._fill_panel() is None or message.wish != self._fill_wish:
            return
        self._fill, self._filled_report = message.fill, message.report
        self._show_fill()

    def _show_fill(self) -> None:
        """Show how far it is: in the panel, and on the map unless that shows the present."""
        panel = self._fill_panel()
        if panel is not None:
            panel.show_fill(self._fill_wish, self._fill)
            shown = None if self._fill_before else self._fill.house
            self.desk.try_out(shown, self._filled_report if shown is not None else None)

    def on_fill_panel_wished(self, message: "FillPanel.Wished") -> None:
        self._search_fill(message.wish)

    def on_fill_panel_looked(self, message: "FillPanel.Looked") -> None:
        self.desk.select(message.room)

    def on_fill_panel_asked(self, message: "FillPanel.Asked") -> None:
        match message.what:
            case "take":
                self._take_fill()
            case "stop" if self._fill_search is not None:
                self._fill_search.stop()
            case "before":
                self._fill_before = not self._fill_before
                self._show_fill()
            case "leave":
                self.desk.close_panel()

    def on_fill_panel_from_deck(self, message: "FillPanel.FromDeck") -> None:
        """Go on from filling the house with its own paints."""
        self.desk.run("decks.suggest", message.keep, message.limit)

    def _take_fill(self) -> None:
        house, report = self._fill.house, self._filled_report
        if house is None:
            self.say("Nothing is chosen yet.")
            return
        before = self.session.house.rooms
        count = sum(room != before[key] for key, room in house.rooms.items())
        self.desk.close_panel()
        self.desk.apply(house, f"Paint {count} room{'' if count == 1 else 's'}", report)

    def closing(self) -> None:
        if self._fill_panel() is not None:
            self._end_search()
            self._fill_before = False

    def _end_search(self) -> None:
        drop_work(self.desk.screen, SEARCH)
        if self._fill_search is not None:
            self._fill_search.close()
            self._fill_search = None

    def _fill_panel(self) -> "FillPanel | None":

        return self.desk.panel if isinstance(self.desk.panel, FillPanel) else None


def _fill_steps(
    house: House, known: "Report | None", wish: "Wish", search: Searching
) -> Iterator[Message]:
    """In a thread: the search's reports, then the report of the filled house."""
    from housemap.choose.house_problem import filled, problem_of  # noqa: PLC0415
    from housemap.workbench.reporting import lit_report  # noqa: PLC0415 - in the thread

    fill, base = Fill(), lit_report(house, known)
    try:
        problem = problem_of(base, wish.kept if wish.every else None, wish.limit)
        for progress in search(problem):
            chosen = filled(house, progress.assignment)
            fill = Fill(progress, chosen if progress.assignment else None)
            yield FillFound(wish, fill)
    except HousemapError as error:
        yield FillFound(wish, Fill(fault=str(error).partition("\n")[0], running=False))
        return
    if fill.house is None:
        fault = "stopped before a first choice" if search.stopped else NOTHING_FITS
        yield FillFound(wish, replace(fill, running=False, fault=fault))
        return
    report = base.after(fill.house)
    findings = len(base.causes), len(report.causes)
    yield FillFound(wish, replace(fill, findings=findings, running=False), report)
