"""Peak memory of the program: a bare Textual program, the demo house, and large houses."""

from collections.abc import Sequence

from tests.benchmarks import bare_static
from tests.benchmarks.measuring import FIRST_FRAME, module, running, saved
from tests.support.big_house import big_house
from tests.support.project import DEMO

STILL = 3.0
"""Seconds without output after which all findings are known."""


def main() -> None:
    show("bare Textual, one Static", module("tests.benchmarks.bare_static"), bare_static.READY)
    show("demo house", module("housemap", str(DEMO)), FIRST_FRAME)
    for rooms in (60, 500):
        with saved(big_house(rooms)) as path:
            show(f"{rooms} rooms", module("housemap", str(path)), FIRST_FRAME)


def show(name: str, command: Sequence[str], ready: str) -> None:
    """Print the peak once every room has been selected for a moment and all is computed."""
    with running(command, ready) as terminal:
        terminal.settle(STILL, timeout=120)
        terminal.press(*["tab"] * 20)
        terminal.settle(STILL, timeout=120)
        print(f"{name:<44}{terminal.peak_memory_mb():>9.1f} MB")


if __name__ == "__main__":
    main()
