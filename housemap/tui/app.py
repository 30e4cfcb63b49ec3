"""The program: which screen is shown, in which look, with which keys."""

from typing import ClassVar

from textual.app import App
from textual.binding import BindingType

from housemap.session import Reporter, Session
from housemap.tui.commands import ANY, Keymap
from housemap.tui.keys import binding_keys, bindings_of
from housemap.tui.render.look import Look
from housemap.tui.reporting import whole_report
from housemap.tui.screens.house import HouseScreen
from housemap.tui.terminal import Depth
from housemap.tui.themes import look_for, theme_name, themes

EXACT = Depth("truecolor", "assumed")


class HousemapApp(App[None], inherit_bindings=False):
    """Opens houses on screens. Everything about one house is the HouseScreen's."""

    CSS_PATH: ClassVar[str] = "housemap.tcss"
    TITLE = "housemap"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(ANY)]
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012 - as Textual has it

    def __init__(
        self,
        session: Session | None,
        *,
        depth: Depth = EXACT,
        ascii_only: bool = False,
        light: bool = False,
        keymap: Keymap | None = None,
        reporter: Reporter = whole_report,
    ) -> None:
        super().__init__()
        self.depth, self.keymap = depth, keymap or {}
        self._ascii_only, self._light, self._reporter = ascii_only, light, reporter
        self._opened = session
        for theme in themes():
            self.register_theme(theme)
        self.theme = theme_name(self.look)

    @property
    def look(self) -> Look:
        return look_for(self.depth, ascii_only=self._ascii_only, light=self._light)

    def on_mount(self) -> None:
        self.set_keymap(binding_keys(self.keymap))
        if self._opened:
            self.push_screen(HouseScreen(self._opened, self._reporter))

    def action_leave(self) -> None:
        self.exit()
