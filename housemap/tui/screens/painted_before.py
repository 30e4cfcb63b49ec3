"""Asking how the house is painted now, so that coats follow the step from old to new colours."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from textual.message import Message

from housemap.errors import HousemapError
from housemap.file.paths import typed_path
from housemap.tui.background import WorkFailed, work_beside
from housemap.tui.questions import Choice, Prompt, Question
from housemap.tui.screens.paper import GROUP, PaperScreen
from housemap.workbench.folders import state_folder
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.model.house import House
    from housemap.schedule.existing import Before

SAVES = "saves"
FILE, UNKNOWN = "file", "unknown"


@dataclass
class SavesRead(Message):
    """The earlier saves that can be taken, by their names."""

    saves: "Mapping[str, Before]"


class BeforeScreen(PaperScreen):
    """Makes the schedule over the colours before; `took` is told what was chosen."""

    def __init__(
        self, session: Session, before: "Before | None", took: "Callable[[Before | None], None]"
    ) -> None:
        super().__init__(session)
        self._before, self._took = before, took

    @property
    def before(self) -> "Before | None":
        return self._before

    def action_schedule_before(self) -> None:
        """Read the earlier saves, and ask."""
        file, house = self._session.file, self._session.house
        path = file.path if file else None
        work_beside(self, SAVES, lambda: _saves(path, house))

    def on_saves_read(self, message: SavesRead) -> None:
        message.stop()
        saves = message.saves
        choices = [Choice(str(number), name, name) for number, name in enumerate(saves, 1)]
        choices.append(Choice("f", "file", FILE))
        if self._before is not None:
            choices.append(Choice("n", "not known", UNKNOWN))

        def answered(answer: str | None) -> None:
            if answer == FILE:
                self._ask_file()
            elif answer:
                self._take(saves.get(answer))

        known = "an earlier save, or in a house file" if saves else "a house file"
        text = f"Painted now as in {known}? Coats go by that."
        self.app.push_screen(Question(text, choices, "stay", self.look), answered)

    def _ask_file(self) -> None:
        file = self._session.file
        folder = file.path.parent if file else Path()

        def named(answer: str | None) -> None:
            if answer:
                self._take_file(folder / typed_path(answer))

        beside = f" (beside {file.path.name}, or its path)" if file else ""
        text = f"Painted now as in which house file{beside}?"
        self.app.push_screen(Prompt(text, "", self.look), named)

    def _take_file(self, path: Path) -> None:
        from housemap.file import read_house  # noqa: PLC0415 - when first needed
        from housemap.schedule.existing import Before  # noqa: PLC0415 - it has been made

        try:
            house = read_house(path)
        except HousemapError as error:
            self.say(str(error).splitlines()[0])
        else:
            self._take(Before(house, path.name))

    def _take(self, before: "Before | None") -> None:
        self._before = before
        self._took(before)
        if self._asked is not None:
            self.ask(self._asked)
        told = f"those of {before.told}" if before else "not known"
        self.say(f"The colours before are {told}.")

    def on_work_failed(self, message: WorkFailed) -> None:
        """A house before whose colours mean nothing is not taken."""
        if message.group == GROUP and self._before is not None:
            self._take(None)
        super().on_work_failed(message)


def _saves(path: Path | None, house: "House") -> Iterator[Message]:
    """In a thread."""
    from housemap.schedule.existing import names_of, saves_before  # noqa: PLC0415 - in the thread

    saves = saves_before(state_folder(), path, house) if path else ()
    each = (save.before for save in saves)
    yield SavesRead(dict(zip(names_of(saves), each, strict=True)))
