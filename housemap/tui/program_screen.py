"""What all screens share: a head, a status line, a key bar, and running a command by name."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Protocol, TypeVar, cast

from textual.app import ComposeResult
from textual.dom import DOMNode
from textual.screen import Screen

from housemap.errors import HousemapError
from housemap.tui.background import Outcome, WorkFailed
from housemap.tui.commands import BY_ID, Command, Keymap
from housemap.tui.keys import ALWAYS, Keyed, bar_items, shown_key
from housemap.tui.questions import Choice, LeftLines, Question, Then
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look, Settings
from housemap.tui.render.page import (
    SCREEN_IS_NOT_PAINT,
    Page,
    head_line,
    key_bar,
    status_line,
)
from housemap.tui.scroller import LEAST_COLUMNS, LEAST_ROWS, Bar, Drawn, DrawnRows, Foot, TooSmall
from housemap.tui.terminal import Depth, Drawing
from housemap.tui.textual_fixes import OwnScreen

if TYPE_CHECKING:
    from housemap.workbench.session import Session


T = TypeVar("T")

SMALL = ("save", "quit")
"""What works where the terminal has no room for anything else."""


class Program(Protocol):
    """The running program, as its screens see it."""

    @property
    def look(self) -> Look: ...
    @property
    def depth(self) -> Depth: ...
    @property
    def drawing(self) -> Drawing: ...
    @property
    def keymap(self) -> Keymap: ...
    @property
    def left_lines(self) -> LeftLines: ...
    def open_session(self, session: "Session", typed: Mapping[str, Any] | None = None) -> None:
        """Show a house; `typed` is what an earlier run kept of its forms and lines."""

    @property
    def settings(self) -> Settings: ...
    def show_start(self) -> None:
        """Close the house that is open."""

    def remember(self, path: Path) -> None:
        """Put a file at the head of the recent ones."""

    def keep_work(self) -> bool:
        """Put unsaved work on disk; whether that could be done."""


class ProgramScreen(OwnScreen, Screen[None]):
    """A screen with a Foot: in its status line a message until the next key, else a hint."""

    BAR: ClassVar[tuple[str, ...]] = ("back",)
    """The commands that the key bar shows."""
    HINT: ClassVar[str] = ""
    """What the status line shows; empty: the next step of the open house."""
    DECIDES: ClassVar[bool] = False
    """Whether a colour is decided on it."""
    session: "Session | None" = None
    """The open house; None where there is none."""

    def __init__(self) -> None:
        super().__init__()
        self.message = ""
        """What was said last; empty after the next key."""

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield from self.body()
        yield Foot()

    def body(self) -> ComposeResult:
        """What is between the head and the foot; to be overridden."""
        yield from ()

    def on_mount(self) -> None:
        if self.is_composed:
            self.draw()

    @property
    def program(self) -> Program:
        return cast("Program", self.app)

    @property
    def look(self) -> Look:
        return self.program.look

    def draw(self) -> None:
        self.draw_head()
        self.draw_status()
        self.draw_keys()

    def draw_head(self) -> None:
        """To be overridden where there is more to say than the title."""
        if self.title:
            self.show_head(self.title)

    def show_head(self, name: str, notes: Sequence[str] = (), *right: str) -> None:
        look = self.look
        shown = [*notes, *([f"eyes: {look.eyes}"] if look.eyes else [])]
        self.query_one("#head", Bar).show(lambda width: head_line(name, shown, right, width, look))

    def say(self, text: str) -> None:
        """Show a message in the status line until the next key."""
        self.message = text
        self.draw_status()

    def draw_status(self) -> None:
        message = self.message or self.fault
        texts = [message] if message else self.hints
        words, look, loud = self.program.depth.words, self.look, bool(message)
        self.query_one(Foot).show(
            lambda width: status_line(texts, words, width, look, loud=loud),
            Foot.STATUS,
        )

    @property
    def decides(self) -> bool:
        return self.DECIDES

    @property
    def hints(self) -> Sequence[str]:
        """What the status line shows while there is no message: the first of them that fits."""
        keymap = self.program.keymap
        if self.HINT or self.session is None:
            return [self.HINT]
        if not self.program.settings.steps:
            return [SCREEN_IS_NOT_PAINT]
        if not self.decides:
            from housemap.tui.describe import steps_of  # noqa: PLC0415 - 40 ms, not at the start

            return steps_of(self.session, keymap)
        enter, s = (shown_key(BY_ID[each].keys_in(keymap)[0]) for each in ("open", "samples"))
        steps = (f" Next: {enter}, then samples ({s}).", f" Next: {enter}, then {s}.", "")
        return [SCREEN_IS_NOT_PAINT + step for step in steps]

    @property
    def fault(self) -> str:
        """What is wrong for now, shown while there is no message; to be overridden."""
        return ""

    def on_key(self) -> None:
        if self.message:
            self.say("")

    def action_back(self) -> None:
        self.dismiss()

    def _contexts(self) -> Iterator[tuple[str, DOMNode]]:
        """Contexts whose keys work now, with the node that has their actions; nearest first."""
        for node in (self.focused or self).ancestors_with_self:
            for owner in type(node).__mro__:
                if context := owner.__dict__.get("CONTEXT", ""):
                    yield context, node

    def contexts(self) -> Sequence[str]:
        return [*dict.fromkeys(context for context, _ in self._contexts())]

    async def run_command(self, command: Command) -> None:
        use = command.use_in(self.contexts())
        if use is None:
            return
        action = command.action_of(use)
        namespace, dot, name = action.partition(".")
        if dot and namespace in {"app", "screen"}:
            await self.app.run_action(name, self if namespace == "screen" else self.app)
            return
        found = (node for context, node in self._contexts() if context in use.contexts)
        await self.app.run_action(action, next(found, self.app))

    @property
    def bar(self) -> Sequence[str]:
        """The commands for the key bar: what the nearest of what has the keys offers now."""
        for _, node in self._contexts():
            if node is not self and (bar := getattr(node, "bar", ())):
                return cast("Sequence[str]", bar)
        return self.BAR

    @property
    def is_typing(self) -> bool:
        """Whether a letter goes into a field."""
        return self.focused is not None and self.focused.check_consume_key("x", "x")

    @property
    def bar_words(self) -> Mapping[str, str]:
        """As of a panel."""
        return {}

    def draw_keys(self) -> None:
        typing = self.is_typing
        words = self.bar_words
        for_now = self.contexts(), self.program.keymap, self.session

        def items(offers: Sequence[str]) -> list[tuple[str, str]]:
            return [*bar_items(offers, *for_now, typing=typing, words=words)]

        columns, rows = self.app.size
        is_small = columns < LEAST_COLUMNS or rows < LEAST_ROWS
        bar = SMALL if is_small and self.query(TooSmall) else self.bar
        offered = items([command for command in bar if command != "back"])
        always, look = items([*(["back"] if "back" in bar else []), *ALWAYS]), self.look
        line = partial(key_bar, offered, look=look, always=always)
        self.query_one(Foot).show(line, Foot.KEYS)

    def on_descendant_focus(self) -> None:
        self.draw_keys()

    def look_changed(self) -> None:
        for drawn in self.query(Drawn):
            drawn.show_look(self.look)
        self.draw()

    def on_outcome(self, message: Outcome) -> None:
        message.stop()
        message.do()

    def on_work_failed(self, message: WorkFailed) -> None:
        message.stop()
        self.say(message.fault)

    def ask(self, text: str, choices: Iterable[Choice], leave: str) -> None:
        def answered(then: Then | None) -> None:
            if then is not None:
                then()

        self.app.push_screen(Question(text, choices, leave, self.look), answered)

    def ask_which(
        self, text: str, which: Sequence[tuple[str, T]], then: Callable[[T], object]
    ) -> None:
        """`then` is called with one of a few, by name and number; with the only one at once."""
        if len(which) == 1:
            then(which[0][1])
            return
        each = enumerate(which[:9], 1)
        choices = [Choice(str(number), name, partial(then, one)) for number, (name, one) in each]
        self.ask(text, choices, "leave it")

    def ask_line(
        self, text: str, value: str, then: Callable[[str], object], *, replaces: bool = False,
        empty: bool = False,
    ) -> None:  # fmt: skip
        """`then` is called with what is typed; a HousemapError in it comes as a line."""
        from housemap.tui.text_fields import Prompt  # noqa: PLC0415 - 10 ms, after the first frame

        left = self.program.left_lines
        before = left.get((text, value))

        def answered(line: str | None) -> None:
            if line or (empty and line is not None):
                try:
                    then(line)
                except HousemapError as error:
                    self.say(str(error).partition("\n")[0])
            elif line is None and left.get((text, value)) != before:
                self.say("What you typed is kept: asked again, press up to have it back.")

        self.app.push_screen(Prompt(text, value, self.look, left, replaces=replaces), answered)

    @property
    def is_composed(self) -> bool:
        """Whether it has its widgets: a screen that was just pushed, or is left, has none."""
        return bool(self.query(Foot))

    def session_changed(self) -> None:
        """The house below this screen, its report or what is selected changed."""
        for drawn in self.query(Drawn):
            drawn.redraw()
        self.draw()


DrawPage = Callable[[Page], Iterable[Row]]


def text_rows(lines: Iterable[str], page: Page) -> Iterator[Row]:
    return page.texts(lines)


class PageRows(Keyed, DrawnRows, can_focus=True):
    CONTEXT = "list"

    def action_page(self, pages: int) -> None:
        self.scroll_pages(pages)

    def action_go(self, way: str) -> None:
        self.scroll_rows(-1 if way == "up" else 1)

    def action_end(self, end: int) -> None:
        self.go_to_end(end)


class PageScreen(ProgramScreen):
    """Shows rows that scroll, over the whole screen, until escape."""

    CONTEXT = "page"

    def __init__(self, title: str, draw: DrawPage) -> None:
        super().__init__()
        self.title, self._page = title, draw

    def body(self) -> ComposeResult:
        self.rows = PageRows(lambda page, _: [*self._page(page)], self.look, id="page")
        yield self.rows

    def on_mount(self) -> None:
        self.rows.focus()
