"""What the client asked for counts in every ranking, beside the findings."""

from dataclasses import replace

import pytest

from housemap.checks import report_of
from housemap.checks.wishes import NOT_LIKED
from housemap.choose.chips import all_chips
from housemap.choose.rank import candidates, in_place, rank, rank_deck
from housemap.deck.notation_deck import notation_deck
from housemap.file.reader import read_house
from housemap.model.edits import assign, paint_on
from housemap.model.house import Brief, Notation, Paint, RoomBrief
from tests.support.houses import small_house
from tests.support.project import DEMO
from tests.support.remedies import remedies_of

PAINTS = {
    "calm": Paint("Calm", Notation("5Y 8/1")), "loud": Paint("Loud", Notation("5GY 8/9")),
    "leaf": Paint("Leaf", Notation("5G 8/1.5")),
}  # fmt: skip


def costs(brief: Brief, surface: str = "walls") -> dict[str | None, float]:
    house = replace(small_house(), brief=brief)
    house = replace(house, paints={**house.paints, **PAINTS})
    found = candidates(report_of(house, deep=False), "hall", surface)
    return {one.paint: one.wishes for one in found}


def test_a_colour_stronger_than_asked_for_costs_a_warning_a_step() -> None:
    assert costs(Brief())["loud"] == 8  # greyish walls unless the brief says otherwise
    assert costs(Brief())["calm"] == 0
    assert costs(Brief("vivid"))["loud"] == 0
    assert costs(Brief("vivid", rooms={"hall": RoomBrief("moderate")}))["loud"] == 4
    assert costs(Brief(), "accent n")["loud"] == 4  # accents may be moderate
    assert costs(Brief(), "ceiling")["loud"] == 0


def test_trim_is_near_white_unless_the_brief_says_otherwise() -> None:
    """LRV 80 or more and chroma 1.5 at most: common practice, no source."""
    assert costs(Brief(), "trim")["loud"] > costs(Brief(), "trim")["calm"] >= 4
    assert costs(Brief(), "trim")["chalk"] < 1
    assert costs(Brief(white_trim=False), "trim")["loud"] == 0


def test_a_hue_to_avoid_comes_after_one_that_is_not() -> None:
    house = replace(
        small_house(), brief=Brief(avoid=("green",)), paints={**small_house().paints, **PAINTS}
    )
    ranked = [one.paint for one in rank(report_of(house, deep=False), "hall", "walls")]
    assert ranked.index("calm") < ranked.index("leaf")


@pytest.mark.parametrize("deep", [False, True])
def test_the_best_of_a_deck_keep_to_the_brief(deep: bool) -> None:  # noqa: FBT001 - drawn
    house = replace(small_house(), brief=Brief("neutral", avoid=("blue", "purple", "pink")))
    chips = all_chips(notation_deck())
    best = rank_deck(report_of(house, deep=deep), "hall", "walls", chips, "notation").best[:40]
    assert all(one.wishes <= NOT_LIKED for one in best)


BRIEF = Brief("greyish", "moderate", avoid=("green",), lrv=(40, 75), colours=3)


@pytest.mark.parametrize("surface", ["walls", "accent w", "trim"])
def test_findings_are_counted_as_the_report_of_the_house_so_painted_counts_them(
    surface: str,
) -> None:
    house = replace(small_house(), brief=BRIEF)
    house = replace(house, paints={**house.paints, **PAINTS})
    report = report_of(house, deep=False)
    for one in candidates(report, "hall", surface):
        after = report.after(paint_on(house, "hall", surface, one.paint))
        assert one.findings_after == len(after.findings), one.paint
        assert one.parts == pytest.approx(dict(in_place(after, "hall", surface).parts))


def test_the_remedies_of_a_colour_that_was_not_asked_for_keep_to_the_brief() -> None:
    house = replace(small_house(), brief=Brief("greyish", avoid=("pink",)))
    paints = {**house.paints, **PAINTS, "petal": Paint("Petal", Notation("5R 8.2/1.5"))}
    house = assign(replace(house, paints=paints), "study", "walls", "loud")
    report = report_of(house)
    [finding] = [f for f in report.findings if f.check == "brief"]
    labels = [remedy.change.label for remedy in remedies_of(finding, report)]
    assert any(label.startswith("Paint Study walls in") for label in labels)
    assert not any("Petal" in label for label in labels)
    for remedy in remedies_of(finding, report):
        assert not [f for f in remedy.report.findings if f.check == "brief"]


def test_whites_that_lean_as_the_house_does_come_first() -> None:
    """In the demo, whose backbone is a yellowish white: no pink on the hall's walls or trim."""
    report, chips = report_of(read_house(DEMO)), all_chips(notation_deck())
    for surface in ("walls", "trim"):
        ranked = rank_deck(report, "hall", surface, chips, "notation").best
        first = chips.swatch(ranked[0].paint or "").colour.notation
        assert first.chroma < 0.3 or 15 <= first.hue100 <= 30, first.text
        assert ranked[0].cost == sum(ranked[0].parts.values()) + ranked[0].scheme
