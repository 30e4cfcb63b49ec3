"""The program on a house, driven by keys."""

from collections.abc import Callable

from textual.pilot import Pilot

from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.tui.house_screen import HouseScreen
from housemap.workbench.session import Session
from tests.support.screens import run_command, screen_text, until


class Desk:
    """What every test of a panel asks; each panel's own tests add to it."""

    def __init__(self, app: HousemapApp, pilot: Pilot[None]) -> None:
        self.app, self.pilot = app, pilot

    @property
    def session(self) -> Session:
        assert self.app.session
        return self.app.session

    @property
    def house(self) -> House:
        return self.session.house

    @property
    def screen(self) -> HouseScreen:
        """The main screen, whatever lies over it."""
        return next(each for each in self.app.screen_stack if isinstance(each, HouseScreen))

    @property
    def text(self) -> str:
        """What stands on the screen."""
        return screen_text(self.app)

    async def press(self, *keys: str) -> None:
        await self.pilot.press(*keys)
        await self.pilot.pause()

    async def run(self, command: str) -> None:
        """Run a command as the finder does."""
        await run_command(self.app, self.pilot, command)

    async def until(self, holds: Callable[[], bool]) -> None:
        await until(self.pilot, holds)

    async def shows(self, *texts: str) -> None:
        for text in texts:
            await self.until(lambda text=text: text in self.text)  # type: ignore[misc]  # bound at once
