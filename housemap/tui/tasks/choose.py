"""The panel in which a paint is chosen for a surface. It shows and reports; the screen decides."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import BindingType
from textual.message import Message

from housemap.choose.paint_query import PaintQuery, parse_paint_query
from housemap.errors import InputError
from housemap.model.house import House
from housemap.model.samples import tried_in
from housemap.tui.commands import CHOOSING
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import SearchPanel
from housemap.tui.render.cells import Row
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line
from housemap.tui.render.shades import Coat, shades_of, shades_under
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
)
from housemap.workbench.choosing import Ranks, Target
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.reach import Reach
    from housemap.colorimetry.difference import Difference


def has_light(report: "Report | None") -> bool:
    return report is not None and report.deep is not None


class ChoosingPanel(SearchPanel):
    """Every paint of the house as a list; moving through it reports each one."""

    CONTEXT: ClassVar[str] = CHOOSING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(CHOOSING)]

    @dataclass
    class Tried(Message):
        """Another paint is chosen in the list; None for none."""

        paint: str | None

    @dataclass
    class Taken(Message):
        """The paint is to be put on."""

        paint: str | None

    @dataclass
    class Left(Message):
        """Nothing is to be put on."""

    @dataclass
    class Aimed(Message):
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
        self._know_paints()
        if session.house is not self._house:
            self._start(session.house)
        elif self._light_came():
            self.post_message(self.Aimed(self.target))
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

    def _know_paints(self) -> None:
        """Make the options again where paints, or what is known of them, changed."""
        report = self.session.base or self.session.report
        source = self.session.house.paints, report.study.swatches if report else None
        if self._source is None or any(
            a is not b for a, b in zip(source, self._source, strict=True)
        ):
            self._source = source
            self._options = options_of(self.session.house, report)
            self._by_paint = {option.paint: option for option in self._options}
            self._list(self.chosen)

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
        told = change_text(self._now, after, self.look)
        if option.paint == self.target.paint_in(self.session.house):
            told = "as it is"
        coat, line = self._coat(option.paint), Line(self.look, width, chosen)
        tried = tried_in(self.session.house, option.paint or "", self.target.room)
        house = reach_text(self.reach, option.paint)
        return option_rows(option, coat, candidate, told, line, tried=tried, house=house)

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
            self.reach.rooms if self.reach else 0,
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

    def picked(self) -> None:
        self.action_take()

    def action_search_paints(self) -> None:
        self.open_search()

    def action_take(self) -> None:
        if self.option is not None:
            self.post_message(self.Taken(self.option.paint))

    def action_leave_paint(self) -> None:
        """Leave the search first, then the panel."""
        if not self.leave_search():
            self.post_message(self.Left())

    def search_done(self) -> None:
        self.action_take()

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
