"""A key that moves the selection, against the same in a bare canvas of the line API."""

from tests.benchmarks import bare_canvas
from tests.benchmarks.measuring import all_found, key_seconds, module, running, saved, show_ratios
from tests.support.big_house import big_house
from tests.support.project import DEMO
from tests.support.terminal import Terminal

ROUNDS = 15
THERE_AND_BACK = ("right", "left", "down", "up")


def main() -> None:
    canvas = module("tests.benchmarks.bare_canvas")
    with (
        saved(big_house(60)) as sixty,
        running(canvas, lambda text: bare_canvas.READY in text) as bare,
        running(module("housemap", str(DEMO)), all_found) as demo,
        running(module("housemap", str(sixty)), all_found) as large,
    ):
        programs = {"bare 160x48 canvas": bare, "demo house": demo, "60 rooms": large}
        show_ratios(moves(programs))


def moves(programs: dict[str, Terminal]) -> dict[str, list[float]]:
    """The programs take turns, key by key."""
    times: dict[str, list[float]] = {name: [] for name in programs}
    for key in THERE_AND_BACK * ROUNDS:
        for name, terminal in programs.items():
            seconds = key_seconds(terminal, key)
            times[name] += [seconds] if seconds else []  # there may be no room that way
    return times


if __name__ == "__main__":
    main()
