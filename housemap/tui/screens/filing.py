"""The house and its file: saving, undoing, leaving; nothing is lost without a question."""

import re
from collections.abc import Callable, Mapping
from pathlib import Path

from housemap.errors import ChangedOnDiskError, EditError, HouseFileError
from housemap.tui.screens.asking import Choice, Prompt, Question
from housemap.tui.screens.house_base import HouseBase

DISK_S = 1.0
"""How often the file is looked at."""

ANOTHER_NAME = Choice("a", "save under another name", "as")

Then = Callable[[], object]
"""What follows when the house is safe."""


def nothing() -> None:
    """Follow with nothing."""


class Filing(HouseBase):
    """Actions on the file and on the history."""

    def watch_disk(self) -> None:
        """Look at the file every DISK_S, and tell when somebody else has changed it."""
        self._seen_change = False
        self.set_interval(DISK_S, self._look_at_disk)

    def _look_at_disk(self) -> None:
        changed = self.session.changed_on_disk
        if changed != self._seen_change:
            self._seen_change = changed
            self._draw_head()
            if changed:
                self.say("The file has been changed on disk; saving will ask what to do.")

    # Saving

    def action_save(self) -> None:
        self.save()

    def save(self, then: Then = nothing) -> None:
        """Save, asking what has to be asked; `then` follows only when it is saved."""
        session = self.session
        if session.file is None or session.read_only:
            self._ask_name(then)
        elif session.file.commented:
            self._ask_comments(then)
        else:
            self._save(then)

    def _save(self, then: Then, *, over: bool = False) -> None:
        try:
            self.session.save(over=over)
        except ChangedOnDiskError:
            self._ask_over(then, lambda: self._save(then, over=True))
        except HouseFileError as error:
            self.say(str(error))
        else:
            self._saved(then)

    def _saved(self, then: Then) -> None:
        self.follow()
        if self.session.file:
            self.say(f"Saved as {self.session.file.path.name}")
            self.program.remember(self.session.file.path)
        then()

    def _ask_comments(self, then: Then) -> None:
        text = "The file holds comments, which saving drops (the file as it was stays as NAME~)."
        choices = (Choice("s", "save", "save"), ANOTHER_NAME)
        steps = {"save": lambda: self._save(then), "as": lambda: self._ask_name(then)}
        self._ask(text, choices, "leave it", steps)

    def _ask_over(self, then: Then, over: Then) -> None:
        text = "There is another version of this file on disk (saving over it keeps it as NAME~)."
        choices = (
            Choice("o", "save over it", "over"),
            Choice("a", "save under another name", "as"),
        )
        self._ask(text, choices, "leave it", {"over": over, "as": lambda: self._ask_name(then)})

    def action_save_as(self) -> None:
        self._ask_name(nothing)

    def _ask_name(self, then: Then) -> None:
        file = self.session.file
        name = str(file.path) if file else f"{file_stem(self.session.house.name)}.toml"

        def named(answer: str | None) -> None:
            if answer:
                self._save_as(Path(answer).expanduser(), then)

        self.app.push_screen(Prompt("Save under which name?", name, self.look), named)

    def _save_as(self, path: Path, then: Then, *, over: bool = False) -> None:
        try:
            self.session.save_as(path, over=over)
        except ChangedOnDiskError:
            self._ask_over(then, lambda: self._save_as(path, then, over=True))
        except HouseFileError as error:
            self.say(str(error))
        else:
            self._saved(then)

    # Leaving

    def action_close(self) -> None:
        self.leave(self.program.show_start)

    def leave(self, then: Then) -> None:
        """Go on with `then`, once what is not saved has been saved or given up."""
        if not self.session.unsaved:
            then()
            return
        name = self.session.house.name or "This house"
        choices = (Choice("s", "save", "save"), Choice("d", "discard the changes", "discard"))
        steps = {"save": lambda: self.save(then), "discard": then}
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
            self.say(str(error))
            return
        self.follow()
        self.say(f"{word}: {label}")


def file_stem(name: str) -> str:
    """A file name for a house: letters and digits of its name, joined by dashes."""
    return "-".join(re.findall(r"[a-z0-9]+", name.lower())) or "house"
