"""The screen of a deck of 10,000 paints, against a key in a bare canvas of the line API.

Three quarters are near-neutrals, as in a fan deck, so that the pages are as full as they get. The
last line is the highest memory of the program.
"""

import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from housemap.file.deck_file import save_deck
from tests.benchmarks import bare_canvas
from tests.benchmarks.measuring import SIZE, key_seconds, module, running, show_ratios, wait_for
from tests.support.chips import random_paints
from tests.support.project import DEMO
from tests.support.terminal import Terminal, frame_ends

PAINTS = 10_000
ROUNDS = 12
KEYS = {
    "1": {"a chip on a page of hue": ("right", "left", "down", "up"), "a page": ("pagedown",)},
    "3": {"a chip among all near-neutrals": ("down", "up", "right", "left"), "warm/cool": ("w",),
          "undertone": ("f",)},
    "4": {"a line of the list": ("down", "up"), "a page of the list": ("pagedown", "pageup"),
          "another order": ("o",), "near this one": ("n",)},
}  # fmt: skip
"""By the key that arranges the deck: what is timed, and the keys for it."""
SEARCH = "lrv 55-70 warm gray"


@contextmanager
def program(folder: Path) -> Iterator[Terminal]:
    """The demo house, with a deck of its own, ready for a key."""
    save_deck(random_paints(PAINTS), folder / "decks" / "aaa.toml")
    with Terminal(
        module("housemap", str(DEMO)),
        home=folder,
        size=SIZE,
        env={"HOUSEMAP_DATA_DIR": str(folder)},
    ) as terminal:
        wait_for(terminal, lambda text: " finding" in text.partition("\n")[0])
        yield terminal


def open_deck(terminal: Terminal) -> dict[str, list[float]]:
    """From the key that opens the deck to its first chips, and to all of them."""
    terminal.press("d")
    terminal.wait_for("4,732 paints", timeout=60)
    terminal.press("d")
    terminal.wait_for("aaa.toml")
    terminal.press("down")
    terminal.settle()
    began = time.perf_counter()
    terminal.press("enter")
    came = terminal.collect(quiet=1.0)  # unseen: drawing it here would hold the program up
    first = next(output.at for output in came if b"of 10,000 paints so far" in output.data)
    return {
        "deck file to its first chips": [first - began],
        "to all chips": [frame_ends(came)[-1] - began],
    }


def key_times(terminal: Terminal, bare: Terminal) -> dict[str, list[float]]:
    """The bare canvas takes its turn with every key."""
    times: dict[str, list[float]] = {"bare 160x48 canvas": []}
    for arrange, rows in KEYS.items():
        terminal.press(arrange)
        for what, keys in rows.items():
            times[what] = []
            for key in keys * (ROUNDS // len(keys)):
                times["bare 160x48 canvas"] += filter(None, [key_seconds(bare, "right")])
                times[what] += filter(None, [key_seconds(terminal, key)])
    terminal.press("/")
    times["a letter of a search"] = [
        seconds for letter in SEARCH
        if (seconds := key_seconds(terminal, "space" if letter == " " else letter))
    ]  # fmt: skip
    return times


def main() -> None:
    canvas = module("tests.benchmarks.bare_canvas")
    with tempfile.TemporaryDirectory(prefix="housemap-bench-") as name:
        folder = Path(name)
        (folder / "decks").mkdir()
        with (
            running(canvas, lambda text: bare_canvas.READY in text) as bare,
            program(folder) as terminal,
        ):
            opened = open_deck(terminal)
            times = key_times(terminal, bare)
            show_ratios({"bare 160x48 canvas": times.pop("bare 160x48 canvas"), **opened, **times})
            print(f"highest memory of the program: {terminal.peak_memory_mb():.0f} MB")


if __name__ == "__main__":
    main()
