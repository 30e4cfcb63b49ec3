"""A few whole frames that a person has looked at: `python -m tests.screens.golden` renews them.

With `--svg FOLDER` pictures of them are made too, to be looked at before they are committed. A
frame is kept as text: each row, below it a letter a cell for its colours, and the colours at the
end. What changes on the screen shows as a change of these files.
"""

import argparse
import shutil
import string
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.support.project import DEMO
from tests.support.screen_svg import screen_svg
from tests.support.terminal import Terminal

FOLDER = Path(__file__).parent / "frames"
STILL_S = 0.6
LETTERS = string.ascii_letters + string.digits


@dataclass(frozen=True)
class Frame:
    """One screen of the demo house: the keys that lead to it."""

    name: str
    keys: tuple[str, ...] = ()
    size: tuple[int, int] = (100, 30)
    colours: str = "truecolor"

    @property
    def path(self) -> Path:
        return FOLDER / f"{self.name}.txt"


FRAMES = (
    Frame("map-80x24", size=(80, 24)),
    Frame("map-160x48", size=(160, 48)),
    Frame("map-no-colour", colours="none"),
    Frame("map-256", colours="256"),
    Frame("map-evening", ("t", "t")),
    Frame("graph", ("v", "v"), (160, 48)),
    Frame("choose", ("enter", "down"), (160, 48)),
    Frame("findings-80x24", ("f",), (80, 24)),
    Frame("finding", ("f", "enter")),
    Frame("walk", ("w",)),
    Frame("light", ("l",)),
    Frame("help-80x24", ("?",), (80, 24)),
)


@contextmanager
def shown(frame: Frame) -> Iterator[Terminal]:
    """The real program, where the keys of the frame lead to."""
    with tempfile.TemporaryDirectory() as folder:
        house = shutil.copy(DEMO, folder)
        command = [sys.executable, "-m", "housemap", "--color", frame.colours, house]
        with Terminal(command, home=Path(folder), size=frame.size) as terminal:
            terminal.wait_for("findings", 60)
            terminal.settle(4 * STILL_S)
            for key in frame.keys:
                terminal.press(key)
                terminal.settle(STILL_S)
            terminal.look()
            yield terminal


def as_text(terminal: Terminal) -> str:
    return "\n".join(_rows(terminal)) + "\n"


def _rows(terminal: Terminal) -> Iterator[str]:
    columns, rows = terminal.size
    letters: dict[tuple[str, str], str] = {}
    for y in range(rows):
        cells = [terminal.cell(x, y) for x in range(columns)]
        yield "".join(cell.text for cell in cells).rstrip()
        looks = [letters.setdefault((c.fg, c.bg), _letter(len(letters))) for c in cells]
        yield "~" + "".join(looks)
    for (fg, bg), letter in letters.items():
        yield f"{letter} {fg} on {bg}"


def _letter(number: int) -> str:
    """The same letter for what exceeds them: no frame has so many colours that matter."""
    return LETTERS[min(number, len(LETTERS) - 1)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="only these frames")
    parser.add_argument("--svg", type=Path, help="a folder for pictures")
    arguments = parser.parse_args()
    FOLDER.mkdir(exist_ok=True)
    for frame in FRAMES:
        if arguments.names and frame.name not in arguments.names:
            continue
        with shown(frame) as terminal:
            frame.path.write_text(as_text(terminal), "utf-8")
            if arguments.svg:
                (arguments.svg / f"{frame.name}.svg").write_text(screen_svg(terminal), "utf-8")
        print(frame.path.name, flush=True)


if __name__ == "__main__":
    main()
