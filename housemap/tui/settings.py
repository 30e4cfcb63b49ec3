"""What the user chose of the screen, remembered between runs."""

import json
from dataclasses import asdict, dataclass

from housemap.tui.render.look import ASCII, DARK, LIGHT, NO_GREYS, UNICODE, Look
from housemap.tui.terminal import Depth
from housemap.workbench.folders import state_folder

FILE = "screen.json"


@dataclass(frozen=True, slots=True)
class Settings:
    light: bool = False
    """Whether the surround is light."""


def read_settings() -> Settings:
    """As remembered; the defaults where nothing, or nothing sensible, is."""
    try:
        found = json.loads((state_folder() / FILE).read_text("utf-8"))
    except (OSError, ValueError):
        return Settings()
    return Settings(light=isinstance(found, dict) and found.get("light") is True)


def write_settings(settings: Settings) -> None:
    """Remember; where the folder cannot be written, nothing is."""
    folder = state_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / FILE).write_text(json.dumps(asdict(settings)), "utf-8")
    except OSError:
        return


def look_for(depth: Depth, *, ascii_only: bool, light: bool) -> Look:
    greys = NO_GREYS if depth.name == "none" else LIGHT if light else DARK
    return Look(greys, ASCII if ascii_only else UNICODE)
