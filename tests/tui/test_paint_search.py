"""Searching the paints while choosing one: what is typed narrows the list."""

import pytest

from housemap.model.edits import assign
from tests.support.choosing import HOUSE, choosing


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("moss", ["Moss Bank"]),
        ("a-10", ["Oat Ladle"]),
        ("lrv>80", ["Chalk Lump"]),
        ("lrv 10-30", ["Moss Bank"]),
        ("lump lrv>80", ["Chalk Lump"]),
    ],
)
async def test_what_is_typed_narrows_the_list(typed: str, found: list[str]) -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("slash", *_keys(typed))
        assert desk.listed == found
        await desk.press("enter")
        assert desk.open
        await desk.press("enter")
        assert desk.session.house.paints[str(desk.walls())].name == found[0]


async def test_the_first_that_is_found_is_chosen_and_enter_goes_to_the_list() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("end", "slash", *"lrv", "greater_than_sign", "3")
        assert desk.panel.chosen_number == 0
        first = desk.panel.chosen
        assert "put it on" not in desk.text
        await desk.press("enter")
        assert desk.walls() == "oat"
        assert desk.panel.chosen == first
        assert "put it on" in desk.text
        await desk.press("down", "enter")
        assert desk.walls() not in {first, None}


async def test_a_search_begun_before_the_panel_is_drawn_keeps_the_keys() -> None:
    async with choosing() as desk:
        await desk.press("slash")
        desk.screen._enter_panel(desk.panel)  # as when the panel is drawn late
        await desk.press(*"moss")
        assert desk.panel.search == "moss"


async def test_the_map_shows_what_is_found_while_it_is_typed() -> None:
    async with choosing() as desk:
        await desk.press("slash", *"moss")
        assert desk.session.tried == assign(HOUSE, "hall", "walls", "moss")


async def test_escape_leaves_the_search_first_and_then_the_choice() -> None:
    async with choosing() as desk:
        await desk.press("slash", *"moss", "escape")
        assert desk.panel.search == ""
        await desk.press("escape")
        assert desk.session.tried is None
        assert not desk.open


async def test_a_search_that_finds_nothing_says_so_and_takes_nothing() -> None:
    async with choosing() as desk:
        await desk.press("slash", *"mosstar")
        assert 'None of the 3 paints fits "mosstar"' in desk.text
        assert desk.session.tried is None
        await desk.press("enter")
        assert desk.open
        assert desk.walls() == "oat"


async def test_an_lrv_that_cannot_be_read_is_told_and_hides_nothing() -> None:
    async with choosing() as desk:
        await desk.press("slash", *_keys("lrv x"))
        await desk.shows("limits are asked for as in")
        assert "Moss Bank" in desk.listed


async def test_arrows_move_through_the_list_while_typing() -> None:
    async with choosing() as desk:
        await desk.ranked()
        await desk.press("slash", "pageup")
        assert desk.panel.chosen_number == 0
        await desk.press("down")
        wanted = desk.panel.chosen
        assert wanted is not None
        await desk.press("enter", "enter")
        assert desk.walls() == wanted


def _keys(text: str) -> list[str]:
    names = {" ": "space", ">": "greater_than_sign", "-": "minus"}
    return [names.get(char, char) for char in text]
