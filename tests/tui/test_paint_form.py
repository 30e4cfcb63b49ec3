"""The form for a new paint: read while it is typed, kept when it is right, never lost."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from housemap.colorimetry import spaces, spectra
from housemap.colorimetry.difference import metamerism
from housemap.model.house import House, Lab, Paint, Reflectance, Srgb
from housemap.tui.app import HousemapApp
from housemap.tui.house_screen import HouseScreen
from housemap.tui.tasks.edit import PartsPanel
from housemap.tui.tasks.paint_form import PaintForm
from housemap.tui.text_fields import Area
from tests.support.choosing import choosing
from tests.support.houses import small_house
from tests.support.science import chart_patches, recover
from tests.support.screens import (
    app_on,
    house_screen,
    run_command,
    screen_text,
    settled,
    until_shown,
)

PATCHES = chart_patches()
WORST = PATCHES[int(metamerism(PATCHES, recover(spectra.to_xyz(PATCHES)), "A").argmax())]
"""The chart patch that parts most, under an incandescent lamp, from what is recovered of it."""


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOUSEMAP_DATA_DIR", str(tmp_path / "data"))


@asynccontextmanager
async def form_open(
    house: House | None = None, size: tuple[int, int] = (120, 48)
) -> AsyncIterator[tuple[HousemapApp, Pilot[None]]]:
    app = app_on(house or small_house())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await run_command(app, pilot, "add-paint")
        await settled(app, pilot)
        assert isinstance(app.screen, PaintForm)
        yield app, pilot


def house_of(app: HousemapApp) -> House:
    assert app.session
    return app.session.house


async def test_readings_are_averaged_and_their_spread_is_told() -> None:
    async with form_open() as (app, pilot):
        await pilot.press("tab", *"62 1 8 D50/2", "enter", *"63 1 8 D50/2")
        await pilot.pause()
        text = screen_text(app)
        assert "Mean of 2 readings, within 0." in text
        assert "nearest in notation" in text
        assert "nearest in the house" in text


async def test_the_mean_is_kept_as_a_paint_under_a_name() -> None:
    async with form_open() as (app, pilot):
        await pilot.press(*"North wall", "enter", *"62 1 8 D50/2", "enter", *"63 1 8 D50/2")
        await pilot.press("ctrl+s")
        await pilot.pause()
        kept = house_of(app).paints["north-wall"]
        assert kept.name == "North wall"
        assert kept.colour == Lab((62.5, 1.0, 8.0), "D50/2")
        assert isinstance(app.screen, HouseScreen)
        assert "North wall is a paint of the house" in screen_text(app)


async def test_one_line_with_a_name_and_a_hex_is_enough() -> None:
    async with form_open() as (app, pilot):
        await pilot.press("tab", *"Heron #c9ccc4", "ctrl+s")
        await pilot.pause()
        assert house_of(app).paints["heron"] == Paint("Heron", Srgb("#c9ccc4"))


@pytest.mark.parametrize(("key", "lrv"), [("c", None), ("l", 30.0)])
async def test_an_lrv_that_contradicts_the_colour_is_asked_about(
    key: str, lrv: float | None
) -> None:
    async with form_open() as (app, pilot):
        await pilot.press(*"Heron", "tab", *"#c9ccc4", "enter", *"lrv 30")
        await pilot.pause()
        assert "Which is right?" in screen_text(app), "at once, before it is kept"
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert "heron" not in house_of(app).paints
        await pilot.press(key)
        await pilot.pause()
        assert house_of(app).paints["heron"].lrv == lrv


async def test_it_is_kept_as_a_finish() -> None:
    async with form_open() as (app, pilot):
        await pilot.press(*"Old tile", "tab", *"62 1 8")
        await run_command(app, pilot, "keep-finish")
        await pilot.pause()
        assert house_of(app).finishes["old-tile"].colour == Lab((62.0, 1.0, 8.0), "D65/10")
        await run_command(app, pilot, "add-paint")
        await pilot.press(*"Old tile", "tab", *"62 1 8")
        await run_command(app, pilot, "keep-finish")
        await pilot.pause()
        assert "already" in screen_text(app)
        assert "old-tile-2" not in house_of(app).finishes


async def test_nothing_typed_is_lost_when_it_is_wrong_or_left() -> None:
    async with form_open() as (app, pilot):
        await pilot.press(*"Wall", "tab", *"62 1 8", "enter", *"62 1", "ctrl+s")
        await pilot.pause()
        assert "three numbers are needed" in screen_text(app)
        before = house_of(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, HouseScreen)
        await run_command(app, pilot, "add-paint")
        await settled(app, pilot)
        assert "62 1 8" in screen_text(app)
        await pilot.press("tab", *" 8.2", "ctrl+s")
        await pilot.pause()
        assert len(house_of(app).paints) == len(before.paints) + 1
        assert "wall" in house_of(app).paints


async def test_a_colour_without_a_name_asks_for_one() -> None:
    async with form_open() as (app, pilot):
        before = house_of(app)
        await pilot.press("tab", *"62 1 8", "ctrl+s")
        await pilot.pause()
        assert "A paint needs a name." in screen_text(app)
        assert house_of(app) == before
        await pilot.press("tab", *"Hall", "enter")
        await pilot.pause()
        assert len(house_of(app).paints) == len(before.paints) + 1


async def test_a_paint_that_was_added_is_chosen_in_the_list_it_was_added_from() -> None:
    async with choosing() as desk:
        await desk.press("n")
        await desk.press(*"Heron", "enter", *"#c9ccc4", "ctrl+s")
        await desk.until(lambda: desk.panel.chosen == "heron")
        await desk.press("enter")
        assert desk.walls() == "heron"


async def test_what_was_searched_for_and_not_found_is_typed_already() -> None:
    async with choosing() as desk:
        await desk.press("/", *"Moss Lantern #9FA894", "enter", "n", "ctrl+s")
        await desk.until(lambda: desk.panel.chosen == "moss-lantern")
        assert desk.session.house.paints["moss-lantern"].name == "Moss Lantern"


async def test_the_list_of_what_there_is_adds_a_paint_by_the_same_form() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("e", "h")
        await pilot.pause()
        panel = house_screen(app).panel
        assert isinstance(panel, PartsPanel)
        new = next(p.target for p in panel.items if p.is_new and p.target.kind == "paint")
        place = [part.target for part in panel.items].index(new)
        panel.step(place - (panel.chosen_number or 0))
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, PaintForm)


async def test_a_pasted_spectrum_shows_which_paints_it_parts_from_under_a_lamp() -> None:
    light, a, b = spaces.xyz_to_lab(spectra.to_xyz(WORST), spectra.white()).tolist()
    twin = Paint("Twin", Lab((light, a, b)))
    house = small_house()
    house = replace(house, paints={**house.paints, "twin": twin})
    lines = [f"{380 + 10 * i} {value:.5f}" for i, value in enumerate(WORST.tolist())]
    async with form_open(house) as (app, pilot):
        app.screen.query_one(Area).write("\n".join(lines))
        await settled(app, pilot)
        line = next(line for line in screen_text(app).splitlines() if "Twin" in line)
        assert "A ~" in line or "LED-B1 ~" in line
        await pilot.press(*"Patch", "enter")
        await pilot.pause()
        kept = house_of(app).paints["patch"].colour
        assert isinstance(kept, Reflectance)
        assert (kept.start_nm, kept.step_nm, len(kept.values)) == (380, 10, 41)


async def test_what_is_typed_is_no_command_and_no_markup() -> None:
    async with form_open() as (app, pilot):
        before = house_of(app)
        await pilot.press("tab", *"q [/] [red] ?: u d M", "tab", *"[/]q")
        await pilot.pause()
        assert app.is_running
        assert isinstance(app.screen, PaintForm)
        assert house_of(app) == before


@pytest.mark.parametrize("size", [(160, 48), (80, 24), (60, 18), (40, 10), (10, 4)])
async def test_every_size_holds(size: tuple[int, int]) -> None:
    async with form_open(size=size) as (app, pilot):
        await pilot.press("tab", *"62 1 8", "enter", *"nonsense", "tab", *"x")
        await pilot.resize_terminal(100, 30)
        await until_shown(app, pilot, "Add a paint")
