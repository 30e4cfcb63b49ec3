"""The program with its forms, and what tests ask of them."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from housemap.model.house import House
from housemap.tui.tasks.edit import PAUSE_S, FormPanel, PartsPanel
from tests.support.desks import Desk
from tests.support.houses import small_house
from tests.support.screens import app_on


class FormDesk(Desk):
    """The program on a house, with what tests of its forms ask."""

    @property
    def form(self) -> FormPanel:
        panel = self.screen.panel
        assert isinstance(panel, FormPanel)
        return panel

    @property
    def listed(self) -> PartsPanel:
        panel = self.screen.panel
        assert isinstance(panel, PartsPanel)
        return panel

    async def type(self, text: str) -> None:
        """Type into the field, over what is selected there."""
        field = self.form.line
        if field.has_focus:
            field.replace(text, *field.selection)
        else:
            self.form.area.insert(text)
        await self.pilot.pause()

    async def wait_for_map(self) -> None:
        await self.pilot.pause(PAUSE_S * 2)

    async def to(self, key: str) -> None:
        """Go to a field."""
        numbers = {of.key: i for i, of in enumerate(self.form.draft.form.fields)}
        self.form.go_to(numbers[key])
        await self.pilot.pause()

    async def choose(self, title: str) -> None:
        """Choose a line of the list."""
        await self.until(lambda: any(part.title == title for part in self.listed.items))
        numbers = [i for i, part in enumerate(self.listed.items) if part.title == title]
        self.listed.step(numbers[0] - (self.listed.chosen_number or 0))
        await self.pilot.pause()


@asynccontextmanager
async def opened(
    house: House | None = None, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[FormDesk]:
    app = app_on(house or small_house())
    async with app.run_test(size=size) as pilot:
        await pilot.pause(0.05)
        yield FormDesk(app, pilot)
