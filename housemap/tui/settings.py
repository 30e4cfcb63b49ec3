"""What the user chose of the screen, remembered between runs."""

import json
from contextlib import suppress
from dataclasses import asdict, dataclass

from housemap.file.atomic import private_folder, write_private
from housemap.tui.render.look import ASCII, DARK, LIGHT, NO_GREYS, UNICODE, Look
from housemap.tui.terminal import Depth
from housemap.workbench.folders import state_folder

FILE = "screen.json"


@dataclass(frozen=True, slots=True)
class Settings:
    light: bool = False
    """Whether the surround is light."""
    steps: bool = True
    """Whether the next step is shown below the map."""


def read_settings() -> Settings:
    """As remembered; the defaults where nothing, or nothing sensible, is."""
    try:
        found = json.loads((state_folder() / FILE).read_text("utf-8"))
    except (OSError, ValueError):
        return Settings()
    if not isinstance(found, dict):
        return Settings()
    return Settings(found.get("light") is True, found.get("steps") is not False)


def write_settings(settings: Settings) -> None:
    """Remember; where the folder cannot be written, nothing is."""
    with suppress(OSError):
        write_private(private_folder(state_folder()) / FILE, json.dumps(asdict(settings)).encode())


def look_for(depth: Depth, *, ascii_only: bool, light: bool) -> Look:
    greys = NO_GREYS if depth.name == "none" else LIGHT if light else DARK
    return Look(greys, ASCII if ascii_only else UNICODE)
