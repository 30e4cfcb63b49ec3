"""Tests of the screen leave the user's own folders alone, and wait for what a key asked for."""

import asyncio
from pathlib import Path

import pytest
from textual import _wait
from textual.pilot import Pilot

AT_MOST_S = 10.0


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOUSEMAP_CONFIG_DIR", str(tmp_path / "config"))
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    if hasattr(_wait, "SLEEP_GRANULARITY"):  # private: without it the tests are only slower
        monkeypatch.setattr(_wait, "SLEEP_GRANULARITY", 0.004)


@pytest.fixture(autouse=True)
def keys_are_answered(monkeypatch: pytest.MonkeyPatch) -> None:
    """A key pressed, a click and a pause also wait for what was to follow the next frame."""
    before = Pilot._wait_for_screen

    async def waited(pilot: Pilot[None]) -> bool:
        return await before(pilot) and await _followed(pilot)

    monkeypatch.setattr(Pilot, "_wait_for_screen", waited)


async def _followed(pilot: Pilot[None]) -> bool:
    """Send a signal the way that a report of the focused widget goes; whether it arrived."""
    screen, arrived = pilot.app.screen, asyncio.Event()
    start = pilot.app.focused or screen
    if pilot.app.return_code is not None:  # it is ending, and draws nothing any more
        return True
    if not start.call_later(screen.call_later, screen.call_after_refresh, arrived.set):
        return False
    ends: tuple[asyncio.Event, ...] = (arrived, pilot.app._exception_event)
    _, pending = await asyncio.wait(
        [asyncio.ensure_future(end.wait()) for end in ends],
        timeout=AT_MOST_S,
        return_when=asyncio.FIRST_COMPLETED,
    )
    for task in pending:
        task.cancel()
    return arrived.is_set()
