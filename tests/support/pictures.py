"""Makes the pictures of README.md from the running program: `python -m tests.support.pictures`."""

import shutil
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from tests.support.project import DEMO, ROOT
from tests.support.screen_svg import screen_svg
from tests.support.terminal import Terminal

FOLDER = ROOT / ".github"
SIZE = (120, 38)
STILL = 1.5
"""Seconds without output after which everything that is shown is computed."""


@dataclass(frozen=True, slots=True)
class Picture:
    """One screen: the keys that lead to it from the first frame."""

    name: str
    keys: tuple[str, ...] = ()

    @property
    def path(self) -> Path:
        return FOLDER / f"{self.name}.svg"


PICTURES = (Picture("map"),)


def draw(picture: Picture) -> str:
    """The screen as SVG; a copy of the demo house is opened, in a home of its own."""
    with tempfile.TemporaryDirectory() as folder:
        house = shutil.copy(DEMO, folder)
        command = [sys.executable, "-m", "housemap", house]
        with Terminal(command, home=Path(folder), size=SIZE) as terminal:
            terminal.wait_for("findings")
            terminal.settle(STILL)
            for key in picture.keys:
                terminal.press(key)
                terminal.settle(STILL)
            terminal.look()
            return screen_svg(terminal)


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for each in PICTURES:
        each.path.write_text(draw(each), "utf-8")
