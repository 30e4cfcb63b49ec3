"""Laws of the screen, held by whole frames of the real program in a terminal of its own.

What is walked comes from the table of commands, so that a new panel is tested without a new line.
"""

import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

import pytest

from housemap.tui.commands import COMMANDS, HOUSE, MAP, Command
from tests.support.project import DEMO
from tests.support.terminal import KEYS, Terminal

SIZES = ((80, 24), (160, 48))
FOOT_ROWS = 2
"""What is said, and the keys: they tell what was done, so they may differ."""
COMPUTED_S = 2.5
"""Without output for so long everything beside the keys is computed, on a loaded machine too."""

Frame = tuple[str, ...]


def commands_with_keys(*contexts: str) -> Iterator[Command]:
    for command in COMMANDS:
        known = command.keys and (len(command.keys[0]) == 1 or command.keys[0] in KEYS)
        if known and any({*contexts} & {*use.contexts} for use in command.uses):
            yield command


def computed(terminal: Terminal) -> bool:
    return " findings" in terminal.lines[0] and "light to come" not in terminal.lines[0]


@contextmanager
def program_on_demo(home: Path, size: tuple[int, int]) -> Iterator[Terminal]:
    """The demo house, with everything of it computed."""
    house = home / "house.toml"
    shutil.copyfile(DEMO, house)
    with Terminal([sys.executable, "-m", "housemap", str(house)], home=home, size=size) as terminal:
        terminal.wait_until(lambda: computed(terminal), "nothing was computed", 60)
        yield terminal


def frame_of(terminal: Terminal, quiet_s: float) -> Frame:
    """The settled screen without its foot."""
    terminal.settle(quiet_s)
    terminal.look()
    return terminal.lines[:-FOOT_ROWS]


def first_difference(before: Frame, after: Frame) -> str:
    rows = [y for y, pair in enumerate(zip(before, after, strict=False)) if pair[0] != pair[1]]
    y = rows[0]
    return f"{len(rows)} rows differ, row {y} was\n{before[y]}\nand is\n{after[y]}"


def broken(terminal: Terminal, command: Command) -> str:
    """What differs after a command and escape; looked at once more where the machine was slow."""
    return _broken(terminal, command, 0.1) and _broken(terminal, command, 1.0)


def _broken(terminal: Terminal, command: Command, quiet_s: float) -> str:
    """Nothing where a panel was opened and left again, and nothing of what the command itself did
    where there was nothing to leave.
    """  # noqa: D205 - one sentence
    before = frame_of(terminal, quiet_s)
    terminal.press(command.keys[0])
    opened = frame_of(terminal, quiet_s)
    terminal.press("escape")
    after = frame_of(terminal, quiet_s)
    if after in (before, opened):
        return ""
    return f"{command.id} ({command.keys[0]}): {first_difference(before, after)}"


@pytest.mark.skipif("HOUSEMAP_LONG" not in os.environ, reason="minutes: set HOUSEMAP_LONG=1")
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_every_panel_of_the_house_gives_back_the_frame_that_was(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    with program_on_demo(tmp_path, size) as terminal:
        faults = [broken(terminal, command) for command in commands_with_keys(HOUSE, MAP)]
    assert not [*filter(None, faults)], "\n\n".join(filter(None, faults))


def test_the_level_of_the_selected_room_is_shown_after_a_walk(tmp_path: Path) -> None:
    with program_on_demo(tmp_path, (100, 30)) as terminal:
        terminal.press("pageup")
        terminal.wait_for("[1]")
        upstairs = frame_of(terminal, 0.5)
        terminal.press("pagedown", "w")
        terminal.wait_for("of 18")
        for _ in range(18):
            terminal.press("tab")
            if "[1]" in frame_of(terminal, 0.2)[0]:
                break
        terminal.press("escape")
        after = frame_of(terminal, 0.5)
    assert walls_of(after) == walls_of(upstairs)


def walls_of(frame: Frame) -> Frame:
    """The left edge of the map, without the names that a selected room shows in full."""
    return tuple(row[:12] for row in frame[1:])


OPENED_BY = ((), ("enter",), ("w",))
"""Keys to screens whose bars are tried key by key."""
SAID_KEYS = {
    "esc": "escape", "pgup": "pageup", "pgdn": "pagedown", "del": "delete",
    "↑": "up", "↓": "down", "←": "left", "→": "right",
}  # fmt: skip


@pytest.mark.parametrize("opened_by", OPENED_BY, ids=lambda keys: " ".join(keys) or "map")
def test_every_key_in_the_bar_does_something(tmp_path: Path, opened_by: tuple[str, ...]) -> None:
    with program_on_demo(tmp_path, (100, 30)) as terminal:
        frame_of(terminal, COMPUTED_S)
        of_map = terminal.lines[-1]
        terminal.press(*opened_by)
        frame_of(terminal, COMPUTED_S)
        keys = [*keys_of_bar(terminal.lines[-1])]
        assert keys
        for key in keys:
            before = terminal.look()
            terminal.press(key)
            changed = partial(differs, terminal, before)
            terminal.wait_until(changed, f"{key} does nothing", 10)
            back_to(terminal, of_map)
            terminal.press(*opened_by)
            frame_of(terminal, 0.5)


def back_to(terminal: Terminal, bar: str) -> None:
    """Leave what is open, step by step, until the bar has the keys that were.

    In any order: the bar of the map begins with what is next in the selected room.
    """
    for _ in range(6):
        frame_of(terminal, 0.5)
        if items_of_bar(terminal.lines[-1]) == items_of_bar(bar):
            return
        terminal.press("escape")
    raise AssertionError(f"escape does not lead back to the map; the screen:\n{terminal.text}")


def items_of_bar(line: str) -> frozenset[str]:
    return frozenset(line.strip().split("  "))


def differs(terminal: Terminal, before: str) -> bool:
    return terminal.text != before


def keys_of_bar(line: str) -> Iterator[str]:
    """The keys that the last line of the screen names, but for the one that ends the program."""
    for item in line.strip().split("  "):
        name = item.split(" ")[0]
        key = SAID_KEYS.get(name, name.replace("^", "ctrl+"))
        if key in KEYS or len(key) == 1 or (key.startswith("ctrl+") and key != "ctrl+q"):
            yield key


@pytest.mark.parametrize("keys", [(), ("w",), ("p",)], ids=str)
def test_a_resize_there_and_back_gives_the_same_frame(
    tmp_path: Path, keys: tuple[str, ...]
) -> None:
    with program_on_demo(tmp_path, (100, 30)) as terminal:
        terminal.press(*keys)
        before = frame_of(terminal, COMPUTED_S)
        for size in ((60, 18), (40, 10), (160, 48), (100, 30)):
            terminal.resize(*size)
            terminal.settle(0.3)
        assert frame_of(terminal, COMPUTED_S) == before
