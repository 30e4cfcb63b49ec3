"""The start screen: what can be opened."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import NamedTuple, cast

from textual.app import ComposeResult

from housemap.errors import HouseFileError
from housemap.file.journal import Recovery, left_behind
from housemap.file.paths import typed_path
from housemap.model.house import House
from housemap.model.text import counted
from housemap.tui.panels import ListPanel, Owner
from housemap.tui.program_screen import PageScreen, ProgramScreen, text_rows
from housemap.tui.render.cells import Row, fit
from housemap.tui.render.page import Page
from housemap.tui.scroller import Foot
from housemap.workbench.folders import demo_house, recent_houses, state_folder
from housemap.workbench.safekeeping import can_go_on, copies_of
from housemap.workbench.session import Session

WIDEST = 72

FIRST_TIME = (
    "For a first look, open the demo house. The line at the bottom names the keys that matter now. "
    "Press ? for more."
)


class Entry(NamedTuple):
    """One line that can be chosen."""

    title: str
    words: str
    open: Callable[[], object]
    is_known: bool = True
    """Whether it has been open before."""


class StartList(ListPanel[Entry]):
    """An entry a line, under the name of the program."""

    ENTRY_ROWS = 1

    def __init__(self, owner: "StartScreen") -> None:
        super().__init__(cast("Owner", owner), id="start")  # without a house yet
        self.show_entries([*owner.entries()])

    def head(self, page: Page) -> Sequence[Row]:
        what = "The paint of a whole house, room by room."
        title = page.line("housemap", strong=True, indent=1)
        return [page.blank(), title, page.line(what, quiet=True, indent=1), page.blank()]

    def entry(self, item: Entry, page: Page) -> Sequence[Row]:
        columns, ground = min(page.width - 3, WIDEST), page._replace(chosen=False)
        title, words = fit(item.title, min(28, columns)), fit(item.words, max(columns - 29, 0))
        free = " " * max(page.width - columns - 3, 0)
        lead = ground.run(" "), page.mark(), page.run(f" {title}", strong=page.chosen)
        return [(*lead, page.run(f" {words}", quiet=True), ground.run(free))]

    def foot(self, page: Page) -> Sequence[Row]:
        """How to begin, until something has been opened."""
        if any(entry.is_known for entry in self.items):
            return []
        narrow = page._replace(width=min(page.width, WIDEST))
        return [page.blank(), *narrow.text(FIRST_TIME, quiet=True, indent=1)]

    def picked(self) -> None:
        self.screen.call_later(self.screen.run_action, "open")


class StartScreen(ProgramScreen):
    CONTEXT = "start"
    BAR = ("open", "new", "quit")

    def compose(self) -> ComposeResult:
        """Without a head: there is no house yet."""
        self.list = StartList(self)
        yield self.list
        yield Foot()

    def on_mount(self) -> None:
        self.list.focus()
        self.call_after_refresh(self._look_for_work)

    def _look_for_work(self) -> None:
        """Put what earlier runs left behind at the head of the list."""
        found = [*map(self._work_entry, left_behind(state_folder()))]
        if found:
            self.list.show_entries([*found, *self.list.items])
            self.say("There is unsaved work. Press enter to restore it.")

    def _work_entry(self, work: Recovery) -> Entry:
        name = Path(work.file).name or work.house.name or "House without a name"
        where = Path(work.file).parent if work.file else ""
        words = f"unsaved work from {work.when.astimezone():%d %B, %H:%M}  {where}".rstrip()
        return Entry(name, words, partial(self._take_up, work))

    def entries(self) -> Iterator[Entry]:
        for path in recent_houses():
            yield Entry(path.name, str(path.parent), partial(self.open_file, path))
        yield Entry("New house", "begin with an empty one", self.action_new, is_known=False)
        yield Entry("Open a file", "by its name", self.action_file, is_known=False)
        words = "sixteen rooms to try things on"
        yield Entry("Demo house", words, self.action_demo, is_known=False)

    def action_open(self) -> None:
        if self.list.item is not None:
            self.list.item.open()

    def _take_up(self, work: Recovery) -> None:
        """Open the house that was left behind, on its file unless that is gone."""
        session = Session.of(House())
        with suppress(HouseFileError):
            found = Session.read(Path(work.file)) if work.file else session
            session = found if can_go_on(found, work) else session
        session.apply(work.house, "Unsaved work restored")
        self.program.open_session(session, work.typed)
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
        if not path.is_file():
            self.say(lines[0])
            return
        title = f"{path.name}: {counted(len(lines), 'fault')}, nothing was opened"
        lines += ["", *copies_of(path)]
        self.app.push_screen(PageScreen(title, partial(text_rows, lines)))
