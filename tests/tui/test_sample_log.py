"""The log of samples: all that is told of a paint can be read, on a small screen too."""

from dataclasses import replace
from typing import cast

from housemap.model.edits import assign
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.choose import ChoosingPanel
from housemap.tui.tasks.samples import SamplesPanel
from tests.support.desks import Desk
from tests.support.houses import small_house
from tests.support.screens import app_on


async def test_all_that_is_told_of_a_paint_is_reached_by_pgdn_on_a_small_screen() -> None:
    app = app_on(assign(small_house(latitude_deg=51.5), "hall", "walls", "moss"))
    async with app.run_test(size=(80, 24)) as pilot:
        desk = Desk(app, pilot)
        await desk.press("s")
        await desk.shows("pgdn: more")
        assert "be used." not in desk.text
        pages = [desk.text]
        while "pgup: back" not in desk.text:
            await desk.press("pagedown")
            pages.append(desk.text)
        assert any("When to look" in page for page in pages)
        assert "be used." in pages[-1]
        await desk.press("pageup")
        assert desk.text == pages[-2]
        await desk.press("down")
        await desk.shows("pgdn: more")


async def test_after_a_verdict_the_list_keeps_its_order_and_down_goes_to_the_next() -> None:
    house = assign(assign(small_house(), "hall", "walls", "moss"), "hall", "ceiling", "oat")
    app = app_on(replace(house, samples={}))
    async with app.run_test(size=(80, 24)) as pilot:
        desk = Desk(app, pilot)
        await desk.until(lambda: desk.session.base_is_current)
        await desk.press("s", "h")
        await desk.shows("whole house")
        panel = desk.screen.panel
        assert isinstance(panel, SamplesPanel)
        before = [trial.key for trial in panel.items]
        assert panel.item is not None
        at = before.index(panel.item.key)
        await desk.press("enter", "a")
        await desk.shows("What was seen?")
        await desk.press("enter")
        await desk.until(lambda: len(desk.house.samples) == 1)
        assert [trial.key for trial in panel.items] == before
        assert panel.items[at].tried == "kept"
        await desk.press("down")
        assert panel.chosen == before[at + 1]


async def test_the_light_is_asked_with_the_verdict_and_the_other_is_still_to_see() -> None:
    house = replace(assign(small_house(), "hall", "walls", "moss"), samples={})
    async with app_on(house).run_test(size=(100, 40)) as pilot:
        desk = Desk(cast("HousemapApp", pilot.app), pilot)
        await desk.press("s")
        await desk.shows("next look:")
        await desk.press("enter")
        await desk.shows("seen by day: is it right?", "by lamplight instead")
        await desk.press("t")
        await desk.shows("seen by lamplight: is it right?")
        await desk.press("a", "enter")
        await desk.shows("✓A by lamplight only", "next look:")
        [seen] = desk.house.samples.values()
        assert (seen.light, seen.verdict) == ("evening", "keep")
        await desk.press("enter")
        await desk.shows("seen by day: is it right?")
        await desk.press("a", "enter")
        await desk.until(lambda: len(desk.house.samples) == 2)
        assert "by lamplight only" not in desk.text


async def test_a_sample_that_was_only_put_up_has_no_light() -> None:
    house = replace(assign(small_house(), "hall", "walls", "moss"), samples={})
    async with app_on(house).run_test(size=(100, 40)) as pilot:
        desk = Desk(cast("HousemapApp", pilot.app), pilot)
        await desk.press("s")
        await desk.shows("next look:")
        await desk.press("n")
        await desk.shows("put up. What was seen?")
        await desk.press("enter")
        await desk.until(lambda: len(desk.house.samples) == 1)
        [up] = desk.house.samples.values()
        assert (up.light, up.verdict) == (None, None)


async def test_after_a_rejection_the_next_look_is_another_paint() -> None:
    house = replace(assign(small_house(), "hall", "walls", "moss"), samples={})
    async with app_on(house).run_test(size=(100, 40)) as pilot:
        desk = Desk(cast("HousemapApp", pilot.app), pilot)
        await desk.press("s")
        await desk.shows("next look:", "Put it on")
        await desk.press("enter", "r", "enter")
        await desk.shows("rejected", "Next: another paint", "enter choose another paint")
        assert "Put it on" not in desk.text
        assert "When to look" not in desk.text


async def test_a_verdict_on_a_ceiling_is_none_on_the_woodwork_in_the_same_paint() -> None:
    house = small_house()
    paints = replace(house.rooms["kitchen"].paints, ceiling="chalk", trim="chalk", doors="chalk")
    kitchen = replace(house.rooms["kitchen"], paints=paints)
    house = replace(house, samples={}, rooms={**house.rooms, "kitchen": kitchen})
    async with app_on(house).run_test(size=(100, 40)) as pilot:
        desk = Desk(cast("HousemapApp", pilot.app), pilot)
        await desk.press("tab")
        assert desk.session.selection.room == "kitchen"
        await desk.press("s")
        await desk.shows("Kitchen, ceiling", "Kitchen, trim")
        await desk.press("down", "enter")
        await desk.shows("Chalk Lump on the ceiling in Kitchen, seen by day: is it right?")
        await desk.press("r", "enter")
        await desk.shows("Next: another paint")
        [seen] = desk.house.samples.values()
        assert (seen.surface, seen.wall) == ("ceiling", None)
        panel = desk.screen.panel
        assert isinstance(panel, SamplesPanel)
        came_to = {trial.surface: trial.tried for trial in panel.items}
        assert came_to == {"walls": "untried", "ceiling": "rejected", "trim": "untried"}
        await desk.shows("ceiling, by day: rejected")
        await desk.press("escape", "s")
        await desk.shows("ceiling, by day: rejected")
        await desk.press("enter")
        await desk.shows("Kitchen ceiling")
        panel = desk.screen.panel
        assert isinstance(panel, ChoosingPanel)
        assert panel.target == ("kitchen", "ceiling")
        assert desk.session.selection.surface == "walls"


async def test_a_question_is_shown_whole_on_a_small_screen() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(80, 24)) as pilot:
        desk = Desk(app, pilot)
        text = "Rain Gutter in Front bedroom, south wall, 5.3 m, by day: approved. What was seen?"
        desk.screen.ask_line(text, "", lambda _: None)
        await desk.shows("Rain Gutter", "seen?")
