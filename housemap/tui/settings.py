"""What the user chose of the screen, remembered between runs."""

from typing import NamedTuple

from housemap.tui.render.look import ASCII, DARK, LIGHT, NO_GREYS, UNICODE, Look
from housemap.tui.terminal import Depth
from housemap.workbench.folders import recalled, remember

FILE = "screen.json"


class Settings(NamedTuple):
    light: bool = False
    """Whether the surround is light."""
    steps: bool = True
    """Whether the next step is shown below the map."""


def read_settings() -> Settings:
    """As remembered; the defaults where nothing, or nothing sensible, is."""
    found = recalled(FILE)
    if not isinstance(found, dict):
        return Settings()
    return Settings(found.get("light") is True, found.get("steps") is not False)


def write_settings(settings: Settings) -> None:
    """Remember; where the folder cannot be written, nothing is."""
    remember(FILE, settings._asdict())


def look_for(depth: Depth, *, ascii_only: bool, light: bool) -> Look:
    greys = NO_GREYS if depth.name == "none" else LIGHT if light else DARK
    return Look(greys, ASCII if ascii_only else UNICODE)
