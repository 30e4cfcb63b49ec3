"""What the client asked for counts in every ranking, beside the findings."""

from dataclasses import replace

import pytest

from housemap.checks import report_of
from housemap.choose.chips import all_chips
from housemap.choose.rank import candidates, rank, rank_deck
from housemap.deck.notation_deck import notation_deck
from housemap.model.house import Brief, Notation, Paint, RoomBrief
from tests.support.houses import small_house

PAINTS = {
    "calm": Paint("Calm", Notation("5Y 8/1")), "loud": Paint("Loud", Notation("5GY 8/9")),
    "leaf": Paint("Leaf", Notation("5G 8/1.5")),
}  # fmt: skip


def costs(brief: Brief, surface: str = "walls") -> dict[str | None, float]:
    house = replace(small_house(), brief=brief)
    house = replace(house, paints={**house.paints, **PAINTS})
    found = candidates(report_of(house, deep=False), "hall", surface)
    return {one.paint: one.effect.wishes for one in found}


def test_a_colour_stronger_than_asked_for_costs_a_warning_a_step() -> None:
    assert costs(Brief())["loud"] == 8  # greyish walls unless the brief says otherwise
    assert costs(Brief())["calm"] == 0
    assert costs(Brief("vivid"))["loud"] == 0
    assert costs(Brief("vivid", rooms={"hall": RoomBrief("moderate")}))["loud"] == 4
    assert costs(Brief(), "accent n")["loud"] == 4  # accents may be moderate
    assert costs(Brief(), "trim")["loud"] == 0


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
    assert all(one.effect.wishes == 0 for one in best)
