"""Limits of a house set by keys, and the pages about the checks."""

import pytest

from housemap.checks import check_of
from housemap.tui.house_screen import HouseScreen
from housemap.tui.tasks.findings import FindingPanel, FindingsPanel
from housemap.tui.text_fields import Prompt
from tests.support.finding import HOUSE, FindingDesk, found


async def type_limit(desk: FindingDesk, *keys: str) -> None:
    """Ask for the first limit of the finding and type another."""
    await desk.until(lambda: isinstance(desk.panel, FindingPanel))
    await desk.press("e")
    await desk.shows("Which limit of Undertones that fight?")
    await desk.press("1")
    await desk.until(lambda: isinstance(desk.app.screen, Prompt))
    await desk.press("backspace", "backspace", *keys, "enter")
    await desk.until(lambda: isinstance(desk.app.screen, HouseScreen))


async def test_a_limit_is_set_for_this_house_and_given_back() -> None:
    async with found(HOUSE, "enter") as desk:
        await type_limit(desk, *"70", "comma", "5")
        assert desk.session.house.limits == {"undertone": {"hue": 70.5}}
        await desk.shows("set here (default 60)")
        await desk.press("delete")
        await desk.until(lambda: desk.session.house.limits == {})
        await desk.press("u", "u")
        assert desk.session.house == HOUSE


async def test_a_finding_that_a_new_limit_lets_pass_is_no_longer_told() -> None:
    async with found(HOUSE, "enter") as desk:
        await type_limit(desk, *"179")
        await desk.shows("That is no longer found.")
        assert isinstance(desk.panel, FindingsPanel)


@pytest.mark.parametrize("typed", ["x", "minus"])
async def test_a_limit_that_is_no_number_is_told_in_one_line(typed: str) -> None:
    async with found(HOUSE, "enter") as desk:
        await type_limit(desk, typed)
        await desk.shows("A limit is a number")
        assert desk.session.house is HOUSE


async def test_every_check_is_explained_with_two_examples() -> None:
    async with found(HOUSE) as desk:
        await desk.run("checks")
        await desk.shows("Too big a jump", "Beyond the screen", "Fails:", "a deep blue")
        await desk.press("down")
        await desk.shows(check_of("stop").caught.words)
        await desk.press("escape")
        await desk.until(lambda: isinstance(desk.app.screen, HouseScreen))
