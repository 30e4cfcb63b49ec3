"""The first findings come before the light; no edit waits for light, and none is forgotten."""

from collections.abc import Callable

import pytest

from housemap.checks import Report, report_of
from housemap.checks.examples import two_rooms
from housemap.errors import ColourError
from housemap.model.edits import assign
from housemap.model.house import House
from housemap.workbench.reporting import Reported, Reporting, next_report
from housemap.workbench.session import Session

HOUSE = two_rooms("5Y 8.5/1", "5PB 3/6", "open", trim="N 9.3/")
REPAINTED = assign(HOUSE, "study", "walls", "trim")


class HeldBack:
    """A runner that holds jobs back until the test runs them."""

    def __init__(self) -> None:
        self.jobs: dict[str, Callable[[], None]] = {}

    def soon(self, call: Callable[[], None]) -> None:
        call()

    def after(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        raise AssertionError((seconds, call))

    def beside(self, group: str, work: Callable[[], None]) -> None:
        assert group not in self.jobs, "one job at a time in each lane"
        self.jobs[group] = work

    def post(self, call: Callable[[], object]) -> None:
        call()


class Bench:
    """A session whose reports are made one by one."""

    def __init__(self, reporter: Callable[[House, Report | None], Report] = next_report) -> None:
        self.runner = HeldBack()
        self.session = Session.of(HOUSE)
        self.outcomes: list[Reported] = []
        self.reporting = Reporting(self.runner, self.session, reporter, self.outcomes.append)
        self.reporting.request()

    def finish(self, lane: str) -> Report | None:
        self.runner.jobs.pop(lane)()
        outcome = self.outcomes.pop()
        self.reporting.take(outcome)
        return outcome.report


def test_the_first_report_is_plain_and_light_follows() -> None:
    bench = Bench()
    assert "light" not in bench.runner.jobs
    first = bench.finish("report")
    assert first is not None
    assert first.deep is None
    assert bench.session.report is first
    second = bench.finish("light")
    assert second is not None
    assert second.deep is not None
    assert bench.session.report is second
    assert not bench.runner.jobs


def test_an_edit_is_reported_on_while_the_light_of_the_old_house_is_computed() -> None:
    bench = Bench()
    bench.finish("report")
    bench.session.apply(REPAINTED, "paint it")
    bench.reporting.request()
    assert set(bench.runner.jobs) == {"report", "light"}
    bench.finish("report")
    assert bench.session.report_is_current
    assert bench.session.base_is_current


def test_the_light_of_an_older_house_still_serves_the_new_one() -> None:
    bench = Bench()
    bench.finish("report")
    bench.session.apply(REPAINTED, "paint it")
    bench.reporting.request()
    bench.finish("report")
    bench.finish("light")
    bench.finish("report")
    assert bench.session.report_is_current
    assert bench.session.report is not None
    assert bench.session.report.deep is not None
    assert bench.session.report.findings == report_of(REPAINTED).findings


def test_after_an_edit_of_a_house_with_its_light_known_one_job_is_enough() -> None:
    bench = Bench()
    bench.finish("report")
    bench.finish("light")
    bench.session.apply(REPAINTED, "paint it")
    bench.reporting.request()
    assert set(bench.runner.jobs) == {"report"}
    report = bench.finish("report")
    assert report is not None
    assert report.findings == report_of(REPAINTED).findings
    assert not bench.runner.jobs


def test_what_is_tried_out_is_reported_on_and_the_decided_house_keeps_its_report() -> None:
    bench = Bench()
    bench.finish("report")
    bench.finish("light")
    decided = bench.session.base
    bench.session.try_out(REPAINTED)
    bench.reporting.request()
    bench.finish("report")
    assert bench.session.report_is_current
    assert bench.session.base is decided
    bench.session.try_out(None)
    assert bench.session.report is decided


def test_a_report_that_somebody_else_made_is_not_made_again() -> None:
    bench = Bench()
    bench.finish("report")
    bench.finish("light")
    known = report_of(REPAINTED)
    bench.session.try_out(known.house)
    bench.reporting.know(known)
    bench.reporting.request()
    assert bench.session.report is known
    assert not bench.runner.jobs


def test_a_house_that_cannot_be_reported_on_is_told_once() -> None:
    def fail(_house: House, _previous: Report | None) -> Report:
        raise ColourError("no such light")

    bench = Bench(fail)
    bench.runner.jobs.pop("report")()
    [outcome] = bench.outcomes
    bench.reporting.take(outcome)
    assert outcome.fault == "no such light"
    assert not bench.runner.jobs


@pytest.mark.parametrize("edits", [1, 3])
def test_the_last_report_is_that_of_the_last_house(edits: int) -> None:
    bench = Bench()
    bench.finish("report")
    for number in range(edits):
        paint = ("trim", "hall")[number % 2]
        bench.session.apply(assign(bench.session.house, "study", "walls", paint), "paint it")
        bench.reporting.request()
    while bench.runner.jobs:
        bench.finish(next(iter(bench.runner.jobs)))
    assert bench.session.report is not None
    assert bench.session.report.findings == report_of(bench.session.house).findings
