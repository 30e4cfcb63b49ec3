"""A deck on the desk: what is asked, how it is arranged and what is chosen go together."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.chips import Chips, all_chips
from housemap.deck.notation_deck import notation_deck
from housemap.file.deck_file import DeckFile
from housemap.workbench.deck_browser import (
    ARRANGEMENTS,
    MOST_PICKED,
    ORDERS,
    Arrangement,
    DeckBrowser,
)
from tests.support.chips import random_paints

DECK = DeckFile("fan", None)
CHIPS = all_chips(random_paints(300))
NOTATION = all_chips(dict(list(notation_deck().items())[::5]))


def desk_on(chips: Chips) -> DeckBrowser:
    desk = DeckBrowser(DECK, paints=len(chips))
    desk.take_chips(chips, done=True)
    return desk


def test_a_desk_begins_at_the_colour_that_it_is_aimed_at() -> None:
    desk = DeckBrowser(DECK, paints=len(CHIPS))
    desk.aim = CHIPS.swatches[123].colour.lab100
    desk.take_chips(CHIPS, done=True)
    assert desk.chosen == CHIPS.swatches[123].id
    assert 123 in {c for cell in desk.shown_page.cells.values() for c in cell}


def test_what_the_user_chose_stays_chosen_while_the_deck_grows() -> None:
    desk = DeckBrowser(DECK, paints=len(CHIPS))
    desk.aim = (50.0, 0.0, 0.0)
    desk.take_chips(Chips(CHIPS.swatches[:100]), done=False)
    desk.choose(7)
    desk.take_chips(CHIPS, done=True)
    assert desk.chosen == CHIPS.swatches[7].id


STEPS = st.lists(
    st.sampled_from(
        ["arrange", "order", "near", "page", "back", "pick", "search 5y",
         "search lrv>50", "search nothing has this", "nothing", "narrow", "wide"]
    ),
    max_size=25,
)  # fmt: skip


def do(desk: DeckBrowser, step: str) -> None:
    match step.split(" ", 1):
        case ["search", text]:
            desk.search(text)
        case ["narrow" | "wide" as width]:
            desk.set_narrow(narrow=width == "narrow")
        case _:
            {
                "arrange": desk.arrange, "order": lambda: desk.next_order(1),
                "near": desk.turn_near,
                "page": lambda: desk.turn_page(1), "back": lambda: desk.turn_page(-1),
                "pick": desk.pick, "nothing": desk.ask_nothing,
            }[step]()  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(STEPS)
def test_the_chosen_chip_is_always_on_show_where_any_is(steps: list[str]) -> None:
    desk = desk_on(CHIPS)
    for step in steps:
        do(desk, step)
        shown = desk.rows
        if desk.arrangement != "list":
            shown = shown[desk.chart.kept[shown]]
        if len(shown):
            assert desk.chosen_row in shown
            if desk.arrangement != "list":
                on_page = {c for cell in desk.shown_page.cells.values() for c in cell}
                assert desk.chosen_row in on_page
        assert len(set(desk.rows.tolist())) == len(desk.rows)
        assert len(desk.picked) <= MOST_PICKED


def test_turning_all_pages_shows_every_chip_once() -> None:
    desk = desk_on(NOTATION)
    seen: list[int] = []
    used, _ = desk.pages
    for _ in used:
        seen += [c for cell in desk.shown_page.cells.values() for c in cell]
        desk.turn_page(1)
    assert sorted(seen) == list(range(len(NOTATION)))


def test_turning_a_page_goes_to_the_chip_most_like_the_chosen_one() -> None:
    desk = desk_on(all_chips(notation_deck()))
    desk.choose(desk.chips.rows["5y-7-2"])
    desk.turn_page(1)
    assert desk.swatch
    assert desk.swatch.name in {"10Y 7/2", "7.5Y 7/2"}


@pytest.mark.parametrize(
    ("order", "key"),
    [
        ("lightness", lambda chips, row: -chips.lrv[row]),
        ("name", lambda chips, row: chips.swatches[row].name.casefold()),
        ("deck", lambda _chips, row: row),
    ],
)
def test_the_list_is_in_the_order_that_is_asked_for(order: str, key: object) -> None:
    desk = desk_on(CHIPS)
    desk.arrange("list")
    while desk.order != order:
        desk.next_order(1)
    assert callable(key)
    keys = [key(CHIPS, row) for row in desk.rows.tolist()]
    assert keys == sorted(keys)


def test_every_arrangement_comes_in_turn() -> None:
    desk = desk_on(CHIPS)
    seen: list[Arrangement] = []
    for _ in ARRANGEMENTS:
        desk.arrange()
        seen.append(desk.arrangement)
    assert set(seen) == set(ARRANGEMENTS)
    assert len(set(ORDERS)) == len(ORDERS)


def test_a_search_that_cannot_be_read_leaves_what_is_shown() -> None:
    desk = desk_on(CHIPS)
    desk.search("lrv>50")
    before = desk.rows
    desk.search("lrv>50 <")
    assert desk.fault
    assert np.array_equal(desk.rows, before)
    desk.search("")
    assert not desk.fault
    assert len(desk.rows) == len(CHIPS)


def test_at_most_six_chips_lie_beside_each_other() -> None:
    desk = desk_on(CHIPS)
    for row in range(MOST_PICKED):
        desk.choose(row)
        assert desk.pick()
    desk.choose(50)
    assert not desk.pick()
    desk.choose(2)
    assert desk.pick()
    assert [s.id for s in desk.picks] == ["a-0", "a-1", "a-3", "a-4", "a-5"]


def test_another_deck_begins_with_nothing_asked_or_chosen() -> None:
    desk = desk_on(CHIPS)
    desk.search("lrv>50")
    desk.pick()
    desk.turn_near()
    desk.change_deck(DeckFile("other", None))
    assert (desk.text, desk.near, desk.chosen, desk.picked, len(desk.rows)) == (
        "", None, None, (), 0
    )  # fmt: skip


def test_an_empty_list_has_nothing_to_take() -> None:
    browser = desk_on(CHIPS)
    browser.search("zzz")
    assert browser.swatch is None
    assert not browser.pick()
    assert browser.fault.startswith('"zzz" is neither a name, a hue nor a limit')
    browser.search("")
    assert browser.swatch is not None


def test_a_colour_that_is_searched_for_chooses_the_nearest() -> None:
    browser = desk_on(CHIPS)
    browser.search(CHIPS.swatches[-1].colour.srgb_hex)
    assert browser.swatch == CHIPS.swatches[-1]


def test_what_is_found_is_near_what_was_chosen_however_it_was_typed() -> None:
    """Half of a limit finds others than the whole of it."""
    text = "lrv 55-65"
    for own in range(0, len(CHIPS), 30):
        at_once, by_letters = desk_on(CHIPS), desk_on(CHIPS)
        for desk in (at_once, by_letters):
            desk.choose(own)
        at_once.search(text)
        for n in range(len(text)):
            by_letters.search(text[: n + 1])
        assert by_letters.chosen == at_once.chosen
