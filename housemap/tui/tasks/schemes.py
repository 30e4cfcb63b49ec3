"""The schemes of a house side by side: what each finds, costs and changes, tried on the map."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.model.edits import make_scheme, remove, take_scheme
from housemap.model.house import House
from housemap.tui.background import drop_work, work_beside
from housemap.tui.commands import SCHEMES
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row, Run, plain
from housemap.tui.render.look import Look
from housemap.tui.render.page import Line, Page, patch
from housemap.tui.render.shades import Coat
from housemap.tui.task import Task, TaskMessage
from housemap.tui.tasks.choose_drawing import title_row
from housemap.workbench.reporting import lit_report
from housemap.workbench.schemes import SchemeRow, scheme_rows
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.study import Study

COMPARE = "schemes"
"""The group of its work."""


def schemes_head(rows: Sequence[SchemeRow], look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    count = len(rows) - 1
    state = (
        "comparing" if not rows else f"{count} beside the house as it is" if count else "none yet"
    )
    words = "The map shows the chosen one. n keeps the house as it is now as a scheme."
    return [title_row("Schemes", state, line), *page.text(words, quiet=True), page.blank()]


def scheme_entry(row: SchemeRow, study: "Study", currency: str, line: Line) -> Sequence[Row]:
    """The name with what is found; its wall colours in proportion; what it changes and costs."""
    scheme = row.scheme
    found = f"{scheme.findings} to look at"
    cost = "" if row.cost is None else f"paint {currency} {row.cost:,.0f}".replace("  ", " ")
    changed = len(scheme.changed)
    what = f"{changed} surface{'' if changed == 1 else 's'} changed" if changed else "no change"
    return (
        line.row((line.mark(),), plain(scheme.name), found, strong=True),
        _strip(scheme.shares, study, line),
        line.row((line.run(" "),), what, cost, quiet=True),
    )


def _strip(shares: Mapping[str, float], study: "Study", line: Line) -> Row:
    """Wall colours by their share of the wall area."""
    width = max(line.width - 4, 1)
    runs: list[Run] = [line.run("  ")]
    taken, left = 0.0, 0
    for paint, share in shares.items():
        taken += share
        right = round(taken * width)
        swatch = study.swatches.get(("Paint", paint))
        if right > left and swatch is not None:
            runs.append(patch(Coat("known", swatch.colour.srgb_hex), right - left, line.look))
            left = right
    return (*runs, line.run(" " * max(line.width - 2 - left, 0)))


class SchemesPanel(ListPanel):
    """The house as it is, then its schemes."""

    CONTEXT: ClassVar[str] = SCHEMES
    bar: ClassVar[Sequence[str]] = ("open", "new", "delete", "light", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SCHEMES)]
    ENTRY_ROWS: ClassVar[int] = 3

    @dataclass
    class Looked(TaskMessage):
        """Another scheme is to be shown on the map."""

    @dataclass
    class Asked(TaskMessage):
        """take, new, delete or leave."""

        what: str

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(session, look)
        self.rows: Sequence[SchemeRow] = ()

    def show_rows(self, rows: Sequence[SchemeRow]) -> None:
        self.rows = rows
        self.show_entries([row.scheme.key or "" for row in rows], self.chosen)
        self.redraw()

    @property
    def row(self) -> SchemeRow | None:
        number = self.chosen_number
        return None if number is None else self.rows[number]

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        del height
        return schemes_head(self.rows, self.look, width)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        row = self.rows[number]
        line = Line(self.look, width, chosen)
        return scheme_entry(row, row.scheme.report.study, self.session.house.client.currency, line)

    def nothing(self, width: int) -> Sequence[Row]:
        del width
        return []

    def moved(self) -> None:
        self.post_message(self.Looked())

    def picked(self) -> None:
        self.post_message(self.Asked("take"))

    def action_ask(self, what: str) -> None:
        self.post_message(self.Asked(what))

    def action_back(self) -> None:
        self.post_message(self.Asked("leave"))


@dataclass
class ComparedSchemes(TaskMessage):
    """Every scheme has been reported on."""

    house: House
    rows: tuple[SchemeRow, ...]


class SchemesTask(Task):
    """Keeps schemes of the house, compares them and takes one."""

    NAME: ClassVar[str] = "schemes"

    def open(self) -> None:
        self.desk.open_panel(SchemesPanel(self.session, self.look))
        self._compare()

    def _compare(self) -> None:
        house, base = self.session.house, self.session.base

        def steps() -> Iterator[Message]:
            rows = scheme_rows(lit_report(house, base), dt.date.today())  # noqa: DTZ011 - local
            yield ComparedSchemes(house, rows)

        work_beside(self.desk.screen, COMPARE, steps)

    def on_compared_schemes(self, message: ComparedSchemes) -> None:
        panel = self._panel()
        if panel is not None and message.house is self.session.house:
            panel.show_rows(message.rows)

    def on_schemes_panel_looked(self, message: SchemesPanel.Looked) -> None:
        """Show the house in the chosen scheme."""
        del message
        panel = self._panel()
        row = panel.row if panel else None
        if row is None or row.scheme.key is None:
            self.desk.try_out(None)
        else:
            self.desk.try_out(row.scheme.report.house, row.scheme.report)

    def on_schemes_panel_asked(self, message: SchemesPanel.Asked) -> None:
        panel = self._panel()
        row = panel.row if panel else None
        match message.what:
            case "leave":
                self.desk.close_panel()
            case "new":
                count = len(self.session.house.schemes)
                name = f"Scheme {chr(ord('A') + count % 26)}"
                question = "Keep the house as it is now as a scheme called:"
                self.desk.ask_line(question, name, self._keep, replaces=True)
            case "take" if row is not None and row.scheme.key is not None:
                self._take(row.scheme.key, row.scheme.name)
            case "delete" if row is not None and row.scheme.key is not None:
                self._delete(row.scheme.key, row.scheme.name)
            case _:
                self.say("The house as it is: n keeps it as a scheme.")

    def _keep(self, name: str) -> None:
        if self.desk.apply(partial(make_scheme, name=name), f"Keep {name}"):
            self._compare()

    def _take(self, key: str, name: str) -> None:
        self.desk.close_panel()
        if self.desk.apply(partial(take_scheme, key=key), f"Paint the house as in {plain(name)}"):
            self.say(f"The house is painted as in {plain(name)}. u undoes.")

    def _delete(self, key: str, name: str) -> None:
        label = f"Delete {plain(name)}"
        if self.desk.apply(partial(remove, table="schemes", key=key), label):
            self._compare()

    def closing(self) -> None:
        if self._panel() is not None:
            drop_work(self.desk.screen, COMPARE)

    def _panel(self) -> SchemesPanel | None:
        return self.desk.panel if isinstance(self.desk.panel, SchemesPanel) else None
