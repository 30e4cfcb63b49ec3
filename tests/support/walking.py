"""The program walking through a house, and what tests ask of it."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import numpy as np
from textual.pilot import Pilot

from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.tui.house_screen import HouseScreen
from housemap.tui.tasks.walk import Walk
from tests.support.screens import app_on

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
