"""A command is found by what people call what it does."""

import pytest

from housemap.tui.commands import BY_ID, COMMANDS, commands_called
from tests.support.houses import small_house
from tests.support.screens import app_on, screen_text, until_shown


@pytest.mark.parametrize("name", sorted({name for command in COMMANDS for name in command.names}))
def test_every_other_name_has_a_command(name: str) -> None:
    assert commands_called(name)
    assert commands_called(name[:-1]) >= commands_called(name)


def test_nothing_typed_means_no_command() -> None:
    assert not commands_called(" ")


@pytest.mark.parametrize(
    ("name", "command"),
    [
        ("propose", "advice"), ("palette", "advice"), ("accept", "findings"),
        ("ignore", "findings"), ("sample", "samples"), ("tester", "samples"),
        ("print", "schedule"), ("painter", "schedule"), ("add a paint", "new"),
        ("wishes", "wishes"), ("north", "edit-house"), ("blind", "eyes"), ("colour-blind", "eyes"),
        ("vision", "eyes"), ("merge", "open-file"), ("neutral", "around"), ("client", "wishes"),
        ("yellow", "wishes"), ("dislike", "wishes"), ("avoid", "wishes"), ("status", "findings"),
        ("status", "next-step"), ("accepted", "findings"), ("kept", "findings"),
        ("sheen", "sheen"), ("shift", "light-page"),
        ("client", "edit-house"), ("quantities", "schedule"), ("hours", "schedule"),
    ],
)  # fmt: skip
def test_what_people_call_things_is_known(name: str, command: str) -> None:
    assert command in commands_called(name)


@pytest.mark.parametrize(
    ("word", "command"),
    [("tester", "samples"), ("painter", "schedule"), ("north", "edit-house"),
     ("propose", "advice"), ("ignore", "findings"), ("vision", "eyes"),
     ("colour-blind", "eyes"), ("merge", "open-file")],
)  # fmt: skip
async def test_the_finder_shows_what_is_meant(word: str, command: str) -> None:
    app = app_on(small_house())
    title = BY_ID[command].uses[0].title
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause(0.05)
        await pilot.press("ctrl+p", *word)
        for _ in range(100):
            await pilot.pause(0.03)
            if title[:20] in screen_text(app):
                return
        raise AssertionError(screen_text(app))


async def test_what_works_on_the_map_is_found_over_a_page_of_the_house() -> None:
    app = app_on(small_house())
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("p")
        await until_shown(app, pilot, "write file")
        await pilot.press("ctrl+p", *"sheen")
        await until_shown(app, pilot, "Set the sheen")
        await pilot.press("enter")
        await until_shown(app, pilot, "press esc first")
