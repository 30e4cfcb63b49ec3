"""Arrow keys go where they point, and every room of a level can be reached from every other."""

import sys
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.model.house import Point
from housemap.tui.commands import BY_ID
from housemap.workbench.session import next_room, room_that_way
from tests.support.houses import small_house
from tests.support.terminal import Terminal, key_bytes

WAYS = ("left", "right", "up", "down")
CROSS = {"c": (0.0, 0.0), "e": (4.0, 0.0), "w": (-4.0, 0.0), "n": (0.0, 4.0), "s": (0.0, -4.0)}

half_metres = st.integers(-20, 20).map(lambda n: n / 2)
plans = st.lists(st.tuples(half_metres, half_metres), min_size=2, max_size=25, unique=True).map(
    lambda middles: {f"r{i}": middle for i, middle in enumerate(middles)}
)


def reached_from(middles: Mapping[str, Point], start: str) -> set[str]:
    reached, waiting = {start}, [start]
    while waiting:
        room = waiting.pop()
        for way in WAYS:
            other = room_that_way(middles, room, way)
            if other is not None and other not in reached:
                reached.add(other)
                waiting.append(other)
    return reached


def test_each_arrow_goes_to_the_room_on_that_side() -> None:
    found = {way: room_that_way(CROSS, "c", way) for way in WAYS}
    assert found == {"left": "w", "right": "e", "up": "n", "down": "s"}


def test_the_nearest_room_that_way_is_chosen() -> None:
    middles = {"a": (0.0, 0.0), "near": (3.0, 1.0), "far": (6.0, 0.0)}
    assert room_that_way(middles, "a", "right") == "near"


def test_where_nothing_lies_that_way_there_is_no_room() -> None:
    assert room_that_way(CROSS, "e", "right") is None
    assert room_that_way({"only": (0.0, 0.0)}, "only", "up") is None


def test_a_room_far_to_the_side_is_better_than_none() -> None:
    middles = {"a": (0.0, 0.0), "b": (1.0, 9.0)}
    assert room_that_way(middles, "a", "right") == "b"


@given(plans)
def test_every_room_is_reached_from_every_other(middles: dict[str, Point]) -> None:
    for start in middles:
        assert reached_from(middles, start) == set(middles)


@given(plans, st.sampled_from(WAYS))
def test_an_arrow_always_leads_that_way(middles: dict[str, Point], way: str) -> None:
    axis, sign = {"left": (0, -1), "right": (0, 1), "up": (1, 1), "down": (1, -1)}[way]
    for room, middle in middles.items():
        other = room_that_way(middles, room, way)
        assert other is None or (middles[other][axis] - middle[axis]) * sign > 0


def test_a_grid_is_walked_row_by_row() -> None:
    grid = {f"{x}{y}": (x * 4.0, y * 3.0) for x in range(3) for y in range(3)}
    assert room_that_way(grid, "11", "right") == "21"
    assert room_that_way(grid, "11", "up") == "12"


def test_the_walk_begins_again_at_its_end() -> None:
    assert next_room(["a", "b"], "b", 1) == "a"
    assert next_room(["a", "b"], "a", -1) == "b"
    assert next_room(["a", "b"], None, 1) == "a"
    assert next_room([], None, 1) is None


def test_keys_typed_at_once_are_for_the_room_that_the_first_goes_to(tmp_path: Path) -> None:
    save_house(small_house(visits={}), tmp_path / "house.toml")
    argv = [sys.executable, "-m", "housemap", str(tmp_path / "house.toml")]
    keys = (key_bytes(BY_ID[each].keys[0]) for each in ("next", "mark"))
    with Terminal(argv, home=tmp_path, size=(100, 30)) as terminal:
        terminal.wait_for("Hall")
        terminal.settle()
        terminal.send(b"".join(keys))
        terminal.wait_for("Kitchen ticked off")


@pytest.mark.parametrize(
    "keys", [("down", "enter", "ctrl+s"), ("slash", *"moss", "enter", "enter", "ctrl+s")]
)
def test_what_was_just_put_on_is_what_the_next_key_saves(
    tmp_path: Path, keys: tuple[str, ...]
) -> None:
    house = small_house(visits={})
    save_house(house, tmp_path / "house.toml")
    argv = [sys.executable, "-m", "housemap", str(tmp_path / "house.toml")]
    with Terminal(argv, home=tmp_path, size=(100, 30)) as terminal:
        terminal.wait_for("finding")
        terminal.press("enter")
        terminal.wait_for("by findings")
        terminal.rest()
        terminal.send(b"".join(b"/" if key == "slash" else key_bytes(key) for key in keys))
        terminal.wait_for("Saved")
    saved = read_house(tmp_path / "house.toml").rooms["hall"].paints.walls
    assert saved not in {None, house.rooms["hall"].paints.walls}
