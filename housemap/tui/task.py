"""What a task of the open house is, and what it is handed: neither knows the screen itself.

A task is one thing that can be done with a house, such as choosing a paint. It names the methods
that commands of the table run ("findings.open"), opens its panels on the desk and handles what they
report. Tasks are made when they are first needed; `tasks.TASKS` names them.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any, ClassVar, Protocol, TypeVar

from textual.message import Message
from textual.screen import Screen

from housemap.model.house import House
from housemap.tui.map.drawing import Scene, Sight
from housemap.tui.map.house_map import HouseMap
from housemap.tui.panel import Panel, Stage
from housemap.tui.program_screen import Program
from housemap.tui.questions import Choice
from housemap.tui.render.look import Look
from housemap.workbench.session import Edit, Session

if TYPE_CHECKING:
    from housemap.checks import Cause, Report
    from housemap.choose.remedies import Deck
    from housemap.workbench.session import Standing

T = TypeVar("T", bound="Task")


class Desk(Protocol):
    """The open house on its screen. It alone changes the session and what is shown of it."""

    @property
    def session(self) -> Session: ...
    @property
    def look(self) -> Look: ...
    @property
    def program(self) -> Program: ...
    @property
    def screen(self) -> Screen[Any]:
        """What widgets are mounted on, and work beside the keys reports to."""

    # Other tasks

    @property
    def tasks(self) -> Iterable["Task"]:
        """Those that have been needed so far."""

    def find_task(self, kind: type[T]) -> T: ...
    def run(self, command: str, *arguments: object) -> object:
        """Run a method of a task by its name in the table of commands: "findings.open"."""

    # Changing the session

    def apply(self, change: Edit | House, label: str, report: "Report | None" = None) -> bool:
        """Make an edit, or say why it does not fit; whether anything changed.

        `report`: that of the new house, where it has been made already.
        """

    def paint(self, change: Edit | House, label: str, report: "Report | None" = None) -> bool:
        """As `apply`, but ask first where it paints a room that the client keeps as it is."""

    def try_out(self, house: House | None, report: "Report | None" = None) -> None:
        """Show a house that is not decided on; None shows the decided one again."""

    def select(self, room: str) -> None:
        """Select a room; one that is not there (any more) is ignored."""

    # Showing it

    @property
    def map(self) -> HouseMap: ...
    def follow(self) -> None:
        """Show the session as it is now, and have it reported on."""

    def follow_selection(self) -> None:
        """Show that something else is selected."""

    def scene(self) -> Scene:
        """What the map shows."""

    def draw_head(self) -> None: ...
    def draw_status(self) -> None: ...
    @property
    def message(self) -> str:
        """What was said last; empty after the next key."""

    def say(self, text: str) -> None:
        """Show a message in the status line until the next key."""

    @property
    def light_to_come(self) -> bool:
        """Whether the report of the decided house will yet be made deeper."""

    def request_report(self) -> None:
        """Have the house reported on although the map has not been shown yet."""

    def request_detail(self) -> None:
        """Have the selected room's light computed in detail."""

    # Panels, pages and questions

    @property
    def panel(self) -> Panel:
        """What is beside the map now."""

    def open_panel(self, panel: Panel) -> None:
        """Put a panel in the place of the card, with the focus in it."""

    def open_list(self, panel: Panel) -> None:
        """Open a panel that is filled at once: the next key may already be meant for it."""

    def close_panel(self) -> None:
        """Show the card again, and the house as it is decided."""

    @property
    def stage(self) -> Stage:
        """The map, or what is shown in its place."""

    def set_stage(self, stage: Stage, card: Panel) -> None:
        """Show something in the place of the map and the card."""

    def clear_stage(self) -> None:
        """Show the map and the card again."""

    def push(self, screen: Screen[Any], then: Callable[[Any], None] | None = None) -> None:
        """Show a page or a question over the house; `then` is given its answer."""

    def ask(self, text: str, choices: Iterable[Choice], leave: str) -> None:
        """Ask for one key, and do what its choice says."""

    def ask_line(
        self, text: str, value: str, then: Callable[[str], object], *, replaces: bool = False,
        empty: bool = False,
    ) -> None:  # fmt: skip
        """Ask for a line of text; `then` is given it, an empty one only where it may be `empty`.

        What is typed goes on with `value`, or `replaces` it.
        """


class TaskMessage(Message):
    """What a panel or work beside the keys reports: handed to the tasks, by handler name."""


class Task:
    """One thing that can be done with the open house; it is told what happens to that."""

    NAME: ClassVar[str]
    """As in the table of commands, before the dot."""

    def __init__(self, desk: Desk) -> None:
        self.desk, self.session = desk, desk.session

    @property
    def look(self) -> Look:
        return self.desk.look

    def say(self, text: str) -> None:
        self.desk.say(text)

    # What it is told, to be overridden where it matters

    def selecting(self) -> None:
        """What is selected is about to be shown."""

    def following(self) -> None:
        """The session is about to be shown as it is now."""

    def closing(self) -> None:
        """The panel beside the map is about to be closed, if one is open."""

    def report_failed(self) -> None:
        """A report could not be made."""

    def surface_chosen(self) -> None:
        """Another surface of the room is the one that a paint is chosen for."""

    def matter_chosen(self, matter: "Cause") -> None:
        """A finding is about to be shown on the map."""

    # What it adds

    def scene(self, scene: Scene) -> Scene:
        """What the map is to show in place of a scene."""
        return scene

    def sights(self, sights: tuple[Sight, ...]) -> tuple[Sight, ...]:
        """Those of the lines of sight that are to be shown."""
        return sights

    def standing(self) -> "Standing | None":
        """Where one stands and how far one sees, where the map is to show it."""
        return None

    def unfinished(self) -> Iterator[str]:
        """What was typed and not taken, by name."""
        yield from ()

    def deck_for_remedies(self) -> "Deck | None":
        """A deck whose paints may clear a finding, beside the house's own."""
        return None
