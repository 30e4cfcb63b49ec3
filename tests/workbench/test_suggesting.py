"""A search may be closed before it begins, while it begins, and while it runs."""

from collections.abc import Iterator
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from housemap.checks import report_of
from housemap.choose.chips import all_chips
from housemap.choose.optimiser.problem import Problem, Progress, Solution
from housemap.choose.optimiser.solve import Run, solve
from housemap.choose.schemes.house_rules import broken_wishes
from housemap.choose.schemes.shortlist import PaletteRequest, neutral_of
from housemap.model.edits import assign
from housemap.model.house import Brief, House, Notation, Paint
from housemap.workbench import suggesting
from housemap.workbench.suggesting import (
    PaintSource,
    Searching,
    SuggestedColour,
    Suggestion,
    suggest,
    worth_showing,
)
from tests.support.houses import small_house

PROBLEM = Problem(("a",), {"a": ("x", "y")}, {"a": np.array([2.0, 1.0])})


def test_a_search_tells_its_answer_at_last() -> None:
    *_, last = Searching(5.0)(PROBLEM)
    assert isinstance(last, Solution)
    assert last.assignment == {"a": "y"}


def test_a_search_that_was_closed_before_tells_nothing() -> None:
    search = Searching(5.0)
    search.close()
    assert search.stopped
    assert list(search(PROBLEM)) == []


def test_after_it_is_closed_no_further_search_begins() -> None:
    search = Searching(5.0)
    assert list(search(PROBLEM))
    search.close()
    assert list(search(PROBLEM)) == []


def test_the_searches_of_a_suggestion_share_its_time(monkeypatch: pytest.MonkeyPatch) -> None:
    clock, given = [100.0], list[float]()

    class Taking(Run):
        """All the time that it is given."""

        def __init__(self, problem: Problem, seconds: float | None = None) -> None:
            assert seconds is not None
            given.append(seconds)
            clock[0] += seconds
            super().__init__(problem, seconds)

    monkeypatch.setattr(suggesting, "Run", Taking)
    monkeypatch.setattr(suggesting, "time", SimpleNamespace(monotonic=lambda: clock[0]))
    search = Searching(10.0)
    over = search.begin()
    for _ in range(4):
        assert list(search(PROBLEM))
    assert given == sorted(given, reverse=True)
    assert sum(given) < 10.0
    assert not over()
    clock[0] = 111.0
    assert over()
    assert not search.begin()()
    search.close()
    assert search.begin()()


# What is shown of it


def bare(walls: str | None) -> House:
    """The hall is connecting space, so that there are rooms of two roles."""
    house = small_house(brief=Brief(colours=4))
    return assign(house, "kitchen", "walls", walls)


def suggestion(house: House, *shares: float) -> Suggestion:
    report = report_of(house, deep=False)
    colours = tuple(SuggestedColour(report.study.paint("oat"), share, "") for share in shares)
    return Suggestion("", report, colours, "")


def findings(one: Suggestion) -> int:
    return len(one.report.causes)


def test_those_with_the_fewest_findings_come_first() -> None:
    base = report_of(bare(None), deep=False)
    made = [suggestion(bare(paint), 0.5, 0.5) for paint in ("moss", "chalk", "oat")]
    shown = worth_showing(base, made)
    assert len(shown) == 3
    assert [findings(one) for one in shown] == sorted(findings(one) for one in shown)


def test_none_is_shown_that_is_worse_than_a_painted_house() -> None:
    best = min((bare(paint) for paint in ("moss", "chalk", "oat")), key=lambda house: len(
        report_of(house, deep=False).causes))  # fmt: skip
    made = [suggestion(bare(paint), 0.5, 0.5) for paint in ("moss", "chalk", "oat")]
    least = min(map(findings, made))
    shown = worth_showing(report_of(best, deep=False), made)
    assert {findings(one) for one in shown} == {least}


def test_one_that_is_nearly_all_in_one_paint_gives_way_to_another() -> None:
    base = report_of(bare(None), deep=False)
    dull, varied = suggestion(bare("oat"), 0.95, 0.05), suggestion(bare("moss"), 0.6, 0.4)
    assert worth_showing(base, [dull, varied]) == [varied]
    assert worth_showing(base, [dull]) == [dull]


def test_what_is_not_kept_is_said_of_the_rooms_that_change_alone() -> None:
    house = replace(small_house(), brief=Brief(lrv=(90, 95)))
    study = report_of(house, deep=False).study
    assert {line.partition(":")[0] for line in broken_wishes(study)} == {"Hall", "Kitchen", "Study"}
    assert {line.partition(":")[0] for line in broken_wishes(study, {"study"})} == {"Study"}


def test_colours_beyond_the_number_of_rooms_are_not_missed() -> None:
    house = replace(small_house(), brief=Brief(colours=6))
    assert not [line for line in broken_wishes(report_of(house, deep=False).study) if "6" in line]


def test_a_set_is_built_around_the_paint_of_the_backbone() -> None:
    house = assign(small_house(), "study", "walls", "chalk")
    house = replace(house, rooms=dict(reversed([*house.rooms.items()])))
    report = report_of(house, deep=False)
    found = neutral_of(report, ("kitchen", "hall"), all_chips(house.paints))
    assert found is not None
    assert found.id == "oat"


class SolvedHere(Searching):
    """In this process."""

    def __call__(self, problem: Problem) -> Iterator[Progress]:
        yield solve(problem)


def test_that_there_is_nothing_else_to_choose_is_said_in_a_line() -> None:
    base = report_of(bare(None), deep=False)
    chips = all_chips({"chalk": Paint("Chalk", Notation("5Y 8.5/0.5"))})
    asked = PaletteRequest(4, frozenset({"hall"}))
    *_, last = suggest(base, PaintSource("fan", None, chips), asked, SolvedHere(1.0))
    assert not last.running
    assert len(last.found) == 1
    assert last.note == "Only 1 suggestion: no other differs clearly on a quarter of the walls."


def test_asked_again_it_says_that_nothing_better_was_found() -> None:
    base = report_of(bare(None), deep=False)
    asked = PaletteRequest(4, frozenset())
    *_, first = suggest(base, PaintSource(), asked, SolvedHere(1.0))
    assert "Nothing better" not in first.note, "a house that is not painted is no choice"
    *_, again = suggest(first.found[0].report, PaintSource(), asked, SolvedHere(1.0))
    assert again.found
    assert again.note.startswith("Nothing better found.")
