"""The program starts in order or tells in one line why it does not, and leaves in order too."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from housemap.file.earlier_saves import keep_save
from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.tui.render.look import Settings, read_settings, write_settings
from housemap.workbench.folders import MOST_RECENT, demo_house, recent_houses, remember_house
from tests.support.houses import small_house
from tests.support.terminal import Terminal


@pytest.fixture
def house_file(tmp_path: Path) -> Path:
    path = tmp_path / "house.toml"
    save_house(small_house(), path)
    return path


@pytest.fixture
def terminal(house_file: Path, tmp_path: Path) -> Iterator[Terminal]:
    argv = [sys.executable, "-m", "housemap", str(house_file)]
    with Terminal(argv, home=tmp_path) as running:
        running.wait_for("Kitchen")
        yield running


def test_without_a_terminal_it_says_so_in_one_line(house_file: Path) -> None:
    result = subprocess.run(
        [sys.executable, "-m", "housemap", str(house_file)],
        stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    assert result.returncode == 2
    assert "needs a terminal" in result.stderr
    assert len(result.stderr.splitlines()) == 1


def test_the_first_screen_shows_the_map_the_card_and_the_keys(terminal: Terminal) -> None:
    text = terminal.look()
    for words in ("Alder Row 12", "Kitchen", "1 walls", "colours exact", "? help"):
        assert words in text


def test_a_wall_colour_reaches_the_terminal_unchanged(terminal: Terminal) -> None:
    terminal.look()
    assert {"#7c8468", "#d9d0bf"} <= terminal.backgrounds()


def test_stray_bytes_do_not_end_the_program(terminal: Terminal) -> None:
    terminal.send(b"\x80\xff\xc3(")
    terminal.settle()
    terminal.press("v")
    terminal.settle()
    assert terminal.exit_status() is None


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGQUIT])
def test_it_ends_in_order_when_told_to(terminal: Terminal, number: signal.Signals) -> None:
    terminal.look()
    terminal.signal(number)
    assert terminal.wait_exit() == 128 + number
    assert "Traceback" not in terminal.text


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT, signal.SIGQUIT])
def test_told_to_end_while_it_starts_it_gives_the_terminal_back(
    house_file: Path, tmp_path: Path, number: signal.Signals
) -> None:
    """At the moment when it has just taken the terminal over."""
    argv = [sys.executable, "-m", "housemap", str(house_file)]
    with Terminal(argv, home=tmp_path) as running:
        before = running.modes()
        running.wait_until(lambda: running.modes() != before, "the terminal was never taken over")
        running.signal(number)
        assert running.wait_exit() == 128 + number
        assert running.modes() == before
        assert "Traceback" not in running.text


def test_ctrl_c_before_there_is_a_screen_is_no_crash(house_file: Path, tmp_path: Path) -> None:
    script = (
        "import time; from housemap.cli import main; from housemap.tui import opening\n"
        "opening.look_ahead = lambda _: (print('here', flush=True), time.sleep(60))\n"
        "raise SystemExit(main())"
    )
    with Terminal([sys.executable, "-c", script, str(house_file)], home=tmp_path) as running:
        running.wait_for("here")
        running.press("ctrl+c")
        assert running.wait_exit() == 130
        assert "Traceback" not in running.text


def test_keys_typed_after_quit_are_let_go(terminal: Terminal) -> None:
    """Else the deck, opened by a program that ends, finds none of its widgets."""
    terminal.press("ctrl+q", "d", "?", "p", "b", "w", "a")
    assert terminal.wait_exit() == 0
    assert "Traceback" not in terminal.text


def test_unsaved_work_outlives_the_end_of_the_program(
    terminal: Terminal, house_file: Path, tmp_path: Path
) -> None:
    terminal.wait_for("finding")
    terminal.press("enter")
    terminal.wait_for("by findings")
    terminal.press("down", "enter")
    terminal.wait_for("not saved")
    terminal.signal(signal.SIGHUP)
    assert terminal.wait_exit() == 128 + signal.SIGHUP
    assert "what was not saved has been kept" in terminal.text
    with Terminal([sys.executable, "-m", "housemap", str(house_file)], home=tmp_path) as again:
        again.wait_for("Unsaved work")
        again.press("r")
        again.wait_for("not saved")


def test_quitting_gives_status_0(terminal: Terminal) -> None:
    terminal.press("ctrl+q")
    assert terminal.wait_exit() == 0


def test_no_color_draws_with_the_terminals_own_colours(house_file: Path, tmp_path: Path) -> None:
    argv = [sys.executable, "-m", "housemap", str(house_file)]
    with Terminal(argv, home=tmp_path, env={"NO_COLOR": "1"}) as running:
        running.wait_for("Kitchen")
        running.look()
        assert "colours off" in running.text
        assert running.backgrounds() <= {"default", ""}
        assert "Kitchen" in running.text


def test_a_broken_file_tells_every_fault_and_gives_status_2(tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text("format = 1\n[room.hall]\nnmae = 'x'\n[room.b]\nlevl = 2\n")
    argv = [sys.executable, "-m", "housemap", str(path)]
    with Terminal(argv, home=tmp_path, size=(160, 24)) as running:
        assert running.wait_exit() == 2
        assert "broken.toml:3: " in running.text
        assert "broken.toml:5: " in running.text
        assert "No copy of it is kept here." in running.text
    path.with_name("broken.toml~").write_text("format = 1\n")
    keep_save(tmp_path / ".local" / "state" / "housemap", path)
    with Terminal(argv, home=tmp_path, size=(160, 24)) as running:
        assert running.wait_exit() == 2
        assert "broken.toml~" in running.text
        assert "2 earlier saves, the newest of " in running.text
        assert "housemap saves " in running.text
        assert "Traceback" not in running.text


def test_a_file_that_is_not_there_is_told_in_a_line(tmp_path: Path) -> None:
    argv = [sys.executable, "-m", "housemap", "nowhere.toml"]
    with Terminal(argv, home=tmp_path) as running:
        assert running.wait_exit() == 2
        assert (
            "nowhere.toml: there is no such file. To begin a house, type housemap" in running.text
        )


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with a name")
def test_a_pipe_or_a_folder_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    for path in (tmp_path, tmp_path / "pipe.toml"):
        argv = [sys.executable, "-m", "housemap", str(path)]
        with Terminal(argv, home=tmp_path, size=(160, 24)) as running:
            assert running.wait_exit() == 2
            assert "is not a file" in running.text


def test_the_demo_house_is_there_and_can_be_read() -> None:
    assert len(read_house(demo_house()).rooms) >= 14


def test_recent_houses_are_remembered_newest_first(tmp_path: Path) -> None:
    paths = [tmp_path / f"h{i}.toml" for i in range(MOST_RECENT + 3)]
    for path in paths:
        path.touch()
        remember_house(path)
    assert list(recent_houses()) == paths[::-1][:MOST_RECENT]
    paths[-1].unlink()
    assert recent_houses()[0] == paths[-2]


@pytest.mark.parametrize("content", ["", "{", '{"a": 1}', "[1, null]", '["\\u0000"]'])
def test_a_spoilt_list_of_recent_houses_is_an_empty_one(tmp_path: Path, content: str) -> None:
    folder = tmp_path / "state"
    folder.mkdir()
    (folder / "recent.json").write_text(content)
    assert recent_houses() == ()


def test_settings_are_remembered_and_spoilt_ones_forgotten(tmp_path: Path) -> None:
    assert read_settings() == Settings()
    write_settings(Settings(light=True))
    assert read_settings() == Settings(light=True)
    (tmp_path / "state" / "screen.json").write_text(json.dumps({"light": "yes"}))
    assert read_settings() == Settings()
