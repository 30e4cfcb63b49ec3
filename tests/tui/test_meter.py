"""Readings of a meter: read while they are typed, kept when they are right, never lost."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from housemap.colorimetry import spaces, spectra
from housemap.colorimetry.metamerism import metamerism
from housemap.colorimetry.recovery import recover
from housemap.model.house import House, Lab, Paint, Reflectance
from housemap.tui.app import HousemapApp
from housemap.tui.house_screen import HouseScreen
from housemap.tui.tasks.meter import MeterScreen
from tests.support.houses import small_house
from tests.support.science import chart_patches
from tests.support.screens import app_on, run_command, screen_text, until_shown

PATCHES = chart_patches()
WORST = PATCHES[int(metamerism(PATCHES, recover(spectra.to_xyz(PATCHES)), "A").argmax())]
"""The chart patch that parts most, under an incandescent lamp, from what is recovered of it."""


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOUSEMAP_DATA_DIR", str(tmp_path / "data"))


@asynccontextmanager
async def meter_open(
    house: House | None = None, size: tuple[int, int] = (120, 48)
) -> AsyncIterator[tuple[HousemapApp, Pilot[None]]]:
    app = app_on(house or small_house())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await run_command(app, pilot, "add-paint")
        await settled(app, pilot)
        assert isinstance(app.screen, MeterScreen)
        yield app, pilot


async def settled(app: HousemapApp, pilot: Pilot[None]) -> None:
    for _ in range(2):
        await pilot.pause()
        await app.workers.wait_for_complete()
    await pilot.pause()


def house_of(app: HousemapApp) -> House:
    assert app.session
    return app.session.house


async def test_readings_are_averaged_and_their_spread_is_told() -> None:
    async with meter_open() as (app, pilot):
        await pilot.press(*"62 1 8 D50/2", "enter", *"63 1 8 D50/2")
        await pilot.pause()
        text = screen_text(app)
        assert "Mean of 2 readings, within 0." in text
        assert "nearest in notation" in text
        assert "nearest in the house" in text


async def test_the_mean_is_kept_as_a_paint_under_a_name() -> None:
    async with meter_open() as (app, pilot):
        await pilot.press(*"62 1 8 D50/2", "enter", *"63 1 8 D50/2", "tab", *"North wall", "enter")
        await pilot.pause()
        kept = house_of(app).paints["north-wall"]
        assert kept.name == "North wall"
        assert kept.colour == Lab((62.5, 1.0, 8.0), "D50/2")
        assert kept.notes.startswith("mean of 2 readings under D50/2, at most 0.")
        assert "North wall is a paint of the house" in screen_text(app)


async def test_the_mean_is_kept_as_a_finish() -> None:
    async with meter_open() as (app, pilot):
        await pilot.press(*"62 1 8", "tab", *"Old tile")
        await run_command(app, pilot, "keep-finish")
        await pilot.pause()
        assert house_of(app).finishes["old-tile"].colour == Lab((62.0, 1.0, 8.0), "D65/10")
        await run_command(app, pilot, "keep-finish")
        await pilot.pause()
        assert "already" in screen_text(app)
        assert "old-tile-2" not in house_of(app).finishes


async def test_nothing_typed_is_lost_when_it_is_wrong_or_left() -> None:
    async with meter_open() as (app, pilot):
        await pilot.press(*"62 1 8", "enter", *"62 1", "tab", *"Wall", "ctrl+s")
        await pilot.pause()
        text = screen_text(app)
        assert "three numbers are needed" in text
        assert "no reading yet that can be kept" in text
        before = house_of(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, HouseScreen)
        await run_command(app, pilot, "add-paint")
        await settled(app, pilot)
        assert "62 1 8" in screen_text(app)
        await pilot.press(*" 8.2")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert len(house_of(app).paints) == len(before.paints) + 1
        assert "wall" in house_of(app).paints


async def test_a_reading_without_a_name_asks_for_one() -> None:
    async with meter_open() as (app, pilot):
        before = house_of(app)
        await pilot.press(*"62 1 8", "ctrl+s")
        await pilot.pause()
        assert "Give it a name first" in screen_text(app)
        assert house_of(app) == before
        await pilot.press(*"Hall", "enter")
        await pilot.pause()
        assert len(house_of(app).paints) == len(before.paints) + 1


async def test_the_light_of_readings_that_do_not_say_can_be_turned() -> None:
    async with meter_open() as (app, pilot):
        await pilot.press(*"62 1 8")
        for _ in range(2):
            await run_command(app, pilot, "measured-under")
        await pilot.press("tab", *"Wall", "enter")
        await pilot.pause()
        assert house_of(app).paints["wall"].colour == Lab((62.0, 1.0, 8.0), "D50/2")


async def test_a_pasted_spectrum_shows_which_paints_it_parts_from_under_a_lamp() -> None:
    light, a, b = spaces.xyz_to_lab(spectra.to_xyz(WORST), spectra.white()).tolist()
    twin = Paint("Twin", Lab((light, a, b)))
    house = small_house()
    house = replace(house, paints={**house.paints, "twin": twin})
    lines = [f"{380 + 10 * i} {value:.5f}" for i, value in enumerate(WORST.tolist())]
    async with meter_open(house) as (app, pilot):
        screen = app.screen
        assert isinstance(screen, MeterScreen)
        screen.query_one("#typed").text = "\n".join(lines)  # type: ignore[attr-defined]  # a TextArea
        await settled(app, pilot)
        line = next(line for line in screen_text(app).splitlines() if "Twin" in line)
        assert "A ~" in line or "LED-B1 ~" in line
        await pilot.press("tab", *"Patch", "enter")
        await pilot.pause()
        kept = house_of(app).paints["patch"].colour
        assert isinstance(kept, Reflectance)
        assert (kept.start_nm, kept.step_nm, len(kept.values)) == (380, 10, 41)


async def test_what_is_typed_is_no_command_and_no_markup() -> None:
    async with meter_open() as (app, pilot):
        before = house_of(app)
        await pilot.press(*"q [/] [red] ?: u d M", "tab", *"[/]q")
        await pilot.pause()
        assert app.is_running
        assert isinstance(app.screen, MeterScreen)
        assert house_of(app) == before


@pytest.mark.parametrize("size", [(160, 48), (80, 24), (60, 18), (40, 10), (10, 4)])
async def test_every_size_holds(size: tuple[int, int]) -> None:
    async with meter_open(size=size) as (app, pilot):
        await pilot.press(*"62 1 8", "enter", *"nonsense", "tab", *"x")
        await run_command(app, pilot, "clear")
        await pilot.resize_terminal(100, 30)
        await until_shown(app, pilot, "Readings of a meter")
