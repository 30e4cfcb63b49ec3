"""The light key and the page of a room's light, driven by keys."""

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import replace
from threading import Event

import pytest
from textual.pilot import Pilot

from housemap.checks import Report, report_of
from housemap.errors import HousemapError
from housemap.model.edits import assign
from housemap.model.house import House, Light
from housemap.study.lighting import Lighting, RoomDetailCache
from housemap.tui.app import HousemapApp
from housemap.tui.house_screen import HouseScreen
from housemap.tui.map.house_map import HouseMap
from housemap.tui.render.shades import shades_of
from housemap.tui.tasks.light import LightScreen, sun_words
from housemap.workbench.reporting import next_report
from housemap.workbench.session import Session
from tests.support.lit_houses import lit_house
from tests.support.screens import run_command, screen_text, shallow_report, until

HOUSE = lit_house()
Driven = tuple[HousemapApp, Pilot[None]]


def deep_report(house: House, previous: Report | None) -> Report:
    return report_of(house, previous)


@asynccontextmanager
async def opened(
    reporter: Callable[[House, Report | None], Report] = deep_report,
    house: House = HOUSE,
    size: tuple[int, int] = (120, 40),
) -> AsyncIterator[Driven]:
    app = HousemapApp(Session.of(house), reporter=reporter)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        yield app, pilot


async def until_lit(app: HousemapApp, pilot: Pilot[None]) -> None:
    await until(pilot, lambda: shades_of(session_of(app)).lighting is not None)


def session_of(app: HousemapApp) -> Session:
    assert app.session
    return app.session


def light_of(app: HousemapApp) -> Light:
    return session_of(app).selection.light


def map_colour(app: HousemapApp, room: str) -> str | None:
    """Of the room's walls, as it stands in the map that is on the screen."""
    screen = next(s for s in app.screen_stack if isinstance(s, HouseScreen))
    return screen.map.scene.blocks[room].coat("walls").colour


async def test_one_key_turns_the_light_and_the_finder_reaches_each() -> None:
    async with opened() as (app, pilot):
        await until_lit(app, pilot)
        for light in ("day", "evening", "reference"):
            await pilot.press("t")
            assert light_of(app) == light
            assert f"light: {light}" in screen_text(app)
        for light in ("evening", "day", "reference"):
            await run_command(app, pilot, f"light-{light}")
            assert light_of(app) == light
            assert f"light: {light}" in screen_text(app)


async def test_the_map_follows_the_light() -> None:
    async with opened() as (app, pilot):
        await until_lit(app, pilot)
        found = []
        for _ in range(3):
            found.append(map_colour(app, "hall"))
            await pilot.press("t")
        assert len(set(found)) == 3
        assert map_colour(app, "hall") == found[0]


async def test_turning_the_light_tells_which_rooms_are_without() -> None:
    async with opened() as (app, pilot):
        await until_lit(app, pilot)
        await pilot.press("t")
        assert "Study (not measured)" in screen_text(app)
        await pilot.press("k", "escape")
        assert "(1 room unlit)" in screen_text(app)


async def test_light_that_is_not_there_yet_is_told_and_comes_by_itself() -> None:
    go_on = Event()

    def slow(house: House, previous: Report | None) -> Report:
        if previous is not None:
            go_on.wait(10)
        return next_report(house, previous)

    async with opened(slow) as (app, pilot):
        await until(pilot, lambda: session_of(app).report is not None)
        await pilot.press("t")
        assert "light: day (being computed)" in screen_text(app)
        assert map_colour(app, "hall") == "#d9d0bf"
        go_on.set()
        await until(pilot, lambda: map_colour(app, "hall") != "#d9d0bf")
        await until(pilot, lambda: "computed" not in screen_text(app))
        assert "Study (not measured)" in screen_text(app)


async def test_an_edit_by_evening_keeps_the_evening() -> None:
    async with opened() as (app, pilot):
        await until_lit(app, pilot)
        await pilot.press("t", "t")
        screen = app.screen
        assert isinstance(screen, HouseScreen)
        screen.apply(assign(HOUSE, "hall", "walls", "moss"), "Hall walls: Moss Bank")
        assert map_colour(app, "hall") != "#7c8468"
        await until(pilot, lambda: session_of(app).report_is_current)
        await pilot.press("u")
        assert light_of(app) == "evening"


async def test_the_card_tells_what_the_paint_costs_once_it_has_been_looked_at_closely() -> None:
    async with opened() as (app, pilot):
        await until(pilot, lambda: "less than with Chalk Lump" in screen_text(app))
        await until(pilot, lambda: "daylight factor" in screen_text(app))


async def test_the_page_of_a_rooms_light_opens_steps_and_closes() -> None:
    async with opened() as (app, pilot):
        await until_lit(app, pilot)
        await pilot.press("l")
        assert isinstance(app.screen, LightScreen)
        assert "Hall: light" in screen_text(app)
        await pilot.press("tab")
        assert "Kitchen: light" in screen_text(app)
        await pilot.press("shift+tab", "shift+tab")
        assert "Study: light" in screen_text(app)
        assert "not measured" in screen_text(app)
        await pilot.press("escape")
        assert isinstance(app.screen, HouseScreen)
        await until(pilot, lambda: "level 0 [1]" in screen_text(app))
        assert session_of(app).selection.room == "study"


async def test_paints_are_tried_on_the_page_without_changing_the_house() -> None:
    async with opened() as (app, pilot):
        await until_lit(app, pilot)
        await pilot.press("l", "left")
        assert "and below it Moss Bank" in screen_text(app)
        await pilot.press("right", "right", "right")
        assert "and below it Chalk Lump" in screen_text(app)
        assert session_of(app).house == HOUSE


async def test_the_page_follows_what_is_computed_meanwhile_and_the_light_key() -> None:
    async with opened(size=(160, 48)) as (app, pilot):
        await pilot.press("l")
        await until(pilot, lambda: "Light on each surface" in screen_text(app))
        await until(pilot, lambda: "With it on the walls" in screen_text(app))
        await pilot.press("t")
        assert "light: day" in screen_text(app)


async def test_a_page_opened_before_the_map_is_drawn_gets_its_light(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A key typed early covers the map, which then has no first frame that begins the report."""
    monkeypatch.setattr(HouseMap, "fit", lambda _: None)
    async with opened(size=(160, 48)) as (app, pilot):
        await pilot.press("l")
        await until(pilot, lambda: "Light on each surface" in screen_text(app))


async def test_the_page_scrolls_and_can_be_left_for_good() -> None:
    async with opened() as (app, pilot):
        await until_lit(app, pilot)
        await pilot.press("l", "pagedown", "down")
        screen = app.screen
        assert isinstance(screen, LightScreen)
        assert screen.rows.top > 5
        await pilot.press("pageup", "up")
        assert screen.rows.top == 0
        await pilot.press("ctrl+q")
    assert app.return_code == 0


@pytest.mark.parametrize("keys", [("l",), ("t",), ("t", "l", "tab", "left", "t", "escape")])
async def test_an_empty_house_has_no_light_and_needs_none(keys: tuple[str, ...]) -> None:
    async with opened(shallow_report, House(name="New")) as (app, pilot):
        await pilot.press(*keys)
        assert isinstance(app.screen, HouseScreen)


async def test_a_look_that_fails_is_shown_and_the_next_room_is_looked_at(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    look, failing = RoomDetailCache.look, Session.of(HOUSE).selection.room

    def failing_look(close: RoomDetailCache, lighting: Lighting, room: str) -> None:
        if room == failing:
            raise HousemapError("no look at this one")
        look(close, lighting, room)

    monkeypatch.setattr(RoomDetailCache, "look", failing_look)
    async with opened() as (app, pilot):
        await until(pilot, lambda: "no look at this one" in screen_text(app))
        await pilot.press("tab")
        room = str(session_of(app).selection.room)
        lighting = shades_of(session_of(app)).lighting
        assert room != failing
        assert lighting is not None
        await until(pilot, lambda: lighting.close.paints(lighting, room) is not None)


@pytest.mark.parametrize("action", ["light.open", "schedule.open", "decks.open"])
async def test_a_change_before_a_screen_has_its_widgets_is_shown_once_it_has(action: str) -> None:
    async with opened() as (app, pilot):
        house = app.screen
        assert isinstance(house, HouseScreen)
        house.run(action)
        assert app.screen is not house
        house.follow()
        await pilot.pause()
        assert app.is_running
        assert app.screen.query("#head")


# The sun


async def test_the_hour_and_the_month_of_the_sun_are_keys_and_rooms_in_it_are_marked() -> None:
    """A kitchen with a window to the north has sun on a midsummer morning, none at noon.

    At 51.5 degrees the sun rises at 51 degrees from north then (any almanac).
    """
    house = replace(HOUSE, latitude_deg=51.5, north_deg=0.0)
    async with opened(house=house) as (app, pilot):
        await until_lit(app, pilot)
        await pilot.press("]")
        await until(
            pilot, lambda: "21 March, 12 h by the sun: Hall in the sun." in screen_text(app)
        )
        assert "☼" in screen_text(app)
        await pilot.press("}", "}", "}", *["["] * 7)
        await until(
            pilot,
            lambda: (
                "21 June, 5 h by the sun (6 h by summer clocks): Kitchen in" in screen_text(app)
            ),
        )
        await pilot.press("escape")
        await until(pilot, lambda: "☼" not in screen_text(app))


@pytest.mark.parametrize("width", [60, 80, 100, 160])
def test_the_names_of_rooms_in_the_sun_are_never_cut(width: int) -> None:
    names = ["Dining room", "Kitchen", "Living room", "Terrace"]
    text = sun_words("21 June, 15 h by the sun", " (16 h by summer clocks)", names, width)
    assert len(text) + 4 <= width
    named = [name for name in names if name in text]
    assert named == names or f"{len(names) - len(named)} more room" in text or not named
    assert (named == names) == (width >= 80)
    assert ("summer clocks" in text) == (width >= 160)


async def test_a_house_without_latitude_says_what_the_sun_needs() -> None:
    async with opened(shallow_report, replace(HOUSE, latitude_deg=None)) as (app, pilot):
        await pilot.press("[")
        await until(pilot, lambda: "Give the house its latitude first" in screen_text(app))


async def test_the_walk_says_so_where_no_sun_falls_in_the_view() -> None:
    house = replace(HOUSE, latitude_deg=51.5, north_deg=0.0)
    async with opened(house=house) as (app, pilot):
        await until_lit(app, pilot)
        await pilot.press("w", "]", *["["] * 12)
        await until(pilot, lambda: "0 h by the sun" in screen_text(app))
        assert "none in this view" in screen_text(app)
        await pilot.press("v", "]")
        await until(pilot, lambda: "with shading only: press v" in screen_text(app))
        await pilot.press("v", "t", "t", "]")
        await until(pilot, lambda: "shows lamplight now" in screen_text(app))
