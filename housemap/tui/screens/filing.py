"""The house and its file: saving, undoing, leaving; nothing is lost without a question."""

import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from housemap.errors import ChangedOnDiskError, EditError, HouseFileError
from housemap.file.paths import typed_path
from housemap.tui.background import WidgetRunner
from housemap.tui.describe import as_sentence
from housemap.tui.questions import Choice, Prompt, Question
from housemap.tui.screens.revising import Revising
from housemap.workbench.folders import state_folder
from housemap.workbench.safekeeping import Safekeeping
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.file.recovery import Recovery
    from housemap.tui.render.cells import Row

DISK_S = 1.0
"""How often the file is looked at."""

ANOTHER_NAME = Choice("a", "save under another name", "as")

Then = Callable[[], object]
"""What follows when the house is safe."""


def nothing() -> None:
    """Follow with nothing."""


class Filing(Revising):
    """Actions on the file and on the history."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self.safekeeping = Safekeeping(WidgetRunner(self), session)
        self._seen_change = False

    def watch_file(self) -> None:
        """Look at the file every DISK_S; offer what an earlier run left behind."""
        self.set_interval(DISK_S, self._look_at_disk)
        self.call_after_refresh(self._offer_left_behind)

    def follow(self) -> None:
        super().follow()
        self.safekeeping.follow()

    def _look_at_disk(self) -> None:
        changed = self.session.changed_on_disk
        if changed != self._seen_change:
            self._seen_change = changed
            self.draw_head()
            if changed and self.session.gone_from_disk:
                self.say("The file was deleted or renamed. ctrl+s saves it again.")
            elif changed:
                self.say("The file has been changed on disk; saving will ask what to do.")
        self._show_fault()

    def _show_fault(self) -> None:
        """Say, for as long as it is so, that a crash would lose the work."""
        if self.safekeeping.fault != self.fault:
            self.fault = self.safekeeping.fault
            self._draw_status()

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
        text = f"Unsaved work on this house was left behind on {found.when:%d %B, %H:%M} UTC."
        choices = (
            Choice("t", "take it up", "take"),
            Choice("w", "what differs", "differs"),
            Choice("d", "throw it away", "drop"),
        )
        steps = {
            "take": lambda: self.take_up(found),
            "differs": lambda: self._show_what_differs(found),
            "drop": lambda: self._ask_to_forget(found),
        }
        self._ask(text, choices, "decide later", steps)

    def _ask_to_forget(self, found: "Recovery") -> None:
        text = "Delete this unsaved work for good? It cannot be brought back."
        choices = (Choice("y", "yes, delete it", "delete"),)
        self._ask(text, choices, "keep it", {"delete": found.forget})

    def _show_what_differs(self, found: "Recovery") -> None:
        """A page of what the work changes in the file, then the question again."""
        from housemap.file.merge import diff  # noqa: PLC0415 - seldom needed
        from housemap.tui.render.page import Page  # noqa: PLC0415
        from housemap.tui.screens.page import PageScreen  # noqa: PLC0415

        changes = [*map(str, diff(self.session.house, found.house))] or ["Nothing differs."]
        look = self.look

        def draw(width: int) -> "list[Row]":
            page = Page(look, width)
            return [row for change in changes for row in page.text(change)]

        page = PageScreen("What the work that was left behind changes", draw)
        self.app.push_screen(page, lambda _: self._offer(found))

    def take_up(self, found: "Recovery") -> None:
        """Go on with the house that an earlier run left behind."""
        self.apply(found.house, "Unsaved work taken up")
        if self.safekeeping.keep_now():
            found.forget()

    # Saving

    def action_save(self) -> None:
        self.save()

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
        self.follow()
        if self.session.file:
            name = self.session.file.path.name
            missing = " It had been deleted or renamed." if again else ""
            self.say(f"Saved as {name}.{missing}" if missing else f"Saved as {name}")
            self.program.remember(self.session.file.path)
            self.keep_save()
        then()

    def _ask_together(self, then: Then) -> None:
        text = "Somebody else has changed this file on disk."
        choices = (
            Choice("m", "merge both", "merge"),
            Choice("o", "save over it (theirs stays as NAME~)", "over"),
            ANOTHER_NAME,
        )
        steps = {
            "merge": lambda: self._merge(then),
            "over": lambda: self._save(then, over=True),
            "as": lambda: self._ask_name(then),
        }
        self._ask(text, choices, "leave it", steps)

    def _merge(self, then: Then) -> None:
        try:
            theirs = self.session.save_together()
        except HouseFileError as error:
            self.say(str(error))
            return
        if theirs is None:
            self._saved(then)
        else:
            self.settle(theirs, then)

    def action_save_as(self) -> None:
        self._ask_name(nothing)

    def _ask_name(self, then: Then) -> None:
        file = self.session.file
        name = str(file.path) if file else f"{file_stem(self.session.house.name)}.toml"

        def named(answer: str | None) -> None:
            if answer:
                self._save_as(typed_path(answer), then)

        self.app.push_screen(Prompt("Save under which name?", name, self.look), named)

    def _save_as(self, path: Path, then: Then, *, over: bool = False) -> None:
        try:
            self.session.save_as(path, over=over)
        except ChangedOnDiskError:
            text = f"There is a file {path.name} already (saving over it keeps it as {path.name}~)."
            choices = (Choice("o", "save over it", "over"), ANOTHER_NAME)
            steps = {
                "over": lambda: self._save_as(path, then, over=True),
                "as": lambda: self._ask_name(then),
            }
            self._ask(text, choices, "leave it", steps)
        except HouseFileError as error:
            self.say(str(error))
        else:
            self._saved(then)

    # Leaving

    def action_close(self) -> None:
        self.leave(self.program.show_start)

    def leave(self, then: Then) -> None:
        """Go on with `then`, once what is not saved has been saved or given up."""

        def left() -> None:
            self.safekeeping.close()
            then()

        if not self.session.unsaved:
            left()
            return
        name = self.session.house.name or "This house"
        choices = (Choice("s", "save", "save"), Choice("d", "discard the changes", "discard"))
        steps = {"save": lambda: self.save(left), "discard": left}
        self._ask(f"{name} is not saved.", choices, "stay", steps)

    def _ask(
        self, text: str, choices: tuple[Choice, ...], stay: str, steps: Mapping[str, Then]
    ) -> None:
        def answered(answer: str | None) -> None:
            steps.get(answer or "", nothing)()

        self.app.push_screen(Question(text, choices, stay, self.look), answered)

    # Undo and redo

    def action_undo(self) -> None:
        self._step("Undone", self.session.undo)

    def action_redo(self) -> None:
        self._step("Done again", self.session.redo)

    def _step(self, word: str, step: Callable[[], str]) -> None:
        try:
            label = step()
        except EditError as error:
            self.say(as_sentence(error))
            return
        self.follow()
        self.say(f"{word}: {label}")


def file_stem(name: str) -> str:
    """A file name for a house: letters and digits of its name, joined by dashes."""
    return "-".join(re.findall(r"[a-z0-9]+", name.lower())) or "house"
