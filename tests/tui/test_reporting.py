"""The first findings come before the light; no edit waits for light, and none is forgotten."""

from collections.abc import Callable
from typing import Any, cast

import pytest

from housemap.checks import Report, report_of
from housemap.checks.examples import two_rooms
from housemap.errors import ColourError
from housemap.model.edits import assign
from housemap.model.house import House
from housemap.tui.reporting import Reported, Reporting, next_report
from housemap.workbench.session import Session

HOUSE = two_rooms("5Y 8.5/1", "5PB 3/6", "open", trim="N 9.3/")
REPAINTED = assign(HOUSE, "study", "walls", "trim")


class Owner:
    """Holds jobs back until the test runs them."""

    def __init__(self) -> None:
        self.jobs: dict[str, Callable[[], None]] = {}
        self.messages: list[Reported] = []

    def call_after_refresh(self, call: Callable[[], None]) -> None:
        call()

    def run_worker(self, work: Callable[[], None], *, thread: bool, group: str) -> None:
        assert thread
        assert group not in self.jobs, "one job at a time in each lane"
        self.jobs[group] = work

    def post_message(self, message: Reported) -> None:
        self.messages.append(message)


class Desk:
    """A session whose reports are made one by one."""

    def __init__(self, reporter: Callable[[House, Report | None], Report] = next_report) -> None:
        self.owner = Owner()
        self.session = Session.of(HOUSE)
        self.reporting = Reporting(cast("Any", self.owner), self.session, reporter)
        self.reporting.request()

    def finish(self, lane: str) -> Report | None:
        self.owner.jobs.pop(lane)()
        message = self.owner.messages.pop()
        self.reporting.take(message)
        return message.report


def test_the_first_report_is_plain_and_light_follows() -> None:
    desk = Desk()
    assert "light" not in desk.owner.jobs
    first = desk.finish("report")
    assert first is not None
    assert first.deep is None
    assert desk.session.report is first
    second = desk.finish("light")
    assert second is not None
    assert second.deep is not None
    assert desk.session.report is second
    assert not desk.owner.jobs


def test_an_edit_is_reported_on_while_the_light_of_the_old_house_is_computed() -> None:
    desk = Desk()
    desk.finish("report")
    desk.session.apply(REPAINTED, "paint it")
    desk.reporting.request()
    assert set(desk.owner.jobs) == {"report", "light"}
    desk.finish("report")
    assert desk.session.report_is_current
    assert desk.session.base_is_current


def test_the_light_of_an_older_house_still_serves_the_new_one() -> None:
    desk = Desk()
    desk.finish("report")
    desk.session.apply(REPAINTED, "paint it")
    desk.reporting.request()
    desk.finish("report")
    desk.finish("light")
    desk.finish("report")
    assert desk.session.report_is_current
    assert desk.session.report is not None
    assert desk.session.report.deep is not None
    assert desk.session.report.findings == report_of(REPAINTED).findings


def test_after_an_edit_of_a_house_with_its_light_known_one_job_is_enough() -> None:
    desk = Desk()
    desk.finish("report")
    desk.finish("light")
    desk.session.apply(REPAINTED, "paint it")
    desk.reporting.request()
    assert set(desk.owner.jobs) == {"report"}
    report = desk.finish("report")
    assert report is not None
    assert report.findings == report_of(REPAINTED).findings
    assert not desk.owner.jobs


def test_what_is_tried_out_is_reported_on_and_the_decided_house_keeps_its_report() -> None:
    desk = Desk()
    desk.finish("report")
    desk.finish("light")
    decided = desk.session.base
    desk.session.try_out(REPAINTED)
    desk.reporting.request()
    desk.finish("report")
    assert desk.session.report_is_current
    assert desk.session.base is decided
    desk.session.try_out(None)
    assert desk.session.report is decided


def test_a_report_that_somebody_else_made_is_not_made_again() -> None:
    desk = Desk()
    desk.finish("report")
    desk.finish("light")
    known = report_of(REPAINTED)
    desk.session.try_out(known.house)
    desk.reporting.know(known)
    desk.reporting.request()
    assert desk.session.report is known
    assert not desk.owner.jobs


def test_a_house_that_cannot_be_reported_on_is_told_once() -> None:
    def fail(_house: House, _previous: Report | None) -> Report:
        raise ColourError("no such light")

    desk = Desk(fail)
    desk.owner.jobs.pop("report")()
    [message] = desk.owner.messages
    desk.reporting.take(message)
    assert message.fault == "no such light"
    assert not desk.owner.jobs


@pytest.mark.parametrize("edits", [1, 3])
def test_the_last_report_is_that_of_the_last_house(edits: int) -> None:
    desk = Desk()
    desk.finish("report")
    for number in range(edits):
        paint = ("trim", "hall")[number % 2]
        desk.session.apply(assign(desk.session.house, "study", "walls", paint), "paint it")
        desk.reporting.request()
    while desk.owner.jobs:
        desk.finish(next(iter(desk.owner.jobs)))
    assert desk.session.report is not None
    assert desk.session.report.findings == report_of(desk.session.house).findings
