"""The panel in which a paint is chosen for a surface. It shows and reports; the screen decides."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from textual.binding import BindingType
from textual.message import Message
from textual.widgets import Input

from housemap.choose.sought import Sought, sought
from housemap.errors import InputError
from housemap.model.house import House
from housemap.session import Session
from housemap.tui.commands import CHOOSING
from housemap.tui.keys import bindings_of
from housemap.tui.ranking import Ranks, Target
from housemap.tui.render.choosing import (
    NO_PAINT,
    Choosing,
    Option,
    best_first,
    change_text,
    choosing_head,
    empty_rows,
    option_rows,
    options_of,
    told_of,
)
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.runs import Row
from housemap.tui.widgets.list_panel import ListPanel

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.colorimetry.difference import Difference


class SearchField(Input):
    """The field over the search line; the panel's own keys work in it too."""

    def __init__(self, text: str) -> None:
        super().__init__(text, compact=True, select_on_focus=False)
        self.cursor_blink = False


def has_light(report: "Report | None") -> bool:
    return report is not None and report.deep is not None


class ChoosingPanel(ListPanel):
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
        """The panel is for another surface, or another house: ranks are wanted."""

        target: Target

    def __init__(self, session: Session, look: Look, target: Target) -> None:
        super().__init__(session, look)
        self.target = target
        self._selected = self._selection(session)
        self._house: House | None = None
        self._source: tuple[object, object] = (None, None)
        self._with_light = False
        self._options: tuple[Option, ...] = ()
        self._by_paint: dict[str | None, Option] = {}
        self._shown: Sequence[Option] = ()
        self._ranks = Ranks()
        self._text, self._sought, self._fault = "", Sought(), ""

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
        self._know_paints()
        if session.house is not self._house:
            self._start(session.house)
        elif self._light_came():
            self.post_message(self.Aimed(self.target))
        self.redraw_head()

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
        self._house, self._ranks = house, Ranks()
        self._with_light = False
        self._light_came()
        self._list(self.target.paint_in(house))
        self.post_message(self.Aimed(self.target))

    def _light_came(self) -> bool:
        """Whether light has been computed since ranks were last asked for."""
        base, before = self.session.base, self._with_light
        self._with_light = before or (self.session.base_is_current and has_light(base))
        return self._with_light and not before

    def show_ranks(self, target: Target, house: House, ranks: Ranks) -> None:
        """Show what the paints do; once all is known, best first."""
        if target != self.target or house is not self._house:
            return
        if ranks.done or not self._ranks.done:
            self._ranks = ranks
            self._list(self.chosen)

    # The list

    def _list(self, chosen: object) -> None:
        ranks = self._ranks
        ordered = best_first(self._options, ranks.order) if ranks.done else self._options
        self._shown = self._sought.among(ordered)
        self.show_entries([option.paint for option in self._shown], cast("str | None", chosen))
        self.redraw()

    @property
    def option(self) -> Option | None:
        return self._shown[self.chosen_number] if self._shown else None

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        option = self._shown[number]
        candidate = self._ranks.candidates.get(option.paint)
        after = candidate.findings_after if candidate else None
        told = change_text(self._now, after, self.look)
        if option.paint == self.target.paint_in(self.session.house):
            told = "as it is"
        return option_rows(option, candidate, told, Line(self.look, width, chosen))

    def nothing(self, width: int) -> Sequence[Row]:
        return empty_rows(self._text, len(self._options) - 1, self.look, width)

    def head(self, width: int, height: int) -> Sequence[Row]:
        house = self.session.house
        if self.target.room not in house.rooms:
            return ()
        before = self._by_paint.get(self.target.paint_in(house), NO_PAINT)
        after = self.option or before
        view = Choosing(
            self.target.name_in(house), before, after, self._difference(before, after),
            self._ranks.candidates.get(after.paint), self.target.room, self._told, self._text,
            self._fault, self._now,
        )  # fmt: skip
        return choosing_head(view, self.look, width, height)

    @property
    def _now(self) -> int | None:
        """How many findings the decided house has."""
        base = self._ranks.base or (self.session.base if self.session.base_is_current else None)
        return len(base.findings) if base else None

    @property
    def _told(self) -> str:
        paints, ranks = len(self._options) - 1, self._ranks
        shown = sum(option.paint is not None for option in self._shown)
        return told_of(shown, paints, len(ranks.candidates), done=ranks.done)

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

    def action_take(self) -> None:
        if self.option is not None:
            self.post_message(self.Taken(self.option.paint))

    def action_leave_paint(self) -> None:
        """Leave the search first, then the panel."""
        if self._field is None:
            self.post_message(self.Left())
        else:
            self._search_for("")
            self._close_field()

    # Searching

    @property
    def _field(self) -> SearchField | None:
        return next(iter(self.query(SearchField)), None)

    def action_search_paints(self) -> None:
        field = SearchField(self._text)
        self.mount(field)
        self.screen.set_focus(field)

    def _close_field(self) -> None:
        field = self._field
        if field is not None:
            self.screen.set_focus(self)
            field.remove()

    def on_input_changed(self, message: Input.Changed) -> None:
        message.stop()
        if message.value != self._text:
            self._search_for(message.value)

    def on_input_submitted(self, message: Input.Submitted) -> None:
        """Take what is chosen; where nothing fits the search, stay in it."""
        message.stop()
        if self.option is not None:
            self._close_field()
            self.action_take()

    def _search_for(self, text: str) -> None:
        before, self._text = self.chosen, text
        try:
            self._sought, self._fault = sought(text), ""
        except InputError as error:
            self._fault = str(error)
        self._list(before)
        if self.chosen != before:
            self.moved()
