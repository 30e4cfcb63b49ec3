"""Paints of a deck are weighed as those of the house are, without being put into it."""

import pytest

from housemap.checks import Report, report_of
from housemap.checks.examples import two_rooms
from housemap.choose.chips import Chips, all_chips, take
from housemap.choose.rank import MOST, in_place, rank_deck
from housemap.deck.notation_deck import notation_deck
from housemap.errors import EditError
from housemap.file.reader import read_house
from housemap.model.edits import paint_on, put
from housemap.model.house import Notation, Paint, Sample
from tests.support.chips import chips_of, paints_of
from tests.support.project import DEMO

HOUSE = two_rooms("5Y 8.5/1", "5PB 3/6", "open", trim="N 9.3/")
REPORT = report_of(HOUSE)
COLOURS = {"hall": Notation("5B 5/6"), "calm": Notation("5Y 7.5/1"), "loud": Notation("5R 4/12")}


def taken(report: Report, room: str, chips: Chips, chip: str) -> Report:
    """The report of the house with a chip taken and put on the walls of a room."""
    entity = chips.swatch(chip).entity
    assert isinstance(entity, Paint)
    house, own_id = take(report.house, chip, entity, "fan")
    return report_of(paint_on(house, room, "walls", own_id))


def test_the_best_of_a_small_deck_is_the_best_of_all() -> None:
    ranking = rank_deck(REPORT, "study", "walls", chips_of(**COLOURS), "fan")
    costs = [one.cost for one in ranking.best]
    assert costs == sorted(costs)
    assert ranking.best[0].paint == "calm"
    assert ranking.summary == "all 3 paints weighed in every light"


def test_a_report_without_light_is_told_as_such() -> None:
    shallow = report_of(HOUSE, deep=False)
    ranking = rank_deck(shallow, "study", "walls", chips_of(**COLOURS), "fan")
    assert ranking.summary == "all 3 paints weighed under the reference light"


def test_each_paint_costs_what_the_house_would_say_of_it_once_taken() -> None:
    """With its own findings: what no screen shows, and a printed LRV that is wrong."""
    paints = {
        **paints_of(**COLOURS, marigold=Notation("2.5Y 8/16")),
        "off": Paint("Off", Notation("5Y 8/1"), lrv=70.0),
        "equal": HOUSE.paints["hall"],
    }
    report, chips = report_of(read_house(DEMO)), all_chips(paints)
    for one in rank_deck(report, "hall", "walls", chips, "fan").best:
        after = taken(report, "hall", chips, one.paint or "")
        assert one.parts == pytest.approx(
            dict(in_place(after, "hall").parts), abs=0.02, rel=0.01
        ), one.paint
        assert one.findings_after == len(after.findings), one.paint


def test_an_equal_paint_of_the_house_is_that_paint() -> None:
    """So that it meets itself in the next room without a finding."""
    same = put(HOUSE, "paints", "calm", Paint("Calm", Notation("5Y 8.5/1"), deck="fan"))
    report = report_of(paint_on(same, "hall", "walls", "calm"))
    own = all_chips({"x": Paint("Calm", Notation("5Y 8.5/1"))})
    other = all_chips({"x": Paint("Calmer", Notation("5Y 8.5/1"))})
    [equal] = rank_deck(report, "study", "walls", own, "fan").best
    [alike] = rank_deck(report, "study", "walls", other, "fan").best
    assert "near-miss" not in equal.parts
    assert "near-miss" in alike.parts


def test_samples_are_those_of_the_paint_not_of_another_that_has_its_id() -> None:
    """In the house "calm" is rejected and "hall" kept; in the deck they go by each other's id."""
    house = put(HOUSE, "paints", "calm", Paint("Calm", Notation("5Y 7.5/1"), deck="fan"))
    rejected = Sample("calm", "study", verdict="reject")
    house = put(
        put(house, "samples", "a", rejected),
        "samples",
        "b",
        Sample("hall", "study", verdict="keep"),
    )
    chips = all_chips({"hall": house.paints["calm"], "calm": Paint("Loud", Notation("5R 4/12"))})
    report = report_of(house)
    for one in rank_deck(report, "study", "walls", chips, "fan").best:
        after = taken(report, "study", chips, one.paint or "")
        assert one.parts == pytest.approx(
            dict(in_place(after, "study").parts), abs=0.02, rel=0.01
        ), one.paint


def test_no_paint_of_a_large_deck_is_better_than_those_told() -> None:
    chips = all_chips(dict(list(notation_deck().items())[::9]))
    assert len(chips) > 2 * MOST
    ranking = rank_deck(REPORT, "study", "walls", chips, "notation")
    told = {one.paint for one in ranking.best}
    assert len(told) == len(ranking.best) == MOST
    assert ranking.summary == f"the best {MOST} of {len(chips)} paints, all weighed in every light"
    worst = ranking.best[-1].cost
    rest = [swatch.id for swatch in chips.swatches if swatch.id not in told]
    for chip in rest[::20]:
        assert in_place(taken(REPORT, "study", chips, chip), "study").cost >= worst - 0.02


def test_a_room_that_is_not_there_is_told() -> None:
    with pytest.raises(EditError, match="attic"):
        rank_deck(REPORT, "attic", "walls", chips_of(**COLOURS), "fan")
