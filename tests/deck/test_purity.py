"""Reading decks needs neither the screen nor a heavy library."""

from tests.test_imports import HEAVY, SCREEN, below, imports_in_fresh_interpreter


def test_decks_are_read_with_the_standard_library_alone() -> None:
    modules = below("housemap.deck", "housemap.file.deck_file")
    assert len(modules) > 10
    assert imports_in_fresh_interpreter(modules, SCREEN + HEAVY) == ""
