"""The earlier saves of a house: kept with every save, looked at on the map, taken up again."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

from housemap.errors import HouseFileError
from housemap.tui.background import work_beside
from housemap.tui.screens.settling import Settling
from housemap.workbench.folders import state_folder

if TYPE_CHECKING:
    from housemap.model.house import House
    from housemap.tui.tasks.share import Earlier, RevisionsPanel
    from housemap.workbench.session import OpenFile

REVISIONS = "revisions"
"""The group of the work on them."""


@dataclass
class Kept(Message):
    """The earlier saves were read."""

    saves: "tuple[Earlier, ...]"


class Revising(Settling):
    """Actions on earlier saves."""

    def keep_save(self) -> None:
        """Keep a copy of the file that was just saved; a copy that fails is told, no more."""
        file = self.session.file
        if file is None:
            return

        def steps() -> Iterator[Message]:
            from housemap.file.earlier_saves import keep_save  # noqa: PLC0415 - in the thread

            keep_save(state_folder(), file.path)
            yield from ()

        work_beside(self, REVISIONS, steps)

    def action_revisions(self) -> None:
        """Read the earlier saves, and list them."""
        file = self.session.file
        if file is None:
            self.say("This house has no file yet, so no earlier save.")
            return
        house = self.session.house
        work_beside(self, REVISIONS, lambda: iter([Kept(tuple(_read(file, house)))]))

    def on_kept(self, message: Kept) -> None:
        from housemap.tui.tasks.share import RevisionsPanel  # noqa: PLC0415 - when needed

        self.open_panel(RevisionsPanel(self.session, self.look, message.saves))

    def on_revisions_panel_looked(self, message: "RevisionsPanel.Looked") -> None:
        self.try_out(message.earlier.house)

    def on_revisions_panel_left(self, message: "RevisionsPanel.Left") -> None:
        self.close_panel()
        if message.taken:
            self.apply(message.taken.house, f"The save of {message.taken.when:%-d %B, %H:%M} UTC")


def _read(file: "OpenFile", house: "House") -> "Iterator[Earlier]":
    """What is kept of the file, the newest first; a copy that no longer reads is passed over."""
    from housemap.file.earlier_saves import earlier_saves  # noqa: PLC0415
    from housemap.file.merge import diff  # noqa: PLC0415 - in the thread
    from housemap.tui.tasks.share import Earlier  # noqa: PLC0415

    for kept in earlier_saves(state_folder(), file.path):
        try:
            then = kept.house()
        except HouseFileError:
            continue
        yield Earlier(kept.when, then, tuple(map(str, diff(then, house))))
