"""Paints of a deck are weighed as those of the house are, without being put into it."""

import pytest

from housemap.checks import report_of
from housemap.checks.examples import two_rooms
from housemap.choose.deck.chips import all_chips
from housemap.choose.deck.ranking import MOST, rank_deck, spread_rows
from housemap.choose.rank import candidate
from housemap.deck.notation_deck import notation_deck
from housemap.errors import EditError
from housemap.model.colour import Notation
from housemap.model.edits import put
from tests.support.chips import chips_of, paints_of

HOUSE = two_rooms("5Y 8.5/1", "5PB 3/6", "open", trim="N 9.3/")
REPORT = report_of(HOUSE, deep=False)
COLOURS = {"hall": Notation("5B 5/6"), "calm": Notation("5Y 7.5/1"), "loud": Notation("5R 4/12")}


def test_the_best_of_a_small_deck_is_the_best_of_all() -> None:
    ranking = rank_deck(REPORT, "study", "walls", chips_of(**COLOURS), "fan")
    costs = [one.candidate.cost for one in ranking.best]
    assert costs == sorted(costs)
    assert ranking.best[0].id == "calm"
    assert ranking.told == "all 3 paints weighed"


def test_a_paint_costs_what_it_would_cost_as_one_of_the_house() -> None:
    calm = paints_of(**COLOURS)["calm"]
    report = report_of(put(HOUSE, "paints", "calm", calm), deep=False)
    own = candidate(report, "study", "walls", "calm")
    ranking = rank_deck(REPORT, "study", "walls", chips_of(**COLOURS), "fan")
    assert (ranking.best[0].candidate.cost, ranking.best[0].candidate.findings_after) == (
        own.cost, own.findings_after
    )  # fmt: skip


def test_a_paint_whose_id_the_house_has_replaces_nothing() -> None:
    ranking = rank_deck(REPORT, "study", "walls", chips_of(**COLOURS), "fan")
    clash = next(one for one in ranking.best if one.id == "hall")
    assert clash.candidate.paint == "hall-2"
    assert clash.candidate.report.house.paints["hall"] == HOUSE.paints["hall"]
    assert "hall-2" not in HOUSE.paints


def test_of_a_large_deck_a_part_is_weighed_that_costs_as_little_as_any() -> None:
    deck = {id_: paint for id_, paint in list(notation_deck().items())[::9] if "/" in paint.name}
    chips = all_chips(deck)
    assert len(chips) > 2 * MOST
    ranking = rank_deck(REPORT, "study", "walls", chips, "notation")
    assert len({one.id for one in ranking.best}) == len(ranking.best) == MOST
    assert f"{MOST} of {len(chips)} paints weighed" in ranking.told
    every = [rank_deck(REPORT, "study", "walls", all_chips({id_: paint}), "notation").best[0]
             for id_, paint in list(deck.items())[::4]]  # fmt: skip
    assert ranking.best[0].candidate.cost <= min(one.candidate.cost for one in every)


def test_what_is_spread_reaches_from_end_to_end() -> None:
    chips = all_chips(notation_deck())
    lightness = chips.lab100[:, 0]
    rows = spread_rows(chips.lab100, 48)
    assert len(set(rows)) == 48
    assert lightness[rows].max() - lightness[rows].min() > 0.9 * (lightness.max() - lightness.min())


def test_a_room_that_is_not_there_is_told() -> None:
    with pytest.raises(EditError, match="attic"):
        rank_deck(REPORT, "attic", "walls", chips_of(**COLOURS), "fan")
