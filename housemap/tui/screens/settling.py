"""Settling what two edits of the file have in conflict, shown on the map as it is settled."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from housemap.errors import EditError, HouseFileError
from housemap.model.fieldtypes import KeyPath
from housemap.tui.screens.house_base import HouseBase
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.file import HouseFile
    from housemap.file.merge import Side
    from housemap.model.house import House
    from housemap.tui.tasks.share import SettlingPanel, Sides


class Settling(HouseBase):
    """Actions on conflicts."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._theirs: HouseFile | None = None
        self._sides: Sides | None = None
        self._settled_then: Callable[[], object] = lambda: None
        self._choices: dict[KeyPath, Side] = {}

    def settle(self, theirs: "HouseFile", then: Callable[[], object]) -> None:
        """Show what the house and `theirs` have in conflict; `then` follows once it is saved."""
        from housemap.file.merge import merge  # noqa: PLC0415 - seldom needed
        from housemap.tui.tasks.share import SettlingPanel, Sides  # noqa: PLC0415 - when first needed

        file = self.session.file
        assert file is not None
        self._theirs, self._settled_then, self._choices = theirs, then, {}
        self._sides = Sides(file.held.house, self.session.house, theirs.house)
        conflicts = merge(self._sides.base, self._sides.mine, self._sides.theirs).conflicts
        self.open_panel(SettlingPanel(self.session, self.look, conflicts, self._sides))

    def on_settling_panel_settled(self, message: "SettlingPanel.Settled") -> None:
        wanted = {**self._choices, message.path: message.side}
        try:
            self.try_out(self._merged(wanted))
        except EditError as error:
            self.say(str(error).partition("\n")[0])
            return
        self._choices = wanted
        self._settling_panel().show_choices(wanted)

    def on_settling_panel_looked(self, message: "SettlingPanel.Looked") -> None:
        """Select the room that it is about."""
        table, *rest = message.path
        if table == "room" and rest:
            self.select(rest[0])

    def on_settling_panel_finished(self, message: "SettlingPanel.Finished") -> None:
        from housemap.tui.tasks.share import SettlingPanel  # noqa: PLC0415 - it is there

        if not isinstance(self.panel, SettlingPanel):  # the key came twice at once
            return
        if not message.save:
            self.close_panel()
            self.say("Nothing was saved: both edits are as they were.")
            return
        left = self._settling_panel().unsettled
        if left:
            self.say(f"{left} still to be settled: 1 as it was, 2 mine, 3 theirs.")
            return
        self._save_settled()

    def _save_settled(self) -> None:
        assert self._theirs is not None
        merged, then = self._merged(self._choices), self._settled_then
        self.close_panel()
        try:
            self.session.save_settled(merged, self._theirs)
        except HouseFileError as error:
            self.say(str(error))
            return
        self.follow()
        self.say("Both edits are saved, as settled.")
        then()

    def _merged(self, choices: "Mapping[KeyPath, Side]") -> "House":
        from housemap.file.merge import merge  # noqa: PLC0415 - it is there by now

        assert self._sides is not None
        return merge(self._sides.base, self._sides.mine, self._sides.theirs, choices).house

    def _settling_panel(self) -> "SettlingPanel":
        from housemap.tui.tasks.share import SettlingPanel  # noqa: PLC0415 - it is there

        assert isinstance(self.panel, SettlingPanel)
        return self.panel
