"""The house and its file: saving, undoing, leaving; nothing is lost without a question."""

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from housemap.errors import ChangedOnDiskError, EditError, HouseFileError
from housemap.file.journal import Recovery, left_behind_of
from housemap.file.merge import diff, unsettled
from housemap.file.paths import file_stem, house_path
from housemap.file.save import clean_up
from housemap.model.house import SURFACES, House
from housemap.tui.describe import as_sentence
from housemap.tui.house_screen import Task
from housemap.tui.program_screen import PageScreen, text_rows
from housemap.tui.questions import Choice, Then
from housemap.workbench.folders import state_folder
from housemap.workbench.safekeeping import can_go_on

DISK_S = 1.0
"""How often the file is looked at."""

BOTH = b"# Both changed it"
"""In a file that shows both sides."""


TYPED_IN = frozenset({"edit", "survey"})
"""The tasks that keep what is typed there for after a crash."""


def nothing() -> None:
    """Follow with nothing."""


class FilesTask(Task):
    _seen_change, _seen_fault = False, ""
    _of_moved: Recovery | None = None
    """Work that was restored here and was made in another file."""

    def watch(self) -> None:
        """Look at the file every DISK_S; offer what an earlier run left behind."""
        self.desk.set_interval(DISK_S, self._look_at_disk)
        self.desk.call_after_refresh(self._offer_left_behind)
        self.desk.call_after_refresh(self._offer_unsettled)

    def _look_at_disk(self) -> None:
        changed = self.session.changed_on_disk
        if changed != self._seen_change:
            self._seen_change = changed
            self.desk.draw_head()
            if changed and self.session.gone_from_disk:
                self.say("The file was deleted or renamed. ctrl+s saves it again.")
            elif changed:
                self.say("The file has been changed on disk; saving will ask what to do.")
        # Shown for as long as it is so: that a crash would lose the work.
        if self._seen_fault != self.desk.safekeeping.fault:
            self._seen_fault = self.desk.safekeeping.fault
            self.desk.draw_status()

    def _offer_unsettled(self) -> None:
        file = self.session.file
        if file is None or BOTH not in file.held.data or self.session.read_only:
            return
        if unsettled(file.held.data):
            text = "Two people changed this house, and both changed the same things."
            choose = Choice("c", "choose for each", lambda: self.desk.run("share.settle_file"))
            self.desk.ask(text, [choose], "choose later")

    def say_unknown_names(self) -> None:
        """Say which names of the file mean nothing here; they are kept in it."""
        from housemap.checks.every import unknown_names  # noqa: PLC0415 - not before the first findings

        if (lines := [*unknown_names(self.session.house)]) and not self.desk.message:
            more = f" ({len(lines) - 1} more: housemap check)" if lines[1:] else ""
            self.say(f"No effect: {lines[0]}{more}.")

    def _offer_left_behind(self) -> None:
        file = self.session.file
        if file is None:
            return
        clean_up(file.path)
        found = left_behind_of(state_folder(), file.path, file.held.fingerprint)
        if found:
            self._offer(found)

    def _offer(self, found: Recovery) -> None:
        def ask_to_forget() -> None:
            text = f"Delete the unsaved work of {name} for good? It cannot be brought back."
            self.desk.ask(text, [Choice("ctrl+d", "yes, delete it", found.forget)], "keep it")

        name = Path(found.file).name
        text = f"Unsaved work of {name} from {found.when.astimezone():%d %B, %H:%M}."
        choices = (
            Choice("r", "restore it" if self._is_own(found) else "restore it here",
                   lambda: self.take_up(found)),
            Choice("w", "what differs", lambda: self._show_what_differs(found)),
            Choice("ctrl+d", "delete it", ask_to_forget),
        )  # fmt: skip
        self.desk.ask(f"{text}{self._caution(found)}", choices, "decide later")

    def _is_own(self, found: Recovery) -> bool:
        return self.session.file is not None and found.is_of(self.session.file.path)

    def _caution(self, found: Recovery) -> str:
        """What to know before work is restored that may not fit the file."""
        file = self.session.file
        if not self._is_own(found):
            where = Path(found.file).parent
            return f" That file is gone from {where}. Is this the same house, moved or renamed?"
        if file and file.held.fingerprint != found.fingerprint:
            ask = ": saving will ask" if found.base else ". Look at what differs first"
            return f" The file was changed after that{ask}."
        return ""

    def _show_what_differs(self, found: Recovery) -> None:
        """A page of what the work changes in the file, then the question again."""
        now, then = self.session.house, found.house
        from housemap.workbench.joining import change_text  # noqa: PLC0415 - not before the first findings

        changes = [change_text(change, now, then) for change in diff(now, then)]
        changes += [f"Typed and not saved: {text}" for text in _texts_in(found.typed)]
        changes = changes or ["Nothing differs."]
        page = PageScreen("What the unsaved work changes", partial(text_rows, changes))
        self.desk.push(page, lambda _: self._offer(found))

    def take_up(self, found: Recovery) -> None:
        """Go on with the house that an earlier run left behind."""
        if self._is_own(found):
            can_go_on(self.session, found)
        if found.house != self.session.house:
            self.desk.apply(found.house, "Unsaved work restored")
        self.retype(found.typed)
        if not self._is_own(found):
            self._of_moved = found
        elif self.desk.safekeeping.keep_now():
            found.forget()

    def retype(self, typed: Mapping[str, Any]) -> None:
        """Put what was typed and made no edit back into its form and line."""
        for task in TYPED_IN & typed.keys():
            self.desk.run(f"{task}.retype", typed[task])
        if typed:
            self.say("Unsaved work restored. What you typed is in its form or line again.")

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
        self._forget_moved()
        if self.session.file:
            missing = ". It had been deleted or renamed." if again else ""
            self.say(f"Saved as {self.session.file.path.name}{missing}")
            self.desk.program.remember(self.session.file.path)
            self.desk.run("share.keep_save")
        then()

    def _forget_moved(self) -> None:
        """The work of a file that is gone is kept for it until it has been saved in this one."""
        found, history = self._of_moved, self.session.history
        if found and found.house in (history.present, *(step.house for step in history.past)):
            self._of_moved = None
            if found.is_gone:
                found.forget()

    def _ask_together(self, then: Then) -> None:
        text = "Somebody else has changed this file on disk."
        choices = (
            Choice("m", "merge both", lambda: self._merge(then)),
            Choice("o", "save over it (theirs is kept as NAME~)",
                   lambda: self._save(then, over=True)),
            self._another_name(then),
        )  # fmt: skip
        self.desk.ask(text, choices, "leave it")

    def _another_name(self, then: Then) -> Choice:
        return Choice("a", "save under another name", lambda: self._ask_name(then))

    def _merge(self, then: Then) -> None:
        """Save both; with something to read of what came in, `then` does not follow."""
        self.desk.run(
            "share.join_saved", lambda found: self._saved(nothing if found.came_in else then)
        )

    def save_as(self) -> None:
        self._ask_name(nothing)

    def _ask_name(self, then: Then) -> None:
        file = self.session.file
        path = file.path if file else Path(f"{file_stem(self.session.house.name)}.toml")
        if self.session.read_only:
            path = path.with_stem(f"{path.stem}-copy")
        self.desk.ask_line(
            "Save under which name?", str(path),
            lambda line: self._save_as(house_path(line, file.path if file else None), then),
            replaces=True,
        )  # fmt: skip

    def _save_as(self, path: Path, then: Then, *, over: bool = False) -> None:
        try:
            self.session.save_as(path, over=over)
        except ChangedOnDiskError:
            text = f"There is a file {path.name} already (saving over it keeps it as {path.name}~)."
            write = Choice("o", "save over it", lambda: self._save_as(path, then, over=True))
            self.desk.ask(text, [write, self._another_name(then)], "leave it")
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
            self.desk.safekeeping.close()
            then()

        unfinished = [name for task in self.desk.tasks for name in task.unfinished()]
        if unfinished:
            text = f"You have unfinished typing: {', '.join(unfinished)}."
            drop = Choice("ctrl+d", "leave without it", lambda: self._leave(left))
            self.desk.ask(text, [drop], "stay")
        else:
            self._leave(left)

    def _leave(self, left: Then) -> None:
        if not self.session.unsaved:
            left()
            return
        name = self.session.house.name or "This house"
        word = "save under another name" if self.session.read_only else "save"
        save = Choice("s", word, lambda: self.save(left))
        discard = Choice("ctrl+d", "discard the changes", left)
        self.desk.ask(f"{name} is not saved.", [save, discard], "stay")

    def undo(self) -> None:
        before = self.session.house
        if edit := self._step(self.session.undo):
            self.say(f"Undone: {repainted_text(before, self.session.house) or edit}")

    def redo(self) -> None:
        if edit := self._step(self.session.redo):
            self.say(f"Done again: {edit}")

    def _step(self, step: Callable[[], str]) -> str:
        """The label of the edit that was undone, or done again; empty where there is none."""
        try:
            label = step()
        except EditError as error:
            self.say(as_sentence(error))
            return ""
        self.desk.follow()
        return label


def repainted_text(before: House, after: House) -> str:
    """As in "Hall walls are Oat Ladle again"; empty where not just one surface was repainted."""
    new = [
        (room, surface)
        for key, room in after.rooms.items()
        for surface in SURFACES
        if key in before.rooms and room.paints.of(surface) != before.rooms[key].paints.of(surface)
    ]
    if len(new) != 1:
        return ""
    [(room, surface)] = new
    paint = room.paints.of(surface)
    name = after.paints[paint].name if paint else "unpainted"
    verb = "is" if surface in {"ceiling", "trim"} else "are"
    return f"{room.name} {surface} {verb} {name} again"


def _texts_in(typed: object) -> Iterator[str]:
    """The texts that were typed, wherever they stand; a target's words are none."""
    match typed:
        case str():
            yield typed
        case [_, _, _, {**fields}]:
            yield from _texts_in(fields)
        case list():
            for each in typed:
                yield from _texts_in(each)
        case dict():
            for each in typed.values():
                yield from _texts_in(each)
