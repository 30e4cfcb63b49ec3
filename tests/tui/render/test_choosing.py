"""Paints as rows of a list: every row is full width, whatever a paint is called."""

import datetime as dt
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual.geometry import Size

from housemap.checks import report_of
from housemap.model.house import House, Room, Sample
from housemap.model.severity import Tally, change_text, findings_text
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import ASCII, NO_GREYS, Look
from housemap.tui.render.page import Page, scrollbar, shares
from housemap.tui.render.shades import BARE, Coat
from housemap.tui.tasks.choose import (
    TALL,
    ChoosingPanel,
    count_text,
)
from housemap.workbench.choosing import (
    NO_PAINT,
    Option,
    Ranks,
    Scope,
    Target,
    best_first,
    options_of,
)
from housemap.workbench.session import Session
from tests.support.houses import paint, small_house

OAT = Coat("known", "#d9d0bf")
LOOKS = (Look(), Look(NO_GREYS, ASCII))
NAMES = st.text(
    st.characters(exclude_categories=["Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp", "Mn", "Me"]),
    max_size=40,
)


def option(name: str = "Oat Ladle", **more: Any) -> Option:
    values: dict[str, Any] = {
        "code": "A-102",
        "lrv": 64.0,
        "undertone": "yellowish gray",
        "words": name.lower(),
    }
    return Option("oat", name, **(values | more))


def panel_of(house: House | None = None, look: Look | None = None, **state: Any) -> ChoosingPanel:
    """The list for the walls of the hall, without a program; `state` is of the panel itself."""
    session = Session.of(house or small_house())
    owner: Any = SimpleNamespace(session=session, look=look or Look(), desk=None)
    panel = ChoosingPanel(owner, Target("hall", "walls"))
    panel._know_paints()
    for name, value in state.items():
        setattr(panel, name, value)
    return panel


def raising(*checks: str, tally: Tally | None = None) -> Ranks:
    """Ranks of Moss Bank, which raises some checks."""
    tallies: dict[str | None, Tally] = {"moss": tally} if tally else {}
    return Ranks(tallies=tallies, raised={"moss": dict.fromkeys(checks, 1.0)})


@given(NAMES, NAMES, st.integers(24, 60), st.booleans())
def test_an_entry_is_two_full_rows(name: str, code: str, width: int, chosen: bool) -> None:  # noqa: FBT001 - drawn
    for look in LOOKS:
        ranks = Ranks(verdicts={"oat": "fits"})
        rows = panel_of(look=look, ranks=ranks).entry(
            option(name, code=code), Page(look, width, chosen)
        )
        assert [width_of(row) for row in rows] == [width, width]


@pytest.mark.parametrize("height", [21, TALL, 45])
@pytest.mark.parametrize("width", [30, 34, 48])
def test_the_head_keeps_its_height_while_paints_are_moved_through(
    height: int, width: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(ChoosingPanel, "size", Size(width, height))
    known, evening, bare = panel_of(), panel_of(), panel_of()
    known.session.take_report(report_of(known.session.house, deep=False))
    known.step(1)
    evening.session.select_light("evening")
    bare.step(len(bare.items))
    panels = [
        panel_of(), panel_of(ranks=raising("stop", "trim", "jar", tally=Tally(13, 40.0))),
        known, evening, bare, panel_of(_fault="type an LRV as in lrv>60"),
        panel_of(_fault="word " * 40), panel_of(search="moss"),
        panel_of(scope=Scope("A room with a very long name indeed, accent wall 11")),
    ]  # fmt: skip
    heads = [panel.head(Page(Look(), width)) for panel in panels]
    assert len({len(head) for head in heads}) == 1
    assert max(width_of(row) for head in heads for row in head) <= width


def test_the_reason_of_the_chosen_paint_is_readable_in_a_small_terminal() -> None:
    for raised, text in ((["stop", "trim"], "No place to change colour; trim looks undecided."),
                         (["jar", "trim", "near-miss", "turn"],
                          "Too big a jump; trim looks undecided; 2 more reasons."),
                         ([], "Nothing speaks against it.")):  # fmt: skip
        panel = panel_of(small_house(samples={}), ranks=raising(*raised))
        panel.show_entries(panel.items, "moss", [each.paint for each in panel.items])
        rows = panel.head(Page(Look(), 34))
        assert text in " ".join(text_of(rows).split())


def test_an_approved_paint_that_gives_way_is_named_and_never_praised_away() -> None:
    approved = "A sample of Oat Ladle was approved here on 19 April."
    kept = Sample("oat", "hall", None, dt.date(2026, 4, 19), "day", "keep")
    for raised in ([], ["jar"], ["jar", "trim", "near-miss", "turn"], None):
        ranks = Ranks() if raised is None else raising(*raised)
        panel = panel_of(small_house(samples={"kept": kept}), ranks=ranks)
        panel.show_entries(panel.items, "moss", [each.paint for each in panel.items])
        text = " ".join(text_of(panel.head(Page(Look(), 34))).split())
        assert approved in text
        assert "Nothing speaks against it" not in text


def test_a_fault_of_the_search_is_never_cut() -> None:
    fault = '"pinkisch" is neither a name, a hue nor a limit; did you mean pinkish?'
    rows = panel_of(_fault=fault).head(Page(Look(), 34))
    assert fault in " ".join(text_of(rows).split())


def test_the_old_and_the_new_paint_touch_and_are_of_one_size() -> None:
    row = Page(Look(), 34).side_by_side((OAT, BARE))
    assert [len(run.text) for run in row] == [1, 16, 16, 1]
    assert row[1].ink.bg == OAT.colour
    assert width_of(Page(Look(), 34).names_below(("Oat", "no paint"))) == 34


@given(st.integers(1, 12), st.integers(1, 90))
def test_shares_fill_the_columns_evenly(count: int, columns: int) -> None:
    parts = shares(count, columns)
    assert sum(parts) == columns
    assert max(parts) - min(parts) <= 1


@given(st.integers(1, 60), st.integers(0, 4000), st.data())
def test_the_scrollbar_shows_some_part_and_never_more(
    height: int, count: int, data: st.DataObject
) -> None:
    top = data.draw(st.integers(0, max(count - height, 0)))
    shown = [scrollbar(y, height, top, count, Look(NO_GREYS)).text for y in range(height)]
    assert ("#" in shown) == (count > height)


def test_options_are_every_paint_by_name_and_then_no_paint() -> None:
    house = small_house()
    options = options_of(house, report_of(house))
    assert options[-1] == NO_PAINT
    assert [each.name for each in options[:-1]] == ["Chalk Lump", "Moss Bank", "Oat Ladle"]
    assert all(each.undertone and each.lrv for each in options[:-1])
    oat = options[-2]
    for word in ("oat ladle", "a-102", oat.undertone.replace("grey", "gray")):
        assert word in oat.words


def test_before_the_first_report_options_tell_what_the_file_tells() -> None:
    options = options_of(replace(small_house(), paints={"a": paint(lrv=64.0)}), None)
    assert options[0].lrv == 64.0
    assert options[0].undertone == ""


def test_the_best_come_first_and_no_paint_last() -> None:
    options = [NO_PAINT, *(option(name)._replace(paint=name) for name in "abc")]
    ranks: dict[str | None, tuple[object, ...]] = {"a": (3.0,), "b": (1.0,), "c": (2.0,)}
    assert [each.paint for each in best_first(options, ranks)] == ["b", "c", "a", None]
    del ranks["b"]
    assert [each.paint for each in best_first(options, ranks)] == ["c", "a", "b", None]


def test_changes_and_counts_are_told_in_few_words() -> None:
    twenty = Tally(20, 60.0)
    for count, weight, short, text in (
        (18, 50.0, "2 fewer", "18 findings, 2 fewer than before"),
        (18, 70.0, "2 fewer", "18 findings, 2 fewer than before but graver"),
        (21, 61.0, "1 more", "21 findings, 1 more than before"),
        (21, 40.0, "1 more", "21 findings, 1 more than before but milder"),
        (20, 60.2, "no change", "20 findings, as before"),
        (20, 72.0, "graver", "20 findings, as many but graver"),
        (20, 48.0, "milder", "20 findings, as many but milder"),
    ):
        assert change_text(twenty, Tally(count, weight)) == short
        assert findings_text(twenty, Tally(count, weight)) == text
    for count, serious, text in (
        (16, 1, "16 findings, 4 fewer than before, but 1 serious more"),
        (20, 2, "20 findings, as many, but 2 serious more"),
        (22, 1, "22 findings, 2 more than before, 1 serious more"),
    ):
        after = Tally(count, 60.0, serious)
        assert change_text(twenty, after) == f"{serious} serious more"
        assert findings_text(twenty, after) == text
        assert after.rank > twenty.rank
    assert change_text(None, twenty) == ""
    assert findings_text(None, twenty) == "20 findings"
    assert count_text(3, 3, " by findings") == "3 paints by findings"
    assert count_text(2, 3, " by name") == "2 of 3 by name"


def test_an_empty_list_says_why() -> None:
    none = panel_of(House(rooms={"hall": Room("Hall")}), search="x")
    assert "No paints yet: d opens a deck" in text_of(none.nothing(Page(Look(), 40)))
    three = panel_of(search="tar")
    assert 'None of the 3 paints fits "tar"' in text_of(three.nothing(Page(Look(), 40)))
