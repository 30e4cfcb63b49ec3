"""Laws of the screen, held by whole frames of the real program in a terminal of its own.

What is walked comes from the table of commands, so that a new panel is tested without a new line.
"""

import os
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest

from housemap.tui.commands import COMMANDS, Command
from tests.support.terminal import KEYS, Terminal, program_on_demo

SIZES = ((80, 24), (160, 48))
FOOT_ROWS = 2
"""What is said, and the keys: they tell what was done, so they may differ."""

Frame = tuple[str, ...]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Terminal]:
    """One program for all laws that leave it on its map."""
    with program_on_demo(tmp_path_factory.mktemp("demo"), (100, 30)) as terminal:
        yield terminal


def frame_of(terminal: Terminal) -> Frame:
    """The screen at rest without its foot."""
    terminal.rest()
    return terminal.lines[:-FOOT_ROWS]


# Panels


def commands_with_keys(*contexts: str) -> Iterator[Command]:
    for command in COMMANDS:
        known = command.keys and (len(command.keys[0]) == 1 or command.keys[0] in KEYS)
        if known and any({*contexts} & {*use.contexts} for use in command.uses):
            yield command


@pytest.mark.skipif("HOUSEMAP_LONG" not in os.environ, reason="a minute: set HOUSEMAP_LONG=1")
@pytest.mark.parametrize("size", SIZES, ids=str)
def test_every_panel_of_the_house_gives_back_the_frame_that_was(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    with program_on_demo(tmp_path, size) as terminal:
        faults = [broken(terminal, command) for command in commands_with_keys("house", "map")]
    assert not [*filter(None, faults)], "\n\n".join(filter(None, faults))


@pytest.mark.parametrize("key", ["enter", "f", "s", "e", "w", "l", "p"])
def test_a_daily_panel_gives_back_the_frame_that_was(demo: Terminal, key: str) -> None:
    command = next(each for each in commands_with_keys("house", "map") if each.keys[0] == key)
    assert not broken(demo, command)


def broken(terminal: Terminal, command: Command) -> str:
    """What differs after a command and escape: nothing where a panel was opened and left again,
    and nothing of what the command itself did where there was nothing to leave.
    """  # noqa: D205 - one sentence
    before = frame_of(terminal)
    terminal.press(command.keys[0])
    opened = frame_of(terminal)
    terminal.press("escape")
    after = frame_of(terminal)
    if after in (before, opened):
        return ""
    return f"{command.id} ({command.keys[0]}): {first_difference(before, after)}"


def first_difference(before: Frame, after: Frame) -> str:
    rows = [y for y, pair in enumerate(zip(before, after, strict=False)) if pair[0] != pair[1]]
    y = rows[0]
    return f"{len(rows)} rows differ, row {y} was\n{before[y]}\nand is\n{after[y]}"


@pytest.mark.parametrize(("key", "times"), [("v", 2), ("t", 3)])
def test_what_a_key_shows_in_turn_comes_round_to_the_frame_that_was(
    demo: Terminal, key: str, times: int
) -> None:
    before = frame_of(demo)
    for _ in range(times):
        demo.press(key)
        demo.rest()
    assert frame_of(demo) == before


# The selected room


def test_the_level_of_the_selected_room_is_shown_after_a_walk(demo: Terminal) -> None:
    demo.press("pageup")
    demo.wait_for("[1]")
    upstairs = frame_of(demo)
    demo.press("pagedown", "w")
    demo.wait_for("of 18")
    for _ in range(18):
        demo.press("tab")
        if "[1]" in frame_of(demo)[0]:
            break
    demo.press("escape")
    assert walls_of(frame_of(demo)) == walls_of(upstairs)


def walls_of(frame: Frame) -> Frame:
    """The left edge of the map, without the names that a selected room shows in full."""
    return tuple(row[:12] for row in frame[1:])


# The key bar


OPENED_BY = ((), ("enter",), ("w",))
"""Keys to screens whose bars are tried key by key."""
SAID_KEYS = {
    "esc": "escape", "pgup": "pageup", "pgdn": "pagedown", "del": "delete",
    "↑": "up", "↓": "down", "←": "left", "→": "right",
}  # fmt: skip


@pytest.mark.parametrize("opened_by", OPENED_BY, ids=lambda keys: " ".join(keys) or "map")
def test_every_key_in_the_bar_does_something(demo: Terminal, opened_by: tuple[str, ...]) -> None:
    demo.rest()
    of_map = demo.lines[-1]
    demo.press(*opened_by)
    demo.rest()
    keys = [*keys_of_bar(demo.lines[-1])]
    assert keys
    for key in keys:
        before = demo.rest()
        demo.press(key)
        demo.wait_until(partial(differs, demo, before), f"{key} does nothing", 20)
        back_to(demo, of_map)
        demo.press(*opened_by)
    back_to(demo, of_map)


def back_to(terminal: Terminal, bar: str) -> None:
    """Leave what is open, step by step, until the bar has the keys that were.

    In any order: the bar of the map begins with what is next in the selected room.
    """
    for _ in range(6):
        terminal.rest()
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


# The size


@pytest.mark.parametrize("key", ["", "w", "p"])
def test_a_resize_there_and_back_gives_the_same_frame(demo: Terminal, key: str) -> None:
    demo.press(*key)
    before = frame_of(demo)
    for size in ((60, 18), (40, 10), (160, 48), (100, 30)):
        demo.resize(*size)
        demo.rest()
    assert frame_of(demo) == before
    demo.press(*["escape"] * len(key))
