"""Schemes of a house and sets around a paint, driven by keys."""

from collections.abc import Callable

from textual.pilot import Pilot

from housemap.model.edits import make_scheme
from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.around import AroundPanel
from housemap.tui.tasks.schemes import SchemesPanel
from tests.support.houses import small_house
from tests.support.screens import app_on, house_screen, until_shown


def house_now(app: HousemapApp) -> House:
    assert app.session is not None
    return app.session.house


async def until(pilot: Pilot[None], holds: Callable[[], bool]) -> None:
    for _ in range(400):
        await pilot.pause(0.05)
        if holds():
            return
    raise AssertionError


async def test_a_set_is_built_around_the_paint_here_tried_and_taken() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.pause(0.2)
        await until(pilot, lambda: app.session is not None and app.session.report is not None)
        before = house_now(app)
        await pilot.press("b")
        await until_shown(app, pilot, "set 1 of")
        panel = house_screen(app).panel
        assert isinstance(panel, AroundPanel)
        assert house_now(app) == before
        await until(pilot, lambda: app.session is not None and app.session.tried is not None)
        await pilot.press("down", "down", "right")
        await until_shown(app, pilot, "Alternative 1")
        await pilot.press("tab")
        await until_shown(app, pilot, "set 2 of")
        await pilot.press("enter")
        await pilot.pause(0.1)
        taken = house_now(app)
        trims = {room.paints.trim for room in taken.rooms.values() if room.use != "outdoor"}
        assert len(trims) == 1
        assert None not in trims
        await pilot.press("u")
        assert house_now(app) == before


async def test_leaving_a_set_leaves_the_house_as_it_was() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(120, 40)) as pilot:
        await until(pilot, lambda: app.session is not None and app.session.report is not None)
        await pilot.press("b")
        await until_shown(app, pilot, "set 1 of")
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
        assert [row.scheme.name for row in panel.rows] == ["as it is", "Quiet", "Other"]
        await pilot.press("n")
        await pilot.pause(0.1)
        await pilot.press("enter")
        await until_shown(app, pilot, "Scheme C")
        assert [scheme.name for scheme in house_now(app).schemes.values()][-1] == "Scheme C"
        await pilot.press("end", "delete")
        await until(pilot, lambda: len(house_now(app).schemes) == 2)
