"""Choosing a paint in the program, and what tests ask of it."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from housemap.model.house import House
from housemap.tui.tasks.choose import ChoosingPanel
from tests.support.desks import Desk
from tests.support.houses import small_house
from tests.support.screens import app_on

HOUSE = small_house()


class ChoosingDesk(Desk):
    """The program with the choice open."""

    @property
    def panel(self) -> ChoosingPanel:
        panel = self.screen.panel
        assert isinstance(panel, ChoosingPanel)
        return panel

    @property
    def open(self) -> bool:
        return isinstance(self.screen.panel, ChoosingPanel)

    @property
    def listed(self) -> list[str]:
        """The names of the paints in the list, in view or not."""
        return sorted(option.name for option in self.panel.items if option.paint)

    def walls(self) -> str | None:
        return self.session.house.rooms["hall"].paints.walls

    def sheen(self) -> str | None:
        return self.session.house.rooms["hall"].sheens.walls

    async def ranked(self) -> None:
        await self.until(lambda: "by findings" in self.text or "nearest first" in self.text)


@asynccontextmanager
async def choosing(house: House = HOUSE, *keys: str) -> AsyncIterator[ChoosingDesk]:
    """The choice of a paint for the walls of the hall."""
    app = app_on(house)
    async with app.run_test(size=(100, 30)) as pilot:
        desk = ChoosingDesk(app, pilot)
        await desk.press("enter", *keys)
        yield desk
