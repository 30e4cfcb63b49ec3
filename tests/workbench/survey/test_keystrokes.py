"""A ten-room house is surveyed in the real program, by keys alone, and the keys are counted."""

import sys
from pathlib import Path

from housemap.file.reader import read_house
from housemap.plan.placing import place
from tests.support.terminal import Terminal

MOST_KEYS = 420

LINES = (
    # Every room with its size and how one comes into it, a window and a lamp.
    "Hall 1.8x5.2;s w .6x1.2@.1;l 900",
    "n@.5>Kitchen 4x3@.5;n w 1.5x1.1@1;l 1400",
    "e@.6>Study 3.1x2.8;s w 1.2x1.1@.9;l 800",
    "e@3.6>Bath 2x2.3;e w .6x.6@.8;l 700",
    "w@2>Living 4x5.2;s w 1.8x1.4@1;l 1600",
    "Kitchen",
    "w open>Dining 3x3;w w 1.2@.9;l 1200",
    "Hall",
    "stairs up>Landing 1.8x4;n w .9@.4;l 800",
    "Landing",
    "e@.5>Bedroom 3.4x3;e w 1.4@1;l 1100",
    "w@1>Nursery 2.6x3;w w 1@.8;l 900",
    "s@.5>Guest 3.6x3.5;s w 1.4@1;l 1000",
)
ROOMS = {
    "hall": (1.8, 5.2), "kitchen": (4.0, 3.0), "study": (3.1, 2.8), "bath": (2.0, 2.3),
    "living": (4.0, 5.2), "dining": (3.0, 3.0), "landing": (1.8, 4.0), "bedroom": (3.4, 3.0),
    "nursery": (2.6, 3.0), "guest": (3.6, 3.5),
}  # fmt: skip


class Typist:
    """Presses keys in a terminal and counts them."""

    def __init__(self, terminal: Terminal) -> None:
        self.terminal, self.keys = terminal, 0

    def press(self, *keys: str) -> None:
        self.terminal.press(*keys)
        self.keys += len(keys)

    def line(self, text: str) -> None:
        """Type a line as fast as the terminal takes it, and enter it."""
        self.press(*("space" if char == " " else char for char in text), "enter")


def test_a_ten_room_house_takes_at_most_420_keys(tmp_path: Path) -> None:
    with Terminal([sys.executable, "-m", "housemap"], home=tmp_path) as terminal:
        typist = Typist(terminal)
        terminal.wait_for("New house")
        typist.press("n")
        terminal.wait_for("first room ▸")
        for text in LINES:
            typist.line(text)
        terminal.wait_for("Guest added to Landing")
        counted = typist.keys
        file = tmp_path / "house.toml"
        terminal.press("escape")
        terminal.wait_for("choose paint")
        terminal.press("ctrl+s")
        terminal.wait_for("Save under which name?")
        terminal.press("ctrl+u")
        terminal.type(f"{file}\r")
        terminal.wait_for("Saved as")
        terminal.press("ctrl+q")
        assert terminal.wait_exit() == 0
    house = read_house(file)
    assert {key: room.size_m for key, room in house.rooms.items()} == ROOMS
    assert all(room.windows and room.lamps for room in house.rooms.values())
    assert {room.level for room in house.rooms.values()} == {0, 1}
    assert len(house.openings) == 9
    plan = place(house)
    assert plan.unplaced == ()
    assert plan.overlaps == ()
    assert plan.closing_error_m == 0
    assert counted <= MOST_KEYS, counted
