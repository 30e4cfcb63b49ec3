"""What another process makes of a file while Textual is imported."""

import os
from pathlib import Path
from threading import Event
from typing import NoReturn

import pytest
from rich.style import Style
from textual.strip import Strip

from housemap.errors import HousemapError
from housemap.model.house import House
from housemap.tui import ahead
from housemap.tui.ahead import Ahead, Start, look_ahead
from housemap.tui.app import EXACT, HousemapApp
from housemap.tui.render.cells import text_of
from housemap.tui.render.first import first_rows
from housemap.tui.strips import strip_of
from housemap.workbench.session import Session
from tests.support.project import DEMO
from tests.support.screens import screen_text, until_shown

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no other process to be had")


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ahead, "_cores", lambda: 2)


def of_file(path: Path) -> Ahead:
    made = look_ahead(Start(path, read_only=True, depth=EXACT, ascii_only=False))
    assert made
    return made


@pytest.mark.parametrize("size", [(80, 24), (160, 48)])
async def test_the_first_picture_is_what_the_main_screen_shows(size: tuple[int, int]) -> None:
    done = Event()

    def no_report_yet(_house: House, _previous: object) -> NoReturn:
        done.wait()
        raise HousemapError("the test is over")

    app = HousemapApp(Session.read(DEMO), reporter=no_report_yet)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        shown = app.screen._compositor.render_strips()
        done.set()
    rows = first_rows(Session.read(DEMO), EXACT, *size, ascii_only=False)
    for row, strip in zip(rows, shown, strict=True):
        assert cells_of(strip_of(row, size[0])) == cells_of(strip)


def cells_of(strip: Strip) -> list[tuple[str, Style | None]]:
    return [(char, segment.style) for segment in strip for char in segment.text]


def test_a_session_from_the_other_process_is_the_one_read_here() -> None:
    here, there = Session.read(DEMO, read_only=True), of_file(DEMO).session()
    assert there
    assert (there.house, there.selection, there.read_only) == (here.house, here.selection, True)
    assert there.file == here.file
    assert there.plan == here.plan
    assert not there.unsaved


def test_the_picture_may_be_taken_or_left() -> None:
    taken = of_file(DEMO)
    picture = taken.picture(30.0)
    assert picture
    assert "Kitchen" in text_of(picture.rows)
    assert taken.session()


def test_a_file_with_faults_is_left_to_this_process(tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text("format = ")
    made = of_file(path)
    assert made.picture(30.0) is None
    assert made.session() is None


def test_one_core_is_left_in_peace(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(ahead, "_cores", lambda: 1)
    assert look_ahead(Start(DEMO, read_only=False, depth=EXACT, ascii_only=False)) is None


def test_where_no_more_processes_are_to_be_had_the_program_goes_on_alone(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refused() -> NoReturn:
        raise BlockingIOError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(os, "fork", refused)
    held = len([*Path("/dev/fd").iterdir()])
    assert look_ahead(Start(DEMO, read_only=False, depth=EXACT, ascii_only=False)) is None
    assert len([*Path("/dev/fd").iterdir()]) == held


async def test_the_program_goes_on_with_what_was_read_ahead() -> None:
    app = HousemapApp(file=DEMO, ahead=of_file(DEMO))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(app, pilot, "Kitchen")
        await pilot.press("n")
        assert "Kitchen" in screen_text(app)
        assert app.session
