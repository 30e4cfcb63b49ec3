"""Paints chosen on a walk: what is picked in view, and how the picture follows."""

from housemap.model.edits import remove_with_uses
from housemap.model.house import House
from housemap.plan.view import FIELD_DEG, Camera
from housemap.tui.tasks.walk import Walk
from tests.support.houses import small_house
from tests.support.screens import screen_text, until_shown
from tests.support.walking import pixels_of, reported, screen_of, walking


async def test_moving_through_paints_recolours_the_walk_and_escape_puts_it_back() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        await reported(app, pilot)
        assert app.session
        await pilot.press("v")
        before = pixels_of(walk)
        await pilot.press("enter")
        await until_shown(app, pilot, "by findings")  # else the paint now on is the last of them
        await pilot.press("down")
        await until_shown(app, pilot, "trying out")
        tried = app.session.shown.rooms["hall"].paints.walls
        assert tried != "oat"
        assert (pixels_of(walk) != before).any()
        await pilot.press("greater_than_sign", "plus")
        await pilot.pause(0.1)
        assert walk.walker.camera.field_deg < FIELD_DEG
        await pilot.press("less_than_sign", "0")
        assert app.session.shown.rooms["hall"].paints.walls == tried
        await pilot.press("escape")
        await pilot.pause(0.1)
        assert walk.has_focus
        assert (pixels_of(walk) == before).all()


async def test_what_is_picked_in_view_gets_the_paint() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        await reported(app, pilot)
        assert app.session
        walk.walker.look_to("kitchen")
        walk.moved()
        await pilot.pause(0.1)
        for _ in range(12):
            if screen_of(app).query_one(Walk).target == ("kitchen", "walls"):
                break
            await pilot.press("full_stop")
        assert screen_of(app).query_one(Walk).target == ("kitchen", "walls")
        await pilot.press("enter")
        await pilot.pause(0.1)
        await pilot.press("down", "enter")
        await pilot.pause(0.1)
        assert app.session.house.rooms["kitchen"].paints.walls != "moss"
        assert app.session.house.rooms["hall"].paints.walls == "oat"
        await pilot.press("u")
        assert app.session.house == small_house()


async def test_a_click_picks_what_it_hits_and_a_second_one_chooses() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        walk.move(Camera("hall", (0.9, 1.0), 0.0))
        await pilot.pause(0.1)
        await pilot.click(Walk, offset=(walk.size.width // 2, walk.size.height - 1))
        await pilot.pause()
        assert screen_of(app).query_one(Walk).target == ("hall", "floor")
        await pilot.press("enter")
        await pilot.pause()
        assert "keep their finish" in screen_text(app)
        east_wall = (walk.size.width - 2, walk.size.height // 2)
        await pilot.click(Walk, offset=east_wall)
        await pilot.pause()
        assert screen_of(app).query_one(Walk).target == ("hall", "walls")
        await pilot.click(Walk, offset=east_wall)
        await pilot.pause(0.1)
        assert "Hall walls" in screen_text(app)
        assert screen_of(app).panel is not screen_of(app).home


async def test_undo_and_edits_are_seen_in_the_walk() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        screen = screen_of(app)
        screen.apply(remove_with_uses(small_house(), "rooms", "hall"), "remove the hall")
        await pilot.pause(0.1)
        assert walk.walker.camera.room == "kitchen"
        await pilot.press("u")
        await pilot.pause(0.1)
        assert "Undone" in screen_text(app)
        screen.apply(House(), "remove all")
        await pilot.pause(0.1)
        assert not screen.query(Walk)
        assert screen.map.display
