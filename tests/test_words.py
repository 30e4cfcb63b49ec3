"""How the program speaks: short sentences, and none of the phrases that had to be read twice."""

import re

import pytest

from tests.support.sentences import CODE, Said, all_said, said_in

LONGEST = 20
"""Words of a sentence on a screen."""
ON_SCREENS = ("tui", "workbench", "choose", "schedule", "cli")

PHRASES = (
    "take it up", "taken up", "Take up", "Settle it", "Typed and not taken", "left behind",
    "Against what stays", "which stays", "Nowhere to stop", "Lone accent", "Turns with the light",
    "neither matched nor clear", "Printed LRV contradicted", "Backbone too dark", "Not painted yet",
    "no sample of it was kept", "leaves a daylight factor", "a white by itself reads",
    "Fill the house", "no choice of these paints costs less", "A bound holds", "weighed of",
    "are told of the result", "on no wall", "BS 8206-2 sets no least", "Coats go by",
    "more lines than told", "graver ones", "do not close are told", "A screen is no paint",
    "w walks", "Tell who sees", "Is caught", "Is clean", "apart in the evening",
)  # fmt: skip
"""What the texts said before: own copy of what they must not say again."""

OTHERS = ("lint", "linter", "commit", "stash", "repository", "buffer", "yank", "doctor")
"""Words of version control, of code checkers and of an editor."""


def on_screens() -> list[Said]:
    return [
        said for said in all_said()
        if said.path.relative_to(CODE).parts[0] in ON_SCREENS and "(?" not in said.text
    ]  # fmt: skip


def test_there_is_something_to_read() -> None:
    assert len(on_screens()) > 500


def test_no_sentence_on_a_screen_is_long() -> None:
    assert not [str(said) for said in on_screens() if said.longest > LONGEST]


@pytest.mark.parametrize("phrase", PHRASES)
def test_a_phrase_that_was_misread_is_gone(phrase: str) -> None:
    assert not [str(said) for said in all_said() if phrase in said.text]


@pytest.mark.parametrize("word", OTHERS)
def test_no_word_of_another_trade_is_on_a_screen(word: str) -> None:
    found = re.compile(rf"\b{word}\b", re.IGNORECASE)
    assert not [str(said) for said in on_screens() if found.search(said.text)]


def test_a_docstring_is_not_said(tmp_path: object) -> None:
    del tmp_path
    texts = [said.text for said in said_in(CODE / "tui" / "commands.py")]
    assert "Select the walls for a paint" in texts
    assert not [text for text in texts if text.startswith("Everything that the user can do")]
