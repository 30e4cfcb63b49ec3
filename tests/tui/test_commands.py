"""One table of commands: every line of it works, and everything that is shown derives from it."""

from importlib import import_module
from itertools import combinations

import pytest

from housemap.tui.app import HousemapApp
from housemap.tui.commands import ANY, BY_ID, COMMANDS, GROUPS, Command, commands_of
from housemap.tui.keys import bar_items, keys_of, shown_key, taken_twice
from housemap.tui.render.bars import key_bar
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import Look
from housemap.tui.tasks import TASKS
from housemap.tui.tasks.help import help_rows
from housemap.tui.terminal import Depth
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import context_classes


def test_ids_are_unique_and_groups_known() -> None:
    assert len(BY_ID) == len(COMMANDS)
    assert {command.group for command in COMMANDS} <= set(GROUPS)


def test_no_key_means_two_things_in_one_place() -> None:
    assert list(taken_twice({})) == []
    everywhere = {key for command in COMMANDS if command.context == ANY for key in command.keys}
    for command in COMMANDS:
        if command.context != ANY:
            assert not everywhere & set(command.keys), command.id


def test_a_key_given_twice_is_told() -> None:
    assert ("u", "redo", "undo") in [
        (key, *sorted(pair)) for key, *pair in taken_twice({"redo": ("u",)})
    ]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id)
def test_every_command_has_an_action_where_it_says(command: Command) -> None:
    name, dot, method = (command.action or "").partition("(")[0].partition(".")
    if dot:
        module, kind = TASKS[name]
        assert callable(getattr(getattr(import_module(module), kind), method))
        return
    context, action = command.context, command.action_text.partition("(")[0]
    owners = [HousemapApp] if context == ANY else context_classes()[context]
    assert owners
    assert all(hasattr(owner, f"action_{action}") for owner in owners)


def test_the_help_shows_every_command_with_its_keys() -> None:
    text = text_of(help_rows({}, Depth("truecolor", ""), Look(), 200))
    for command in COMMANDS:
        assert command.title in text
    assert "sample" in text


def test_the_help_follows_the_users_keymap() -> None:
    rows = help_rows({"undo": ("f9",)}, Depth("truecolor", ""), Look(), 100)
    lines = [line for line in text_of(rows).splitlines() if BY_ID["undo"].title in line]
    assert "f9" in [line.split()[0] for line in lines]


@pytest.mark.parametrize("width", [10, 24, 40, 60, 80, 120, 200])
def test_the_key_bar_never_overflows_and_always_ends_in_all_keys(width: int) -> None:
    items = bar_items(["map", "house"], {}, Session.of(small_house()))
    row = key_bar(items, width, Look())
    assert text_of([row]).endswith("? all keys")
    assert width_of(row) <= max(width, len(" ? all keys "))


def test_the_key_bar_drops_the_highest_ranks_first() -> None:
    items = [("a", "first", 1), ("b", "second", 9), ("?", "all keys", 0)]
    assert text_of([key_bar(items, 24, Look())]) == " a first  ? all keys"


def test_what_cannot_be_done_now_is_not_offered() -> None:
    session = Session.of(small_house())
    assert "undo" not in [word for _, word, _ in bar_items(["house"], {}, session)]
    session.apply(small_house(notes="edited"), "edit")
    assert "undo" in [word for _, word, _ in bar_items(["house"], {}, session)]


@pytest.mark.parametrize(
    ("key", "shown"),
    [("ctrl+s", "^s"), ("question_mark", "?"), ("shift+tab", "shift+tab"), ("left", "←"),
     ("u", "u"), ("plus", "+"), ("pageup", "pgup")],
)  # fmt: skip
def test_keys_are_written_for_people(key: str, shown: str) -> None:
    assert shown_key(key) == shown


def test_all_keys_of_a_command_are_told() -> None:
    assert keys_of(BY_ID["save"], {}) == "^s s"


def test_commands_of_a_context_include_those_of_the_whole_program() -> None:
    ids = {command.id for command in commands_of(["map"])}
    assert {"go-left", "quit", "help"} <= ids
    assert "save" not in ids


def test_every_pair_of_commands_in_a_context_has_different_actions() -> None:
    for first, second in combinations(COMMANDS, 2):
        if first.context == second.context:
            assert first.action_text != second.action_text
