"""Every save is kept, shown on the map when looked at, and taken up as one edit."""

from pathlib import Path

import pytest

from housemap.file.earlier_saves import earlier_saves
from housemap.file.save import save_house
from housemap.model.edits import assign
from housemap.tui.app import HousemapApp
from housemap.tui.house_screen import HouseScreen
from housemap.workbench.folders import state_folder
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import screen_text, shallow_report


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    save_house(small_house(), tmp_path / "house.toml")
    return tmp_path / "house.toml"


async def test_an_earlier_save_is_looked_at_and_taken_up(file: Path) -> None:
    session = Session.read(file)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=(100, 30)) as pilot:
        for paint in ("moss", "chalk"):
            session.apply(assign(session.house, "hall", "walls", paint), paint)
            await pilot.press("ctrl+s")
            await app.workers.wait_for_complete()
        assert len(earlier_saves(state_folder(), file)) == 3  # and as opened
        await pilot.press("ctrl+p", *"earlier", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause(0.05)
        assert "3 kept" in screen_text(app)
        assert "1 change since" in screen_text(app)
        assert "Hall walls: Chalk Lump, was Moss Bank" in screen_text(app)
        await pilot.press("down")
        await pilot.pause(0.05)
        assert session.shown.rooms["hall"].paints.walls == "moss"
        assert session.house.rooms["hall"].paints.walls == "chalk"
        await pilot.press("enter")
        await pilot.pause(0.05)
        assert session.house.rooms["hall"].paints.walls == "moss"
        await pilot.press("u")
        assert session.house.rooms["hall"].paints.walls == "chalk"


async def test_looking_alone_changes_nothing(file: Path) -> None:
    session = Session.read(file)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("ctrl+p", *"earlier", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause(0.05)
        assert "none kept" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause(0.05)
        assert isinstance(app.screen, HouseScreen)
        assert not session.unsaved
