"""A colour that breaks a wish costs, and says which."""

import pytest

from housemap.checks.wishes import (
    BROKEN,
    NOT_LIKED,
    between_hues,
    broken_text,
    hues_of,
    wish_costs,
)
from housemap.choose.chips import all_chips
from housemap.model.house import Brief, Notation, Paint, RoomBrief
from housemap.model.wishes import Wishes, stated_wishes, wishes_of

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


def test_a_grey_that_leans_to_a_hue_to_avoid_is_only_liked_less() -> None:
    """No client calls a yellowish grey yellow (common practice, no source)."""
    wishes = wishes_of(Brief(avoid=("yellow",)))
    assert str(CHIPS.colours.names[1]) == "yellowish gray"
    assert costs("avoid", wishes) == [0] * 6
    assert costs("lean", wishes) == [0, NOT_LIKED, 0, 0, 0, 0]
    assert "lean" not in wish_costs(CHIPS.colours, stated_wishes(Brief(avoid=("yellow",))))


def test_a_white_with_a_trace_of_a_hue_to_avoid_leans_to_it_under_any_name() -> None:
    """Beside a white of no chroma a chroma of 0.5 is 3 CIELAB units: seen (common practice)."""
    texts = ("5BG 8.5/0.5", "5G 6/0.5", "N 8.5/", "10YR 8.5/0.5", "5BG 8.5/0.2")
    chips = all_chips({f"p{n}": Paint(text, Notation(text)) for n, text in enumerate(texts)})
    assert {*chips.colours.names.tolist()} == {"white", "medium gray"}
    found = wish_costs(chips.colours, wishes_of(Brief(avoid=("green",))))
    assert found["lean"].tolist() == [NOT_LIKED, NOT_LIKED, 0, 0, 0]
    assert found["avoid"].tolist() == [0] * 5


def test_a_greige_in_a_block_called_pink_only_leans_to_pink() -> None:
    """7YR 7.5/1.5 is "brownish pink" (NBS SP 440); a chroma of 4 is pink to a client."""
    texts = ("7YR 7.5/1.5", "5R 8/4", "N 7/", "5Y 7/1")
    chips = all_chips({f"p{n}": Paint(text, Notation(text)) for n, text in enumerate(texts)})
    assert str(chips.colours.names[0]) == "brownish pink"
    found = wish_costs(chips.colours, wishes_of(Brief(avoid=("pink", "grey"))))
    assert found["avoid"].tolist() == [0, BROKEN, BROKEN, BROKEN]
    assert found["lean"].tolist() == [NOT_LIKED, 0, 0, 0]
    assert broken_text(chips.colours, 0, stated_wishes(Brief(avoid=("pink",)))) == ""
    dark = all_chips({"p": Paint("", Notation("10YR 3/1.5"))})
    assert wish_costs(dark.colours, wishes_of(Brief(avoid=("brown",))))["avoid"].tolist() == [
        BROKEN
    ]


def test_hues_named_for_a_room_are_a_wish_of_it_and_those_of_the_house_only_liked() -> None:
    brief = Brief(like=("green",), rooms={"study": RoomBrief(like=("blue",))})
    assert costs("like", wishes_of(brief, "hall"))[-1] == NOT_LIKED
    assert costs("like", wishes_of(brief, "study"))[-1] == BROKEN
    assert "like" not in wish_costs(CHIPS.colours, stated_wishes(brief, "hall"))
    assert "like" in wish_costs(CHIPS.colours, stated_wishes(brief, "study"))


def test_where_only_walls_have_a_strength_accents_are_moderate_or_as_strong() -> None:
    """The default of accents is moderate (house format)."""
    assert stated_wishes(Brief(), accent=True).strength is None
    assert stated_wishes(Brief("neutral"), accent=True).strength == "moderate"
    assert stated_wishes(Brief("strong"), accent=True).strength == "strong"
    assert stated_wishes(Brief("neutral", "vivid"), accent=True).strength == "vivid"
    den = Brief("neutral", rooms={"den": RoomBrief("vivid")})
    assert stated_wishes(den, "den", accent=True).strength == "vivid"


def test_lrv_outside_the_range_costs_more_the_further_it_is() -> None:
    low, mid, high = (costs("lrv", Wishes(lrv=(low, 100)))[5] for low in (10.0, 15.0, 60.0))
    assert low == 0
    assert BROKEN < mid < high == 3 * BROKEN


@pytest.mark.parametrize(
    ("name", "hues"),
    [
        ("light bluish gray", {"grey"}), ("pale yellow green", {"yellow green", "green"}),
        ("grayish greenish blue", {"greenish blue", "blue", "blue green"}),
        ("very dark bluish green", {"bluish green", "green", "blue green"}),
        ("white", {"white"}), ("medium gray", {"grey"}), ("pinkish white", {"white"}),
    ],
)  # fmt: skip
def test_a_colour_answers_to_its_hue(name: str, hues: set[str]) -> None:
    assert hues_of(name) == hues


def test_a_colour_called_by_a_hue_may_lie_between_two() -> None:
    """Names of NBS SP 440 at chroma 3 more: 10BG is a greenish blue, 7.5PB a purplish blue."""
    texts = ("10B 3/2", "5PB 4/2", "5PB 3/4", "10BG 3/2", "7.5PB 3/2", "5B 3/4", "5PB 3/1")
    chips = all_chips({text: Paint(text, Notation(text)) for text in texts})
    between = between_hues(chips.colours, frozenset({"blue"}))
    assert between.tolist() == [False] * 3 + [True] * 3 + [False]
    assert not between_hues(chips.colours, frozenset({"blue green"}))[5]
    assert not between_hues(chips.colours, frozenset({"grey"})).any()


@pytest.mark.parametrize(
    ("brief", "words"),
    [
        (Brief(like=("blue",)), ""),
        (Brief(rooms={"den": RoomBrief(like=("blue",))}), "dark bluish grey; asked for: blue"),
        (Brief("neutral", rooms={"den": RoomBrief(like=("blue",))}), ""),
    ],
)
def test_a_bluish_grey_is_no_blue_in_a_room_that_names_it_and_may_have_colour(
    brief: Brief, words: str
) -> None:
    chips = all_chips({"p": Paint("", Notation("5PB 3/1"))})
    assert str(chips.colours.names[0]) == "dark bluish gray"
    assert broken_text(chips.colours, 0, wishes_of(brief, "den")) == words


def test_a_broken_wish_is_named_in_words() -> None:
    wishes = Wishes("greyish", avoid=frozenset({"green"}), lrv=(60, 75))
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
