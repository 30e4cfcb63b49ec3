"""What one meets on the way through a house: views, stops, ticks, notes, findings."""

from textual.widgets import Input

from housemap.file.reader import read_house
from housemap.tui.text_fields import Prompt
from tests.support.houses import small_house
from tests.support.project import DEMO
from tests.support.screens import app_on, run_command, screen_text
from tests.support.walking import reported, screen_of, walking


async def test_the_list_of_views_shows_each_and_escape_goes_back() -> None:
    async with walking(read_house(DEMO)) as (app, pilot, walk):
        before = walk.walker.camera
        await run_command(app, pilot, "views")
        await pilot.pause(0.1)
        assert "Seen from Hall" in screen_text(app)
        first = walk.walker.camera
        assert first != before
        await pilot.press("down")
        await pilot.pause(0.1)
        assert walk.walker.camera not in (first, before)
        await pilot.press("escape")
        await pilot.pause(0.1)
        assert walk.walker.camera == before
        await run_command(app, pilot, "views")
        await pilot.press("down", "enter")
        await pilot.pause(0.1)
        assert walk.walker.camera not in (first, before)
        assert walk.has_focus


async def test_tab_walks_the_route_from_stop_to_stop() -> None:
    house = small_house()
    async with walking(house, "kitchen") as (app, pilot, walk):
        rooms = [stop.room for stop in walk.walker.route.stops]
        await pilot.press(*["shift+tab"] * 3)
        await pilot.pause(0.1)
        assert "first stop" in screen_text(app)
        visited = [walk.walker.camera.room]
        for _ in rooms[1:]:
            await pilot.press("tab")
            visited.append(walk.walker.camera.room)
        assert visited == rooms
        await pilot.press("tab")
        await pilot.pause(0.1)
        assert "last stop; 1 of 3 ticked off" in screen_text(app)


async def test_a_room_is_ticked_off_with_a_note_and_that_is_kept() -> None:
    async with walking(small_house(), "kitchen") as (app, pilot, _):
        assert app.session
        await pilot.press("x")
        await pilot.pause()
        assert "Kitchen ticked off" in screen_text(app)
        assert app.session.house.visits["kitchen"].when is not None
        await pilot.press("o")
        assert isinstance(app.screen, Prompt)
        await pilot.press(*"dry rot", "enter")
        await pilot.pause(0.1)
        assert app.session.house.visits["kitchen"].notes == "dry rot"
        assert "dry rot" in screen_text(app)
        await pilot.press("x")
        await pilot.pause(0.1)
        assert "kitchen" not in app.session.house.visits
        assert "its note is gone; u brings both back" in screen_text(app)
        await pilot.press("u", "u", "u")
        assert app.session.house == small_house()


async def test_a_note_left_by_escape_changes_nothing_and_comes_back_by_up_alone() -> None:
    async with walking(small_house(), "kitchen") as (app, pilot, _):
        assert app.session
        await pilot.press("o", *"damp", "escape")
        assert app.session.house == small_house()
        assert "What you typed is kept" in screen_text(app)
        await pilot.press("o")
        assert "what you left" in screen_text(app)
        assert app.screen.query_one(Input).value == ""
        await pilot.press("up", *"er", "enter")
        assert app.session.house.visits["kitchen"].notes == "damper"
        await pilot.press("o", "escape")
        assert "is kept" not in screen_text(app), "nothing was typed"


async def test_the_route_is_listed_with_ticks_also_from_the_map() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(100, 30)) as pilot:
        assert app.session
        await pilot.press("r")
        await pilot.pause(0.1)
        text = screen_text(app)
        assert "Route" in text
        assert "1 of 3 ticked off" in text
        await pilot.press("end")
        await pilot.pause(0.1)
        last = app.session.selection.room
        await pilot.press("x")
        await pilot.pause(0.1)
        assert last in app.session.house.visits
        assert "2 of 3 ticked off" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause(0.1)
        assert app.session.selection.room == "hall"


async def test_the_list_of_findings_takes_the_walk_along() -> None:
    async with walking(read_house(DEMO), "cloakroom", (120, 36)) as (app, pilot, walk):
        await reported(app, pilot)
        screen_of(app).run("findings.open")
        await pilot.pause(0.1)
        seen = set()
        for _ in range(6):
            await pilot.press("down")
            await pilot.pause(0.05)
            seen.add(walk.walker.camera.room)
        assert len(seen) > 1
