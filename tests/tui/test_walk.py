"""Walking through the house by keys: what is seen, what follows, what is kept."""

import sys
from pathlib import Path

import numpy as np
import pytest

from housemap.file.reader import read_house
from housemap.model.house import House, Room
from housemap.plan.view import Camera
from housemap.plan.viewpoints import turned
from housemap.study import study_of
from housemap.tui.app import HousemapApp
from housemap.tui.tasks.walk import TURN_DEG, Walk
from housemap.tui.tasks.walk_drawing import PIXELS
from housemap.tui.terminal import Depth
from housemap.workbench.session import Session
from housemap.workbench.walker import Walker
from tests.support.houses import small_house
from tests.support.project import DEMO
from tests.support.screens import app_on, run_command, screen_text, shallow_report
from tests.support.terminal import Terminal
from tests.support.walking import pixels_of, reported, screen_of, walking
from tests.support.walks import differing, rays_in_colour


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
        await pilot.press("v", "left", "left", "shift+left")
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
            walk.turn(1)
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
        await pilot.press(*["left"] * 18, *["up"] * 20)
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


async def test_the_picture_can_stand_alone() -> None:
    async with walking(small_house()) as (app, pilot, walk):
        narrow = walk.size.width
        await run_command(app, pilot, "picture")
        await pilot.pause(0.1)
        assert walk.size.width == 100
        await pilot.press("enter")
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


async def test_a_room_without_measures_says_so_and_keys_do_no_harm() -> None:
    async with walking(House(rooms={"a": Room("A"), "b": Room("B")}), "a") as (app, pilot, _):
        assert "no measures" in screen_text(app)
        await pilot.press(
            "left", "up", "down", "space", "v", "full_stop", "f", "shift+left", "plus"
        )
        await pilot.press("tab")
        await pilot.pause(0.1)
        assert app.session
        assert app.session.selection.room == "b"


@pytest.mark.parametrize("size", [(60, 18), (61, 19), (80, 24), (200, 60), (20, 5), (1, 1)])
async def test_the_walk_is_drawn_at_every_size(size: tuple[int, int]) -> None:
    async with walking(small_house(), size=size) as (_, pilot, walk):
        await pilot.press("left", "up", "right")
        await pilot.pause(0.05)
        assert len(walk._rows) == walk.size.height


async def test_the_region_seen_is_shown_on_the_map() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(100, 30)) as pilot:
        await run_command(app, pilot, "region")
        await pilot.pause(0.2)
        assert any(0x2800 <= ord(char) < 0x2900 for char in screen_text(app))
        assert screen_of(app).map.looking.standing is not None
        await run_command(app, pilot, "region")
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
        monkeypatch.setattr("housemap.tui.tasks.walk.output_waits", lambda _: lags)
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
        terminal.press("v", "right")
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
