"""Bringing in a deck of paints of one's own, by keys."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.pilot import Pilot

from housemap.file.deck_file import read_deck
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.deck_files import IntakeScreen, ShelfScreen
from tests.support.deck_screens import (
    FAN,
    deck_open,
    deck_screen,
    keep_fan,
)
from tests.support.screens import screen_text, settled


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    return keep_fan(tmp_path / "data", monkeypatch)


TABLE = 'Name;L;a;b;Wert\n"Oat";84,1;1,2;9,8;64\nBad;x;1;2;3\nGlow;90;80;0;10\n'


@asynccontextmanager
async def intake(text: str, tmp_path: Path) -> AsyncIterator[tuple[HousemapApp, Pilot[None]]]:
    source = tmp_path / "farben.csv"
    source.write_text(text)
    async with deck_open(size=(160, 48)) as (app, _, pilot):
        await pilot.press("d", "n")
        await pilot.press(*str(source), "enter")
        await settled(app, pilot)
        yield app, pilot


async def test_a_file_is_shown_before_it_is_kept_and_then_is_the_open_deck(
    tmp_path: Path, data: Path
) -> None:
    async with intake(TABLE, tmp_path) as (app, pilot):
        assert isinstance(app.screen, IntakeScreen)
        text = screen_text(app)
        assert "Wert -> left out" in text
        assert 'line 3: "x" is not a number' in text
        assert not (data / "decks" / "farben.toml").exists()
        await pilot.press("enter", "enter")
        await settled(app, pilot)
        assert list(read_deck(data / "decks" / "farben.toml")) == ["oat", "glow"]
        screen = deck_screen(app)
        assert screen.browser.deck.name == "farben"
        assert [s.name for s in screen.browser.chips.swatches] == ["Oat"]
        assert "1 impossible" in screen_text(app)


async def test_a_column_and_the_light_can_be_told(tmp_path: Path) -> None:
    async with intake(TABLE, tmp_path) as (app, pilot):
        await pilot.press("e")
        await pilot.pause()
        await pilot.press(*["backspace"] * 20, *"Wert = LRV", "enter")
        await settled(app, pilot)
        assert "Wert -> LRV" in screen_text(app)
        await pilot.press("t", *"moon", "enter")
        await settled(app, pilot)
        assert "no CIE illuminant" in screen_text(app)
        assert "Wert -> LRV" in screen_text(app)


async def test_a_file_that_cannot_be_read_is_told_and_nothing_is_kept(
    tmp_path: Path, data: Path
) -> None:
    async with intake("Name;Size\nOat;3\n", tmp_path) as (app, pilot):
        assert "no column gives a colour" in screen_text(app)
        await pilot.press("enter", "escape")
        await pilot.pause()
        assert isinstance(app.screen, ShelfScreen)
        assert [path.name for path in (data / "decks").iterdir()] == ["fan.toml"]


async def test_a_deck_of_the_same_name_is_asked_about(tmp_path: Path, data: Path) -> None:
    async with intake(TABLE, tmp_path) as (app, pilot):
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press(*["backspace"] * 20, *"fan", "enter")
        await pilot.pause()
        assert "There is a deck fan already" in screen_text(app)
        await pilot.press("escape")
        assert len(read_deck(data / "decks" / "fan.toml")) == len(FAN)
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press(*["backspace"] * 20, *"fan", "enter", "o")
        await settled(app, pilot)
        assert list(read_deck(data / "decks" / "fan.toml")) == ["oat", "glow"]


async def test_a_broken_deck_is_told_and_the_open_one_stays(data: Path) -> None:
    (data / "decks" / "aaa.toml").write_text('[paint.oat]\nname = "Oat"\n')
    async with deck_open("notation") as (app, _, pilot):
        await pilot.press("d", "down", "enter")
        await settled(app, pilot)
        assert "aaa.toml:1" in screen_text(app)
