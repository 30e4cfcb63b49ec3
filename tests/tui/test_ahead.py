"""What another process makes of a file while Textual is imported."""

import os
import signal
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from threading import Event
from typing import BinaryIO, NoReturn

import pytest
from rich.style import Style
from textual.strip import Strip

from housemap.checks import Report, report_of
from housemap.errors import HousemapError
from housemap.file import processes
from housemap.model import edits
from housemap.model.house import House
from housemap.tui.ahead import Ahead, Start, look_ahead, work
from housemap.tui.app import EXACT, HousemapApp
from housemap.tui.map.drawing import Drawing
from housemap.tui.render.cells import text_of
from housemap.tui.render.first import first_rows
from housemap.tui.strips import strip_of
from housemap.workbench import reporting
from housemap.workbench.session import Session
from tests.support.project import DEMO
from tests.support.screens import screen_text, until_shown

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="no other process to be had")


@pytest.fixture(autouse=True)
def two_cores(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(processes, "cores", lambda: 2)


DEMO_READ_ONLY = Start(DEMO, read_only=True, depth=EXACT, ascii_only=False)
Open = Callable[[Path], Ahead]


@pytest.fixture
def of_file() -> Iterator[Open]:
    """Has a file looked at by another process, which ends with the test."""
    every = []

    def look(path: Path) -> Ahead:
        made = look_ahead(Start(path, read_only=True, depth=EXACT, ascii_only=False))
        assert made
        every.append(made)
        return made

    yield look
    for each in every:
        each.stop()


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
    rows = first_rows(Session.read(DEMO), Drawing(), EXACT, *size, ascii_only=False)
    for row, strip in zip(rows, shown, strict=True):
        assert cells_of(strip_of(row, size[0])) == cells_of(strip)


def cells_of(strip: Strip) -> list[tuple[str, Style | None]]:
    return [(char, segment.style) for segment in strip for char in segment.text]


def test_a_session_from_the_other_process_is_the_one_read_here(of_file: Open) -> None:
    here, there = Session.read(DEMO, read_only=True), of_file(DEMO).session()
    assert there
    assert (there.house, there.selection, there.read_only) == (here.house, here.selection, True)
    assert there.file == here.file
    assert there.plan == here.plan
    assert not there.unsaved


def test_the_picture_may_be_taken_or_left(of_file: Open) -> None:
    taken = of_file(DEMO)
    picture = taken.picture(30.0)
    assert picture
    assert "Kitchen" in text_of(picture.rows)
    assert taken.session()


def test_the_map_of_the_picture_is_the_first_of_the_screen(of_file: Open) -> None:
    there = of_file(DEMO)
    session, drawing = there.session(), there.drawing
    assert session
    assert drawing
    assert drawing.view
    assert drawing.selected
    assert drawing.view.scene.house is session.house
    picture, blocks = drawing.selected.picture, {**drawing.view.scene.blocks}
    again = drawing.view._replace(scene=replace(drawing.view.scene, blocks=blocks))
    assert drawing.draw(again) == []
    assert drawing.selected.picture is picture


def test_a_file_with_faults_is_left_to_this_process(of_file: Open, tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text("format = ")
    made = of_file(path)
    assert made.picture(30.0) is None
    assert made.session() is None


def test_one_core_is_left_in_peace(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(processes, "cores", lambda: 1)
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


@pytest.fixture
def stream(tmp_path: Path) -> Iterator[BinaryIO]:
    """What the other process sends of the demo, made here: threads of other tests may compute."""
    with (tmp_path / "sent").open("w+b") as sent:
        work(DEMO_READ_ONLY, sent)
        sent.seek(0)
        yield sent


async def test_the_program_goes_on_with_what_was_read_and_found_ahead(
    stream: BinaryIO, monkeypatch: pytest.MonkeyPatch
) -> None:
    made_here: list[object] = []
    monkeypatch.setattr(reporting, "next_report", lambda *each: made_here.append(each))
    app = HousemapApp(file=DEMO, ahead=Ahead(None, stream))
    async with app.run_test(size=(100, 30)) as pilot:
        await until_shown(app, pilot, "findings")
        await pilot.press("n")
        assert "Kitchen" in screen_text(app)
        assert app.session
    assert not made_here


def repainted(house: House) -> House:
    return edits.assign(house, "kitchen", "walls", "coal-barge")


def found(report: Report) -> list[tuple[object, str]]:
    return [(finding.key, finding.severity) for finding in report.findings]


@pytest.fixture
def one_by_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each report is taken before the next has come."""
    monkeypatch.setattr(Ahead, "_has_come", lambda _self, within_s: within_s is None)


def test_a_report_that_has_come_already_is_taken_at_once(stream: BinaryIO) -> None:
    there = Ahead(None, stream)
    session = there.session()
    assert session
    report = there.report(session.house, None)
    assert report.deep is not None
    assert report.house is session.house


@pytest.mark.usefixtures("one_by_one")
def test_reports_of_the_other_process_are_those_made_here(stream: BinaryIO) -> None:
    there = Ahead(None, stream)
    session = there.session()
    assert session
    plain = there.report(session.house, None)
    deep = there.report(session.house, plain)
    assert plain.house is deep.house is session.house
    assert plain.deep is None
    assert found(deep) == found(report_of(session.house))
    there.finish()
    joined = deep.study.lighting.light.joined.values()
    assert all("solved" in vars(each) for each in joined)  # else the first edit computes it
    edited = repainted(session.house)
    after = there.report(edited, deep)
    assert found(after) == found(report_of(edited))
    lit, before = after.study.lighting.light.rooms, deep.study.lighting.light.rooms
    assert sum(lit[room] is before[room] for room in lit) > len(lit) / 2


@pytest.mark.usefixtures("one_by_one")
def test_a_house_that_is_edited_meanwhile_is_reported_on_as_it_is(stream: BinaryIO) -> None:
    there = Ahead(None, stream)
    session = there.session()
    assert session
    edited = repainted(session.house)
    at_once = there.report(edited, there.report(session.house, None))
    assert (at_once.house, at_once.deep) == (edited, None)
    assert found(there.report(edited, at_once)) == found(report_of(edited))


def test_a_report_asked_for_anew_time_after_time_is_never_something_else(stream: BinaryIO) -> None:
    """As where the one before was not taken up: the house was edited and the edit undone."""
    there = Ahead(None, stream)
    session = there.session()
    assert session
    for _ in range(4):
        asked = there.report(session.house, None)
        assert asked.house is session.house
    there.finish()
    assert found(there.report(session.house, asked)) == found(report_of(session.house))


@pytest.mark.parametrize("share", [0.1, 0.5])
def test_reports_are_made_here_where_the_other_process_ends_early(
    stream: BinaryIO, share: float
) -> None:
    stream.truncate(int(stream.seek(0, os.SEEK_END) * share))
    stream.seek(0)
    there = Ahead(None, stream)
    session = there.session()
    assert session
    plain = there.report(session.house, None)
    deep = there.report(session.house, plain)
    there.finish()
    assert found(deep) == found(report_of(session.house))


def test_the_other_process_ends_with_the_program(of_file: Open) -> None:
    there = of_file(DEMO)
    pid = there._pid
    assert pid
    there.stop()
    with suppress(ChildProcessError):  # it is no child any more
        assert os.waitpid(pid, 0) == (pid, signal.SIGKILL)
    there.stop()


def test_nothing_is_computed_any_more_where_the_program_has_ended(stream: BinaryIO) -> None:
    there = Ahead(None, stream)
    session = there.session()
    assert session
    there.stop()
    with pytest.raises(HousemapError):
        there.report(session.house, None)
