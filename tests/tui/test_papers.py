"""Samples, the schedule and all paints, driven by keys."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from housemap.file.earlier_saves import keep_save
from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.model.edits import assign, put
from housemap.model.house import House, Sample
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.samples import SamplesPanel
from housemap.tui.tasks.schedule import ScheduleScreen
from housemap.workbench.session import Session
from tests.support.houses import paint, small_house
from tests.support.screens import (
    app_on,
    run_command,
    screen_text,
    shallow_report,
    until,
    until_shown,
)

SIZE = (120, 40)


def unsampled() -> House:
    return replace(small_house(), samples={})


def samples(app: HousemapApp) -> list[Sample]:
    assert app.session
    return list(app.session.house.samples.values())


def written(folder: Path) -> list[Path]:
    return list(folder.glob("*schedule*"))


@pytest.mark.parametrize(
    ("key", "verdict"),
    [("enter a", "keep"), ("enter n", "unsure"), ("enter r", "reject"), ("n", None)],
)
async def test_a_look_is_logged_by_two_keys_and_what_was_seen(key: str, verdict: str) -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", *key.split(), *"green", "enter")
        await pilot.pause()
        [made] = samples(app)
        light = "day" if verdict else None  # who only puts it up has not looked yet
        assert (made.verdict, made.seen, made.light) == (verdict, "green", light)
        assert made.when == dt.datetime.now().astimezone().date()
        assert app.session
        assert made.room == app.session.selection.room
        await pilot.press("u")
        assert samples(app) == []


async def test_escape_at_the_question_logs_nothing() -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter", "a", *"green", "escape")
        await pilot.pause()
        assert samples(app) == []


async def test_the_light_shown_is_the_light_logged_and_an_arrow_names_another_wall() -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "t", "t", "enter", "a", "enter")
        await pilot.press("right", "enter", "t", "a", "enter")  # by day is what is left to see
        await pilot.pause()
        first, second = samples(app)
        assert first.light == second.light == "evening"
        assert first.wall != second.wall


async def test_the_verdict_stands_in_the_panel_and_on_the_map() -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter", "r", "enter")
        await until_shown(app, pilot, "✗R rejected")
        await pilot.press("escape")
        await pilot.pause()
        assert "✗R" in screen_text(app)


async def test_what_was_seen_stands_beside_what_was_predicted() -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter", "n", *"pinkish", "enter")
        await until_shown(app, pilot, "pinkish")
        assert "unsure:" in screen_text(app)
        assert "predicted by day" in screen_text(app)


async def test_the_form_edits_the_newest_sample() -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter", "a", "enter", "e")
        await until_shown(app, pilot, "Sample Oat Ladle in Hall")


@pytest.mark.parametrize("scope", [[], ["h"]])
async def test_a_closed_form_leads_back_to_the_sample_it_came_from(scope: list[str]) -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "down", "enter", "a", "enter", *scope, "e")
        await until_shown(app, pilot, "Sample ")
        before = app.screen.query(SamplesPanel)
        assert not before
        await pilot.press("escape")
        await pilot.pause()
        [panel] = app.screen.query(SamplesPanel)
        assert panel.whole is bool(scope)
        [made] = samples(app)
        assert panel.chosen == (made.paint, made.room, "walls")


async def test_a_taken_form_leads_back_too_and_says_what_was_done() -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter", "a", "enter", "e")
        await until_shown(app, pilot, "Sample Oat Ladle in Hall")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert app.screen.query(SamplesPanel)


async def test_delete_takes_the_newest_sample() -> None:
    app = app_on(unsampled())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter", "a", "enter", "delete")
        await pilot.pause()
        assert samples(app) == []
        assert app.screen.query(SamplesPanel)


def files_in(folder: Path) -> list[Path]:
    return list(folder.iterdir())


async def until_there(pilot: Pilot[None], path: Path) -> None:
    """Wait until a file has been written."""
    await until(pilot, lambda: path in files_in(path.parent))


async def test_the_schedule_is_shown_and_written_beside_the_house_file(tmp_path: Path) -> None:
    path = tmp_path / "row.toml"
    save_house(small_house(), path)
    app = HousemapApp(Session.read(path), reporter=shallow_report)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "draft of")
        assert isinstance(app.screen, ScheduleScreen)
        await pilot.press("ctrl+s", "f", "enter")
        await until_shown(app, pilot, "Written to")
        assert (tmp_path / "row-schedule.html").read_text("utf-8").startswith("<!doctype html>")
        await pilot.press("ctrl+s", "f", "end", *["backspace"] * 4, *"md", "enter")
        await until_there(pilot, tmp_path / "row-schedule.md")
        assert (tmp_path / "row-schedule.md").read_text("utf-8").startswith("# Paint schedule")
        await pilot.press("ctrl+s", "p", "enter")
        await until_there(pilot, tmp_path / "row-painter.html")
        page = (tmp_path / "row-painter.html").read_text("utf-8")
        assert "<title>Painting specification: Alder Row 12</title>" in page
        assert read_house(path) == small_house()


async def take_before_from(app: HousemapApp, pilot: Pilot[None], name: str, offered: str) -> None:
    """Say on the schedule that the house is painted as another house file has it."""
    await pilot.press("e")
    await until_shown(app, pilot, offered)
    await pilot.press("f")
    await until_shown(app, pilot, "Which house file")
    await pilot.press(*name, "enter")


async def test_coats_follow_the_colours_before_from_a_file_or_an_earlier_save(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    path = tmp_path / "row.toml"
    dark = put(small_house(), "paints", "peat", paint("#3a3630", "Peat"))
    dark = assign(dark, "hall", "walls", "peat")
    save_house(dark, path)
    keep_save(tmp_path / "state", path)
    save_house(small_house(), path)
    save_house(dark, tmp_path / "found.toml")
    app = HousemapApp(Session.read(path), reporter=shallow_report)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "2 coats")
        assert "3 coats" not in screen_text(app)
        await pilot.press("e")
        await until_shown(app, pilot, "walls painted now")
        await pilot.press("1")
        await until_shown(app, pilot, "3 coats")
        await pilot.press("e")
        await until_shown(app, pilot, "not known")
        await pilot.press("n")
        await until_shown(app, pilot, "The colours before are not known")
        await take_before_from(app, pilot, "found.toml", "another house file")
        await until_shown(app, pilot, "3 coats")
        await pilot.press("escape", "p")
        await until_shown(app, pilot, "3 coats")  # it is still known


async def test_a_file_before_that_is_no_house_is_told_and_changes_nothing(tmp_path: Path) -> None:
    path, other = tmp_path / "row.toml", tmp_path / "other.toml"
    save_house(small_house(), path)
    other.write_text("no house")
    app = HousemapApp(Session.read(path), reporter=shallow_report)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "2 coats")
        await take_before_from(app, pilot, "other.toml", "another house file")
        await until_shown(app, pilot, "other.toml")
        assert "2 coats" in screen_text(app)


async def test_an_ending_that_is_no_form_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "row.toml"
    save_house(small_house(), path)
    app = HousemapApp(Session.read(path), reporter=shallow_report)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "draft of")
        await pilot.press("ctrl+s", "f", "x", "enter")
        await until_shown(app, pilot, "the ending must be")
    assert written(tmp_path) == []


async def test_a_file_that_is_there_is_replaced_only_when_that_is_wanted(tmp_path: Path) -> None:
    path, there = tmp_path / "row.toml", tmp_path / "row-schedule.html"
    save_house(small_house(), path)
    there.write_text("mine")
    app = HousemapApp(Session.read(path), reporter=shallow_report)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "draft of")
        await pilot.press("ctrl+s", "f", "enter")
        await until_shown(app, pilot, "There is a file")
        await pilot.press("escape")
        assert there.read_text() == "mine"


async def test_the_shopping_list_is_copied_by_one_key() -> None:
    app = app_on(small_house())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "draft of")
        await pilot.press("c")
        await until_shown(app, pilot, "Copied the shopping list")
        assert "Oat Ladle (A-102)" in app.clipboard
        assert "OSC 52" in screen_text(app)


async def test_the_paints_of_a_room_are_copied_by_the_same_key() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(160, 40)) as pilot:
        await pilot.press("c")
        await until_shown(
            app, pilot, "Copied Hall as text. To paint a room like it: ctrl+p, same as."
        )
        assert app.clipboard.startswith("Hall: walls Oat Ladle (A-102)")
        assert "OSC 52" in screen_text(app)


async def test_parts_of_the_schedule_are_gone_through_by_one_key() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(100, 20)) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "draft of")
        await pilot.press("tab")
        await until_shown(app, pilot, "Cautions")
        await pilot.press("shift+tab")
        await until_shown(app, pilot, "draft of")


async def test_all_paints_by_area_and_by_view() -> None:
    app = app_on(small_house())
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "draft of")
        await pilot.press("v")
        await until_shown(app, pilot, "By area")
        await until_shown(app, pilot, "Oat Ladle")
        await pilot.press("v")
        await until_shown(app, pilot, "By view")
        await run_command(app, pilot, "light-day")
        await until_shown(app, pilot, "by day")
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(app.screen, ScheduleScreen)
