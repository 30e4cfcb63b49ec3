"""The survey line at the foot of the map, and the panel beside it.

Keys that follow an enter at once must find the line empty again, so nothing here waits for a
message: the field calls the line, and the line calls the task.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain
from typing import NamedTuple

from rich.cells import cell_len
from textual.events import Paste
from textual.strip import Strip
from textual.timer import Timer

from housemap.model.geometry import COMPASS, box_m, walls
from housemap.model.house import House, Room, Units
from housemap.model.lengths import format_length
from housemap.plan.floor_plan import plan_side
from housemap.plan.house_graph import graph_of
from housemap.tui.house_screen import Task
from housemap.tui.keys import Keyed
from housemap.tui.map.drawing import Scene
from housemap.tui.panels import RowsPanel
from housemap.tui.render.cells import Ink, Row, cut, plain, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import SKETCHED, Block
from housemap.tui.scroller import Drawn
from housemap.tui.strips import strip_of
from housemap.tui.tasks.files import FilesTask
from housemap.tui.text_fields import Field
from housemap.workbench.session import next_room, rooms_in_order
from housemap.workbench.survey.surveyor import Reading, Surveyor, pasted_lines
from housemap.workbench.survey.vocabulary import Fault, Hint, in_units

LINE_ROWS = 4
"""The line itself, two for what it means, one for what may come next."""


class LineView(NamedTuple):
    """Everything that stands round the text being typed."""

    room: str
    """The name of the room that the line is about; empty where there is none."""
    text: str
    scrolled: int
    """How many cells of the text have gone out at its left."""
    meaning: str = ""
    troubles: tuple[str, ...] = ()
    fault: Fault | None = None
    hints: tuple[Hint, ...] = ()


def prompt_of(room: str, width: int, look: Look) -> str:
    name = cut(room or "first room", max(width // 4, 6), look.glyphs.more)
    return f" {name} {look.glyphs.here} "


def line_rows(view: LineView, width: int, look: Look) -> list[Row]:
    """LINE_ROWS rows; the text itself lies over the first, behind the prompt."""
    page, prompt = Page(look, width, on_bar=True), prompt_of(view.room, width, look)
    rows = [(page.run(prompt, strong=True),), *_meaning(view, cell_len(prompt), page)]
    rows += [()] * (LINE_ROWS - 1 - len(rows))
    return [*rows[: LINE_ROWS - 1], _next(view.hints, page)]


def _meaning(view: LineView, lead: int, page: Page) -> Iterator[Row]:
    if view.fault and not view.fault.unfinished:
        yield from _wrong(view, view.fault, lead, page)
    elif view.fault:
        yield page.line(view.fault.text, quiet=True)
    elif view.troubles:
        yield page.line(view.meaning)
        yield page.line(f"{page.look.glyphs.marks['warn']} {view.troubles[0]}", strong=True)
    else:  # on two lines; the second is cut where it takes more
        first, *rest = wrap(view.meaning, page.width - 2)
        yield page.line(first)
        if rest:
            yield page.line(" ".join(rest))


def _wrong(view: LineView, fault: Fault, lead: int, page: Page) -> Iterator[Row]:
    """Marks under the word, and beside or below them what is wrong with it."""
    start = lead + cell_len(view.text[: fault.start]) - view.scrolled
    long = max(cell_len(view.text[fault.start : fault.end]), 1)
    start = min(max(start, lead), max(page.width - 2, 0))
    marks = "^" * min(long, max(page.width - start - 1, 1))
    lines = (page.run(" " * start), page.run(marks, strong=True))
    if cell_len(plain(fault.text)) <= page.width - start - len(marks) - 2:
        yield *lines, page.run(f" {plain(fault.text)}", strong=True)
    else:
        yield lines
        yield page.line(fault.text, strong=True)


NEXT = " next: "


def _next(hints: Sequence[Hint], page: Page) -> Row:
    """As many as fit: what may be typed, and what it is."""
    runs, left = [page.run(NEXT, quiet=True)] if hints else [], page.width - 1 - len(NEXT)
    for hint in hints:
        word, note = plain(hint.text), f" {plain(hint.note)}  " if hint.note else "  "
        for text, strong, quiet in ((word, not hint.example, False), (note, False, True)):
            left -= cell_len(text)
            if left < 0:
                return tuple(runs)
            runs.append(page.run(text, strong=strong, quiet=quiet))
    return tuple(runs)


# Beside the map while surveying: the room wall by wall, in the words of the line.

WORDS = (
    "n 0.8 at 1.2 > Study 3.1 x 2.8", "s front door; e open > Kitchen",
    "s window 1.2 x 1.1 at 0.6", "lamp 1400 lm; height 2.4", "floor oak 10YR 6/4",
    "keep sofa 5YR 4/3", "walls now 10YR 9/1",
)  # fmt: skip
FIRST_WORDS = "Hall 1.8 x 5.2", "Hall 1.8 x 5.2 x 2.4", "Hall 3.1 x 5.2 less 1.1 x 1.8 ne"


def _facts(room: Room, units: Units) -> Iterator[str]:
    box = box_m(room)
    yield " x ".join(format_length(each, units) for each in box) if box else "not measured"
    if room.height_m is not None:
        yield f"{format_length(room.height_m, units)} high"
    yield room.use
    yield f"level {room.level}"


def _walls(house: House, key: str, page: Page) -> Iterator[Row]:
    """Each wall with its length, then what is in it; then what is in no wall."""
    room, units = house.rooms[key], house.units
    inside: dict[str | None, list[str]] = {}
    for opening in graph_of(house).openings_of(key).values():
        wall, along, other = opening.wall, opening.along_m, opening.between[1]
        if key == other:
            wall, along, other = opening.to_wall, opening.to_along_m, opening.between[0]
        width = f" {_short(opening.width_m, units)}" if opening.width_m else ""
        where = f" at {_short(along, units)}" if along is not None else ""
        kinds: list[str] = [opening.kind]
        sizes = f"{width}{where}", width, ""
        kinds += [""] if opening.kind == "doorway" else []
        texts = [f"{kind}{size}".strip() for size in sizes for kind in kinds]
        into = f"> {house.rooms[other].name}"
        fitting = (text for text in texts if cell_len(f"{text} {into}") <= page.inner - 3)
        inside.setdefault(wall, []).append(f"{next(fitting, '')} {into}".strip())
    for window in room.windows.values():
        size = f"{_short(window.width_m, units)} x {_short(window.height_m, units)}"
        words = f"window {size} at {_short(window.along_m, units)}"
        inside.setdefault(window.wall, []).append(words)
    lengths = {wall.key: format_length(wall.length_m, units) for wall in walls(room)}
    yield from page.heading("walls")
    for side in lengths or COMPASS:
        words = f"{plan_side(room, side, house.north_deg)}  {lengths.get(side, '')}"
        yield page.line(words.rstrip(), indent=1, tidy=False)
        yield from (page.line(words, quiet=True, indent=3) for words in inside.pop(side, ()))
    lamps = [f"lamp {lamp.lumens:g} lm {lamp.light_name}" for lamp in room.lamps.values()]
    for words in chain(*inside.values(), lamps):
        yield page.line(words, quiet=True, indent=1)


def _short(metres: float, units: Units) -> str:
    """A length without its unit, where that is the house's own metre."""
    return format_length(metres, units).removesuffix(" m")


# The line and the panel

PAUSE_S = 0.06
"""How long after a key the house is asked what the line means in it."""


class LineField(Field):
    """The text of the line."""

    def on_paste(self, event: Paste) -> None:
        """Take every line of a text, where a field alone would take the first."""
        event.prevent_default()
        event.stop()
        first, *others = pasted_lines(event.text)
        self.insert_text_at_cursor(first)
        if others and isinstance(self.parent, SurveyLine):
            self.parent.enter_all(others)


class SurveyLine(Keyed, Drawn):
    """Shows what is typed, what it means, and what may come next."""

    CONTEXT = "survey"
    bar = ("open", "next", "up", "take-back", "back")

    def __init__(self, surveyor: Surveyor, survey: "SurveyTask") -> None:
        super().__init__(survey.look, id="survey-line")
        self.surveyor, self.survey = surveyor, survey
        self.field = LineField("", self.CONTEXT, survey.desk.program.keymap, self.typed)
        self._reading = Reading(surveyor.parse(""))
        self._troubles: tuple[str, ...] = ()
        self._where: tuple[str | None, str] = (None, "")
        """The room that the line before ended in, and what to say while nothing is typed there."""
        self._rows: Sequence[Row] = ()
        self._timer: Timer | None = None

    def open(self) -> None:
        """Put the field into the line; it can be typed into at once."""
        self.mount(self.field)
        self.screen.set_focus(self.field)
        self.field.write(self.surveyor.kept)
        self.follow()

    def typed(self, text: str) -> None:
        """The text changed: its words are read now, what they mean after a pause."""
        self.surveyor.kept = text
        self.survey.desk.safekeeping.follow()
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
        self.action_open()

    def action_open(self) -> None:
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
            fault = reading.fault._replace(text=text, unfinished=False)  # as loud as any other
            self._show(Reading(reading.line, None, fault))
        meaning, session, desk = reading.meaning, self.surveyor.session, self.survey.desk
        if meaning is None:
            return False
        self.surveyor.past.add(reading.text.strip())
        troubles = self.surveyor.new_troubles(meaning.house)
        if meaning.house is session.house:
            session.try_out(None)
        else:
            desk.apply(meaning.house, meaning.label)
        if meaning.home is not None:
            desk.select(meaning.home)
        desk.follow()
        mark = self.look.glyphs.marks["warn"]
        desk.say(f"{mark} {troubles[0]}" if troubles else meaning.label)
        self._where = meaning.home, meaning.where
        self.field.write("")
        return True

    def action_next(self, step: int) -> None:
        """Write out the last word; on an empty line go to the next room, or the one before."""
        text, room = self.field.value, self.surveyor.room
        if not text.strip():
            room = next_room(rooms_in_order(self.surveyor.session), room, step)
            if room is not None:
                self.survey.desk.select(room)
        elif (whole := self.surveyor.completed(text)) is not None:
            self.field.write(whole)

    def action_go(self, way: str) -> None:
        """Bring back the line before, or go on to the one after."""
        by = -1 if way == "up" else 1
        self.field.write(self.surveyor.past.step(by, self.field.value))

    def fit(self) -> None:
        width, room = self.size.width, self.surveyor.room
        name = self.surveyor.session.house.rooms[room].name if room else ""
        lead = cell_len(prompt_of(name, width, self.look))
        reading, text = self._reading, self.field.value
        meaning = reading.meaning.in_short if reading.meaning and not reading.fault else ""
        if not text and self._where[0] == room:
            meaning = self._where[1]
        view = LineView(
            name, text, round(self.field.scroll_x), meaning, self._troubles, reading.fault,
            self.surveyor.hints(text),
        )  # fmt: skip
        self._rows = line_rows(view, width, self.look)
        self.field.styles.offset = (lead, 0)
        self.field.styles.width = max(width - lead - 1, 1)

    def render_line(self, y: int) -> Strip:
        ink = Ink(self.look.greys.text, self.look.greys.bar)
        return strip_of(self._rows[y] if y < len(self._rows) else (), self.size.width, ink)

    def get_content_height(self, *_: object) -> int:
        return LINE_ROWS


class SurveyCard(RowsPanel, can_focus=False):
    """The room being surveyed, wall by wall, and what does not fit."""

    owner: "SurveyTask"

    def enter(self) -> None:
        """Leave the focus to the line."""
        self.screen.query_one(LineField).focus()

    def draw(self, width: int) -> Sequence[Row]:
        page, house, room = Page(self.look, width), self.session.house, self.session.selection.room
        if room is None or room not in house.rooms:
            return [
                *page.title("The first room"),
                *page.text("Type its name and its size: across the map, then up it.", quiet=True),
                *page.heading("such as"),
                *page.texts((in_units(words, house.units) for words in FIRST_WORDS), indent=1),
            ]
        mark, troubles = self.look.glyphs.marks["warn"], self.owner.surveyor.troubles()
        return [
            *page.title(house.rooms[room].name),
            *page.text(", ".join(_facts(house.rooms[room], house.units)), quiet=True),
            *(page.heading("does not fit") if troubles else ()),
            *page.texts(f"{mark} {trouble}" for trouble in troubles),
            *_walls(house, room, page),
            *page.heading("such as"),
            *page.texts((in_units(words, house.units) for words in WORDS), quiet=True, indent=1),
            page.line("a room's name: go there; f1: more", quiet=True, indent=1),
        ]


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

    def typed(self) -> object:
        return self._surveyor.kept if self._surveyor is not None else ""

    def retype(self, kept: str) -> None:
        """Take what an earlier run kept of the line."""
        self.surveyor.kept = kept

    def open(self) -> None:
        if self._line is not None:
            return
        self.desk.open_panel(SurveyCard(self))
        self._line = SurveyLine(self.surveyor, self)
        self.desk.add_class(SURVEYING)
        self.desk.mount(self._line, before="#foot")
        self._line.open()

    def closing(self) -> None:
        """A line that is left is not the next one: the up key brings it back."""
        line, self._line = self._line, None
        if line is not None:
            if self.surveyor.kept.strip():
                self.surveyor.past.add(self.surveyor.kept.strip())
            self.surveyor.kept = ""
            line.remove()
            self.desk.remove_class(SURVEYING)

    def following(self) -> None:
        """The line is read anew where the room or the house changed."""
        if self._line is not None:
            self._line.redraw()

    def sketch_line(self, reading: Reading) -> None:
        """Show the house with what is typed, without having it reported on."""
        meaning, house = reading.meaning, self.session.house
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
        blocks = {room: Block(shown[room].name, {"walls": SKETCHED}, {}) for room in sketched}
        level = shown[sketched[-1]].level
        return replace(scene, level=level, blocks={**scene.blocks, **blocks})

    def take_back(self) -> None:
        self.desk.find_task(FilesTask).undo()
        if self._line is not None:
            self._line.follow()
