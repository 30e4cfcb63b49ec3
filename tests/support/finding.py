"""The findings of a house in the program, and what tests ask of them."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace

from housemap.checks.examples import two_rooms
from housemap.model.house import House, Room, SurfacePaints, SurfaceSheens
from housemap.tui.panels import Panel
from tests.support.desks import Desk
from tests.support.houses import paint
from tests.support.screens import app_on

CLASH = two_rooms("5R 7/2", "5G 7/2", trim="N 9.3/")
"""A pinkish hall and a greenish study: undertones that fight."""


HOUSE = replace(
    CLASH,
    paints={**CLASH.paints, "oat": paint("#d9d0bf", "Oat Ladle")},
    rooms={
        **CLASH.rooms,
        "bath": Room(
            "Bath", 1, "bathroom", paints=SurfacePaints("oat"), sheens=SurfaceSheens("matt")
        ),
    },
)
"""The same with a bathroom above whose sheen will not wear."""


class FindingDesk(Desk):
    """The program on a house, once its findings are known."""

    @property
    def panel(self) -> Panel:
        return self.screen.panel

    async def remedies_found(self) -> None:
        await self.until(lambda: "What would clear it\n" in f"{self.panel_text}\n")

    @property
    def panel_text(self) -> str:
        """The text beside the map, one line each."""
        start = self.panel.region.x
        return "\n".join(line[start:].strip() for line in self.text.splitlines())

    def selected(self) -> str | None:
        return self.session.selection.room


@asynccontextmanager
async def found(house: House = HOUSE, *keys: str) -> AsyncIterator[FindingDesk]:
    app = app_on(house)
    async with app.run_test(size=(100, 44)) as pilot:
        desk = FindingDesk(app, pilot)
        await desk.until(lambda: desk.session.base_is_current)
        await desk.press("f", *keys)
        yield desk
