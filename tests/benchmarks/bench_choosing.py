"""The list of paints: a key through it, and each letter of a search in nearly 10,000 paints.

Against a key in a bare canvas of the line API, in one run. The paints are being weighed, and the
map shows the first that was found, while the letters are typed.
"""

from collections.abc import Sequence
from dataclasses import replace

from housemap.model.house import House, Paint, Srgb
from tests.benchmarks import bare_canvas
from tests.benchmarks.measuring import (
    all_found,
    key_seconds,
    module,
    running,
    saved,
    show_ratios,
)
from tests.support.big_house import big_house
from tests.support.terminal import Terminal

MANY = 9_980
"""With the paints of the house itself, what one file may hold."""
ROUNDS = 5
SEARCHES = ("paint 77", "lrv>60", "warm 12")


def main() -> None:
    canvas = module("tests.benchmarks.bare_canvas")
    with (
        saved(many_paints(MANY)) as path,
        running(canvas, lambda text: bare_canvas.READY in text) as bare,
        running(module("housemap", str(path)), all_found) as house,
    ):
        house.press("enter")
        house.wait_for("weighs", timeout=120)
        moves = ("down", "up", "pagedown", "pageup") * ROUNDS
        times = {
            "bare 160x48 canvas": seconds_of(bare, ("right", "left") * ROUNDS),
            f"through {MANY:,} paints": seconds_of(house, moves),
            f"a letter of a search in {MANY:,}": searching(house),
        }
        show_ratios(times)


def many_paints(count: int) -> House:
    """A small house with so many paints of its own."""
    house = big_house(12)
    shades = {
        f"s{i:05}": Paint(f"Paint {i}", Srgb(f"#{i * 7919 % 0xFFFFFF:06x}"), code=f"C-{i}")
        for i in range(count)
    }
    return replace(house, paints={**house.paints, **shades})


def seconds_of(terminal: Terminal, keys: Sequence[str]) -> list[float]:
    """From each key to the end of the first frame after it."""
    times = (key_seconds(terminal, key) for key in keys)
    return [seconds for seconds in times if seconds]


def searching(terminal: Terminal) -> list[float]:
    times: list[float] = []
    for search in SEARCHES:
        terminal.press("/")
        terminal.settle()
        times += seconds_of(terminal, search)
        terminal.press("escape")
        terminal.settle()
    return times


if __name__ == "__main__":
    main()
