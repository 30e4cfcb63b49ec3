"""Walking through the house by keys: what is seen, what follows, what is kept."""

import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import numpy as np
import pytest
from textual.pilot import Pilot

from housemap.file.reader import read_house
from housemap.model.edits import remove_with_uses
from housemap.model.house import House, Room
from housemap.plan.standing import turned
from housemap.plan.view import FIELD_DEG, Camera
from housemap.session import Session
from housemap.study import study_of
from housemap.tui.app import HousemapApp
from housemap.tui.render.half_blocks import PIXELS
from housemap.tui.screens.asking import Prompt
from housemap.tui.screens.house import HouseScreen
from housemap.tui.terminal import Depth
from housemap.tui.walker import Walker
from housemap.tui.widgets.walk import TURN_DEG, Walk
from tests.support.houses import small_house
from tests.support.project import DEMO
from tests.support.screens import app_on, screen_text, shallow_report, until_shown
from tests.support.terminal import Terminal
from tests.support.walks import differing, rays_in_colour

Walked = tuple[HousemapApp, Pilot[None], Walk]


@asynccontextmanager
async def walking(
    house: House, room: str = "hall", size: tuple[int, int] = (100, 30)
) -> AsyncIterator[Walked]:
    app = app_on(house)
    assert app.session
    app.session.select(room)
    async with app.run_test(size=size) as pilot:
        await pilot.press("w")
        await pilot.pause(0.1)
        yield app, pilot, screen_of(app).query_one(Walk)


def screen_of(app: HousemapApp) -> HouseScreen:
    screen = app.screen
    assert isinstance(screen, HouseScreen)
    return screen


async def reported(app: HousemapApp, pilot: Pilot[None]) -> None:
    """Wait until the findings are known."""
    for _ in range(200):
        if app.session and app.session.report_is_current:
            return
        await pilot.pause(0.02)
    raise AssertionError("no report came")


def pixels_of(walk: Walk) -> np.ndarray[tuple[int, ...], np.dtype[np.int64]]:
    """What the cells of the walk show, two pixels a cell."""
    found = []
    for row in walk._rows:
        upper = [run.ink.fg or run.ink.bg for run in row for _ in run.text]
        lower = [run.ink.bg for run in row for _ in run.text]
        found += [upper, lower]
    return np.array([[[*bytes.fromhex(str(pixel)[1:])] for pixel in row] for row in found])


async def test_w_walks_and_escape_goes_back_to_the_map() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        assert walk.has_focus
        assert "stop" in screen_text(app)
        assert not screen_of(app).map.display
        await pilot.press("escape")
        await pilot.pause()
        assert screen_of(app).map.display
        assert screen_of(app).map.has_focus
        assert not screen_of(app).query(Walk)


async def test_the_cells_show_what_a_ray_through_each_pixel_meets() -> None:
    """Without shading, against the ray caster of the tests."""
    house = read_house(DEMO)
    study = study_of(house)
    async with walking(house, "living", (90, 24)) as (app, pilot, walk):
        await reported(app, pilot)
        await pilot.press("m", "left", "left", "comma")
        await pilot.pause(0.1)
        width, height = walk.size
        expected = rays_in_colour(study, walk.walker.camera, (width, height * PIXELS))
        bare = np.array([*bytes.fromhex("6a6a6a")])
        unpainted = (expected == 176).all(axis=-1)
        expected[unpainted] = bare
        assert differing(pixels_of(walk), expected) <= expected.size // 3 // 300


async def test_a_full_turn_shows_the_same_picture_again() -> None:
    async with walking(small_house()) as (_, pilot, walk):
        before = pixels_of(walk)
        await pilot.press(*["left"] * 9)
        await pilot.pause(0.05)
        assert (pixels_of(walk) != before).any()
        await pilot.press(*["left"] * 27)
        await pilot.pause(0.05)
        assert (pixels_of(walk) == before).all()


async def test_of_many_keys_none_is_lost_and_pictures_are_left_out() -> None:
    async with walking(small_house()) as (_, pilot, walk):
        toward = walk.walker.camera.toward_deg
        drawn = 0
        draw = walk._draw

        def counted() -> None:
            nonlocal drawn
            drawn += 1
            draw()

        walk._draw = counted  # type: ignore[method-assign]  # counts the pictures
        for _ in range(100):
            walk.action_turn(1)
        await pilot.pause(0.1)
        assert walk.walker.camera.toward_deg == pytest.approx((toward + 1000) % 360)
        assert drawn < 20
        assert walk.walker._seen is not None
        assert walk.walker._seen[1] == walk.walker.camera


async def test_stepping_through_a_door_selects_the_room_behind_it() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        assert app.session
        await pilot.press("space")
        await pilot.pause(0.1)
        assert walk.walker.camera.room == "kitchen"
        assert app.session.selection.room == "kitchen"
        assert "Kitchen" in screen_text(app)
        await pilot.press("b", *["up"] * 20)
        await pilot.pause(0.1)
        assert app.session.selection.room == "hall"


async def test_a_wall_in_the_way_is_told() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        walk.move(Camera("hall", (0.9, 0.4), 180.0))
        await pilot.press(*["up"] * 3)
        await pilot.pause()
        assert "A wall is in the way" in screen_text(app)
        await pilot.press("space")
        await pilot.pause()
        assert "no opening ahead" in screen_text(app)


async def test_moving_through_paints_recolours_the_walk_and_escape_puts_it_back() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        await reported(app, pilot)
        assert app.session
        await pilot.press("m")
        before = pixels_of(walk)
        await pilot.press("c")
        await until_shown(app, pilot, "as it is")
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
            if screen_of(app)._target() == ("kitchen", "walls"):
                break
            await pilot.press("p")
        assert screen_of(app)._target() == ("kitchen", "walls")
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
        assert screen_of(app)._target() == ("hall", "floor")
        await pilot.press("enter")
        await pilot.pause()
        assert "A floor stays" in screen_text(app)
        east_wall = (walk.size.width - 2, walk.size.height // 2)
        await pilot.click(Walk, offset=east_wall)
        await pilot.pause()
        assert screen_of(app)._target() == ("hall", "walls")
        await pilot.click(Walk, offset=east_wall)
        await pilot.pause(0.1)
        assert "Hall walls" in screen_text(app)
        assert screen_of(app).panel is not screen_of(app).home


async def test_the_list_of_views_shows_each_and_escape_goes_back() -> None:
    async with walking(read_house(DEMO)) as (app, pilot, walk):
        before = walk.walker.camera
        await pilot.press("v")
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
        await pilot.press("v", "down", "enter")
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
        assert "last stop; 1 of 3 rooms are ticked off" in screen_text(app)


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
        await pilot.press("u", "u", "u")
        assert app.session.house == small_house()


async def test_a_note_left_by_escape_changes_nothing() -> None:
    async with walking(small_house(), "kitchen") as (app, pilot, _):
        assert app.session
        await pilot.press("o", "a", "escape")
        await pilot.pause(0.1)
        assert app.session.house == small_house()


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


async def test_n_goes_from_finding_to_finding_and_y_tells_why() -> None:
    async with walking(read_house(DEMO), "study", (120, 36)) as (app, pilot, walk):
        await reported(app, pilot)
        cameras = []
        for _ in range(3):
            await pilot.press("n")
            await pilot.pause(0.1)
            cameras.append(walk.walker.camera)
        assert len(set(cameras)) > 1
        assert "3 of" in screen_text(app)
        await pilot.press("N")
        await pilot.pause(0.1)
        assert walk.walker.camera == cameras[1]
        await pilot.press("y")
        await pilot.pause(0.2)
        assert walk.walker.camera == cameras[1]
        assert screen_of(app).panel is not screen_of(app).home
        await pilot.press("escape", "escape")
        await pilot.pause(0.1)
        assert walk.has_focus


async def test_the_list_of_findings_takes_the_walk_along() -> None:
    async with walking(read_house(DEMO), "cloakroom", (120, 36)) as (app, pilot, walk):
        await reported(app, pilot)
        await pilot.press("f")
        await pilot.pause(0.1)
        seen = set()
        for _ in range(6):
            await pilot.press("down")
            await pilot.pause(0.05)
            seen.add(walk.walker.camera.room)
        assert len(seen) > 1


async def test_the_picture_can_stand_alone() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        narrow = walk.size.width
        await pilot.press("z")
        await pilot.pause(0.1)
        assert walk.size.width == 100
        await pilot.press("c")
        await pilot.pause(0.1)
        assert walk.size.width == narrow
        assert screen_of(app).panel.display


async def test_the_lens_can_be_narrowed_and_set_back() -> None:
    async with walking(small_house()) as (_, pilot, walk):
        usual = walk.walker.camera
        await pilot.press("plus", "plus")
        assert walk.walker.camera.field_deg < usual.field_deg
        await pilot.press("0")
        assert walk.walker.camera == usual


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


async def test_a_room_without_measures_says_so_and_keys_do_no_harm() -> None:
    async with walking(House(rooms={"a": Room("A"), "b": Room("B")}), "a") as (app, pilot, _):
        assert "no measures" in screen_text(app)
        await pilot.press("left", "up", "down", "space", "v", "n", "p", "y", "z", "m", "b", "plus")
        await pilot.press("tab")
        await pilot.pause(0.1)
        assert app.session
        assert app.session.selection.room == "b"


@pytest.mark.parametrize("size", [(60, 18), (61, 19), (80, 24), (200, 60), (20, 5), (1, 1)])
async def test_the_walk_is_drawn_at_every_size(size: tuple[int, int]) -> None:
    async with walking(small_house(), size=size) as (_, pilot, walk):
        await pilot.press("left", "up", "z", "right")
        await pilot.pause(0.05)
        assert len(walk._rows) == walk.size.height


async def test_the_region_seen_is_shown_on_the_map() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("i")
        await pilot.pause(0.2)
        assert any(0x2800 <= ord(char) < 0x2900 for char in screen_text(app))
        assert screen_of(app).map.looking.standing is not None
        await pilot.press("i")
        await pilot.pause(0.2)
        assert screen_of(app).map.looking.standing is None


@pytest.mark.parametrize(
    ("depth", "shaded"), [("truecolor", True), ("256", False), ("16", False), ("none", False)]
)
async def test_few_colours_are_not_spent_on_shades(depth: str, *, shaded: bool) -> None:
    app = HousemapApp(
        Session.of(small_house()), depth=Depth(depth, "asked"), reporter=shallow_report  # type: ignore[arg-type]  # a name of a depth
    )  # fmt: skip
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("w")
        await pilot.pause(0.1)
        assert screen_of(app).query_one(Walk).shaded is shaded


async def test_the_light_key_changes_the_walk() -> None:
    from housemap.checks import report_of  # noqa: PLC0415 - only this test needs the light

    session = Session.of(small_house())
    session.take_report(report_of(session.house))
    app = HousemapApp(session, reporter=report_of)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("w")
        await pilot.pause(0.1)
        walk = screen_of(app).query_one(Walk)
        pictures = [pixels_of(walk)]
        for _ in range(2):
            await pilot.press("t")
            await pilot.pause(0.1)
            pictures.append(pixels_of(walk))
        assert (pictures[0] != pictures[1]).any()
        assert (pictures[1] != pictures[2]).any()


async def test_while_the_terminal_lags_no_picture_is_made_and_no_key_lost(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async with walking(small_house()) as (_, pilot, walk):
        lags = True
        monkeypatch.setattr("housemap.tui.widgets.walk.output_waits", lambda _: lags)
        before, toward = pixels_of(walk), walk.walker.camera.toward_deg
        await pilot.press(*["right"] * 5)
        await pilot.pause(0.1)
        assert walk.walker.camera.toward_deg == pytest.approx((toward + 50) % 360)
        assert (pixels_of(walk) == before).all()
        lags = False
        await pilot.pause(0.1)
        assert (pixels_of(walk) != before).any()


def test_a_terminal_shows_the_very_pixels(tmp_path: Path) -> None:
    """The whole program in a terminal of its own, against the ray caster of the tests."""
    house = read_house(DEMO)
    study = study_of(house)
    argv = [sys.executable, "-m", "housemap", "--read-only", str(DEMO)]
    with Terminal(argv, home=tmp_path, size=(80, 24)) as terminal:
        terminal.wait_until(lambda: " finding" in terminal.lines[0], "never reported", 60)
        terminal.press("w")
        terminal.wait_for("in view")
        terminal.press("m", "right")
        terminal.look()
        columns, rows = 80 - 34, 24 - 3
        walker = Walker(Session.of(house), "hall")
        camera = turned(walker.camera, TURN_DEG)
        expected = rays_in_colour(study, camera, (columns, rows * PIXELS))
        expected[(expected == 176).all(axis=-1)] = [*bytes.fromhex("6a6a6a")]
        cells = [[terminal.cell(x, y + 1) for x in range(columns)] for y in range(rows)]
        shown = [
            [[*bytes.fromhex((cell.fg if half == 0 and cell.text == "▀" else cell.bg)[1:])]
             for cell in row]
            for row in cells for half in range(PIXELS)
        ]  # fmt: skip
        assert differing(np.array(shown), expected) <= columns * rows * PIXELS // 300
