"""Surveying: rooms, openings, windows and lamps added by a line that the map follows."""

from dataclasses import replace
from typing import TYPE_CHECKING

from housemap.tui.map.drawing import Scene
from housemap.tui.navigation import next_room
from housemap.tui.render.shades import SKETCHED, Block
from housemap.tui.screens.filing import Filing
from housemap.tui.screens.moving import walk
from housemap.workbench.session import Reporter, Session

if TYPE_CHECKING:
    from housemap.tui.tasks.survey import SurveyLine
    from housemap.workbench.survey.surveyor import Reading, Surveyor

SURVEYING = "-surveying"
"""The class of the screen while the line is open."""


class Surveying(Filing):
    """Actions of the survey line, which calls `take_line`, `sketch_line` and so on directly."""

    def __init__(self, session: Session, reporter: Reporter) -> None:
        super().__init__(session, reporter)
        self._surveyor: Surveyor | None = None
        self._line: SurveyLine | None = None

    @property
    def surveyor(self) -> "Surveyor":
        """Whoever reads the lines."""
        from housemap.workbench.survey.surveyor import Surveyor  # noqa: PLC0415 - when first needed

        self._surveyor = self._surveyor or Surveyor(self.session)
        return self._surveyor

    @property
    def line_waits(self) -> bool:
        """Whether a line was typed and not entered."""
        surveyor = self._surveyor
        return surveyor is not None and bool(surveyor.kept.strip() or surveyor.waiting)

    def action_survey(self) -> None:
        """Open the line, with what was typed in it before."""
        if self._line is not None:
            return
        from housemap.tui.tasks.survey import SurveyCard, SurveyLine  # noqa: PLC0415 - the same

        self.open_panel(SurveyCard(self.surveyor, self.look))
        self._line = SurveyLine(self.surveyor, self, self.look, self.program.keymap)
        self.add_class(SURVEYING)
        self.mount(self._line, before="#foot")
        self._line.open()

    def begin(self) -> None:
        """In a house without rooms, wait for the first one to be typed."""
        if not self.session.house.rooms:
            self.action_survey()

    def close_panel(self) -> None:
        line, self._line = self._line, None
        if line is not None:
            line.remove()
            self.remove_class(SURVEYING)
        super().close_panel()

    def follow(self) -> None:
        """Show the session; the line is read anew where the room or the house changed."""
        super().follow()
        if self._line is not None:
            self._line.redraw()

    # What the line asks for

    def take_line(self, reading: "Reading") -> None:
        meaning = reading.meaning
        assert meaning is not None
        told = self.surveyor.new_troubles(meaning.house)
        if meaning.house is self.session.house:
            self.session.try_out(None)
        else:
            self.apply(meaning.house, meaning.label)
        if meaning.home is not None:
            self.select(meaning.home)
        self.follow()
        mark = self.look.glyphs.marks["warn"]
        self.say(f"{mark} {told[0]}" if told else meaning.label)

    def sketch_line(self, reading: "Reading") -> None:
        """Show the house with what is typed, without having it reported on."""
        meaning = reading.meaning
        house = self.session.house
        sketched = meaning.house if meaning and not reading.wrong else house
        if sketched is self.session.shown:
            return
        self.session.try_out(None if sketched is house else sketched)
        self.map.show(self.scene(), self.surveyor.room, ())
        self.panel.follow(self.session)
        self.draw_head()

    def scene(self) -> Scene:
        """With the rooms that are only typed so far drawn hollow, on their own level."""
        scene = super().scene()
        known, shown = self.session.house.rooms, self.session.shown.rooms
        sketched = [room for room in shown if room not in known]
        if self._line is None or not sketched:
            return scene
        blocks = {room: Block(room, shown[room].name, {"walls": SKETCHED}, {}) for room in sketched}
        level = shown[sketched[-1]].level
        return replace(scene, level=level, blocks={**scene.blocks, **blocks})

    def leave_line(self) -> None:
        self.close_panel()

    def take_back(self) -> None:
        self.action_undo()
        if self._line is not None:
            self._line.follow()

    def go_on(self, step: int) -> None:
        room = next_room(walk(self.session), self.surveyor.room, step)
        if room is not None:
            self.select(room)
