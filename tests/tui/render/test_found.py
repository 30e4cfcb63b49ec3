"""Findings as rows: every check can be shown, in any width, with its limit and where it is from."""

from collections.abc import Sequence
from functools import cache
from types import SimpleNamespace
from typing import Any

import pytest

from housemap.checks import CHECKS, Cause, Check, Report, causes_of, report_of
from housemap.checks.words import unit_words
from housemap.model.house import House
from housemap.model.severity import SHOWN, change_text, counts_text
from housemap.tui.render.cells import Row, text_of, width_of
from housemap.tui.render.look import ASCII, NO_GREYS, Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades
from housemap.tui.tasks.findings import FindingsPanel, check_rows
from housemap.tui.tasks.findings_drawing import (
    NO_REMEDY,
    FindingView,
    finding_rows,
    matter_rows,
)
from housemap.workbench.listed_findings import (
    FindingFilter,
    RemedySearch,
    judged,
    limits_of,
    paint_targets,
)
from housemap.workbench.session import Session
from tests.support.remedies import remedies_of

NOT_BEGUN = RemedySearch()
WIDTHS = (28, 34, 48, 90)
LOOKS = (Look(), Look(NO_GREYS, ASCII))

EVERY_CHECK = pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)


@cache
def caught(check: Check) -> Report:
    return report_of(check.caught.house)


def matter_of(check: Check) -> Cause:
    report = caught(check)
    return next(m for m in causes_of((*report.findings, *report.to_do)) if m.check == check.id)


def words(rows: Sequence[Row]) -> str:
    return " ".join(text_of(rows).split())


def view_of(check: Check, search: RemedySearch = NOT_BEGUN) -> FindingView:
    report, matter = caught(check), matter_of(check)
    return FindingView(report, matter, 1, 3, 2, judged(matter.first, report), search, None)


@EVERY_CHECK
@pytest.mark.parametrize("look", LOOKS, ids=["colour", "plain"])
def test_a_finding_fits_any_width(check: Check, look: Look) -> None:
    for width in WIDTHS:
        rows = finding_rows(view_of(check), Page(look, width)).rows
        assert max(map(width_of, rows)) <= width


@EVERY_CHECK
def test_a_finding_tells_what_why_and_against_which_limit(check: Check) -> None:
    text = words(finding_rows(view_of(check), Page(Look(), 400)).rows)
    finding = matter_of(check).first
    assert check.title in text
    assert check.describe(finding, check.caught.house) in text
    assert check.help in text
    for limit in limits_of(finding, check):
        assert limit.source in text
        assert f"{limit.default:g} {unit_words(limit.unit)}" in text


@EVERY_CHECK
def test_colours_compared_are_of_one_size_and_touch(check: Check) -> None:
    view = view_of(check)
    if len(view.judged.places) < 2:
        return
    rows = finding_rows(view, Page(Look(), 50)).rows
    shades = Shades(view.finding.light, view.report.house, view.report)
    seen = view.judged
    colours = [shades.at(place, eye=seen.eye).colour for place in seen.places]
    [*_, row] = [row for row in rows if [run.ink.bg for run in row[1:-1]] == colours]
    sizes = [len(run.text) for run in row[1:-1]]
    assert max(sizes) - min(sizes) <= 1
    assert sum(sizes) == 48


@EVERY_CHECK
def test_the_difference_shown_is_the_one_that_was_judged(check: Check) -> None:
    finding, seen = matter_of(check).first, view_of(check).judged
    if seen.difference is not None and finding.unit == "CAM16-UCS" and len(finding.places) > 1:
        assert seen.difference.ucs == pytest.approx(finding.value)
    if seen.difference is not None and finding.unit == "CIEDE2000":
        assert seen.difference.de00 == pytest.approx(finding.value)


def test_remedies_stand_with_what_they_do_and_the_chosen_one_is_marked() -> None:
    check = next(check for check in CHECKS if check.id == "stop")
    report = caught(check)
    remedies = remedies_of(matter_of(check).first, report)
    view = view_of(check, RemedySearch(remedies, done=True))
    drawn = finding_rows(view, Page(Look(), 60))
    assert len(drawn.places[1:-1]) == len(remedies) > 0
    for remedy, place in zip(remedies, drawn.places[1:-1], strict=True):
        text = words(drawn.rows[place.start : place.stop])
        assert remedy.change.label in text.replace("  ", " ") or "fewer" in text
        assert change_text(report.tally, remedy.report.tally) in text


def test_a_search_tells_how_far_it_is_and_what_remains_when_nothing_helps() -> None:
    check = CHECKS[0]
    assert "once the light is known" in words(finding_rows(view_of(check), Page(Look(), 80)).rows)
    assert "trying change 3 of 9" in words(
        finding_rows(view_of(check, RemedySearch((), 3, 9)), Page(Look(), 80)).rows
    )
    assert NO_REMEDY in words(
        finding_rows(view_of(check, RemedySearch(done=True)), Page(Look(), 400)).rows
    )


# The list


@EVERY_CHECK
def test_an_entry_of_the_list_fits_and_names_the_check(check: Check) -> None:
    matter, house = matter_of(check), check.caught.house
    for width in WIDTHS:
        for look in LOOKS:
            rows = matter_rows(matter, house, Page(look, width, chosen=True))
            assert [width_of(row) for row in rows] == [width, width]
    assert check.title in text_of(matter_rows(matter, house, Page(Look(), 80)))
    text = text_of(matter_rows(matter, house, Page(Look(), 80)))
    assert SHOWN[matter.severity] in text
    assert all(house.paints[p].name in text for p in matter.paints) or not check.to_do


@pytest.mark.parametrize("width", WIDTHS)
def test_at_a_width_all_entries_say_their_grade_in_words_or_none(width: int) -> None:
    said = {
        SHOWN[matter.severity] in text_of(rows[:1])
        for check in CHECKS
        for matter in [matter_of(check)]
        if (rows := matter_rows(matter, check.caught.house, Page(Look(), width)))
    }
    assert len(said) == 1


def test_what_else_there_is_fits_the_finding() -> None:
    """No other limit of what has none, and no paint where none would change it."""
    done = RemedySearch(done=True)
    for check in CHECKS:
        text = words(finding_rows(view_of(check, done), Page(Look(), 400)).rows)
        assert ("e to set another limit" in text) <= bool(check.limits)
        assert ("another paint" in text) <= bool(paint_targets(matter_of(check)))
        assert not (check.advice and NO_REMEDY in text), "its advice says what clears it"


def test_counts_are_told_in_words() -> None:
    found = ["fault", "warn", "note", "note"]
    assert counts_text(found) == "1 serious, 1 to look at again, 2 notes"
    assert not counts_text([])


def test_sifting_keeps_the_graver_and_those_of_a_room() -> None:
    report = caught(CHECKS[0])
    assert list(FindingFilter().found(report)) == list(report.findings)
    assert all(f.severity == "fault" for f in FindingFilter(least="fault").found(report))
    assert list(FindingFilter("hall").found(report)) == list(report.by_room["hall"])
    assert not FindingFilter("attic").found(report)


def listed(filter_: FindingFilter, house: House, report: Report | None) -> FindingsPanel:
    """The list without a program."""
    owner: Any = SimpleNamespace(session=Session.of(house), look=Look(), desk=None)
    panel = FindingsPanel(owner, filter_)
    panel._report = report
    return panel


def test_an_empty_list_says_how_to_see_more() -> None:
    report, page = report_of(CHECKS[0].clean.house), Page(Look(), 60)
    house = report.house
    assert "Nothing was found." in text_of(listed(FindingFilter(), house, report).nothing(page))
    assert "Press h" in text_of(listed(FindingFilter("hall"), house, report).nothing(page))
    assert "looked at" in text_of(listed(FindingFilter(), house, None).nothing(page))
    for each in (None, report):
        assert len(listed(FindingFilter(), house, each).head(Page(Look(), 34))) == 3


@pytest.mark.parametrize(
    "check", [check for check in CHECKS if check.to_do], ids=lambda check: check.id
)
def test_a_thing_to_do_says_with_its_key_what_to_do_and_nothing_of_remedies(check: Check) -> None:
    text = words(finding_rows(view_of(check, RemedySearch(done=True)), Page(Look(), 400)).rows)
    assert "ress " in check.advice
    assert check.advice in text
    assert NO_REMEDY not in text
    assert "What would clear it" not in text


def test_the_head_counts_the_findings_and_what_is_to_do_apart() -> None:
    check = next(check for check in CHECKS if check.id == "untried")
    report = caught(check)
    text = words(listed(FindingFilter(), check.caught.house, report).head(Page(Look(), 200)))
    found = [cause.severity for cause in causes_of(report.findings)]
    count = f"{len(found)} finding{'' if len(found) == 1 else 's'}: {counts_text(found)}; "
    assert f"{count if found else ''}{len(causes_of(report.to_do))} to do" in text


# About the checks


@EVERY_CHECK
def test_a_check_is_explained_with_both_its_examples(check: Check) -> None:
    for width in WIDTHS:
        rows = check_rows(check, None, Page(Look(), width))
        assert max(map(width_of, rows)) <= width
    text = words(check_rows(check, None, Page(Look(), 400)))
    for limit in check.limits:
        assert limit.source in text
    assert check.help in text
    assert check.clean.words in text
    assert check.caught.words in text
