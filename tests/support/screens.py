"""What tests of the screen share: where commands live, and apps that report at once."""

from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import asynccontextmanager
from dataclasses import replace
from functools import cache
from importlib import import_module
from pkgutil import walk_packages
from typing import TYPE_CHECKING, cast

from textual.dom import DOMNode
from textual.pilot import Pilot

import housemap.tui
from housemap.model.edits import assign
from housemap.model.house import House
from housemap.tui.app import HousemapApp
from housemap.tui.commands import BY_ID
from housemap.tui.house_screen import HouseScreen
from housemap.tui.program_screen import ProgramScreen
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report


@cache
def context_classes() -> Mapping[str, list[type[DOMNode]]]:
    """By context: every widget and screen class of the program that has it."""
    for module in walk_packages(housemap.tui.__path__, "housemap.tui."):
        import_module(module.name)
    found: dict[str, list[type[DOMNode]]] = {}
    waiting: list[type[DOMNode]] = [DOMNode]
    seen: set[type[DOMNode]] = set()
    while waiting:
        owner = waiting.pop()
        waiting += [each for each in owner.__subclasses__() if each not in seen]
        seen.add(owner)
        context = owner.__dict__.get("CONTEXT", "")
        if context and owner.__dict__.get("BINDINGS"):
            found.setdefault(context, []).append(owner)
    return found


def shallow_report(house: House, _previous: "Report | None") -> "Report":
    """A report that takes no light to have been found: made in milliseconds."""
    from housemap.checks import report_of  # noqa: PLC0415 - not every test of the screen reports

    return replace(report_of(house, deep=False), deep={})


def app_on(house: House) -> HousemapApp:
    """The program, open on a house that has no file."""
    return HousemapApp(Session.of(house), reporter=shallow_report)


def screen_text(app: HousemapApp) -> str:
    """What stands on the screen."""
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips)


async def until(pilot: Pilot[None], holds: Callable[[], object]) -> None:
    """Wait until something holds: up to 15 s and more, as the machine may be busy."""
    for _ in range(500):
        if holds():
            return
        await pilot.pause(0.03)
    raise AssertionError(screen_text(cast("HousemapApp", pilot.app)))


async def until_shown(app: HousemapApp, pilot: Pilot[None], text: str) -> None:
    """Wait until `text` stands on the screen."""
    await until(pilot, lambda: text in screen_text(app))


async def settled(app: HousemapApp, pilot: Pilot[None]) -> None:
    """Wait for what runs beside the screen, and what that begins."""
    for _ in range(3):
        await pilot.pause()
        await app.workers.wait_for_complete()
    await pilot.pause()


@asynccontextmanager
async def opened(
    house: House, size: tuple[int, int] = (100, 30)
) -> AsyncIterator[tuple[HousemapApp, Pilot[None]]]:
    app = app_on(house)
    async with app.run_test(size=size) as pilot:
        await pilot.pause(0.05)
        yield app, pilot


def house_screen(app: HousemapApp) -> HouseScreen:
    screen = app.screen
    assert isinstance(screen, HouseScreen)
    return screen


async def run_command(app: HousemapApp, pilot: Pilot[None], command: str) -> None:
    """Run a command as the finder does."""
    assert isinstance(app.screen, ProgramScreen)
    await app.screen.run_command(BY_ID[command])
    await pilot.pause()


def paint_hall(house: House) -> House:
    return assign(house, "hall", "walls", "moss")
