"""In the list of paints for a surface, what somebody said against a paint comes last, in words."""

from dataclasses import replace
from threading import Event

from housemap.checks import report_of
from housemap.model.house import Brief, House, Notation, Paint, RoomBrief, Sample
from housemap.workbench.choosing import HERE, Ranks, Target, ranks_of
from tests.support.houses import small_house

PAINTS = {
    "petal": Paint("Clay Petal", Notation("5R 8.2/1.5")),
    "green-grey": Paint("Green-grey", Notation("5G 6/0.8")),
}


def listed(house: House, surface: str = "walls") -> tuple[list[str | None], Ranks]:
    house = replace(house, paints={**house.paints, **PAINTS})
    report = report_of(house, deep=False)
    first = next(ranks_of(house, report, Target("study", surface), HERE, Event()))
    return sorted(first.order, key=lambda paint: first.order[paint]), first


def test_what_the_client_does_not_want_comes_after_what_keeps_to_the_wishes() -> None:
    order, ranks = listed(small_house(brief=Brief("greyish", avoid=("pink",))))
    assert order[-1] == "petal" or set(order[order.index("petal") :]) <= {"petal", "moss"}
    assert ranks.verdicts["petal"] == "not as wished"
    assert order.index("green-grey") < order.index("petal")
    assert ranks.verdicts["green-grey"] != "not as wished"


def test_wishes_for_the_room_come_before_those_for_the_house_and_hold_for_walls_alone() -> None:
    brief = Brief("greyish", avoid=("pink",), rooms={"study": RoomBrief(avoid=())})
    assert listed(small_house(brief=brief))[1].verdicts["petal"] != "not as wished"
    of_house = small_house(brief=Brief(avoid=("pink",)))
    assert listed(of_house, "trim")[1].verdicts["petal"] != "not as wished"


def test_a_paint_that_was_rejected_in_the_room_comes_last() -> None:
    rejected = {"s": Sample("green-grey", "study", verdict="reject")}
    house = small_house(brief=Brief("greyish", avoid=("pink",)), samples=rejected)
    order, ranks = listed(house)
    assert order[-1] == "green-grey"
    assert ranks.verdicts["green-grey"] == "rejected here"


def test_without_a_brief_nothing_is_against_a_wish() -> None:
    order, ranks = listed(small_house(samples={}))
    assert not {"not as wished", "rejected here"} & set(ranks.verdicts.values())
    assert set(order) == {"chalk", "moss", "oat", "petal", "green-grey", None}
