"""One table of commands: every line of it works, and everything that is shown derives from it."""

from itertools import combinations

import pytest
from textual.dom import DOMNode

from housemap.model.house import House, Room
from housemap.tui.app import HousemapApp
from housemap.tui.commands import BY_ID, COMMANDS, GROUPS, PLACES, Command
from housemap.tui.describe import map_offers, place_of
from housemap.tui.house_screen import HouseScreen
from housemap.tui.keys import ALWAYS, bar_items, keys_of, shown_key, taken_twice
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page, head_line, key_bar
from housemap.tui.tasks import task_class
from housemap.tui.tasks.help import help_rows, moment_rows
from housemap.tui.terminal import Depth
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import context_classes

MEANINGS = {
    "enter": "do", "escape": "back", "tab": "next", "shift+tab": "previous", "up": "move",
    "down": "move", "left": "move", "right": "move", "pageup": "page", "pagedown": "page",
    "home": "first", "end": "last", "slash": "search", "1": "walls", "2": "ceiling", "3": "trim",
    "4": "doors", "5": "one wall", "n": "new", "e": "edit", "delete": "delete", "ctrl+d": "delete",
    "x": "mark", "o": "note", "c": "copy", "f": "findings", "a": "advice", "b": "around a paint",
    "d": "decks", "s": "samples", "p": "paper", "w": "walk", "r": "route", "l": "light page",
    "t": "turn the light", "v": "another view", "k": "legend", "h": "here or whole house",
    "plus": "more", "minus": "less", "0": "usual size", "u": "undo", "U": "redo",
    "ctrl+s": "save", "ctrl+p": "find a command", "question_mark": "help", "f1": "help",
    "ctrl+q": "quit", "ctrl+c": "quit", "ctrl+z": "suspend",
}  # fmt: skip
"""What each key means, decided once: own copy."""
LOSING = frozenset({"delete", "quit"})
"""Verbs by which something may be lost."""


def test_ids_are_unique_and_groups_known() -> None:
    assert len(BY_ID) == len(COMMANDS)
    assert {command.group for command in COMMANDS} <= set(GROUPS)


def test_a_key_means_one_verb_wherever_it_is_pressed() -> None:
    verbs: dict[str, set[str]] = {}
    for command in COMMANDS:
        for key in command.keys:
            verbs.setdefault(key, set()).add(command.verb)
    assert all(len(each) == 1 for each in verbs.values())
    assert {key: verbs[key] for key in MEANINGS} == {k: {v} for k, v in MEANINGS.items()}


def test_nothing_that_loses_work_lies_on_a_plain_letter() -> None:
    keys = {key for command in COMMANDS if command.verb in LOSING for key in command.keys}
    assert not [key for key in keys if len(key) == 1]


def test_the_table_is_short() -> None:
    assert len(COMMANDS) <= 96
    assert sum(command.daily for command in COMMANDS) <= 35


def test_no_command_does_two_things_in_one_place() -> None:
    for command in COMMANDS:
        contexts = [context for use in command.uses for context in use.contexts]
        assert len(contexts) == len({*contexts}), command.id


def test_no_key_means_two_commands() -> None:
    assert list(taken_twice({})) == []


def test_a_key_given_twice_is_reported() -> None:
    assert ("u", "redo", "undo") in [
        (key, *sorted(pair)) for key, *pair in taken_twice({"redo": ("u",)})
    ]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id)
def test_every_use_of_a_command_has_an_action_where_it_says(command: Command) -> None:
    for use in command.uses:
        text = use.action or command.action or command.id
        name, dot, method = text.partition("(")[0].partition(".")
        if dot and name not in {"app", "screen"}:
            assert callable(getattr(task_class(name), method))
            continue
        action = command.action_of(use).partition("(")[0]
        for owner in _owners(use.contexts, action):
            assert hasattr(owner, f"action_{action.rpartition('.')[2]}"), (owner, action)


def _owners(contexts: tuple[str, ...], action: str) -> list[type[DOMNode]]:
    if action.startswith("app."):
        return [HousemapApp]
    if action.startswith("screen."):
        return [HouseScreen]
    owners: list[type[DOMNode]] = []
    for context in contexts:
        found = [HousemapApp] if context == "any" else context_classes()[context]
        assert found
        owners += found
    return owners


def test_every_command_of_a_key_bar_is_in_the_table_and_has_a_word() -> None:
    owners = {owner for each in context_classes().values() for owner in each}
    for owner in owners:
        bar: tuple[str, ...] = getattr(owner, "BAR", getattr(owner, "bar", ()))
        if "bar" in owner.__dict__ and isinstance(owner.__dict__["bar"], property):
            continue  # that of the map goes by the state of the house
        contexts = [c for each in owner.__mro__ if (c := each.__dict__.get("CONTEXT"))]
        for command in bar:
            use = BY_ID[command].use_in([*contexts, "house"])
            assert use is not None, (owner, command)
            assert use.short, (owner, command)


def test_everything_shows_every_command_with_its_keys() -> None:
    text = text_of(help_rows({}, Depth("truecolor", ""), Page(Look(), 200)))
    for command in COMMANDS:
        for use in command.uses:
            assert use.title in text
    assert "sample" in text


def test_every_place_is_named_for_the_help() -> None:
    places = {context for command in COMMANDS for use in command.uses for context in use.contexts}
    assert places == PLACES.keys()


def test_the_help_follows_the_users_keymap() -> None:
    rows = help_rows({"undo": ("f9",)}, Depth("truecolor", ""), Page(Look(), 100))
    lines = [line for line in text_of(rows).splitlines() if "Undo the last edit" in line]
    assert "f9" in [line.split()[0] for line in lines]


def test_the_keys_of_the_map_fit_on_one_small_page() -> None:
    rows = [*moment_rows(["map", "house"], {}, Page(Look(), 80), Session.of(small_house()))]
    assert len(rows) <= 24 - 3
    text = text_of(rows)
    for words in ("Choose a paint for the selected surface", "List what to look at", "ctrl+s"):
        assert words in text


@pytest.mark.parametrize("width", [10, 24, 40, 60, 80, 120, 200])
def test_the_key_bar_never_overflows_and_always_ends_in_help(width: int) -> None:
    session = Session.of(small_house())
    items = [*bar_items(map_offers(session), ["map", "house"], {}, session)]
    always = [*bar_items(ALWAYS, ["map", "house"], {}, session)]
    row = key_bar(items, width, Look(), always)
    assert text_of([row]).rstrip().endswith("? help")
    assert width_of(row) <= max(width, len(" ctrl+p find  ? help "))


def test_the_key_bar_keeps_what_matters_most() -> None:
    items = [("a", "first"), ("b", "second"), ("c", "third")]
    assert text_of([key_bar(items, 19, Look(), [("?", "help")])]).rstrip() == " a first  ? help"


def test_what_cannot_be_done_now_is_not_offered() -> None:
    session = Session.of(small_house())
    assert "undo" not in [word for _, word in bar_items(["undo"], ["house"], {}, session)]
    session.apply(small_house(notes="edited"), "edit")
    assert "undo" in [word for _, word in bar_items(["undo"], ["house"], {}, session)]


def test_the_help_lists_only_what_the_moment_allows() -> None:
    session = Session.of(small_house())
    sun, undo = "without the sun", "Undo the last edit"
    assert not any(words in _help_of(session) for words in (sun, undo))
    session.select_sun((6, 12))
    session.apply(small_house(notes="edited"), "edit")
    assert all(words in _help_of(session) for words in (sun, undo))


def test_a_place_outdoors_is_not_counted_as_a_room() -> None:
    rooms = {"hall": Room("Hall"), "outside": Room("Outside", use="outdoor")}
    assert place_of(Session.of(House(rooms=rooms)))[0] == "1 room"


def test_the_help_lists_only_what_works_while_typing() -> None:
    page, session = Page(Look(), 100), Session.of(small_house())
    rows = [*moment_rows(["survey", "house"], {}, page, session, typing=True)]
    keys = {text_of([row])[19:30].strip() for row in rows} - {""}
    assert {"enter", "tab", "esc", "ctrl+s", "f1"} <= keys
    assert not {key for key in keys if (len(key) == 1 and key.isascii()) or key == "1 to 4"}


def _help_of(session: Session) -> str:
    return text_of(moment_rows(["map", "house"], {}, Page(Look(), 100), session))


@pytest.mark.parametrize(
    ("width", "place"),
    [(92, "  level [0] 1, 18 rooms, 13 findings"), (82, "  level [0] 1, 13 findings"),
     (80, "  13 findings"), (68, "  13 findings")],
)  # fmt: skip
def test_the_head_leaves_out_whole_words_where_not_all_fit(width: int, place: str) -> None:
    notes = ("light: reference", "trying out", "not saved")
    row = head_line("Alder Row 12", notes, place.strip().split(", "), width, Look())
    assert text_of([row]).endswith(place)


@pytest.mark.parametrize(
    ("notes", "name", "place"),
    [
        (("light: reference",), " The long name of a house in a", "18 rooms, 13 findings"),
        (("light: reference", "not saved"), " The long name of a", "18 rooms, 13 findings"),
        (
            ("light: reference", "not saved", "changed on disk"),
            " The long…",
            "18 rooms, 13 findings",
        ),
        (
            ("light: reference", "trying out", "not saved", "changed on disk"),
            " The",
            "k 13 findings",
        ),
    ],
)
def test_a_long_name_is_cut_before_the_number_of_rooms_goes(
    notes: tuple[str, ...], name: str, place: str
) -> None:
    """And no more than is of use."""
    long, right = "The long name of a house in a row", ("18 rooms", "13 findings")
    text = text_of([head_line(long, notes, right, 80, Look())])
    assert text.startswith(name)
    assert text.rstrip().endswith(place)


def test_the_bar_of_the_map_goes_by_what_is_unsaved_and_unpainted() -> None:
    session = Session.of(small_house())
    assert [*map_offers(session)][:2] == ["samples", "open"], "the next step, then choosing"
    session.apply(small_house(notes="edited"), "edit")
    assert [*map_offers(session)][:3] == ["save", "samples", "open"]


@pytest.mark.parametrize(
    ("key", "shown"),
    [("ctrl+s", "ctrl+s"), ("question_mark", "?"), ("shift+tab", "shift+tab"), ("left", "←"),
     ("u", "u"), ("plus", "+"), ("pageup", "pgup"), ("shift+left", "shift+←")],
)  # fmt: skip
def test_keys_are_written_for_people(key: str, shown: str) -> None:
    assert shown_key(key) == shown


def test_all_keys_of_a_command_are_named() -> None:
    assert keys_of(BY_ID["quit"], {}) == "ctrl+q ctrl+c"


def test_the_nearest_context_decides_what_a_command_does() -> None:
    near, far = BY_ID["open"].use_in(["map", "house"]), BY_ID["light"].use_in(["map"])
    assert near is not None
    assert near.contexts == ("map",)
    assert far is not None
    assert far.contexts == ("any",)
    assert BY_ID["save"].use_in(["map"]) is None


def test_two_uses_in_a_context_have_different_actions() -> None:
    uses = [(c, use, context) for c in COMMANDS for use in c.uses for context in use.contexts]
    for (one, use, context), (other, second, same) in combinations(uses, 2):
        if context == same and context != "form":
            assert one.action_of(use) != other.action_of(second), (one.id, other.id, context)


def test_every_screen_of_the_program_has_a_bar() -> None:
    assert ProgramScreen.BAR == ("back",)
