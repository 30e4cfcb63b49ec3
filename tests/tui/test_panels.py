"""A list draws its entries whatever was shown before it had a place on the screen."""

from collections.abc import Sequence
from typing import ClassVar, NamedTuple

from textual.app import App, ComposeResult

from housemap.model.house import House
from housemap.tui.panels import ListPanel
from housemap.tui.render.cells import PLAIN, Row, Run
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.workbench.session import Session


class Numbers(ListPanel[int]):
    """Each entry shows its key."""

    ENTRY_ROWS: ClassVar[int] = 1

    def entry(self, item: int, page: Page) -> Sequence[Row]:
        return [(Run(str(item).ljust(page.width), PLAIN),)]


class Owner(NamedTuple):
    session: Session
    look: Look


class NumbersApp(App[None]):
    def compose(self) -> ComposeResult:
        panel = Numbers(Owner(Session.of(House()), Look()))
        panel.display = False
        yield panel


async def test_entries_that_changed_while_the_list_was_hidden_are_drawn() -> None:
    app = NumbersApp()
    async with app.run_test(size=(40, 10)) as pilot:
        panel = app.query_one(Numbers)
        panel.show_entries(range(1000), 900)
        panel.show_entries(range(24), 3)
        panel.display = True
        await pilot.pause()
        drawn = [row.text for row in app.screen._compositor.render_strips()]
        assert [line.split()[0] for line in drawn] == [str(number) for number in range(10)]
