"""Two keys that come at once leave one screen, not also the one below it."""

import asyncio
import sys
from pathlib import Path

import pytest
from textual.events import Key

from housemap.file.save import save_house
from housemap.tui.app import HousemapApp
from housemap.tui.background import Outcome
from housemap.tui.finder import Finder
from housemap.tui.house_screen import HouseScreen
from housemap.tui.questions import Choice
from housemap.tui.tasks.edit import FormPanel
from housemap.tui.tasks.samples import SamplesPanel
from housemap.tui.text_fields import Prompt
from tests.support.houses import small_house
from tests.support.screens import app_on, until_shown
from tests.support.terminal import Terminal


def send_twice(app: HousemapApp, key: str) -> None:
    """Both are in the queue of the screen before it has looked at the first."""
    for _ in range(2):
        (app.focused or app.screen)._forward_event(Key(key, key if len(key) == 1 else None))


@pytest.mark.parametrize("key", ["y", "escape"])
async def test_a_question_is_answered_once(key: str) -> None:
    app, answers = app_on(small_house()), list[str]()
    async with app.run_test() as pilot:
        await pilot.pause()
        house = app.screen
        assert isinstance(house, HouseScreen)
        house.ask("Is it?", [Choice("y", "yes", lambda: answers.append("yes"))], "no")
        await pilot.pause()
        send_twice(app, key)
        await pilot.pause()
        assert answers == (["yes"] if key == "y" else [])
        assert isinstance(app.screen, HouseScreen)
        assert app.is_running


async def test_a_line_is_given_once() -> None:
    app, lines = app_on(small_house()), list[str | None]()
    async with app.run_test() as pilot:
        await pilot.pause()
        app.push_screen(Prompt("Name?", "x", app.look, {}), lines.append)
        await pilot.pause()
        send_twice(app, "enter")
        await pilot.pause()
        assert lines == ["x"]
        assert isinstance(app.screen, HouseScreen)


@pytest.mark.parametrize("opened_by", ["question_mark", "ctrl+p", "d", "p", "k"])
async def test_any_other_screen_is_left_once(opened_by: str) -> None:
    app = app_on(small_house())
    async with app.run_test() as pilot:
        await pilot.pause()
        await pilot.press(opened_by)
        await pilot.pause()
        assert not isinstance(app.screen, HouseScreen)
        send_twice(app, "escape")
        await pilot.pause()
        assert isinstance(app.screen, HouseScreen)
        assert app.is_running


@pytest.mark.parametrize("key", ["pagedown", "pageup", "down", "enter"])
async def test_the_finder_takes_keys_before_it_is_laid_out(key: str) -> None:
    app = app_on(small_house())
    async with app.run_test(size=(40, 8)) as pilot:
        await pilot.pause()
        app.action_open_page("finder")
        finder = app.screen
        for _ in range(20):
            finder._forward_event(Key(key, None))
            await asyncio.sleep(0.005)
        assert app.is_running


async def test_the_finder_opens_again_while_it_is_being_left() -> None:
    app = app_on(small_house())
    async with app.run_test() as pilot:
        await pilot.pause()
        app.action_open_page("finder")
        await pilot.pause()
        app.screen.dismiss()
        app.action_open_page("finder")
        await pilot.pause()
        assert isinstance(app.screen, Finder)


async def test_a_sample_is_opened_once() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        await pilot.press("s")
        await until_shown(app, pilot, "Samples")
        house = app.screen
        assert isinstance(house, HouseScreen)
        assert isinstance(house.panel, SamplesPanel)
        send_twice(app, "e")
        await pilot.pause()
        assert app.is_running
        assert house.panel.CONTEXT == FormPanel.CONTEXT


async def test_nothing_more_is_done_once_the_program_was_told_to_end() -> None:
    app = app_on(small_house())
    async with app.run_test() as pilot:
        await pilot.pause()
        app.exit()
        await app.run_action("help")
        assert isinstance(app.screen, HouseScreen)


async def test_what_a_thread_finds_is_told_no_more_once_the_program_ends() -> None:
    app = app_on(small_house())
    async with app.run_test() as pilot:
        await pilot.pause()
        house = app.screen
        assert house.post_message(Outcome(bool))
        app.exit()
        assert not house.post_message(Outcome(bool))


def test_quitting_does_not_wait_for_what_is_computed(tmp_path: Path) -> None:
    script = (
        "import threading, time\n"
        "from housemap.cli import run\n"
        "from housemap.workbench import reporting\n"
        "reporting.next_report = lambda house, known: time.sleep(600)\n"
        "run()"
    )
    save_house(small_house(), tmp_path / "house.toml")
    argv = [sys.executable, "-c", script, str(tmp_path / "house.toml")]
    with Terminal(argv, home=tmp_path) as terminal:
        terminal.wait_for("Hall")
        terminal.press("ctrl+q")
        assert terminal.wait_exit() == 0
