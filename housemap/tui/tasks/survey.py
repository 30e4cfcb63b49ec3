"""The survey line at the foot of the map, and the panel beside it.

Keys that follow an enter at once must find the line empty again, so nothing here waits for a
message: the field calls the line, and the line calls the task.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rich.cells import cell_len
from textual.events import Paste
from textual.strip import Strip
from textual.timer import Timer

from housemap.tui.commands import Keymap
from housemap.tui.house_screen import Task
from housemap.tui.map.drawing import Scene
from housemap.tui.navigation import next_room, rooms_in_order
from housemap.tui.panels import RowsPanel
from housemap.tui.render.cells import Ink, Row
from housemap.tui.render.shades import SKETCHED, Block
from housemap.tui.scroller import Drawn
from housemap.tui.strips import strip_of
from housemap.tui.tasks import survey_drawing as drawing
from housemap.tui.tasks.files import FilesTask
from housemap.tui.text_fields import Field
from housemap.workbench.survey.surveyor import Reading, Surveyor, pasted_lines

PAUSE_S = 0.06
"""How long after a key the house is asked what the line means in it."""


class LineField(Field):
    """The text of the line; its keys are commands of the table."""

    bar = ("open", "next", "up", "take-back", "back")

    CONTEXT = "survey"

    def __init__(self, line: "SurveyLine", keymap: Keymap) -> None:
        super().__init__(keymap=keymap)
        self._line = line

    def watch_value(self, value: str) -> None:
        if self.is_attached:
            self._line.typed(value)

    def on_paste(self, event: Paste) -> None:
        """Take every line of a text, where a field alone would take the first."""
        event.prevent_default()
        event.stop()
        first, *others = pasted_lines(event.text)
        self.insert_text_at_cursor(first)
        if others:
            self._line.enter_all(others)

    def action_open(self) -> None:
        self._line.enter()

    def action_back(self) -> None:
        self._line.survey.leave_line()

    def action_take_back(self) -> None:
        self._line.survey.take_back()

    def action_next(self, step: int) -> None:
        self._line.complete(step)

    def action_go(self, way: str) -> None:
        """Bring back the line before, or go on to the one after."""
        self.write(self._line.surveyor.past.step(-1 if way == "up" else 1, self.value))


class SurveyLine(Drawn):
    """Shows what is typed, what it means, and what may come next."""

    def __init__(self, surveyor: Surveyor, survey: "SurveyTask") -> None:
        super().__init__(survey.look, id="survey-line")
        self.surveyor, self.survey = surveyor, survey
        self.field = LineField(self, survey.desk.program.keymap)
        self._reading = Reading(surveyor.parse(""))
        self._troubles: tuple[str, ...] = ()
        self._rows: Sequence[Row] = ()
        self._timer: Timer | None = None

    def open(self) -> None:
        """Put the field into the line; it can be typed into at once."""
        self.mount(self.field)
        self.screen.set_focus(self.field)
        self.field.write(self.surveyor.kept)
        self.follow()

    # What is typed

    def typed(self, text: str) -> None:
        """The text changed: its words are read now, what they mean after a pause."""
        self.surveyor.kept = text
        line = self.surveyor.parse(text)
        wrong = line.fault is not None and not line.fault.unfinished
        before = self._reading
        if wrong or not text:
            self._show(Reading(line, None, line.fault))
        else:
            self._reading = Reading(line, before.meaning, line.fault)
        self.redraw()
        if self._timer is not None:
            self._timer.stop()
        self._timer = self.set_timer(PAUSE_S, self.follow) if text and not wrong else None
        if self._timer is None:
            self.survey.sketch_line(self._reading)

    def follow(self) -> None:
        """Read the text in the house as it is, and sketch what it means."""
        reading = self.surveyor.read(self.field.value)
        if reading.fault is not None and reading.fault.unfinished:
            reading = Reading(reading.line, self._reading.meaning, reading.fault)
        self._show(reading)
        self.survey.sketch_line(reading)

    def _show(self, reading: Reading) -> None:
        self._reading = reading
        house = reading.meaning.house if reading.meaning and not reading.fault else None
        self._troubles = self.surveyor.new_troubles(house) if house is not None else ()
        self.redraw()

    def enter_all(self, others: Sequence[str]) -> None:
        """Take the line and those pasted behind it, up to one that cannot be taken."""
        self.surveyor.waiting = (*others, *self.surveyor.waiting)
        self.enter()

    def enter(self) -> None:
        """Take the line and those that wait behind it, up to one with something wrong."""
        while self._enter_one() and self.surveyor.waiting:
            line, *others = self.surveyor.waiting
            self.surveyor.waiting = tuple(others)
            self.field.write(line)

    def _enter_one(self) -> bool:
        """Take the line, or go on showing what is wrong with it; whether it was taken."""
        reading = self.surveyor.read(self.field.value)
        if reading.fault is not None:
            count = len(self.surveyor.waiting)
            more = f"; then enter: {count} more pasted" if count else ""
            text = f"{reading.fault.text}{more}"
            fault = replace(reading.fault, text=text, unfinished=False)  # as loud as any other
            self._show(Reading(reading.line, None, fault))
        if reading.meaning is None:
            return False
        self.surveyor.past.add(reading.text.strip())
        self.survey.take_line(reading)
        self.field.write("")
        return True

    def complete(self, step: int) -> None:
        """Write out the last word; on an empty line go to the next room, or the one before."""
        text = self.field.value
        if not text.strip():
            self.survey.go_on(step)
        elif (whole := self.surveyor.completed(text)) is not None:
            self.field.write(whole)

    # Drawing

    def fit(self) -> None:
        width, room = self.size.width, self.surveyor.room
        name = self.surveyor.session.house.rooms[room].name if room else ""
        lead = cell_len(drawing.prompt_of(name, width, self.look))
        reading, text = self._reading, self.field.value
        told = reading.meaning.in_short if reading.meaning and not reading.fault else ""
        view = drawing.LineView(
            name, text, round(self.field.scroll_x), told, self._troubles, reading.fault,
            self.surveyor.hints(text),
        )  # fmt: skip
        self._rows = drawing.line_rows(view, width, self.look)
        self.field.styles.offset = (lead, 0)
        self.field.styles.width = max(width - lead - 1, 1)

    def render_line(self, y: int) -> Strip:
        ink = Ink(self.look.greys.text, self.look.greys.bar)
        return strip_of(self._rows[y] if y < len(self._rows) else (), self.size.width, ink)

    def get_content_height(self, *_: object) -> int:
        return drawing.LINE_ROWS


class SurveyCard(RowsPanel, can_focus=False):
    """The room being surveyed, wall by wall, and what does not fit."""

    owner: "SurveyTask"

    def enter(self) -> None:
        """Leave the focus to the line."""
        self.screen.query_one(LineField).focus()

    def draw(self, width: int) -> Sequence[Row]:
        room = self.session.selection.room
        house = self.session.house
        known = room if room in house.rooms else None
        view = drawing.SurveyView(house, known, self.owner.surveyor.troubles())
        return drawing.survey_rows(view, self.look, width)


# Surveying: rooms, openings, windows and lamps added by a line that the map follows.

SURVEYING = "-surveying"
"""The class of the screen while the line is open."""


class SurveyTask(Task):
    _surveyor: Surveyor | None = None
    _line: SurveyLine | None = None

    @property
    def surveyor(self) -> Surveyor:
        """Whoever reads the lines."""
        self._surveyor = self._surveyor or Surveyor(self.session)
        return self._surveyor

    def unfinished(self) -> Iterator[str]:
        surveyor = self._surveyor
        if surveyor is not None and (surveyor.kept.strip() or surveyor.waiting):
            yield "a survey line"

    def open(self) -> None:
        if self._line is not None:
            return

        self.desk.open_panel(SurveyCard(self))
        self._line = SurveyLine(self.surveyor, self)
        self.desk.add_class(SURVEYING)
        self.desk.mount(self._line, before="#foot")
        self._line.open()

    def closing(self) -> None:
        line, self._line = self._line, None
        if line is not None:
            line.remove()
            self.desk.remove_class(SURVEYING)

    def following(self) -> None:
        """The line is read anew where the room or the house changed."""
        if self._line is not None:
            self._line.redraw()

    # What the line asks for

    def take_line(self, reading: Reading) -> None:
        meaning = reading.meaning
        assert meaning is not None
        told = self.surveyor.new_troubles(meaning.house)
        if meaning.house is self.session.house:
            self.session.try_out(None)
        else:
            self.desk.apply(meaning.house, meaning.label)
        if meaning.home is not None:
            self.desk.select(meaning.home)
        self.desk.follow()
        mark = self.look.glyphs.marks["warn"]
        self.say(f"{mark} {told[0]}" if told else meaning.label)

    def sketch_line(self, reading: Reading) -> None:
        """Show the house with what is typed, without having it reported on."""
        meaning = reading.meaning
        house = self.session.house
        sketched = meaning.house if meaning and not reading.wrong else house
        if sketched is self.session.shown:
            return
        self.session.try_out(None if sketched is house else sketched)
        self.desk.map.show(self.desk.scene(), self.surveyor.room, ())
        self.desk.panel.follow()
        self.desk.draw_head()

    def scene(self, scene: Scene) -> Scene:
        """With the rooms that are only typed so far drawn hollow, on their own level."""
        known, shown = self.session.house.rooms, self.session.shown.rooms
        sketched = [room for room in shown if room not in known]
        if self._line is None or not sketched:
            return scene
        blocks = {room: Block(room, shown[room].name, {"walls": SKETCHED}, {}) for room in sketched}
        level = shown[sketched[-1]].level
        return replace(scene, level=level, blocks={**scene.blocks, **blocks})

    def leave_line(self) -> None:
        self.desk.close_panel()

    def take_back(self) -> None:
        self.desk.find_task(FilesTask).undo()
        if self._line is not None:
            self._line.follow()

    def go_on(self, step: int) -> None:
        room = next_room(rooms_in_order(self.session), self.surveyor.room, step)
        if room is not None:
            self.desk.select(room)
