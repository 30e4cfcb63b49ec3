"""A few whole frames that a person has looked at: `python -m tests.screens.golden` renews them.

With `--svg FOLDER` pictures of them are made too, to be looked at before they are committed; that
of README is always made. A frame is kept as text: each row, below it a letter a cell for its
colours, and the colours at the end. What changes on the screen shows as a change of these files.
"""

import argparse
import string
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from tests.support.project import ROOT
from tests.support.screen_svg import screen_svg
from tests.support.terminal import Terminal, program_on_demo

FOLDER = Path(__file__).parent / "frames"
LETTERS = string.ascii_letters + string.digits
ESCAPE = ("escape",)


@dataclass(frozen=True)
class Run:
    """Frames of the demo house, one after the other in one terminal."""

    size: tuple[int, int]
    colours: str
    frames: Mapping[str, tuple[str, ...]]
    """By name: the keys that lead there from the frame before."""


RUNS = (
    Run((80, 24), "truecolor", {
        "map-80x24": (), "findings-80x24": ("f",), "help-80x24": (*ESCAPE, "?"),
    }),
    Run((160, 48), "truecolor", {
        "map-160x48": (), "choose": ("enter", "down"), "graph": (*ESCAPE, "v"),
    }),
    Run((100, 30), "truecolor", {
        "walk": ("w",), "light": (*ESCAPE, "l"), "finding": (*ESCAPE, "f", "enter"),
        "map-evening": (*ESCAPE * 2, "t", "t"),
    }),
    Run((100, 30), "none", {"map-no-colour": ()}),
    Run((100, 30), "256", {"map-256": ()}),
)  # fmt: skip
README = Run((120, 38), "truecolor", {"map": ()})


def path_of(name: str) -> Path:
    return FOLDER / f"{name}.txt"


def shown(run: Run) -> Iterator[tuple[str, Terminal]]:
    """The name of each frame, and the real program as it shows it."""
    with (
        tempfile.TemporaryDirectory() as folder,
        program_on_demo(Path(folder), run.size, "--color", run.colours) as terminal,
    ):
        for name, keys in run.frames.items():
            for key in keys:
                terminal.press(key)
                terminal.rest()
            yield name, terminal


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
    parser.add_argument("--svg", type=Path, help="a folder for pictures")
    arguments = parser.parse_args()
    FOLDER.mkdir(exist_ok=True)
    for name, terminal in chain.from_iterable(map(shown, RUNS)):
        path_of(name).write_text(as_text(terminal), "utf-8")
        if arguments.svg:
            (arguments.svg / f"{name}.svg").write_text(screen_svg(terminal), "utf-8")
        print(name, flush=True)
    for name, terminal in shown(README):
        (ROOT / ".github" / f"{name}.svg").write_text(screen_svg(terminal), "utf-8")


if __name__ == "__main__":
    main()
