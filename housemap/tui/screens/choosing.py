"""Choosing paints and sheens for the surfaces of the selected room."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.message import Message

from housemap.model.edits import paint_on, set_sheen
from housemap.model.geometry import COMPASS, walls
from housemap.model.house import SHEENS, House
from housemap.plan.wall_names import wall_name
from housemap.tui.background import Dropped, WorkFailed, work_beside
from housemap.tui.panel import Panel
from housemap.tui.questions import Choice, Prompt, Question
from housemap.tui.screens.house_base import HouseBase

if TYPE_CHECKING:
    from housemap.choose.reach import Reach
    from housemap.tui.tasks.choose import ChoosingPanel
    from housemap.workbench.choosing import Ranks, Target

ASK_FOR_A_SAMPLE = "put a sample on the wall before you buy"

SHEEN_KEYS = dict(zip("fmesoh", SHEENS, strict=True))
"""g opens the question: pressed twice it must choose nothing."""
NO_SHEEN = Choice("n", "none", "no sheen")
MOST_CHOICES = 10
"""Walls that have a key of their own."""


@dataclass
class Ranked(Message):
    """What the paints do is known."""

    target: "Target"
    house: House
    ranks: "Ranks"


@dataclass
class Reached(Message):
    """What the whole house can be with each paint is known."""

    target: "Target"
    house: House
    reach: "Reach"


class Choosing(HouseBase):
    """Actions that open the choice, show what is tried, and decide."""

    _wanted: "ChoosingPanel.Tried | None" = None
    """What is to be shown next."""

    def on_house_map_paint_asked(self) -> None:
        room = self.session.selection.room
        if room is not None:
            from housemap.workbench.choosing import Target  # noqa: PLC0415 - when first needed

            self.choose_for(Target(room, self.session.selection.surface))

    def choose_for(self, target: "Target") -> None:
        """Open the choice of a paint for a surface."""
        from housemap.tui.tasks.choose import ChoosingPanel  # noqa: PLC0415 - when first needed

        self.open_list(ChoosingPanel(self.session, self.look, target))

    def open_list(self, panel: Panel) -> None:
        """Open a panel that is filled at once: the next key may already be meant for it."""
        self.open_panel(panel)
        panel.follow(self.session)

    # One wall

    def action_choose_accent(self) -> None:
        """Ask for the wall."""
        from housemap.workbench.choosing import Target  # noqa: PLC0415 - when first needed

        room_id = self.session.selection.room
        if room_id is None:
            return
        house = self.session.house
        room = house.rooms[room_id]
        keys = tuple(wall.key for wall in walls(room)) or COMPASS

        def named(key: str | None) -> None:
            if key in keys:
                self.choose_for(Target(room_id, f"accent {key}"))
            elif key:
                self.say(f"{room.name} has no wall {key}; its walls are {', '.join(keys)}")

        text = f"Which wall of {room.name}?"
        if len(keys) > MOST_CHOICES:
            self.app.push_screen(Prompt(f"{text} (0 to {keys[-1]})", "", self.look), named)
        else:
            choices = [Choice(key, _wall_words(house, room_id, key), key) for key in keys]
            self.app.push_screen(Question(text, choices, "leave it", self.look), named)

    # While choosing

    def on_choosing_panel_aimed(self, message: "ChoosingPanel.Aimed") -> None:
        """Have the paints ranked, and nothing else any more."""
        from housemap.workbench.choosing import ranks_of, reach_on  # noqa: PLC0415 - it is there by now

        house, base, target = self.session.house, self.session.base, message.target

        def steps() -> Iterator[Message]:
            ranks = ranks_of(house, base, target)
            yield Ranked(target, house, ranks)
            if reach := reach_on(house, ranks.base, target, Dropped()):
                yield Reached(target, house, reach)

        work_beside(self, "ranks", steps)

    def on_ranked(self, message: Ranked) -> None:
        message.stop()
        panel = self._choosing_panel()
        if panel is not None and message.house is self.session.house:
            panel.show_ranks(message.target, message.ranks)

    def on_reached(self, message: Reached) -> None:
        message.stop()
        panel = self._choosing_panel()
        if panel is not None and message.house is self.session.house:
            panel.show_reach(message.target, message.reach)

    def _choosing_panel(self) -> "ChoosingPanel | None":
        from housemap.tui.tasks.choose import ChoosingPanel  # noqa: PLC0415 - it is there by now

        return self.panel if isinstance(self.panel, ChoosingPanel) else None

    def on_choosing_panel_tried(self, message: "ChoosingPanel.Tried") -> None:
        """Show the paint once the list has been drawn: of keys held down, the last one counts."""
        if self._wanted is None:
            self.call_after_refresh(self._try_wanted)
        self._wanted = message

    def _try_wanted(self) -> None:
        """Show the house with the paint; its findings follow."""
        panel, message, self._wanted = self._choosing_panel(), self._wanted, None
        if panel is None or message is None:
            return
        house = self._painted(panel, message.paint)
        self.try_out(None if house == self.session.house else house)

    def _painted(self, panel: "ChoosingPanel", paint: str | None) -> House:
        """The house with the paint: the very one on show, which may have been reported on."""
        house, shown = paint_on(self.session.house, *panel.target, paint), self.session.shown
        return shown if shown == house else house

    def on_choosing_panel_taken(self, message: "ChoosingPanel.Taken") -> None:
        """Decide on a paint."""
        panel = self._choosing_panel()
        if panel is None:
            return
        target, paint = panel.target, self.session.house.paints.get(message.paint or "")
        house = self._painted(panel, message.paint)
        label = f"{target.name_in(house)}: {paint.name if paint else 'no paint'}"
        self.close_panel()
        if self.apply(house, label) and paint:
            self.say(f"{label}; {ASK_FOR_A_SAMPLE}")

    def on_choosing_panel_left(self) -> None:
        self.close_panel()

    def on_work_failed(self, message: WorkFailed) -> None:
        message.stop()
        self.say(message.fault)

    # Sheen

    def action_sheen(self) -> None:
        """Ask for the sheen of the chosen surface."""
        room_id, surface = self.session.selection.room, self.session.selection.surface
        if room_id is None:
            return
        room = self.session.house.rooms[room_id]
        what = f"{room.name} {surface}"
        now = room.sheens.of(surface) or "not chosen"
        choices = [*(Choice(key, sheen, sheen) for key, sheen in SHEEN_KEYS.items()), NO_SHEEN]

        def answered(answer: str | None) -> None:
            if answer:
                sheen = next((s for s in SHEENS if s == answer), None)
                told = f"{what}: {answer}" + (" sheen" if sheen else "")
                self.apply(lambda house: set_sheen(house, room_id, surface, sheen), told)

        question = Question(f"Sheen of {what}, now {now}?", choices, "leave", self.look)
        self.app.push_screen(question, answered)


def _wall_words(house: House, room: str, key: str) -> str:
    """Which wall a key stands for, and whether it is an accent already."""
    words = wall_name(house, room, key)
    return f"{words} (accent)" if key in house.rooms[room].accents else words
