"""The house and its file: saving, undoing, leaving; nothing is lost without a question."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from housemap.errors import ChangedOnDiskError, EditError, HouseFileError
from housemap.file.paths import typed_path
from housemap.schedule.clipboard import NOT_COPIED, room_line
from housemap.tui.background import WidgetRunner
from housemap.tui.describe import as_sentence
from housemap.tui.program_screen import PageScreen
from housemap.tui.questions import Choice, Prompt
from housemap.tui.render.cells import Row
from housemap.tui.render.page import Page
from housemap.tui.task import Desk, Task, Then
from housemap.workbench.folders import state_folder
from housemap.workbench.safekeeping import Safekeeping

if TYPE_CHECKING:
    from housemap.file.recovery import Recovery
    from housemap.tui.tasks.share import ShareTask

DISK_S = 1.0
"""How often the file is looked at."""

ANOTHER_NAME = Choice("a", "save under another name", "as")


BOTH = b"# Both changed it"
"""In a file that shows both sides."""


def nothing() -> None:
    """Follow with nothing."""


class FilesTask(Task):
    """Saving and leaving, undoing and redoing."""

    NAME: ClassVar[str] = "files"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.safekeeping = Safekeeping(WidgetRunner(desk.screen), desk.session)
        self._seen_change, self._seen_fault = False, ""

    def watch(self) -> None:
        """Look at the file every DISK_S; offer what an earlier run left behind."""
        self.desk.screen.set_interval(DISK_S, self._look_at_disk)
        self.desk.screen.call_after_refresh(self._offer_left_behind)
        self.desk.screen.call_after_refresh(self._offer_unsettled)

    def following(self) -> None:
        self.safekeeping.follow()

    def _look_at_disk(self) -> None:
        changed = self.session.changed_on_disk
        if changed != self._seen_change:
            self._seen_change = changed
            self.desk.draw_head()
            if changed and self.session.gone_from_disk:
                self.say("The file was deleted or renamed. ctrl+s saves it again.")
            elif changed:
                self.say("The file has been changed on disk; saving will ask what to do.")
        self._show_fault()

    def _show_fault(self) -> None:
        """Show, for as long as it is so, that a crash would lose the work."""
        if self._seen_fault != self.safekeeping.fault:
            self._seen_fault = self.safekeeping.fault
            self.desk.draw_status()

    # A file that shows both sides

    def _offer_unsettled(self) -> None:
        file = self.session.file
        if file is None or BOTH not in file.data or self.session.read_only:
            return
        from housemap.file.merge import unsettled  # noqa: PLC0415 - seldom needed

        if unsettled(file.data):
            text = "Two people changed this house, and both changed the same things."
            choices = (Choice("c", "choose for each", "choose"),)
            self.desk.ask(text, choices, "choose later", {"choose": self._share().settle_file})

    # Work left behind

    def _offer_left_behind(self) -> None:
        file = self.session.file
        if file is None:
            return
        from housemap.file.recovery import left_behind_of  # noqa: PLC0415 - after the first frame
        from housemap.file.save import clean_up  # noqa: PLC0415 - the same

        clean_up(file.path)
        found = left_behind_of(state_folder(), file.path, file.held.fingerprint)
        if found:
            self._offer(found)

    def _offer(self, found: "Recovery") -> None:
        text = f"Unsaved work from {found.when.astimezone():%d %B, %H:%M}."
        choices = (
            Choice("r", "restore it", "take"),
            Choice("w", "what differs", "differs"),
            Choice("ctrl+d", "delete it", "drop"),
        )
        steps: dict[str, Then] = {
            "take": lambda: self.take_up(found),
            "differs": lambda: self._show_what_differs(found),
            "drop": lambda: self._ask_to_forget(found),
        }
        self.desk.ask(text, choices, "decide later", steps)

    def _ask_to_forget(self, found: "Recovery") -> None:
        text = "Delete this unsaved work for good? It cannot be brought back."
        choices = (Choice("ctrl+d", "yes, delete it", "delete"),)
        self.desk.ask(text, choices, "keep it", {"delete": found.forget})

    def _show_what_differs(self, found: "Recovery") -> None:
        """A page of what the work changes in the file, then the question again."""
        from housemap.file.merge import diff  # noqa: PLC0415 - after the first frame

        changes = [*map(str, diff(self.session.house, found.house))] or ["Nothing differs."]
        look = self.look

        def draw(width: int) -> "list[Row]":
            page = Page(look, width)
            return [row for change in changes for row in page.text(change)]

        page = PageScreen("What the unsaved work changes", draw)
        self.desk.push(page, lambda _: self._offer(found))

    def take_up(self, found: "Recovery") -> None:
        """Go on with the house that an earlier run left behind."""
        self.desk.apply(found.house, "Unsaved work restored")
        if self.safekeeping.keep_now():
            found.forget()

    # Saving

    def save(self, then: Then = nothing) -> None:
        """Save, asking what has to be asked; `then` follows only when it is saved."""
        if self.session.file is None or self.session.read_only:
            self._ask_name(then)
        else:
            self._save(then)

    def _save(self, then: Then, *, over: bool = False) -> None:
        try:
            again = self.session.save(over=over)
        except ChangedOnDiskError:
            self._ask_together(then)
        except HouseFileError as error:
            self.say(str(error))
        else:
            self._saved(then, again=again)

    def _saved(self, then: Then, *, again: bool = False) -> None:
        self.desk.follow()
        if self.session.file:
            name = self.session.file.path.name
            missing = " It had been deleted or renamed." if again else ""
            self.say(f"Saved as {name}.{missing}" if missing else f"Saved as {name}")
            self.desk.program.remember(self.session.file.path)
            self._share().keep_save()
        then()

    def _ask_together(self, then: Then) -> None:
        text = "Somebody else has changed this file on disk."
        choices = (
            Choice("m", "merge both", "merge"),
            Choice("o", "save over it (theirs is kept as NAME~)", "over"),
            ANOTHER_NAME,
        )
        steps: dict[str, Then] = {
            "merge": lambda: self._merge(then),
            "over": lambda: self._save(then, over=True),
            "as": lambda: self._ask_name(then),
        }
        self.desk.ask(text, choices, "leave it", steps)

    def _merge(self, then: Then) -> None:
        try:
            theirs = self.session.save_together()
        except HouseFileError as error:
            self.say(str(error))
            return
        if theirs is None:
            self._saved(then)
        else:
            self._share().settle(theirs, then)

    def _share(self) -> "ShareTask":
        from housemap.tui.tasks.share import ShareTask  # noqa: PLC0415 - after the first frame

        return self.desk.find_task(ShareTask)

    def save_as(self) -> None:
        self._ask_name(nothing)

    def _ask_name(self, then: Then) -> None:
        file = self.session.file
        name = str(file.path) if file else f"{file_stem(self.session.house.name)}.toml"

        def named(answer: str | None) -> None:
            if answer:
                self._save_as(typed_path(answer), then)

        self.desk.push(Prompt("Save under which name?", name, self.look), named)

    def _save_as(self, path: Path, then: Then, *, over: bool = False) -> None:
        try:
            self.session.save_as(path, over=over)
        except ChangedOnDiskError:
            text = f"There is a file {path.name} already (saving over it keeps it as {path.name}~)."
            choices = (Choice("o", "save over it", "over"), ANOTHER_NAME)
            steps: dict[str, Then] = {
                "over": lambda: self._save_as(path, then, over=True),
                "as": lambda: self._ask_name(then),
            }
            self.desk.ask(text, choices, "leave it", steps)
        except HouseFileError as error:
            self.say(str(error))
        else:
            self._saved(then)

    # Leaving

    def close(self) -> None:
        self.leave(self.desk.program.show_start)

    def leave(self, then: Then) -> None:
        """Go on with `then`, once what is not saved has been saved or given up."""

        def left() -> None:
            self.safekeeping.close()
            then()

        unfinished = [name for task in self.desk.tasks for name in task.unfinished()]
        if unfinished:
            text = f"You have unfinished typing: {', '.join(unfinished)}."
            choices = (Choice("ctrl+d", "leave without it", "drop"),)
            self.desk.ask(text, choices, "stay", {"drop": lambda: self._leave(left)})
        else:
            self._leave(left)

    def _leave(self, left: Then) -> None:
        if not self.session.unsaved:
            left()
            return
        name = self.session.house.name or "This house"
        choices = (Choice("s", "save", "save"), Choice("ctrl+d", "discard the changes", "discard"))
        steps: dict[str, Then] = {"save": lambda: self.save(left), "discard": left}
        self.desk.ask(f"{name} is not saved.", choices, "stay", steps)

    # Copying, undo and redo

    def copy(self) -> None:
        """Give the terminal the paints of the selected room to paste elsewhere."""
        house, room = self.session.house, self.session.selection.room
        if room in house.rooms:
            line = room_line(house, str(room))
            self.desk.screen.app.copy_to_clipboard(line)
            self.say(f"Copied the paints of {house.rooms[str(room)].name}. {NOT_COPIED}")

    def undo(self) -> None:
        self._step("Undone", self.session.undo)

    def redo(self) -> None:
        self._step("Done again", self.session.redo)

    def _step(self, word: str, step: Callable[[], str]) -> None:
        try:
            label = step()
        except EditError as error:
            self.say(as_sentence(error))
            return
        self.desk.follow()
        self.say(f"{word}: {label}")


def file_stem(name: str) -> str:
    """A file name for a house: letters and digits of its name, joined by dashes."""
    return "-".join(re.findall(r"[a-z0-9]+", name.lower())) or "house"
