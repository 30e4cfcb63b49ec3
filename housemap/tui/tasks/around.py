"""A set of colours built around one paint: in proportion, with its reasons, tried on the map."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.choose.schemes.card import AREAS, in_proportion, strength_of
from housemap.study import Swatch
from housemap.tui.background import drop_work, work_beside
from housemap.tui.commands import AROUND
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row, plain
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, patch
from housemap.tui.render.shades import Coat
from housemap.tui.task import Task, TaskMessage
from housemap.tui.tasks.choose_drawing import title_row
from housemap.tui.tasks.decks import DecksTask, built_in_deck
from housemap.workbench.schemes import SchemeBuilder, painted_in
from housemap.workbench.session import Session
from housemap.workbench.suggesting import chips_of

if TYPE_CHECKING:
    from housemap.choose.schemes.sets import ColourSet, SetColour

BUILD = "around"
"""The group of its work."""
STRIP_ROWS = 2


def around_head(builder: SchemeBuilder | None, name: str, look: Look, width: int) -> list[Row]:
    """What the set is built around, the set in proportion, and the reason of the chosen colour."""
    line, page = Line(look, width), Page(look, width)
    if builder is None:
        return [title_row(f"Around {name}", "building", line), page.blank()]
    shown = builder.shown
    if shown is None:
        return [title_row(f"Around {name}", "", line), *page.text("No paint fits. Open a deck: d.")]
    number = f"set {builder.number + 1} of {len(builder.sets)}, {shown.kind}"
    swap = f"Alternative {builder.other}: " if builder.other else ""
    broken = [row for words in shown.broken for row in page.text(f"Not kept: {words}.", quiet=True)]
    return [
        title_row(f"Around {name}", number, line),
        *[_strip(shown, width, look)] * STRIP_ROWS,
        page.blank(),
        *page.text(swap + builder.reasons[builder.place]),
        *broken,
        page.blank(),
    ]


def _strip(shown: "ColourSet", width: int, look: Look) -> Row:
    """The colours in the proportion in which they cover a house."""
    colours = in_proportion(shown)
    whole = sum(AREAS[one.part] for one in colours)
    ends = [0]
    for one in colours:
        ends.append(ends[-1] + AREAS[one.part])
    columns = [round(end / whole * width) for end in ends]
    return tuple(
        patch(_coat(one), max(right - left, 1), look)
        for one, left, right in zip(colours, columns, columns[1:], strict=False)
    )


def colour_rows(one: "SetColour", line: Line) -> Sequence[Row]:
    """The role and the paint, then its figures."""
    swatch = one.swatch
    lead = (line.mark(), patch(_coat(one), SWATCH, line.look), line.run(" "))
    below = (line.run(" "), patch(_coat(one), SWATCH, line.look), line.run(" "))
    facts = f"{swatch.colour.undertone.words}, {strength_of(swatch)}"
    return (
        line.row(lead, f"{one.part}: {plain(swatch.name)}", f"LRV {swatch.lrv:.0f}", strong=True),
        line.row(below, facts, swatch.colour.notation.text, quiet=True),
    )


def _coat(one: "SetColour") -> Coat:
    return Coat("known", one.swatch.colour.srgb_hex)


class AroundPanel(ListPanel):
    """The colours of one set; the arrows across swap the chosen one."""

    CONTEXT: ClassVar[str] = AROUND
    bar: ClassVar[Sequence[str]] = ("open", "right", "next", "more", "light", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(AROUND)]

    @dataclass
    class Changed(TaskMessage):
        """Another set, or another colour in it, is looked at."""

    @dataclass
    class Asked(TaskMessage):
        """take or leave."""

        what: str

    def __init__(self, session: Session, look: Look, name: str) -> None:
        super().__init__(session, look)
        self.name_of_paint = plain(name)
        self.builder: SchemeBuilder | None = None

    def show_builder(self, builder: SchemeBuilder) -> None:
        self.builder = builder
        shown = builder.shown
        self.show_entries(range(len(shown.colours)) if shown else (), builder.place)
        self.redraw()
        self.post_message(self.Changed())

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return around_head(self.builder, self.name_of_paint, self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        assert self.builder is not None
        assert self.builder.shown is not None
        return colour_rows(self.builder.shown.colours[number], Line(self.look, width, chosen))

    def nothing(self, width: int) -> Sequence[Row]:
        del width
        return []

    def moved(self) -> None:
        if self.builder is not None:
            self.builder = self.builder.choose(self.chosen_number or 0)
            self.redraw()

    def picked(self) -> None:
        self.post_message(self.Asked("take"))

    def action_back(self) -> None:
        self.post_message(self.Asked("leave"))

    def action_swap(self, by: int) -> None:
        if self.builder is not None:
            self.show_builder(self.builder.swap(by))

    def action_set(self, by: int) -> None:
        if self.builder is not None:
            self.show_builder(self.builder.look_at(self.builder.number + by))

    def action_more_like(self) -> None:
        if self.builder is not None:
            self.show_builder(self.builder.more_like_this())


@dataclass
class Built(TaskMessage):
    """Sets around a paint are there."""

    builder: SchemeBuilder


class AroundTask(Task):
    """Builds sets of colours around a paint of the house."""

    NAME: ClassVar[str] = "around"

    def open(self) -> None:
        """Build around the paint on the selected surface, of the deck that was open last.

        Without one the built-in deck has the colours.
        """
        session = self.session
        room = session.shown.rooms.get(session.selection.room or "")
        paint = getattr(room.paints, session.selection.surface) if room else None
        report = session.report
        if paint is None:
            self.say("Choose a paint here first (enter): a set is built around it.")
            return
        if report is None or paint not in report.house.paints:
            self.say("The paints are still being computed. Press b again in a moment.")
            return
        self.build(report.study.paint(paint))

    def build(self, neutral: Swatch) -> None:
        """Build around any paint."""
        house = self.session.house
        self.desk.open_panel(AroundPanel(self.session, self.look, neutral.name))
        browser = self.desk.find_task(DecksTask).browser or built_in_deck()

        def steps() -> Iterator[Message]:
            chips = browser.chips if browser.done else chips_of(browser.deck)
            yield Built(SchemeBuilder.around(neutral, house, chips))

        work_beside(self.desk.screen, BUILD, steps)

    def on_built(self, message: Built) -> None:
        panel = self._around_panel()
        if panel is not None:
            panel.show_builder(message.builder)

    def on_around_panel_changed(self, message: AroundPanel.Changed) -> None:
        """Show the house in the set that is looked at."""
        del message
        panel = self._around_panel()
        shown = panel.builder.shown if panel and panel.builder else None
        self.desk.try_out(painted_in(self.session.house, shown) if shown else None)

    def on_around_panel_asked(self, message: AroundPanel.Asked) -> None:
        panel = self._around_panel()
        if panel is None:
            return
        shown = panel.builder.shown if panel.builder else None
        self.desk.close_panel()
        if message.what == "take" and shown is not None:
            label = f"Paint the house in the set around {panel.name_of_paint}"
            if self.desk.apply(painted_in(self.session.house, shown), label):
                self.say("The house is painted in this set. Put samples up (s); u undoes.")

    def closing(self) -> None:
        if self._around_panel() is not None:
            drop_work(self.desk.screen, BUILD)

    def _around_panel(self) -> AroundPanel | None:
        return self.desk.panel if isinstance(self.desk.panel, AroundPanel) else None
