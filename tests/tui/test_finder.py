"""A command is found by what people call what it does."""

import pytest

from housemap.tui.finder import OTHER_WORDS, commands_called
from tests.support.houses import small_house
from tests.support.screens import app_on, screen_text


@pytest.mark.parametrize("word", OTHER_WORDS)
def test_every_other_word_has_a_command(word: str) -> None:
    assert commands_called(word)
    assert commands_called(word[:-1]) >= commands_called(word)


def test_nothing_typed_means_no_command() -> None:
    assert not commands_called(" ")


@pytest.mark.parametrize(
    ("word", "title"),
    [
        ("tester", "Samples"), ("painter", "Show the paint schedule"), ("north", "Edit the house"),
        ("propose", "Fill the house"), ("ignore", "Show what was found"),
    ],
)  # fmt: skip
async def test_the_finder_shows_what_is_meant(word: str, title: str) -> None:
    app = app_on(small_house())
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause(0.05)
        await pilot.press("ctrl+p", *word)
        for _ in range(100):
            await pilot.pause(0.03)
            if title in screen_text(app):
                return
        raise AssertionError(screen_text(app))
