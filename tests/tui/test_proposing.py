"""A palette out of a deck in the program: shown on the map, changed by keys, taken as one edit."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot

from housemap.file.deck_file import deck_path, save_deck
from housemap.model.house import House, Paint, Srgb
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.suggest import ProposePanel
from housemap.workbench.session import Session
from tests.support.chips import random_paints
from tests.support.houses import small_house
from tests.support.screens import screen_text, shallow_report

HOSTILE = "[red]x[/red] [@click=app.quit]go[/]"
FAN = {**random_paints(120), "oat": Paint(HOSTILE, Srgb("#5b6b4a"))}


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "data"
    monkeypatch.setenv("HOUSEMAP_DATA_DIR", str(folder))
    path = deck_path(folder, "fan", "notation")
    path.parent.mkdir(parents=True)
    save_deck(FAN, path)


@asynccontextmanager
async def house_open(
    house: House, *keys: str, size: tuple[int, int] = (110, 40)
) -> AsyncIterator[tuple[HousemapApp, Session, Pilot[None]]]:
    session = Session.of(house)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=size) as pilot:
        await settle(app, pilot)
        for key in keys:
            await pilot.press(key)
            await settle(app, pilot)
        yield app, session, pilot


async def settle(app: HousemapApp, pilot: Pilot[None]) -> None:
    for _ in range(3):
        await pilot.pause(0.02)
        await app.workers.wait_for_complete()
    await pilot.pause(0.02)


def panel_of(app: HousemapApp) -> ProposePanel:
    return app.screen.query_one(ProposePanel)


async def choose_fan(app: HousemapApp, pilot: Pilot[None]) -> None:
    """Open the deck of our own from the built-in one."""
    await pilot.press("d")
    await pilot.press("down", "enter")
    await settle(app, pilot)


async def test_a_palette_is_found_in_a_deck_shown_on_the_map_and_taken_as_one_edit() -> None:
    house = small_house()
    async with house_open(house, "d") as (app, session, pilot):
        await choose_fan(app, pilot)
        await pilot.press("a")
        await settle(app, pilot)
        text = screen_text(app)
        assert "Palette from fan" in text
        assert "at most 5 wall paints and a trim, all rooms" in text
        assert len(panel_of(app).offers.offers) == 3
        assert session.house == house
        shown = session.shown
        assert shown != house
        await pilot.press("enter")
        await settle(app, pilot)
        assert session.house == shown
        assert {k: session.house.paints[k] for k in house.paints} == house.paints
        await pilot.press("u")
        assert session.house == house


async def test_picked_paints_are_pinned_and_a_key_unpins_them() -> None:
    async with house_open(small_house(), "d") as (app, _, pilot):
        await choose_fan(app, pilot)
        await pilot.press("x", "a")
        await settle(app, pilot)
        panel = panel_of(app)
        [chip] = panel.asked.chips
        for offer in panel.offers.offers:
            assert chip in {part.chip for part in offer.parts}
        assert "pinned" in screen_text(app)
        number = [part.chip for part in panel._parts].index(chip)
        panel.step(number)
        await pilot.press("x")
        await settle(app, pilot)
        assert not panel_of(app).asked.chips


async def test_the_number_of_paints_the_rooms_and_the_trim_are_changed_by_keys() -> None:
    async with house_open(small_house(), "a", "d") as (app, session, pilot):
        assert "Palette from notation" in screen_text(app)
        await pilot.press("minus", "minus", "minus", "minus", "3")
        await settle(app, pilot)
        assert "at most 1 wall paint, all rooms" in screen_text(app)
        walls = {room.paints.walls for room in session.shown.rooms.values()}
        assert len(walls) == 1
        assert session.shown.rooms["kitchen"].paints.trim == "chalk"


async def test_every_palette_is_shown_in_turn_and_the_house_as_it_is_by_one_key() -> None:
    house = small_house()
    async with house_open(house, "a", "d") as (app, session, pilot):
        first = session.shown
        await pilot.press("right")
        second = session.shown
        assert second not in (first, house)
        await pilot.press("v")
        assert session.shown == house
        await pilot.press("v", "left")
        assert session.shown == first
        await pilot.press("escape")
        await settle(app, pilot)
        assert session.shown == session.house == house


async def test_what_cannot_be_is_said_in_words() -> None:
    async with house_open(small_house(), "a", "d", "h") as (app, session, _):
        assert "no room to paint" in screen_text(app)
        assert session.shown == session.house


async def test_it_can_be_stopped_and_changed_while_it_runs() -> None:
    house = small_house()
    async with house_open(house, "a") as (app, session, pilot):
        await pilot.press("minus", "right", "v", "plus", "enter")
        await settle(app, pilot)
        await pilot.press("escape")
        await settle(app, pilot)
        assert session.house == house or session.house.paints != house.paints
        assert not app.screen.query(ProposePanel)
