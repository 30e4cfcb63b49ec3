"""The program: which screen is shown, in which look, with which keys.

Imported before the first frame: what a house or its screens need is imported when they are opened.
"""

import asyncio
import os
import signal
import sys
import time
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.events import Event, Key
from textual.geometry import Region
from textual.message import Message
from textual.reactive import Reactive
from textual.screen import Screen
from textual.strip import Strip
from textual.theme import Theme

from housemap.errors import InputError
from housemap.tui.ahead import Ahead
from housemap.tui.background import settle_memory
from housemap.tui.commands import Keymap
from housemap.tui.keys import bindings_of
from housemap.tui.program_screen import PageScreen, ProgramScreen
from housemap.tui.questions import Asking, LeftLines
from housemap.tui.render.cells import PLAIN, Row
from housemap.tui.render.look import (
    DARK,
    EYES,
    EYES_SENTENCES,
    LIGHT,
    Eyes,
    Greys,
    Look,
    Settings,
    look_for,
    read_settings,
    write_settings,
)
from housemap.tui.scroller import LEAST_COLUMNS, LEAST_ROWS, Drawn
from housemap.tui.strips import strip_of, use_eyes
from housemap.tui.terminal import BLOCKS, Depth, Drawing
from housemap.tui.textual_fixes import QuietCrash, QuietEnd, ThreadsLeftBehind
from housemap.workbench.folders import remember_house

if TYPE_CHECKING:
    from housemap.model.house import Light
    from housemap.tui.house_screen import HouseScreen
    from housemap.workbench.session import Reporter, Session

# Textual's themes, which agree with the look of our own drawing.

DARK_NAME, LIGHT_NAME = "housemap-dark", "housemap-light"
TERMINALS_OWN = "ansi-dark"
"""Textual's theme that leaves the terminal's own two colours alone."""


def theme_name(look: Look) -> str:
    return {DARK: DARK_NAME, LIGHT: LIGHT_NAME}.get(look.greys, TERMINALS_OWN)


def first_theme() -> str:
    """What the program starts in: `textual_fixes.use_depth` may have chosen the terminal's own."""
    return TERMINALS_OWN if os.environ.get("TEXTUAL_THEME") == TERMINALS_OWN else DARK_NAME


def _theme(name: str, greys: Greys, *, dark: bool) -> Theme:
    """Textual mixes all that is not named here, as scrollbars, of these."""
    text, quiet, panel = str(greys.text), str(greys.quiet), str(greys.panel)
    return Theme(
        name=name, dark=dark, primary=quiet, secondary=quiet, accent=text, warning=text,
        error=text, success=text, foreground=text, background=panel, surface=panel,
        panel=str(greys.bar), boost=str(greys.chosen),
        variables={"input-selection-background": str(greys.chosen)},
    )  # fmt: skip


THEMES = {
    DARK_NAME: _theme(DARK_NAME, DARK, dark=True),
    LIGHT_NAME: _theme(LIGHT_NAME, LIGHT, dark=False),
}
"""Every colour of them is a grey with r = g = b."""


# Keys act in the order in which they are pressed, each once what the one before did is done.
#
# Textual hands every key at once to the widget that has the focus then, and does its action once
# it has gone up through the whole screen: of keys typed fast, the second went to a widget that the
# first was to leave, and acted before what the first reported had been heard.

ROUNDS = 3
"""A key goes up to the app, what it reports to the screen, and what that reports too."""
LOST_S = 0.25
"""So long a key waits at most for the one before it."""


class Through(Message):
    """Goes the way of a key, behind it and what it reports."""

    def __init__(self, turn: int, rounds: int) -> None:
        super().__init__()
        self.turn, self.rounds = turn, rounds


class KeysInTurn:
    """An app in which a key waits for the one just before it."""

    _typed: deque[Key]
    _turn = 0
    """The number of the key that is waited for."""
    _waits = False
    _acted_at = 0.0

    async def on_event(self: Any, event: Event) -> None:
        if not isinstance(event, Key) or event.is_forwarded:
            await super().on_event(event)  # type: ignore[misc]  # App's
            return
        self._typed = getattr(self, "_typed", deque())
        self._typed.append(event)
        if not self._waits:
            await self._take_key()

    async def _take_key(self: Any) -> None:
        """Have the next key act; one that came long after the last need not wait for it."""
        self._turn += 1
        self._waits = False
        while self._typed and time.monotonic() - self._acted_at > LOST_S:
            await self._act()
        if self._typed:
            self._waits = True
            asyncio.get_running_loop().call_later(LOST_S, self._give_up_on, self._turn)
            self._go_through(ROUNDS)

    async def _act(self: Any) -> None:
        self._acted_at = time.monotonic()
        await super().on_event(self._typed.popleft())  # type: ignore[misc]  # App's

    def _go_through(self: Any, rounds: int) -> None:
        (self.focused or self.screen).post_message(Through(self._turn, rounds))

    def _give_up_on(self: Any, turn: int) -> None:
        """What it goes through may have been taken away."""
        if turn == self._turn:
            self.post_message(Through(turn, 1))

    async def on_through(self: Any, message: Through) -> None:
        if message.turn != self._turn or not self._waits:
            return
        if message.rounds > 1:
            self._go_through(message.rounds - 1)
        else:
            await self._act()
            await self._take_key()


# What is on the screen while a house is opened: the first frame, with nothing behind it.

WAIT_S = 0.06
"""How long the first frame may wait for its picture."""


class Ground(Drawn):
    """Draws the rows that it has, and goes on once they are drawn."""

    def __init__(self, rows: Sequence[Row], then: Callable[[], object]) -> None:
        super().__init__(id="ground")
        self._rows, self._then, self._drawn = rows, then, False

    def render_lines(self, crop: Region) -> list[Strip]:
        if not self._drawn:
            self._drawn = True
            # Not after the next refresh: that is a sixtieth of a second later.
            self.app.call_later(self._then)
        return super().render_lines(crop)

    def render_line(self, y: int) -> Strip:
        row = self._rows[y] if y < len(self._rows) else ()
        return strip_of(row, self.size.width, PLAIN)


class WaitingScreen(ProgramScreen):
    """Shows the house as it was drawn ahead, else the file's name; then has the house opened."""

    HINT = "Reading the house"

    def __init__(self, file: Path, ahead: Ahead | None, then: Callable[[], object]) -> None:
        super().__init__()
        self._file, self._ahead, self._then = file, ahead, then

    def compose(self) -> ComposeResult:
        picture = self._ahead.picture(WAIT_S) if self._ahead else None
        if picture and picture.size == self.app.size:
            yield Ground(picture.rows, self._then)
        else:
            yield from super().compose()

    def body(self) -> ComposeResult:
        yield Ground((), self._then)

    def draw_head(self) -> None:
        self.show_head(self._file.name)


PAGES = {
    "help": ("housemap.tui.tasks.help", "HelpScreen"),
    "legend": ("housemap.tui.tasks.help", "legend_screen"),
    "costs": ("housemap.tui.tasks.help", "costs_screen"),
    "finder": ("housemap.tui.finder", "Finder"),
}
"""What opens over any screen: the module, imported when it is first wanted, and what makes it."""

EXACT = Depth("truecolor", "assumed")
LOOK_S = 1.0
"""How often it is looked whether the terminal is still there."""
LEAVE_ON = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT)
"""The signals at which unsaved work is kept and the program ended."""


class HousemapApp(KeysInTurn, QuietCrash, QuietEnd, App[None], inherit_bindings=False):
    """Opens houses on screens. Everything about one house is the HouseScreen's."""

    CSS_PATH = "housemap.tcss"
    TITLE = "housemap"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of("any")]
    ENABLE_COMMAND_PALETTE = False
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny"), (LEAST_COLUMNS, "-narrow"), (100, "-wide")]  # noqa: RUF012 - as Textual has it
    VERTICAL_BREAKPOINTS = [(0, "-short"), (LEAST_ROWS, "-high")]  # noqa: RUF012 - the same
    theme: Reactive[str] = Reactive(first_theme)
    """From the start: set later, all styles would be worked out twice."""

    def __init__(
        self, session: "Session | None" = None, *, file: Path | None = None,
        ahead: Ahead | None = None, read_only: bool = False, depth: Depth = EXACT,
        ascii_only: bool = False, drawing: Drawing = BLOCKS, keymap: Keymap | None = None,
        reporter: "Reporter | None" = None, told: Sequence[str] = (),
    ) -> None:  # fmt: skip
        """Open on a session, on a file, or without both on the start screen.

        `ahead`: what another process makes of the file meanwhile.
        """
        super().__init__()
        self.depth, self.keymap, self.drawing = depth, keymap or {}, drawing
        self.session = session
        self.left_lines: LeftLines = {}
        self.fault: InputError | None = None
        """Why the file could not be opened; the program has then ended."""
        self._house: HouseScreen | None = None
        self._file, self.ahead, self._read_only = file, ahead, read_only
        self._ascii_only, self._reporter, self._told = ascii_only, reporter, told
        self._settings = read_settings()
        self._eyes: Eyes = ""
        use_eyes(self._eyes)
        for theme in THEMES.values():
            self.register_theme(theme)
        if theme_name(self.look) != self.theme:
            self.theme = theme_name(self.look)

    @property
    def settings(self) -> Settings:
        return self._settings

    @property
    def look(self) -> Look:
        look = look_for(self.depth, ascii_only=self._ascii_only, light=self._settings.light)
        return look._replace(eyes=self._eyes)

    def get_theme(self, theme_name: str) -> Theme | None:
        """Ours also before they are registered."""
        return super().get_theme(theme_name) or THEMES.get(theme_name)

    def get_default_screen(self) -> Screen[None]:
        if self.session:
            return self._house_screen(self.session)
        if self._file is None:
            return self._start_screen()
        return WaitingScreen(self._file, self.ahead, self._open_file)

    def on_load(self) -> None:
        loop = asyncio.get_running_loop()
        loop.set_default_executor(ThreadsLeftBehind())
        # Before the terminal is taken over, which must be given back; unsaved work is kept by
        # `opening`.
        for number in LEAVE_ON:
            loop.add_signal_handler(number, self._leave_on, number)

    def on_mount(self) -> None:
        self.set_keymap({command: ",".join(keys) for command, keys in self.keymap.items() if keys})
        if not self.is_headless:
            self.set_interval(LOOK_S, self._leave_lost_terminal)
        self.app_resume_signal.subscribe(self, lambda _: self.refresh(layout=True))
        if self._told:
            self.call_after_refresh(self._tell, self._told[0])

    def _tell(self, text: str) -> None:
        if isinstance(self.screen, ProgramScreen):
            self.screen.say(text)

    def _leave_lost_terminal(self) -> None:
        """A terminal may go without a signal; its keys would then be read for ever."""
        if sys.__stdin__ is None or not sys.__stdin__.isatty():
            self._leave_on(signal.SIGHUP)

    def _leave_on(self, number: signal.Signals) -> None:
        self.exit(return_code=128 + number)

    def _open_file(self) -> None:
        """Open the file that was named when the program was started, or end with its faults."""
        assert self._file is not None
        try:
            session = self.ahead.session() if self.ahead else None
            screen = self._house_screen(session or self._file, self.ahead if session else None)
        except InputError as error:
            self.fault = error
            self.exit(return_code=2)
            return
        self._show(screen)

    def open_session(self, session: "Session", typed: Mapping[str, Any] | None = None) -> None:
        screen = self._house_screen(session)
        self._show(screen)
        if typed:
            screen.call_after_refresh(screen.run, "files.retype", typed)

    def _house_screen(self, house: "Session | Path", ahead: "Ahead | None" = None) -> "HouseScreen":
        """The screen of a house, or of the one in a file; raises HouseFileError."""
        from housemap.tui.house_screen import HouseScreen  # noqa: PLC0415 - 60 ms, not at once
        from housemap.workbench.session import Session  # noqa: PLC0415 - the same

        if isinstance(house, Path):
            house = Session.read(house, read_only=self._read_only)
        self.session = house
        self._house = HouseScreen(house, self._reporter, ahead)
        if house.file:
            self.remember(house.file.path)
        return self._house

    def show_start(self) -> None:
        self._show(self._start_screen())

    def _show(self, screen: ProgramScreen) -> None:
        """In the place of what is shown; the first screen of all stays under the others."""
        # As wide and high as that: else its styles would be worked out twice.
        classes = (each for each in self.screen.classes if each.startswith("-"))
        screen.add_class(*classes, update=False)
        if len(self.screen_stack) > 1:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def _start_screen(self) -> ProgramScreen:
        from housemap.tui.tasks.start import StartScreen  # noqa: PLC0415 - not for a named file

        self.session = self._house = None
        self.call_after_refresh(settle_memory)
        return StartScreen()

    def remember(self, path: Path) -> None:
        """Put a file at the head of the recent ones, once the screen has been drawn."""
        self.call_after_refresh(remember_house, path)

    def keep_work(self) -> bool:
        return self._house is not None and self._house.safekeeping.keep_now()

    # Commands of the whole program

    def action_open_page(self, kind: str) -> None:
        """Open a page over the screen; a page of text has none over it but the help."""
        below, (module, make) = self.screen, PAGES[kind]
        is_text = kind in {"legend", "costs"}
        if isinstance(below, ProgramScreen) and not (is_text and isinstance(below, PageScreen)):
            self.push_screen(getattr(import_module(module), make)(below))

    def action_greys(self) -> None:
        self._settings = self._settings._replace(light=not self._settings.light)
        write_settings(self._settings)
        self.theme = theme_name(self.look)
        self._draw_all()

    def _draw_all(self) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, ProgramScreen) and screen.is_composed:
                screen.look_changed()

    def action_eyes(self) -> None:
        if not self.look.colour:
            self._tell("This terminal shows no colours. Use one that does.")
            return
        self._eyes = EYES[(EYES.index(self._eyes) + 1) % len(EYES)]
        use_eyes(self._eyes)
        self._draw_all()
        self._tell(EYES_SENTENCES[self._eyes])

    def action_next_step(self) -> None:
        self._settings = self._settings._replace(steps=not self._settings.steps)
        write_settings(self._settings)
        if self._house is not None:
            self._house.draw_status()

    def action_light(self, light: "Light | None" = None) -> None:
        if self._house is not None:
            self._house.show_light(light)

    def action_leave(self) -> None:
        if self._house is None:
            self.exit()
        elif self.screen is self._house:
            self._house.run("files.leave", self.exit)
        elif isinstance(self.screen, ProgramScreen):
            self.screen.dismiss()
            self._house.run("files.leave", self.exit)
        elif isinstance(self.screen, Asking):
            before = dict(self.left_lines)
            self.screen.action_back()
            if self.left_lines == before:  # else a line is left, which is said
                self.call_after_refresh(self.action_leave)
