"""The start screen: what can be opened."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from textual.app import ComposeResult
from textual.events import Click

from housemap.errors import HouseFileError
from housemap.file.journal import Recovery, left_behind
from housemap.file.paths import typed_path
from housemap.model.house import House
from housemap.tui.program_screen import PageScreen, ProgramScreen, text_rows
from housemap.tui.render.cells import Ink, Row, Run, fit
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.scroller import Foot, Rows
from housemap.workbench.folders import state_folder
from housemap.workbench.recent import demo_house, recent_houses
from housemap.workbench.session import Session

WIDEST = 72

FIRST_TIME = (
    "For a first look, open the demo house. The line at the bottom names the keys that matter now. "
    "Press ? for more."
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One line that can be chosen."""

    title: str
    words: str
    path: Path | None = None
    command: str = ""
    """The action to run where there is no path."""
    work: Recovery | None = None
    """What an earlier run left behind."""


def start_rows(entries: Sequence[Entry], chosen: int, look: Look, width: int) -> list[Row]:
    """The entries under a heading, the chosen one marked."""
    page = Page(look, width)
    rows = [
        page.blank(),
        page.line("housemap", strong=True, indent=1),
        page.line("The paint of a whole house, room by room.", quiet=True, indent=1),
        page.blank(),
    ]
    rows += [_entry_row(entry, i == chosen, look, width) for i, entry in enumerate(entries)]
    if not any(entry.path or entry.work for entry in entries):
        rows += [
            page.blank(),
            *Page(look, min(width, WIDEST)).text(FIRST_TIME, quiet=True, indent=1),
        ]
    return rows


def _entry_row(entry: Entry, chosen: bool, look: Look, width: int) -> Row:  # noqa: FBT001 - of a list
    greys = look.greys
    ground = greys.chosen if chosen else greys.panel
    mark = look.glyphs.here if chosen else " "
    inner = min(width - 4, WIDEST)
    title = fit(entry.title, min(28, inner))
    words = fit(entry.words, max(inner - 29, 0))
    return (
        Run(" ", Ink(greys.text, greys.panel)),
        Run(f"{mark} {title}", Ink(greys.strong if chosen else greys.text, ground, bold=chosen)),
        Run(f" {words}", Ink(greys.quiet, ground)),
    )


# The start screen: a new house, a file, the houses opened last, the demo.

HEAD_ROWS = 4
"""Rows above the first entry."""


class StartList(Rows, can_focus=True):
    def __init__(self, entries: Sequence[Entry], look: Look) -> None:
        super().__init__(look, id="start")
        self.entries, self.chosen = entries, 0

    def draw(self, width: int) -> Sequence[Row]:
        return start_rows(self.entries, self.chosen, self.look, width)

    def step(self, by: int) -> None:
        self.chosen = min(max(self.chosen + by, 0), len(self.entries) - 1)
        self.redraw()
        self.reveal(self.chosen + HEAD_ROWS)


class StartScreen(ProgramScreen):
    """Lets the user choose what to open."""

    CONTEXT = "start"
    BAR = ("open", "new", "quit")
    HINT = ""

    def compose(self) -> ComposeResult:
        """Without a head: there is no house yet."""
        yield StartList([*_entries()], self.look)
        yield Foot()

    def on_mount(self) -> None:
        self.list.focus()
        self.call_after_refresh(self._look_for_work)

    def _look_for_work(self) -> None:
        """Put what earlier runs left behind at the head of the list."""
        found = left_behind(state_folder())
        if found:
            self.list.entries = [*map(_work_entry, found), *self.list.entries]
            self.list.redraw()
            self.say("There is unsaved work. Press enter to restore it.")

    @property
    def list(self) -> StartList:
        return self.query_one(StartList)

    def action_go(self, way: str) -> None:
        self.list.step(-1 if way == "up" else 1)

    def action_end(self, end: int) -> None:
        self.list.step(end * len(self.list.entries))

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self.list)
        number = at.y + self.list.top - HEAD_ROWS if at else -1
        if 0 <= number < len(self.list.entries):
            self.list.step(number - self.list.chosen)
            self.action_open()

    def action_open(self) -> None:
        entry = self.list.entries[self.list.chosen]
        if entry.work:
            self._take_up(entry.work)
        elif entry.path:
            self.open_file(entry.path)
        else:
            self.call_later(self.run_action, entry.command)

    def _take_up(self, work: Recovery) -> None:
        """Open the house that was left behind, on its file where that can still be read."""
        try:
            session = Session.read(Path(work.file)) if work.file else Session.of(House())
        except HouseFileError:
            session = Session.of(House())
        session.apply(work.house, "Unsaved work restored")
        self.program.open_session(session)
        if self.program.keep_work():
            work.forget()

    def action_new(self) -> None:
        self.program.open_session(Session.of(House(name="New house")))

    def action_demo(self) -> None:
        """Open the demo as a house without a file: saving it asks for a name."""
        self.open_file(demo_house(), as_new=True)

    def action_file(self) -> None:
        self.ask_line("Open which house file?", "", lambda name: self.open_file(typed_path(name)))

    def open_file(self, path: Path, *, as_new: bool = False) -> None:
        """Open a house; show everything that is wrong with its file where it cannot be."""
        try:
            session = Session.read(path)
        except HouseFileError as error:
            self._show_faults(path, error)
            return
        if as_new:
            session.file = None
        self.program.open_session(session)

    def _show_faults(self, path: Path, error: HouseFileError) -> None:
        lines = [str(problem) for problem in error.problems]
        if len(lines) == 1:
            self.say(lines[0])
            return
        title = f"{path.name}: {len(lines)} faults, nothing was opened"
        self.app.push_screen(PageScreen(title, partial(text_rows, lines)))


def _work_entry(work: Recovery) -> Entry:
    name = work.house.name or "House without a name"
    return Entry(name, f"unsaved work from {work.when.astimezone():%d %B, %H:%M}", work=work)


def _entries() -> Iterator[Entry]:
    for path in recent_houses():
        yield Entry(path.name, str(path.parent), path)
    yield Entry("New house", "begin with an empty one", command="new")
    yield Entry("Open a file", "by its name", command="file")
    yield Entry("Demo house", "eighteen rooms to try things on", command="demo")
