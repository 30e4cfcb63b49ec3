"""The main screen: the map of the open house and one panel beside it; the desk of its tasks.

It alone changes the session and what is shown of it. What can be done with a house is in `tasks`: a
task is one thing, such as choosing a paint. It names the methods that commands of the table run
("findings.open"), and opens its panels on the desk. Tasks are made when they are first needed.
"""

import asyncio
import gc
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, TypeVar

from textual.app import ComposeResult
from textual.screen import Screen

from housemap.errors import EditError
from housemap.model.house import House, Light, Surface
from housemap.model.severity import Tally, findings_text
from housemap.model.wishes import kept_rooms_painted
from housemap.plan.house_graph import graph_of
from housemap.tui import describe
from housemap.tui.ahead import Ahead
from housemap.tui.background import WidgetRunner, settle_memory
from housemap.tui.commands import OF_ROOMS
from housemap.tui.map.card_drawing import session_card
from housemap.tui.map.drawing import Scene, Sight
from housemap.tui.map.house_map import HouseMap
from housemap.tui.panels import Panel, RowsPanel, Stage
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.shades import LIGHTS, blocks_of, shades_of
from housemap.tui.scroller import TooSmall
from housemap.tui.strips import show_together
from housemap.tui.tasks import import_ahead, task_class
from housemap.tui.textual_fixes import draw_now
from housemap.workbench.reporting import Reported, Reporting, RoomDetailed, RoomDetails, next_report
from housemap.workbench.safekeeping import Safekeeping
from housemap.workbench.session import (
    Edit,
    Reporter,
    Session,
    middles,
    next_room,
    room_that_way,
    rooms_in_order,
)

if TYPE_CHECKING:
    from housemap.checks import Cause, Report
    from housemap.choose.remedies import Deck
    from housemap.workbench.session import Standing

T = TypeVar("T", bound="Task")

ASK_FOR_A_SAMPLE = "sample it on the wall first"

TRAILING_S = 0.05
"""How long after the selection its card and lines of sight follow."""


class Task:
    """One thing that can be done with the open house; it is told what happens to that.

    `tasks.choose` has ChooseTask; commands of the table that begin with "choose." are its methods.
    """

    def __init__(self, desk: "HouseScreen") -> None:
        self.desk, self.session = desk, desk.session

    @property
    def look(self) -> Look:
        return self.desk.look

    @property
    def room(self) -> str:
        """The selected room, for commands that the table has for houses with rooms only."""
        room = self.session.selection.room
        assert room is not None
        return room

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

    def typed(self) -> object:
        """What is typed there and no edit yet, in plain values; nothing where nothing is."""
        return None

    def unfinished(self) -> Iterator[str]:
        """What was typed and not taken, by name."""
        yield from ()

    def deck_for_remedies(self) -> "Deck | None":
        """A deck whose paints may clear a finding, beside the house's own."""
        return None


class Card(RowsPanel, can_focus=False):
    def draw(self, width: int) -> Sequence[Row]:
        return session_card(self.session, self.look, width)


class HouseScreen(ProgramScreen):
    """Shows a session, holds the tasks, and runs their commands."""

    CONTEXT = "house"
    session: Session

    def __init__(
        self, session: Session, reporter: Reporter | None = None, ahead: Ahead | None = None
    ) -> None:
        """`ahead`: what another process makes of the session, where one has opened it."""
        super().__init__()
        gc.disable()  # until everything is found
        self.session, self._ahead = session, ahead
        self._runner = runner = WidgetRunner(self)
        reporter = reporter or (ahead.report if ahead else next_report)
        self.reporting = Reporting(runner, session, reporter, self.take_report)
        finish = ahead.finish if ahead else None
        self.details = RoomDetails(runner, session, self.take_detail, finish)
        self.safekeeping = Safekeeping(runner, session, self._typed)
        self._tasks: dict[str, Task] = {}
        self._panel: Panel | None = None
        self._stage: Stage | None = None
        self._map_shown = self._is_ready = False
        self._trailing = False
        self._shown_level = 0
        self._graph_shown, self._sights_shown = False, True
        self._before: Tally | None = None
        """The findings before the last edit, until those after it are known."""
        self._light_message = ""
        """What was said of a light that is not computed yet."""

    def body(self) -> ComposeResult:
        """Without containers: every widget under the map costs time at each key."""
        ahead = self._ahead.drawing if self._ahead else None
        self.map = HouseMap(self.scene(), self.go, self.select, ahead)
        self.map.card = Card(self, id="card")
        yield self.map
        yield self.map.card
        yield TooSmall(id="small")

    def on_mount(self) -> None:
        self.set_focus(self.map)
        self.run("files.watch")
        self.follow()
        if not self.session.house.rooms:
            self.run("survey.open")

    def on_unmount(self) -> None:
        gc.enable()
        self.details.stop()
        if self._ahead:
            self._ahead.stop()

    # Tasks

    @property
    def tasks(self) -> Iterable[Task]:
        """Those that have been needed so far."""
        return tuple(self._tasks.values())

    def find_task(self, kind: type[T]) -> T:
        name = kind.__module__.rpartition(".")[2]
        task = self._tasks.get(name)
        if task is None:
            task = self._tasks[name] = kind(self)
        assert isinstance(task, kind)
        return task

    def run(self, command: str, *arguments: object) -> object:
        """Run a method of a task by its name in the table of commands: "findings.open"."""
        name, _, method = command.partition(".")
        if name not in self._tasks:
            self.find_task(task_class(name))
        return getattr(self._tasks[name], method)(*arguments)

    def action_task(self, command: str, *arguments: object) -> None:
        """As `run`, for a key: it may be pressed before there is a room."""
        if self.session.selection.room is not None or command not in OF_ROOMS:
            self.run(command, *arguments)

    @property
    def stage(self) -> Stage:
        """The map, or what is shown in its place."""
        return self._stage or self.map

    @property
    def home(self) -> Panel:
        """What is beside the stage while no panel is open."""
        return self.stage.card

    @property
    def panel(self) -> Panel:
        return self._panel or self.home

    # Showing the session

    def follow(self) -> None:
        """Show the session as it is now, and have it reported on."""
        for task in self.tasks:
            task.selecting()
            task.following()
        self.safekeeping.follow()
        room = self.session.selection.room
        self.map.show(self.scene(), room, self._sights(), self._standing())
        self._draw_rest()
        if self._map_shown:
            self.reporting.request()

    def follow_selection(self) -> None:
        """Show that something else is selected: the map at once, the rest as soon as may be."""
        for task in self.tasks:
            task.selecting()
        if self.session.selection.level != self._shown_level:
            self.follow()
            return
        self.map.select(self.session.selection.room)
        draw_now(self.map)
        if not self._trailing:
            # The event loop's own timer: one of Textual's costs a tenth of a key.
            self._trailing = True
            asyncio.get_running_loop().call_later(TRAILING_S, self.call_next, self._trail)

    def _trail(self) -> None:
        self._trailing = False
        if self.is_composed:
            self.map.look_from(self._sights(), self._standing())
            self._draw_rest()

    def _draw_rest(self) -> None:
        self.panel.follow()
        self.draw()
        if self._light_message and self._light_message == self.message:
            self._say_light()
        self.details.request()
        self._tell_above()

    def _tell_above(self) -> None:
        """Let the screens over this one follow."""
        for screen in self.app.screen_stack:
            if isinstance(screen, ProgramScreen) and screen is not self and screen.is_composed:
                screen.session_changed()

    def scene(self) -> Scene:
        session = self.session
        self._shown_level = session.selection.level
        blocks = blocks_of(shades_of(session))
        show_together(
            coat.colour
            for block in blocks.values()
            for coat in (*block.coats.values(), *block.accents.values())
            if coat.colour
        )
        scene = Scene(session.shown, session.plan, session.selection.level, blocks, self.look)
        if self._graph_shown:
            report, between = session.report, describe.gravest_between(session)
            graph = report.study.graph if report else graph_of(session.shown)
            scene = replace(scene, graph=graph, between=between)
        for task in self.tasks:
            scene = task.scene(scene)
        return scene

    def _sights(self) -> tuple[Sight, ...]:
        """None while the map is not on the screen: they would be drawn for nothing."""
        if self._graph_shown or not self._sights_shown or self._stage is not None:
            return ()
        sights = tuple(describe.sights_of(self.session))
        for task in self.tasks:
            sights = task.sights(sights)
        return sights

    def _standing(self) -> "Standing | None":
        if self._stage is not None:
            return None
        return next(filter(None, (task.standing() for task in self.tasks)), None)

    def _typed(self) -> Mapping[str, object]:
        """What is typed and no edit yet, by the task to whose `retype` it goes back."""
        typed = {name: task.typed() for name, task in self._tasks.items()}
        return {name: each for name, each in typed.items() if each}

    @property
    def fault(self) -> str:
        """That a crash would lose the work."""
        return self.safekeeping.fault

    @property
    def decides(self) -> bool:
        return self.panel.decides

    @property
    def bar(self) -> Sequence[str]:
        """On the map what matters now in the house."""
        if self.focused is self.map:
            return [*describe.map_offers(self.session)]
        bar = [*super().bar]
        decided = self.session.unsaved and self.session.tried is None
        return [*bar[:1], "save", *bar[1:]] if decided and "save" not in bar else bar

    @property
    def bar_words(self) -> Mapping[str, str]:
        return self.panel.bar_words

    def draw_head(self) -> None:
        name, notes, place = describe.head_of(self.session)
        self.show_head(name, notes, *place)

    def look_changed(self) -> None:
        for panel in self.query(Panel):
            panel.show_look(self.look)
        self.follow()

    # Reports

    def on_house_map_shown(self) -> None:
        """Begin to report: what that imports would keep the map from its first frame."""
        self.request_report()

    def on_screen_suspend(self) -> None:
        """Begin to report even where a key covered the map before its first frame.

        A screen that is covered is not drawn, so nothing may wait here for its next frame.
        """
        self._map_shown = True
        self.call_next(self.reporting.start)

    def request_report(self) -> None:
        """Have the house reported on although the map has not been shown yet."""
        self._map_shown = True
        self.reporting.request()

    def take_report(self, outcome: Reported) -> None:
        if not self.is_composed:
            return
        self.reporting.take(outcome)
        if outcome.fault:
            self.say(outcome.fault)
            for task in self.tasks:
                task.report_failed()
            settle_memory()
        elif self.session.report_is_current:
            self.follow()
            self._say_what_it_did()
        idle = not self.reporting.light_to_come
        if idle and not self._is_ready:
            self._is_ready = True
            self.run("files.say_unknown_names")
            # Once everything found is on the screen, which this would only delay.
            self._runner.soon(lambda: self._runner.beside("imports", self._make_ready))

    def _say_what_it_did(self) -> None:
        """Of surfaces that were painted, beside the label: what that did to the findings."""
        base, top = self.session.base, self.app.screen
        known = base is not None and base.deep is not None and self.session.base_is_current
        if self._before is None or base is None or not known:
            return
        done, self._before = findings_text(self._before, base.tally), None
        if isinstance(top, ProgramScreen) and ASK_FOR_A_SAMPLE in top.message:
            top.say(top.message.replace(ASK_FOR_A_SAMPLE, f"{done}; {ASK_FOR_A_SAMPLE}"))

    def _make_ready(self) -> None:
        """In a thread: for the first edit and the first panels."""
        if self._ahead:
            self._ahead.finish()
        import_ahead()
        settle_memory()

    def take_detail(self, outcome: RoomDetailed) -> None:
        self.details.done()
        if outcome.fault:
            self.say(outcome.fault)
        if outcome.room == self.session.selection.room:
            self.panel.follow()
            self._tell_above()

    # Changing the session

    def apply(self, change: Edit | House, label: str, report: "Report | None" = None) -> bool:
        """Make an edit, or say why it does not fit; whether anything changed.

        `report`: that of the new house, where it has been made already.
        """
        self._before = self.session.base.tally if self.session.base else None
        try:
            changed = self.session.apply(change, label)
        except EditError as error:
            self.say(describe.as_sentence(error))
            return False
        if report is not None:
            self.reporting.know(report)
        self.follow()
        if changed:
            self.say(label)
        return changed

    def paint(self, change: Edit | House, label: str, report: "Report | None" = None) -> bool:
        """As `apply`, but ask first where it paints a room that the client keeps as it is."""
        before = self.session.house
        try:
            house = change if isinstance(change, House) else change(before)
        except EditError as error:
            self.say(describe.as_sentence(error))
            return False
        if not (kept := kept_rooms_painted(before, house)):
            return self.apply(house, label, report)
        self.try_out(None)
        names, them, are = f"{len(kept)} rooms", "them", "they are"
        if len(kept) == 1:
            names, them, are = f"the {before.rooms[kept[0]].name}", "it", "it is"
        text = f"The client keeps {names} as {are}."
        paint = Choice("p", f"paint {them}", partial(self.apply, house, label, report))
        self.say(text)
        self.ask(f"{text} Paint {them} all the same?", [paint], f"keep {them}")
        return False

    def try_out(self, house: House | None, report: "Report | None" = None) -> None:
        """Show a house that is not decided on; None shows the decided one again."""
        self.session.try_out(house)
        if report is not None:
            self.reporting.know(report)
        self.follow()

    def select(self, room: str) -> None:
        """Select a room; one that is not there (any more) is ignored."""
        if room in self.session.shown.rooms:
            self.session.select(room)
            self.follow_selection()

    # The panel beside the map, and what is in the place of both

    def open_panel(self, panel: Panel) -> None:
        """Put a panel in the place of the card, with the focus in it."""
        if not self.is_attached:  # the program ends, and a thread had found something before
            return
        self.close_panel()
        self._panel = panel
        self.home.display = False
        self.mount(panel, after=self.home)
        self.set_focus(panel)  # at once: the next key is meant for it
        self.call_after_refresh(self._enter_panel, panel)

    def open_list(self, panel: Panel) -> None:
        """Open a panel that is filled at once: the next key may already be meant for it."""
        self.open_panel(panel)
        panel.follow()

    def _enter_panel(self, panel: Panel) -> None:
        if panel is self._panel:
            panel.enter()
            panel.follow()
            self.draw_status()
            self.draw_keys()

    def close_panel(self) -> None:
        """Show the card again, and the house as it is decided."""
        for task in self.tasks:
            task.closing()
        if self._panel is None:
            return
        self._panel.remove()
        self._panel = None
        self.home.display = True
        self.stage.focus()
        self.try_out(None)

    action_close_panel = close_panel

    def set_stage(self, stage: Stage) -> None:
        """Show something in the place of the map and the card."""
        self.map.display = self.home.display = False
        self.mount(stage, after=self.map)
        self.mount(stage.card, after=self.home)
        self._stage = stage
        self.set_focus(stage)  # at once: the next key is meant for it
        self.draw_head()

    def clear_stage(self) -> None:
        if self._stage is None:
            return
        self._stage.remove()
        self._stage.card.remove()
        self._stage = None
        self.map.display = self.home.display = True
        self.map.focus()
        self.follow()

    def push(self, screen: Screen[Any], then: Callable[[Any], None] | None = None) -> None:
        """Show a page or a question over the house; `then` is given its answer."""
        self.app.push_screen(screen, then)

    def on_resize(self) -> None:
        """Give the keys back to what lost them while the terminal was too small for it."""
        self.call_after_refresh(self._give_keys_back)

    def _give_keys_back(self) -> None:
        self.draw_keys()
        if not self.map.size:  # there is no room for it, so it will not say when it is shown
            self.request_report()
        if self.focused is not None:
            return
        if self._panel is not None:
            self._panel.enter()
        else:
            self.set_focus(self.stage)

    # Moving about the house

    def go(self, way: str) -> None:
        """Select the next room in a way, or in the order of the house."""
        session, room = self.session, self.session.selection.room
        if way in {"next", "previous"} or room is None:
            found = next_room(rooms_in_order(session), room, -1 if way == "previous" else 1)
        else:
            found = room_that_way(middles(session), room, way)
        if found is not None:
            self.select(found)

    def action_page(self, step: int) -> None:
        """Show the level below (above 0), or above."""
        levels, level = self.session.plan.levels(), self.session.selection.level
        number = levels.index(level) - step if level in levels else 0
        if 0 <= number < len(levels):
            self.session.select_level(levels[number])
            self.follow()
        else:
            self.say(f"There is no level {'below' if step > 0 else 'above'}.")

    def action_surface(self, surface: Surface) -> None:
        for task in self.tasks:
            task.surface_chosen()
        self.session.select_surface(surface)
        self.follow_selection()

    def action_more(self, steps: int) -> None:
        self.stage.zoom(steps)

    def action_graph_or_plan(self) -> None:
        self._graph_shown = not self._graph_shown
        self.follow()
        graph = "The house as a graph: which rooms open into and see each other."
        self.say(graph if self._graph_shown else "The plan.")

    def action_show_or_hide_sights(self) -> None:
        self._graph_shown, self._sights_shown = False, not self._sights_shown
        self.follow()
        lines = "with" if self._sights_shown else "without"
        self.say(f"The plan, {lines} lines to what the selected room sees.")

    def show_light(self, light: Light | None) -> None:
        """Show the house under a light, or under the next one (None); say which it is."""
        now = self.session.selection.light
        self.session.select_light(light or LIGHTS[(LIGHTS.index(now) + 1) % len(LIGHTS)])
        self.follow()
        self._say_light()

    def _say_light(self) -> None:
        shades = shades_of(self.session)
        text = describe.light_shown(shades)
        self._light_message = text if shades.light_to_come else ""
        self.say(text)
