"""The program with a deck open, and what tests ask of it."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.screen import Screen

from housemap.file.deck_file import deck_path, save_deck
from housemap.model.house import House, Paint, Srgb
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.deck_files import ShelfScreen
from housemap.tui.tasks.decks import DeckScreen
from tests.support.chips import random_paints
from tests.support.houses import small_house
from tests.support.screens import app_on, settled, until

HOSTILE = "[red]x[/red] [/] [@click=app.quit]go[/]"
FAN = {
    **random_paints(60),
    "moss": Paint("Fern Drain", Srgb("#5b6b4a"), code="M-1", deck="fan"),
    "hostile": Paint(HOSTILE, Srgb("#aa5544")),
}


def keep_fan(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Make a folder that of the program's data, with the deck FAN in it."""
    monkeypatch.setenv("HOUSEMAP_DATA_DIR", str(folder))
    path = deck_path(folder, "fan", "notation")
    path.parent.mkdir(parents=True)
    save_deck(FAN, path)
    return folder


@asynccontextmanager
async def deck_open(
    name: str = "fan", house: House | None = None, size: tuple[int, int] = (120, 40)
) -> AsyncIterator[tuple[HousemapApp, DeckScreen, Pilot[None]]]:
    app = app_on(house or small_house())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        if house and not house.rooms:
            await pilot.press("escape")  # it begins with the survey
            await pilot.pause()
        await pilot.press("d")
        await until_on(app, pilot, DeckScreen)
        await settled(app, pilot)
        if name != "notation":
            await pilot.press("d")
            await until_on(app, pilot, ShelfScreen)
            await pilot.press("down", "enter")
            await until_on(app, pilot, DeckScreen)
            await settled(app, pilot)
        assert deck_screen(app).browser.deck.name == name
        yield app, deck_screen(app), pilot


async def until_on(app: HousemapApp, pilot: Pilot[None], screen: type[Screen[None]]) -> None:
    """Wait until a screen of that kind is on top."""
    await until(pilot, lambda: isinstance(app.screen, screen))


def deck_screen(app: HousemapApp) -> DeckScreen:
    screen = app.screen
    assert isinstance(screen, DeckScreen)
    return screen


def house_of(app: HousemapApp) -> House:
    assert app.session
    return app.session.house
