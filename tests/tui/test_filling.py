"""Filling the house from the program: proposed on the map, taken as one edit, stopped at will."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from textual.pilot import Pilot

from housemap.model.edits import assign
from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import screen_text, shallow_report


@asynccontextmanager
async def filling(house: House) -> AsyncIterator[tuple[HousemapApp, Session, Pilot[None]]]:
    session = Session.of(house)
    app = HousemapApp(session, reporter=shallow_report)
    async with app.run_test(size=(110, 40)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.pause(0.05)
        await pilot.press("a")
        await settle(app, pilot)
        yield app, session, pilot


async def settle(app: HousemapApp, pilot: Pilot[None]) -> None:
    await pilot.pause(0.05)
    await app.workers.wait_for_complete()
    await pilot.pause(0.05)


BARE = assign(small_house(), "kitchen", "walls", None)


async def test_a_bare_room_is_filled_shown_and_taken_as_one_edit() -> None:
    async with filling(BARE) as (app, session, pilot):
        assert "under these rules" in screen_text(app)
        assert session.house == BARE
        assert session.shown.rooms["kitchen"].paints.walls is not None
        await pilot.press("enter")
        await pilot.pause(0.05)
        assert session.house.rooms["kitchen"].paints.walls is not None
        assert session.house.rooms["hall"].paints.walls == "oat"
        await pilot.press("u")
        assert session.house == BARE


async def test_before_and_after_are_shown_by_one_key() -> None:
    async with filling(BARE) as (_, session, pilot):
        await pilot.press("v")
        assert session.shown.rooms["kitchen"].paints.walls is None
        await pilot.press("v")
        assert session.shown.rooms["kitchen"].paints.walls is not None


async def test_leaving_changes_nothing() -> None:
    async with filling(BARE) as (_, session, pilot):
        await pilot.press("escape")
        await pilot.pause(0.05)
        assert session.shown == session.house == BARE


async def test_all_rooms_are_filled_but_the_kept_ones_and_no_more_paints_than_allowed() -> None:
    async with filling(small_house()) as (app, session, pilot):
        assert "all rooms but the kept ones" in screen_text(app)
        await pilot.press("home", "x", "minus", "minus")
        await settle(app, pilot)
        assert "at most 1 wall paint" in screen_text(app)
        await pilot.press("enter")
        await pilot.pause(0.05)
        walls = {room.paints.walls for room in session.house.rooms.values()}
        assert walls == {"oat"}


async def test_what_cannot_be_chosen_is_said_in_words() -> None:
    house = small_house(paints={}, rooms={"hall": small_house().rooms["study"].__class__("Hall")},
                        openings={}, sightlines={}, samples={}, visits={})  # fmt: skip
    async with filling(house) as (app, _, _):
        assert "no paint to fill rooms with" in screen_text(app)
