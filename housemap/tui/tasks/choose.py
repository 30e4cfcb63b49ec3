"""The panel in which a paint is chosen for a surface. It shows and reports; the screen decides."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import BindingType
from textual.message import Message

from housemap.choose.paint_query import PaintQuery, parse_paint_query
from housemap.errors import InputError
from housemap.model.edits import paint_on, replace_paint, set_sheen
from housemap.model.geometry import COMPASS, walls
from housemap.model.house import SHEENS, House, Sheen
from housemap.model.samples import tried_in
from housemap.plan.floor_plan import wall_name
from housemap.tui.background import Dropped, work_beside
from housemap.tui.commands import CHOOSING
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import SearchPanel
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row, plain
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line
from housemap.tui.render.shades import Coat, shades_of, shades_under
from housemap.tui.task import Task, TaskMessage
from housemap.tui.tasks.choose_drawing import (
    NO_PAINT,
    Choosing,
    Option,
    SearchedOptions,
    best_first,
    change_text,
    choosing_head,
    empty_rows,
    option_rows,
    options_of,
    raised_text,
    reach_text,
    told_of,
    verdict_of,
)
from housemap.workbench.choosing import Ranks, Target, ranks_of, reach_on
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.house_problem import Reach
    from housemap.colorimetry.difference import Difference
    from housemap.workbench.choosing import Ranks, Target


def has_light(report: "Report | None") -> bool:
    return report is not None and report.deep is not None


class ChoosingPanel(SearchPanel):
    """Every paint of the house as a list; moving through it reports each one."""

    CONTEXT: ClassVar[str] = CHOOSING
    BAR: ClassVar[tuple[str, ...]] = ("open", "search", "light", "new", "decks", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CHOOSING)]

    @dataclass
    class Tried(TaskMessage):
        """Another paint is chosen in the list; None for none."""

        paint: str | None

    @dataclass
    class Taken(TaskMessage):
        """The paint is to be put on."""

        paint: str | None

    @dataclass
    class Left(TaskMessage):
        """Nothing is to be put on."""

    @dataclass
    class Aimed(TaskMessage):
        """What every paint does on the surface is wanted, and nothing else any more."""

        target: Target

    def __init__(self, session: Session, look: Look, target: Target) -> None:
        super().__init__(session, look)
        self.target = target
        self._selected = self._selection(session)
        self._house: House | None = None
        self._source: tuple[object, object] = (None, None)
        self._with_light = False
        self._shades = shades_of(session)
        self._coats: dict[str | None, Coat] = {}
        self._coats_from: object = None
        self._options: tuple[Option, ...] = ()
        self._by_paint: dict[str | None, Option] = {}
        self._shown: Sequence[Option] = ()
        self.ranks = Ranks()
        self.reach: Reach | None = None
        """What the whole house can be with each paint, once that is known."""
        self._query, self._fault = PaintQuery(), ""

    # Following the house

    @staticmethod
    def _selection(session: Session) -> tuple[str | None, str]:
        return session.selection.room, session.selection.surface

    def follow(self, session: Session) -> None:
        """Show another surface where another one was selected, and the house as it is decided."""
        selected = self._selection(session)
        if selected != self._selected and selected[0] is not None:
            self.target, self._house = Target(selected[0], selected[1]), None
        self._selected = selected
        if self.target.room not in session.house.rooms:
            self.post_message(self.Left())
            return
        self._know_shades()
        added = self._know_paints()
        if session.house is not self._house:
            self._start(session.house)
        elif self._light_came():
            self.post_message(self.Aimed(self.target))
        if added is not None:
            self._list(added)
            self.moved()
        self.redraw_head()

    def _know_shades(self) -> None:
        """Show the swatches anew where the light, the house or what is known of it changed."""
        light, house = self.session.selection.light, self.session.house
        shades = shades_under(light, house, self.session.base or self.session.report)
        looked_at = shades.paints_on_walls(self.target.room) is not None
        source = shades.light, shades.report, self.target, looked_at
        self._shades = shades
        if source != self._coats_from:
            self._coats_from = source
            self._coats.clear()
            self.redraw()

    def _know_paints(self) -> str | None:
        """Make the options again where paints, or what is known of them, changed.

        Returns the paint that was added, if one was.
        """
        report = self.session.base or self.session.report
        source = self.session.house.paints, report.study.swatches if report else None
        if all(a is b for a, b in zip(source, self._source, strict=True)):
            return None
        self._source = source
        self._options = options_of(self.session.house, report)
        known = self._by_paint.keys()
        self._by_paint = {option.paint: option for option in self._options}
        self._list(self.chosen)
        added = [*(self._by_paint.keys() - known)] if known else []
        return added[0] if len(added) == 1 else None

    def _start(self, house: House) -> None:
        """Begin anew: the paint on the surface is chosen, and all are to be ranked."""
        self._house, self.ranks, self.reach = house, Ranks(), None
        self._with_light = False
        self._light_came()
        self._list(self.target.paint_in(house))
        self.post_message(self.Aimed(self.target))

    def _light_came(self) -> bool:
        """Whether light has been computed since ranks were last asked for."""
        base, before = self.session.base, self._with_light
        self._with_light = before or (self.session.base_is_current and has_light(base))
        return self._with_light and not before

    def show_ranks(self, target: Target, ranks: Ranks) -> None:
        """Show what paints do, the best first."""
        if target == self.target:
            self.ranks = ranks
            self._list(self.chosen)

    def show_reach(self, target: Target, reach: "Reach") -> None:
        if target == self.target:
            self.reach = reach
            self.redraw()

    # The list

    def _list(self, chosen: object) -> None:
        self._shown = self._found()
        if self.ranks.candidates and self._query.near is None:
            self._shown = best_first(self._shown, self.ranks.order)
        self.show_entries([option.paint for option in self._shown], cast("str | None", chosen))
        self.redraw()

    def _found(self) -> Sequence[Option]:
        if self._query == PaintQuery():
            return self._options
        options = SearchedOptions(self._options)
        if not self._fault:
            self._fault = self._query.unknown_word(options)
        return [self._options[row] for row in self._query.rows(options)]

    @property
    def option(self) -> Option | None:
        number = self.chosen_number
        return None if number is None else self._shown[number]

    def lists(self, name: str) -> bool:
        """Whether a paint of that name is listed, in view or not."""
        return any(option.name == name for option in self._shown)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        option = self._shown[number]
        candidate = self.ranks.candidates.get(option.paint)
        after = candidate.findings_after if candidate else None
        change = change_text(self._now, after)
        if option.paint == self.target.paint_in(self.session.house):
            change = "as it is now"
        coat, line = self._coat(option.paint), Line(self.look, width, chosen)
        tried = tried_in(self.session.house, option.paint or "", self.target.room)
        return option_rows(option, coat, verdict_of(candidate), change, line, tried=tried)

    def _coat(self, paint: str | None) -> Coat:
        """How a paint looks on the surface; worked out when it comes into view."""
        coat = self._coats.get(paint)
        if coat is None:
            coat = self._coats[paint] = self._shades.on(*self.target, paint)
        return coat

    def nothing(self, width: int) -> Sequence[Row]:
        return empty_rows(self.search, len(self._options) - 1, self.look, width)

    def head(self, width: int, height: int) -> Sequence[Row]:
        house = self.session.house
        if self.target.room not in house.rooms:
            return ()
        before = self._by_paint.get(self.target.paint_in(house), NO_PAINT)
        after = self.option or before
        view = Choosing(
            self.target.name_in(house), before, after,
            (self._coat(before.paint), self._coat(after.paint)), self._difference(before, after),
            self.session.selection.light,
            self.ranks.candidates.get(after.paint), self._raised(after.paint),
            self._told, self.search, self._fault, self._now,
            self.reach.rooms if self.reach else 0, reach_text(self.reach, after.paint),
        )  # fmt: skip
        return choosing_head(view, self.look, width, height)

    def _raised(self, paint: str | None) -> str:
        """What would be found in the room with a paint, by title."""
        candidate = self.ranks.candidates.get(paint)
        return raised_text(candidate.parts) if candidate else ""

    @property
    def _now(self) -> int | None:
        """How many findings the decided house has."""
        base = self.ranks.base or (self.session.base if self.session.base_is_current else None)
        return len(base.findings) if base else None

    @property
    def _told(self) -> str:
        shown = sum(option.paint is not None for option in self._shown)
        return told_of(shown, len(self._options) - 1, weighed=bool(self.ranks.candidates))

    def _difference(self, before: Option, after: Option) -> "Difference | None":
        report = self.session.base or self.session.report
        if report is None or before.paint is None or after.paint is None:
            return None
        swatches = report.study.swatches
        pair = swatches.get(("Paint", before.paint)), swatches.get(("Paint", after.paint))
        return report.study.difference(pair[0], pair[1]) if pair[0] and pair[1] else None

    # What the user does

    def moved(self) -> None:
        if self.option is not None:
            self.post_message(self.Tried(self.option.paint))

    def action_search(self) -> None:
        self.open_search()

    def picked(self) -> None:
        if self.option is not None:
            self.post_message(self.Taken(self.option.paint))

    def action_back(self) -> None:
        """Leave the search first, then the panel."""
        if not self.leave_search():
            self.post_message(self.Left())

    def search_done(self) -> None:
        self.picked()

    def searched(self, text: str) -> None:
        """List what is searched for; where the text cannot be read, what was before."""
        before = self.chosen
        try:
            self._query, self._fault = parse_paint_query(text), ""
        except InputError as error:
            self._fault = str(error)
        self._list(before)
        if self.chosen != before:
            self.moved()


# Choosing paints and sheens for the surfaces of the selected room.

ASK_FOR_A_SAMPLE = "put a sample on the wall before you buy"

SHEEN_KEYS = dict(zip("fmesoh", SHEENS, strict=True))
"""g opens the question: pressed twice it must choose nothing."""
MOST_CHOICES = 10
"""Walls that have a key of their own."""


@dataclass
class Ranked(TaskMessage):
    """What the paints do is known."""

    target: "Target"
    house: House
    ranks: "Ranks"


@dataclass
class Reached(TaskMessage):
    """What the whole house can be with each paint is known."""

    target: "Target"
    house: House
    reach: "Reach"


class ChooseTask(Task):
    """Opens the choice, shows what is tried, and decides."""

    NAME: ClassVar[str] = "choose"

    _wanted: "ChoosingPanel.Tried | None" = None
    """What is to be shown next."""
    _replaced: "tuple[Target, str] | None" = None
    """The paint that is to be replaced everywhere, and the surface for which that was asked."""

    def open(self) -> None:
        """Choose for the chosen surface of the selected room."""
        room = self.session.selection.room
        if room is not None:
            self.choose_for(Target(room, self.session.selection.surface))

    def choose_for(self, target: "Target") -> None:
        """Open the choice of a paint for a surface."""
        self._replaced = None
        self.desk.open_list(ChoosingPanel(self.session, self.look, target))

    # One paint in the place of another

    def replace_everywhere(self) -> None:
        """Choose what takes the place of the selected surface's paint wherever that is."""
        room, surface = self.session.selection.room, self.session.selection.surface
        house = self.session.house
        paint = house.rooms[room].paints.of(surface) if room else None
        if room is None or paint is None:
            self.say("No paint is here to replace. Select a painted surface (1 to 4).")
            return
        target = Target(room, surface)
        self.choose_for(target)
        self._replaced = target, paint
        self.say(f"Choose what replaces {plain(house.paints[paint].name)} everywhere.")

    def _replacing(self, target: "Target") -> str | None:
        """The paint that a choice there replaces everywhere; None: only there."""
        asked = self._replaced
        return asked[1] if asked is not None and asked[0] == target else None

    # One wall

    def open_accent(self) -> None:
        """Ask for the wall."""
        room_id = self.session.selection.room
        if room_id is None:
            return
        house = self.session.house
        room = house.rooms[room_id]
        keys = tuple(wall.key for wall in walls(room)) or COMPASS

        def named(key: str) -> None:
            if key in keys:
                self.choose_for(Target(room_id, f"accent {key}"))
            else:
                self.say(f"{room.name} has no wall {key}; its walls are {', '.join(keys)}")

        text = f"Which wall of {room.name}?"
        if len(keys) > MOST_CHOICES:
            self.desk.ask_line(f"{text} (0 to {keys[-1]})", "", named)
        else:
            choices = [
                Choice(key, _wall_words(house, room_id, key), partial(named, key)) for key in keys
            ]
            self.desk.ask(text, choices, "leave it")

    # While choosing

    def on_choosing_panel_aimed(self, message: "ChoosingPanel.Aimed") -> None:
        """Have the paints ranked, and nothing else any more."""
        house, base, target = self.session.house, self.session.base, message.target

        def steps() -> Iterator[Message]:
            ranks = ranks_of(house, base, target)
            yield Ranked(target, house, ranks)
            if reach := reach_on(house, ranks.base, target, Dropped()):
                yield Reached(target, house, reach)

        work_beside(self.desk.screen, "ranks", steps)

    def on_ranked(self, message: Ranked) -> None:
        panel = self._choosing_panel()
        if panel is not None and message.house is self.session.house:
            panel.show_ranks(message.target, message.ranks)

    def on_reached(self, message: Reached) -> None:
        panel = self._choosing_panel()
        if panel is not None and message.house is self.session.house:
            panel.show_reach(message.target, message.reach)

    def _choosing_panel(self) -> "ChoosingPanel | None":

        return self.desk.panel if isinstance(self.desk.panel, ChoosingPanel) else None

    def on_choosing_panel_tried(self, message: "ChoosingPanel.Tried") -> None:
        """Show the paint once the list has been drawn: of keys held down, the last one counts."""
        if self._wanted is None:
            self.desk.screen.call_after_refresh(self._try_wanted)
        self._wanted = message

    def _try_wanted(self) -> None:
        """Show the house with the paint; its findings follow."""
        panel, message, self._wanted = self._choosing_panel(), self._wanted, None
        if panel is None or message is None:
            return
        house = self._painted(panel, message.paint)
        self.desk.try_out(None if house == self.session.house else house)

    def _painted(self, panel: "ChoosingPanel", paint: str | None) -> House:
        """The house with the paint: the very one on show, which may have been reported on."""
        old, decided = self._replacing(panel.target), self.session.house
        if old is not None and paint is not None:
            house = replace_paint(decided, old, paint)
        else:
            house = paint_on(decided, *panel.target, paint)
        shown = self.session.shown
        return shown if shown == house else house

    def on_choosing_panel_taken(self, message: "ChoosingPanel.Taken") -> None:
        """Decide on a paint."""
        panel = self._choosing_panel()
        if panel is None:
            return
        target, paint = panel.target, self.session.house.paints.get(message.paint or "")
        house = self._painted(panel, message.paint)
        label = f"{target.name_in(house)}: {paint.name if paint else 'no paint'}"
        old = self._replacing(target)
        if old is not None and paint is not None:
            label = _replaced_words(self.session.house, house, old, paint.name)
        self.desk.close_panel()
        if self.desk.apply(house, label) and paint:
            self.say(f"{label}; {ASK_FOR_A_SAMPLE}")

    def on_choosing_panel_left(self, _: "ChoosingPanel.Left") -> None:
        self.desk.close_panel()

    # Sheen

    def ask_sheen(self) -> None:
        """Ask for the sheen of the chosen surface."""
        room_id, surface = self.session.selection.room, self.session.selection.surface
        if room_id is None:
            return
        room = self.session.house.rooms[room_id]
        what = f"{room.name} {surface}"
        now = room.sheens.of(surface) or "not chosen"

        def chosen(sheen: Sheen | None) -> None:
            told = f"{what}: {sheen} sheen" if sheen else f"{what}: no sheen"
            self.desk.apply(lambda house: set_sheen(house, room_id, surface, sheen), told)

        choices = [Choice(key, each, partial(chosen, each)) for key, each in SHEEN_KEYS.items()]
        choices.append(Choice("n", "none", partial(chosen, None)))
        self.desk.ask(f"Sheen of {what}, now {now}?", choices, "leave")


def _replaced_words(before: House, after: House, old: str, new: str) -> str:
    """That a paint took the place of another, and in how many rooms."""
    count = sum(after.rooms[key] != room for key, room in before.rooms.items())
    rooms = "1 room" if count == 1 else f"{count} rooms"
    return f"{before.paints[old].name} replaced by {new} in {rooms}"


def _wall_words(house: House, room: str, key: str) -> str:
    """Which wall a key stands for, and whether it is an accent already."""
    words = wall_name(house, room, key)
    return f"{words} (accent)" if key in house.rooms[room].accents else words
