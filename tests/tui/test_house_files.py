"""The house and its file by keys: saving, opening, what others changed, what a crash left."""

import os
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from housemap.file.journal import Journal, left_behind
from housemap.file.reader import load_house, read_house
from housemap.file.save import save_house
from housemap.file.writer import dump_house
from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.start import StartScreen
from housemap.tui.text_fields import Prompt
from housemap.workbench.folders import state_folder
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import (
    house_screen,
    opened,
    paint_hall,
    screen_text,
    shallow_report,
    until_shown,
)


async def test_quitting_asks_when_something_is_not_saved() -> None:
    async with opened(small_house()) as (app, pilot):
        house_screen(app).apply(paint_hall, "edit")
        await pilot.press("ctrl+q")
        assert "is not saved" in screen_text(app)
        await pilot.press("escape")
        house_screen(app)
        await pilot.press("ctrl+q", "ctrl+d")
        await pilot.pause()
        assert app._exit


async def test_quitting_without_changes_asks_nothing() -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press("ctrl+q")
        assert app._exit


async def test_saving_a_new_house_asks_for_a_name(tmp_path: Path) -> None:
    async with opened(small_house()) as (app, pilot):
        await pilot.press("ctrl+s")
        prompt = app.screen
        assert isinstance(prompt, Prompt)
        assert "alder-row-12.toml" in screen_text(app)
        prompt.dismiss(str(tmp_path / "mine.toml"))
        await pilot.pause()
        assert "Saved as mine.toml" in screen_text(app)
        assert read_house(tmp_path / "mine.toml") == small_house()


@asynccontextmanager
async def opened_file(
    path: Path, house: House | None = None, *, read_only: bool = False
) -> AsyncIterator[tuple[HousemapApp, Pilot[None]]]:
    save_house(house or small_house(), path)
    app = HousemapApp(Session.read(path, read_only=read_only), reporter=shallow_report)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        yield app, pilot


async def test_a_typed_name_replaces_the_suggested_one_and_lies_beside_the_file(
    tmp_path: Path,
) -> None:
    async with opened_file(tmp_path / "row.toml") as (app, pilot):
        house_screen(app).run("files.save_as")
        await pilot.pause()
        assert app.screen.query_one(Input).value.endswith("row.toml")
        await pilot.press(*"mill", "enter")
        await pilot.pause()
        assert "Saved as mill.toml" in screen_text(app)
    assert read_house(tmp_path / "mill.toml") == small_house()


async def test_read_only_the_file_is_never_written_nor_its_name_offered(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    async with opened_file(path, read_only=True) as (app, pilot):
        house_screen(app).apply(paint_hall, "edit")
        await pilot.press("ctrl+s", *"house", "enter")
        await pilot.pause()
        assert "opened read-only" in screen_text(app)
        await pilot.press("ctrl+q")
        assert "s save under another name" in screen_text(app)
        await pilot.press("s", "enter")
        await pilot.pause()
    assert read_house(path) == small_house()
    assert read_house(tmp_path / "house-copy.toml") == paint_hall(small_house())


async def test_ctrl_s_saves_the_file(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    async with opened_file(path) as (app, pilot):
        house_screen(app).apply(paint_hall, "edit")
        await pilot.press("ctrl+s")
        assert "Saved as house.toml" in screen_text(app)
    assert read_house(path) == paint_hall(small_house())


@pytest.mark.parametrize(("key", "notes"), [("m", "theirs"), ("o", "")])
async def test_a_file_changed_on_disk_is_merged_or_written_over(
    tmp_path: Path, key: str, notes: str
) -> None:
    path = tmp_path / "house.toml"
    async with opened_file(path) as (app, pilot):
        save_house(replace(small_house(), notes="theirs"), path)
        house_screen(app).apply(paint_hall, "edit")
        await pilot.press("ctrl+s")
        assert "Somebody else" in screen_text(app)
        await pilot.press(key)
        await pilot.pause()
    assert read_house(path).notes == notes
    assert read_house(path).rooms["hall"].paints.walls == "moss"


async def test_a_change_on_disk_is_told(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    async with opened_file(path) as (app, pilot):
        save_house(replace(small_house(), notes="theirs"), path)
        await pilot.pause(1.2)
        assert "changed on disk" in screen_text(app)


async def test_names_in_the_file_that_mean_nothing_are_said_at_opening() -> None:
    odd = replace(small_house(), limits={"jarr": {"open": 18.0}, "jar": {"opne": 18.0}})
    async with opened(odd) as (app, pilot):
        text = 'No effect: limits.jarr: there is no check "jarr"; the nearest is jar (1 more: house'
        await until_shown(app, pilot, text)


async def test_unsaved_work_is_offered_after_a_crash(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    async with opened_file(path) as (app, pilot):
        screen = house_screen(app)
        screen.apply(paint_hall, "edit")
        assert screen.safekeeping.keep_now()
        journal = screen.safekeeping._journal
        assert journal
        os.close(journal._handle)  # as the end of a process would, which frees the lock
    async with opened_file(path) as (app, pilot):
        await pilot.pause(0.1)
        assert "Unsaved work" in screen_text(app)
        await pilot.press("w")
        await pilot.pause(0.1)
        assert "Hall walls: Moss Bank, was Oat Ladle" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause(0.1)
        assert "Unsaved work" in screen_text(app)
        await pilot.press("r")
        await pilot.pause()
        assert app.session
        assert app.session.house == paint_hall(small_house())
        assert app.session.unsaved


def leave_work(path: Path) -> None:
    """As a program that was killed amid unsaved work on a file."""
    held = load_house(path)
    journal = Journal(state_folder(), str(path), held.fingerprint, held.text)
    journal.keep(paint_hall(small_house()))
    os.close(journal._handle)  # as the end of a process would, which frees the lock


async def test_work_on_a_file_that_was_changed_since_is_merged_at_its_save(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    save_house(small_house(), path)
    leave_work(path)
    theirs = replace(small_house(), notes="theirs")
    save_house(theirs, path)
    async with opened_file(path, theirs) as (app, pilot):
        await pilot.pause(0.1)
        assert "changed after that: saving will ask" in " ".join(screen_text(app).split())
        await pilot.press("r")
        await pilot.pause(0.1)
        await pilot.press("ctrl+s")
        assert "Somebody else has changed" in screen_text(app)
        await pilot.press("m")
        await pilot.pause(0.1)
    both = read_house(path)
    assert (both.notes, both.rooms["hall"].paints.walls) == ("theirs", "moss")
    assert left_behind(state_folder()) == ()


async def test_unsaved_work_is_not_offered_in_a_copy_of_its_file(tmp_path: Path) -> None:
    mine, copy = tmp_path / "mine.toml", tmp_path / "copy.toml"
    save_house(small_house(), mine)
    leave_work(mine)
    async with opened_file(copy) as (app, pilot):
        await pilot.pause(0.1)
        assert "Unsaved work" not in screen_text(app)
    async with opened_file(mine) as (app, pilot):
        await pilot.pause(0.1)
        assert "Unsaved work of mine.toml" in screen_text(app)


@pytest.mark.parametrize(("keys", "left"), [("r ctrl+s", 0), ("r ctrl+q ctrl+d", 1), ("d", 1)])
async def test_work_of_a_renamed_file_is_asked_about_by_name_and_kept_until_it_is_saved(
    tmp_path: Path, keys: str, left: int
) -> None:
    old, new = tmp_path / "old.toml", tmp_path / "new.toml"
    save_house(small_house(), old)
    leave_work(old)
    old.unlink()
    async with opened_file(new) as (app, pilot):
        await pilot.pause(0.1)
        shown = screen_text(app)
        assert "Unsaved work of old.toml" in shown
        assert "moved or renamed?" in shown
        for key in keys.split():
            await pilot.press(key)
            await pilot.pause(0.1)
    assert len(left_behind(state_folder())) == left
    wall = read_house(new).rooms["hall"].paints.walls
    assert wall == ("moss" if left == 0 else small_house().rooms["hall"].paints.walls)


async def test_the_start_screen_names_the_file_of_unsaved_work_and_a_changed_one_asks(
    tmp_path: Path,
) -> None:
    path = tmp_path / "mine.toml"
    save_house(small_house(), path)
    leave_work(path)
    save_house(replace(small_house(), name="Another house"), path)
    app = HousemapApp(reporter=shallow_report)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause(0.1)
        assert "mine.toml" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert app.session
        assert app.session.house == paint_hall(small_house())
        await pilot.press("ctrl+s")
        assert "Somebody else has changed" in screen_text(app)


async def test_what_was_typed_and_not_saved_is_back_after_a_crash(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    async with opened_file(path) as (app, pilot):
        screen = house_screen(app)
        screen.run("edit.edit_room")
        await pilot.press(*"Lobby", "escape")
        await pilot.press("l", "n", *"height 2")
        await pilot.pause(0.5)
        journal = screen.safekeeping._journal
        assert journal
        os.close(journal._handle)  # as the end of a process would, which frees the lock
    async with opened_file(path) as (app, pilot):
        await pilot.pause(0.1)
        await pilot.press("w")
        await pilot.pause(0.1)
        assert "Typed and not saved: Lobby" in screen_text(app)
        await pilot.press("escape")
        await pilot.press("r")
        await pilot.pause(0.1)
        assert "What you typed is in its form or line again" in screen_text(app)
        screen = house_screen(app)
        assert not screen.session.unsaved
        screen.run("edit.edit_room")
        await pilot.pause(0.1)
        assert "Lobby" in screen_text(app)
        await pilot.press("escape", "l", "n")
        await pilot.pause(0.1)
        assert "height 2" in screen_text(app)


@pytest.mark.parametrize(("key", "left"), [("d", 1), ("ctrl+d", 0)])
async def test_unsaved_work_is_deleted_only_after_a_second_question(
    tmp_path: Path, key: str, left: int
) -> None:
    path = tmp_path / "house.toml"
    path.write_text(dump_house(small_house()))
    leave_work(path)
    async with opened_file(path) as (app, pilot):
        await pilot.pause(0.1)
        await pilot.press("ctrl+d")
        await pilot.pause(0.1)
        assert "It cannot be brought back" in screen_text(app)
        await pilot.press(key, "escape")
        await pilot.pause()
    assert len(list(left_behind(state_folder()))) == left


async def test_the_start_screen_opens_a_new_house_the_demo_or_a_recent_file(tmp_path: Path) -> None:
    path = tmp_path / "my house.toml"
    async with opened_file(path) as (_, pilot):
        await pilot.pause(0.1)
    app = HousemapApp(reporter=shallow_report)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, StartScreen)
        assert "my house.toml" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert app.session
        assert app.session.house == small_house()


@pytest.mark.parametrize(("key", "name"), [("n", "New house"), ("down down enter", "Alder Row 12")])
async def test_few_keys_open_a_new_house_or_the_demo(key: str, name: str) -> None:
    app = HousemapApp(reporter=shallow_report)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press(*key.split())
        await pilot.pause()
        assert app.session
        assert app.session.house.name == name
        assert app.session.file is None


async def test_a_broken_file_tells_its_faults_and_opens_nothing(tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text("format = 1\n[room.hall]\nnmae = 'x'\n[room.b]\nlevl = 2\n")
    app = HousemapApp(reporter=shallow_report)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        start = app.screen
        assert isinstance(start, StartScreen)
        start.open_file(path)
        await pilot.pause()
        assert "nothing was opened" in screen_text(app)
        assert "Mend the lines named above" in screen_text(app)
        assert "broken.toml:3" in screen_text(app)
        assert app.session is None


async def test_a_deleted_file_is_told_and_saved_again_by_one_key(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    async with opened_file(path) as (app, pilot):
        path.unlink()
        await pilot.pause(1.2)
        assert "deleted or renamed" in screen_text(app)
        await pilot.press("ctrl+s")
        assert "Saved as house.toml. It had been" in screen_text(app)
    assert read_house(path) == small_house()


async def test_that_a_crash_would_lose_the_work_is_said_for_as_long_as_it_is_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "state").write_text("in the way")
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    async with opened_file(tmp_path / "house.toml") as (app, pilot):
        house_screen(app).apply(paint_hall, "edit")
        await pilot.pause(1.6)
        await pilot.press("down")
        await pilot.pause()
        assert "a crash would lose unsaved work" in screen_text(app)
