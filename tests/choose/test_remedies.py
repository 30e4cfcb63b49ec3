"""A remedy clears its finding, raises nothing grave, and the least change comes first."""

from dataclasses import replace

import pytest

from housemap.checks import CHECKS, Check, check_of, report_of
from housemap.checks.examples import two_rooms
from housemap.choose.remedies import remedies_of, trials
from housemap.model.edits import put
from tests.support.houses import paint


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_every_remedy_offered_clears_its_finding(check: Check) -> None:
    report = report_of(check.caught.house)
    for finding in report.findings:
        for remedy in remedies_of(finding, report):
            after = report_of(remedy.change.edit(report.house))
            assert finding.key not in {f.key for f in after.findings}
            graver = {f.key for f in after.findings if f.severity != "note"}
            assert graver <= {f.key for f in report.findings}


def test_the_nearest_paint_that_clears_a_jarring_step_comes_first() -> None:
    house = two_rooms("5Y 9/1", "5PB 3/6", "open")
    for key, hex_ in (("near", "#a9a9b4"), ("far", "#e9e3d4")):
        house = put(house, "paints", key, paint(hex_, key.title()))
    report = report_of(house)
    [jar] = [f for f in report.findings if f.check == "jar"]
    remedies = remedies_of(jar, report)
    sizes = [remedy.change.size for remedy in remedies]
    assert remedies
    assert sizes == sorted(sizes)


def test_a_place_to_stop_is_offered_where_two_paints_meet_in_open_plan() -> None:
    report = report_of(two_rooms("5Y 8/1", "5Y 7/1", "open"))
    [stop] = [f for f in report.findings if f.check == "stop"]
    labels = [remedy.change.label for remedy in remedies_of(stop, report)]
    assert any("corner or trim" in label for label in labels)


def test_a_dull_bathroom_is_offered_the_least_sheen_that_will_do() -> None:
    report = report_of(check_of("sheen").caught.house)
    [finding] = [f for f in report.findings if f.check == "sheen"]
    [remedy] = remedies_of(finding, report)
    assert remedy.report.house.rooms["hall"].sheens.walls == "eggshell"


def test_nothing_is_offered_where_nothing_helps() -> None:
    report = report_of(replace(two_rooms("5Y 9/1", "5PB 3/6"), name="Two paints only"))
    assert all(
        remedy.report.findings != report.findings
        for finding in report.findings
        for remedy in remedies_of(finding, report)
    )


def test_trials_tell_how_far_they_are_and_give_the_same_remedies() -> None:
    report = report_of(two_rooms("5Y 8/1", "5Y 7/1", "open"))
    [stop] = [f for f in report.findings if f.check == "stop"]
    tried = list(trials(stop, report))
    assert [trial.number for trial in tried] == list(range(1, tried[0].count + 1))
    labels = [trial.remedy.change.label for trial in tried if trial.remedy]
    assert labels == [remedy.change.label for remedy in remedies_of(stop, report)]
