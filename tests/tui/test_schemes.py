"""Schemes of a house and sets around a paint, driven by keys."""

from dataclasses import replace

import pytest

from housemap.colorimetry.facts import colour_facts
from housemap.model.edits import assign, make_scheme
from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.suggest import AroundPanel, Entry, ProposalPanel, SchemesPanel
from tests.support.houses import small_house
from tests.support.screens import app_on, house_screen, run_command, until, until_shown


def house_now(app: HousemapApp) -> House:
    assert app.session is not None
    return app.session.house


async def test_a_set_is_built_around_the_paint_here_tried_and_taken() -> None:
    app = app_on(small_house(samples={}))  # a room with an approved paint would stay as it is
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause(0.2)
        await until(pilot, lambda: app.session is not None and app.session.report is not None)
        before = house_now(app)
        await pilot.press("b")
        await until_shown(app, pilot, "Set 1 of")
        panel = house_screen(app).panel
        assert isinstance(panel, AroundPanel)
        assert house_now(app) == before
        await until(pilot, lambda: app.session is not None and app.session.tried is not None)
        await pilot.press("down", "down", "down", "right")
        await until_shown(app, pilot, "Alternative 1")
        await pilot.press("tab")
        await until_shown(app, pilot, "Set 2 of")
        await pilot.press("enter")
        await pilot.pause(0.1)
        taken = house_now(app)
        trims = {room.paints.trim for room in taken.rooms.values() if room.use != "outdoor"}
        assert len(trims) == 1
        assert None not in trims
        await pilot.press("u")
        assert house_now(app) == before


async def test_a_set_that_is_asked_for_before_the_first_report_comes() -> None:
    app = app_on(small_house(samples={}))
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.session is not None and app.session.base is not None)
        assert app.session is not None
        app.session.report = app.session.base = None  # as it is at the start
        await pilot.press("b")
        await until_shown(app, pilot, "Set 1 of")


async def test_paging_through_a_set_does_not_go_on_to_another_set() -> None:
    app = app_on(small_house(samples={}))
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.session is not None and app.session.report is not None)
        await pilot.press("b")
        await until_shown(app, pilot, "Set 1 of")
        panel = house_screen(app).panel
        assert isinstance(panel, AroundPanel)
        await pilot.press(*["pagedown"] * 4)
        assert (panel.number, panel.entry_chosen.kind) == (0, "room")
        await pilot.press(*["pageup"] * 4)
        assert (panel.number, panel.entry_chosen) == (0, Entry("way", "0"))
        await pilot.press("tab")
        await until_shown(app, pilot, "Set 2 of")


async def test_sets_that_are_open_are_not_thrown_away_for_others() -> None:
    app = app_on(small_house(samples={}))
    async with app.run_test(size=(120, 40)) as pilot:
        await until(pilot, lambda: app.session is not None and app.session.report is not None)
        await pilot.press("b")
        await until_shown(app, pilot, "Set 1 of")
        panel = house_screen(app).panel
        await until(pilot, lambda: app.session is not None and app.session.tried is not None)
        await pilot.press("b")
        await until_shown(app, pilot, "Take what is shown (enter) or leave it (esc), then press b.")
        assert house_screen(app).panel is panel
        await pilot.press("escape", "b")
        await until(pilot, lambda: isinstance(house_screen(app).panel, AroundPanel))


async def test_leaving_a_set_leaves_the_house_as_it_was() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(120, 40)) as pilot:
        await until(pilot, lambda: app.session is not None and app.session.report is not None)
        await pilot.press("b")
        await until_shown(app, pilot, "Set 1 of")
        await pilot.press("escape")
        await pilot.pause(0.1)
        assert house_now(app) == small_house()
        assert app.session
        assert app.session.tried is None


async def test_the_house_is_kept_as_a_scheme_and_another_scheme_is_taken() -> None:
    painted = make_scheme(small_house(), "Quiet")
    house = make_scheme(painted, "Other")
    app = app_on(house)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("m")
        await until_shown(app, pilot, "Quiet")
        panel = house_screen(app).panel
        assert isinstance(panel, SchemesPanel)
        assert [one.name for one in panel.found.found] == ["as it is", "Quiet", "Other"]
        await pilot.press("n")
        await pilot.pause(0.1)
        await pilot.press("enter")
        await until_shown(app, pilot, "Scheme C")
        assert [scheme.name for scheme in house_now(app).schemes.values()][-1] == "Scheme C"
        await pilot.press("end", "delete")
        await until(pilot, lambda: len(house_now(app).schemes) == 2)


async def test_a_room_is_painted_the_same_as_another_in_one_step() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(120, 40)) as pilot:
        before = house_now(app)
        await run_command(app, pilot, "same-as")
        panel = house_screen(app).panel
        assert isinstance(panel, ProposalPanel)
        await until(pilot, lambda: bool(panel.found.found))
        panel.step([one.name for one in panel.found.found].index("Kitchen"))
        await pilot.pause(0.1)
        assert app.session
        assert app.session.shown.rooms["hall"].paints == before.rooms["kitchen"].paints
        await pilot.press("enter")
        await pilot.pause(0.1)
        assert house_now(app).rooms["hall"].paints == before.rooms["kitchen"].paints
        await pilot.press("u")
        assert house_now(app) == before


@pytest.mark.parametrize(("what", "lighter"), [("a step lighter", True), ("a step darker", False)])
async def test_a_tint_of_the_paint_here_is_tried_and_taken(what: str, *, lighter: bool) -> None:
    app = app_on(small_house())
    async with app.run_test(size=(120, 40)) as pilot:
        before = house_now(app)
        await run_command(app, pilot, "tints")
        await until_shown(app, pilot, "quarter strength")
        panel = house_screen(app).panel
        assert isinstance(panel, ProposalPanel)
        panel.step([one.name for one in panel.found.found].index(what))
        await pilot.press("enter")
        await pilot.pause(0.1)
        after = house_now(app)
        paint = after.paints[str(after.rooms["hall"].paints.walls)]
        assert paint.name == f"Oat Ladle, {what}"
        assert "ask for it to be mixed" in paint.derived
        oat, tint = colour_facts([before.paints["oat"].colour, paint.colour])
        assert (tint.lrv > oat.lrv) == lighter
        await pilot.press("u")
        assert house_now(app) == before


async def test_one_room_alone_is_painted_as_in_a_scheme() -> None:
    other = assign(assign(small_house(), "hall", "walls", "moss"), "kitchen", "walls", "chalk")
    house = replace(make_scheme(other, "Quiet"), rooms=small_house().rooms)
    app = app_on(house)
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("m")
        await until_shown(app, pilot, "Quiet")
        panel = house_screen(app).panel
        assert isinstance(panel, SchemesPanel)
        await pilot.press("tab")
        await until(pilot, lambda: any(entry.kind == "room" for entry in panel.items))
        rooms = [n for n, entry in enumerate(panel.items) if entry == Entry("room", "kitchen")]
        panel.step(rooms[0] - (panel.chosen_number or 0))
        await until_shown(app, pilot, "paint this room so")
        await pilot.press("enter")
        await pilot.pause(0.1)
        assert house_now(app).rooms["kitchen"] == other.rooms["kitchen"]
        assert house_now(app).rooms["hall"] == house.rooms["hall"]
