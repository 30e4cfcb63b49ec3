"""Somebody who has never seen the program gets through the main job by what the screen says."""

import re
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from housemap.file.reader import read_house
from tests.support.project import DEMO
from tests.support.terminal import Terminal

MOST_KEYS = 8
AFTER = re.compile(r"\d fewer")
"""What a remedy does to the findings."""

PANEL = 46
"""The column where the panel beside the map begins on a screen of 80."""


class Guided:
    """Presses only keys that the key bar names, and counts them."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal = terminal
        self.keys = 0

    def press(self, key: str, offered_as: str, then: str) -> None:
        """Press the key that the bar offers with these words; `then` must come to the screen."""
        self.terminal.wait_until(
            lambda: offered_as in self.terminal.lines[-1], f"the key bar never said {offered_as!r}"
        )
        self.go(key)
        self.terminal.wait_for(then)

    def go(self, key: str) -> None:
        """Press a key that moves."""
        self.terminal.press(key)
        self.keys += 1

    def type(self, text: str) -> None:
        self.terminal.type(text)
        self.keys += len(text)


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    return Path(shutil.copy(DEMO, tmp_path / "house.toml"))


@pytest.fixture
def guided(copy: Path, tmp_path: Path) -> Iterator[Guided]:
    command = [sys.executable, "-m", "housemap", str(copy)]
    with Terminal(command, home=tmp_path, size=(80, 24)) as terminal:
        terminal.wait_for("findings")
        yield Guided(terminal)


def test_a_first_user_repaints_a_wall_reads_a_finding_clears_it_and_saves(
    guided: Guided, copy: Path
) -> None:
    before = read_house(copy)

    guided.press("enter", "enter choose paint", then="by findings")
    guided.press("down", "enter put it on", then="trying out")
    guided.press("enter", "enter put it on", then="not saved")
    guided.press("f", "f findings", then=" to do")
    guided.press("enter", "enter why", then="What would clear it")
    guided.terminal.wait_until(
        lambda: AFTER.search(guided.terminal.text) is not None, "no remedy came"
    )  # the remedies, with the findings before and after
    reason = " ".join(word for line in guided.terminal.lines for word in line[PANEL:].split())
    guided.press("down", "try a remedy", then="trying out")
    guided.press("enter", "enter apply", then="Press u to undo")
    guided.press("ctrl+s", "ctrl+s save", then="Saved as house.toml")

    assert re.search(r"(difference|apart)[^()]*[;,] limit \d+", reason)
    after = read_house(copy)
    assert guided.keys <= MOST_KEYS
    assert after.rooms["hall"].paints.walls != before.rooms["hall"].paints.walls
    assert after != before


MOST_KEYS_FOR_A_HOUSE = 160
ROOMS = ("Hall 1.8 x 5.2", "Study 3 x 4", "Kitchen 4 x 3")


def test_a_first_house_of_three_rooms_gets_its_paints_and_a_printed_schedule(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From an empty start: rooms by typing, a paint from the deck on the walls of each, a page."""
    monkeypatch.chdir(tmp_path)
    with Terminal([sys.executable, "-m", "housemap"], home=tmp_path, size=(80, 24)) as terminal:
        guided = Guided(terminal)
        guided.press("n", "n new house", then="such as")
        for room in ROOMS:
            name, *_ = room.split()
            guided.type(room)
            guided.press("enter", "enter add it", then=f"{name} added")
        guided.press("escape", "esc back", then="d decks")
        for number in range(len(ROOMS)):
            guided.press("d", "d decks", then="pages of hue: near 5Y")
            terminal.rest()  # the built-in deck shows while more of it is computed
            for _ in range(number):
                guided.go("down")
            guided.press("enter", "enter put it on", then="sample it on the wall first")
            guided.press("escape", "esc back", then="level 0")
            guided.go("tab")
        guided.press("ctrl+s", "ctrl+s save", then="Save under which name?")
        guided.press("enter", "enter go on", then="Saved as new-house.toml")
        guided.press("p", "", then="draft of")
        guided.press("ctrl+s", "ctrl+s write file", then="Who reads it?")
        guided.press("f", "f full", then="Write it to which file?")
        guided.press("enter", "enter go on", then="Written to")

    house = read_house(tmp_path / "new-house.toml")
    page = (tmp_path / "new-house-schedule.html").read_text("utf-8")
    assert guided.keys <= MOST_KEYS_FOR_A_HOUSE
    assert all(room.paints.walls in house.paints for room in house.rooms.values())
    assert len(house.rooms) == len(ROOMS)
    assert all(room.name in page for room in house.rooms.values())
    assert all(paint.name in page for paint in house.paints.values())
