"""Two edits of one file that meet: each conflict is settled by one key, then both are saved."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from textual.events import Key
from textual.pilot import Pilot

from housemap.file.merge import merge_files
from housemap.file.reader import HouseFile, read_house
from housemap.file.save import save_house
from housemap.file.writer import dump_house
from housemap.model.edits import assign, change_entity
from housemap.tui.app import HousemapApp
from housemap.tui.commands import commands_called
from housemap.tui.house_screen import HouseScreen
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import screen_text, shallow_report, until_shown

MINE = change_entity(assign(small_house(), "hall", "walls", "moss"), "rooms", "hall", height_m=2.6)
THEIRS = change_entity(
    assign(small_house(), "hall", "walls", "chalk"), "rooms", "hall", height_m=2.8
)


@asynccontextmanager
async def met(path: Path) -> AsyncIterator[tuple[HousemapApp, Pilot[None]]]:
    """The program with my edit unsaved, and theirs on disk; a save was asked to merge both."""
    save_house(small_house(), path)
    session = Session.read(path)
    session.apply(MINE, "mine")
    save_house(THEIRS, path)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause(0.05)
        await pilot.press("ctrl+s", "m")
        await pilot.pause(0.05)
        yield app, pilot


def shown(app: HousemapApp) -> str | None:
    assert isinstance(app.screen, HouseScreen)
    return app.screen.session.shown.rooms["hall"].paints.walls


async def test_what_both_changed_shows_what_was_sent_yours_and_theirs(tmp_path: Path) -> None:
    async with met(tmp_path / "house.toml") as (app, _):
        text = screen_text(app)
        assert "0 of 2 chosen" in text
        for word in ("Oat Ladle", "Moss Bank", "Chalk Lump"):
            assert word in text


async def test_each_is_settled_by_one_key_shown_and_saved(tmp_path: Path) -> None:
    async with met(tmp_path / "house.toml") as (app, pilot):
        await pilot.press("home", "right", "right")
        assert "2 of 2 chosen" in screen_text(app)
        assert shown(app) == "chalk"
        await pilot.press("home", "left", "left")
        assert shown(app) == "moss"
        await pilot.press("enter")
        await pilot.pause(0.05)
    assert read_house(tmp_path / "house.toml") == MINE


async def test_settled_is_saved_once_though_the_key_comes_twice(tmp_path: Path) -> None:
    async with met(tmp_path / "house.toml") as (app, pilot):
        await pilot.press("home", "left", "left")
        for _ in range(2):
            (app.focused or app.screen)._forward_event(Key("enter", None))
        await pilot.pause(0.05)
        assert app.is_running
    assert read_house(tmp_path / "house.toml") == MINE


async def test_nothing_is_saved_before_all_is_settled(tmp_path: Path) -> None:
    async with met(tmp_path / "house.toml") as (app, pilot):
        await until_shown(app, pilot, "changed on disk")  # it says so itself, and no more after
        await pilot.press("home", "right", "enter")
        assert "1 still to be chosen" in screen_text(app)
    assert read_house(tmp_path / "house.toml") == THEIRS


@pytest.mark.parametrize("settled", [(), ("3",)])
async def test_leaving_keeps_both_edits(tmp_path: Path, settled: tuple[str, ...]) -> None:
    async with met(tmp_path / "house.toml") as (app, pilot):
        await pilot.press(*settled, "escape")
        await pilot.pause(0.05)
        assert isinstance(app.screen, HouseScreen)
        assert app.screen.session.house == MINE
    assert read_house(tmp_path / "house.toml") == THEIRS


async def test_a_file_that_shows_both_sides_opens_to_be_settled(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    sent, yours, theirs = (
        HouseFile(each, dump_house(each).encode()) for each in (small_house(), MINE, THEIRS)
    )
    path.write_text(merge_files(sent, yours, theirs)[0] + "# by hand\n")
    app = HousemapApp(Session.read(path), reporter=shallow_report)
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(app, pilot, "both changed the same")
        await pilot.press("c")
        await until_shown(app, pilot, "0 of 2 chosen")
        await pilot.press("home", "right", "left", "enter")
        await until_shown(app, pilot, "Saved as chosen")
    house = change_entity(MINE, "rooms", "hall", height_m=2.8)
    assert path.read_text() == dump_house(house) + "# by hand\n"


# What came in


async def test_after_a_save_with_theirs_a_list_shows_what_came_in(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    save_house(small_house(), path)
    session = Session.read(path)
    mine = assign(session.house, "study", "walls", "moss")
    session.apply(mine, "mine")
    save_house(assign(small_house(), "hall", "walls", "chalk"), path)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.05)
        await pilot.press("ctrl+s", "m")
        await until_shown(app, pilot, "What came in")
        assert "Hall walls: Chalk Lump," in screen_text(app)
        assert "was Oat Ladle" in screen_text(app)
        assert '"Was" means in your house.' in screen_text(app)
        assert "Saved as house.toml" in screen_text(app)
        await pilot.press("u")
        await pilot.pause(0.05)
        assert session.house == mine
        assert "What came in" not in screen_text(app)


async def test_where_nothing_came_in_there_is_no_list(tmp_path: Path) -> None:
    async with met(tmp_path / "house.toml") as (app, pilot):
        await pilot.press("home", "left", "left", "enter")
        await until_shown(app, pilot, "Saved as house.toml")
        assert "What came in" not in screen_text(app)


async def test_a_colleagues_copy_is_found_by_name_and_brought_in(tmp_path: Path) -> None:
    """Their file is left as it is; what both changed is chosen first."""
    save_house(small_house(), tmp_path / "house.toml")
    theirs = tmp_path / "theirs.toml"
    save_house(small_house(), theirs)
    save_house(change_entity(THEIRS, "rooms", "study", height_m=2.7), theirs)
    session = Session.read(tmp_path / "house.toml")
    session.apply(MINE, "mine")
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.05)
        await pilot.press("ctrl+p", *"colleague", "enter")
        await until_shown(app, pilot, "Bring in which copy")
        app.screen.dismiss(str(theirs))
        await until_shown(app, pilot, "0 of 2 chosen")
        assert "Sent means" in screen_text(app)
        await pilot.press("home", "right", "left", "enter")
        await until_shown(app, pilot, "What came in")
        assert "Hall walls: yours" in screen_text(app)
        assert "2 lines, 1 kept" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause(0.05)
        assert "What came in" not in screen_text(app)
    house = change_entity(MINE, "rooms", "hall", height_m=2.8)
    assert session.house == change_entity(house, "rooms", "study", height_m=2.7)
    assert session.unsaved


async def test_where_nothing_proves_the_beginning_each_is_asked_and_the_rest_at_once(
    tmp_path: Path,
) -> None:
    theirs = tmp_path / "theirs.toml"
    save_house(THEIRS, theirs)
    session = Session.of(MINE)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.05)
        await pilot.press("ctrl+p", *"colleague", "enter")
        await until_shown(app, pilot, "Bring in which copy")
        app.screen.dismiss(str(theirs))
        await until_shown(app, pilot, "Where both copies began is not")
        await pilot.press("h")
        await until_shown(app, pilot, "First choose one")
        await pilot.press("home", "right", "h")
        await until_shown(app, pilot, "2 of 2 chosen")
        await pilot.press("home", "left", "enter")
        await until_shown(app, pilot, "What came in")
    assert session.house == change_entity(THEIRS, "rooms", "hall", height_m=2.6)


@pytest.mark.parametrize(
    "typed", ["merge", "join", "together", "colleague", "theirs", "compare", "changes"]
)
def test_bringing_in_a_copy_goes_by_many_names(typed: str) -> None:
    assert "open-file" in commands_called(typed)
