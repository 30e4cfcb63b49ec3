"""Peak memory of the program: a bare Textual program, the demo house, and large houses."""

from collections.abc import Sequence

from tests.benchmarks import bare_static
from tests.benchmarks.measuring import Shown, first_frame, module, running, saved
from tests.support.big_house import big_house
from tests.support.project import DEMO

STILL = 3.0
"""Seconds without output after which all findings are known."""


def main() -> None:
    show("bare Textual, one Static", module("tests.benchmarks.bare_static"), _bare)
    show("demo house", module("housemap", str(DEMO)), first_frame)
    for rooms in (60, 500):
        with saved(big_house(rooms)) as path:
            show(f"{rooms} rooms", module("housemap", str(path)), first_frame)


def _bare(text: str) -> bool:
    return bare_static.READY in text


def show(name: str, command: Sequence[str], ready: Shown) -> None:
    """Print the peak once every room has been selected for a moment and all is computed."""
    with running(command, ready) as terminal:
        terminal.settle(STILL, timeout=120)
        terminal.press(*["tab"] * 20)
        terminal.settle(STILL, timeout=120)
        print(f"{name:<44}{terminal.peak_memory_mb():>9.1f} MB")


if __name__ == "__main__":
    main()
