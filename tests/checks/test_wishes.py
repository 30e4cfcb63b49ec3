"""A colour that breaks a wish costs, and says which."""

import pytest

from housemap.checks.wishes import (
    BROKEN,
    NOT_LIKED,
    broken_text,
    hues_of,
    wish_costs,
)
from housemap.choose.chips import all_chips
from housemap.model.house import Brief, Notation, Paint, RoomBrief
from housemap.model.wishes import Wishes, wishes_of

TEXTS = ("N 8/", "10YR 7/1", "5G 5/2", "5G 5/5", "5G 5/9", "5P 4/2")
CHIPS = all_chips({f"p{n}": Paint(text, Notation(text)) for n, text in enumerate(TEXTS)})


def costs(wish: str, wishes: Wishes) -> list[float]:
    found: list[float] = wish_costs(CHIPS.colours, wishes)[wish].tolist()
    return found


def test_each_step_beyond_the_strongest_allowed_costs_a_warning() -> None:
    assert costs("strength", Wishes("greyish")) == [0, 0, 0, BROKEN, 2 * BROKEN, 0]
    assert costs("strength", Wishes("vivid")) == [0] * 6
    assert costs("strength", Wishes("neutral"))[2] == BROKEN


def test_hues_avoided_cost_more_than_hues_that_are_not_liked() -> None:
    avoid = costs("avoid", Wishes(avoid=frozenset({"green"})))
    assert avoid == [0, 0, BROKEN, BROKEN, BROKEN, 0]
    like = costs("like", Wishes(like=frozenset({"green", "grey"})))
    assert like == [0, 0, 0, 0, 0, NOT_LIKED]


def test_lrv_outside_the_range_costs_more_the_further_it_is() -> None:
    low, mid, high = (costs("lrv", Wishes(lrv=(low, 100)))[5] for low in (10.0, 15.0, 60.0))
    assert low == 0
    assert BROKEN < mid < high == 3 * BROKEN


@pytest.mark.parametrize(
    ("name", "hues"),
    [
        ("light bluish gray", {"grey", "blue"}), ("pale yellow green", {"yellow green", "green"}),
        ("grayish greenish blue", {"greenish blue", "blue", "blue green"}),
        ("very dark bluish green", {"bluish green", "green", "blue green"}),
        ("white", {"white"}), ("medium gray", {"grey"}), ("pinkish white", {"white", "pink"}),
    ],
)  # fmt: skip
def test_a_colour_answers_to_its_hue_and_a_grey_to_its_lean(name: str, hues: set[str]) -> None:
    assert hues_of(name) == hues


def test_a_broken_wish_is_named_in_words() -> None:
    wishes = Wishes("greyish", frozenset(), frozenset({"green"}), (60, 75))
    assert broken_text(CHIPS.colours, 3, wishes) == (
        "moderate, moderate green, LRV 19; asked for: greyish at most, no green, LRV 60 to 75"
    )
    assert not broken_text(CHIPS.colours, 0, Wishes())


def test_a_room_may_differ_from_the_house() -> None:
    brief = Brief("neutral", avoid=("pink",), rooms={"den": RoomBrief("vivid", avoid=())})
    assert wishes_of(brief).strength == "neutral"
    assert wishes_of(brief, "den") == Wishes("vivid")
    assert wishes_of(brief, "hall").avoid == {"pink"}
    assert wishes_of(brief, accent=True).strength == "moderate"
