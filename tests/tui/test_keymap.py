"""The user's own keys are read from keymap.toml; what is wrong in it is told and left out."""

from pathlib import Path

import pytest

from housemap.tui.keys import read_keymap


def keymap_from(folder: Path, text: str) -> tuple[object, tuple[str, ...]]:
    (folder / "keymap.toml").write_text(text)
    return read_keymap(folder)


def test_without_a_file_there_are_no_own_keys(tmp_path: Path) -> None:
    assert read_keymap(tmp_path / "nowhere") == ({}, ())


def test_one_key_or_several_can_be_given(tmp_path: Path) -> None:
    keymap, faults = keymap_from(tmp_path, '[keys]\nundo = "z"\nsave = ["ctrl+s", "W"]\n')
    assert keymap == {"undo": ("z",), "save": ("ctrl+s", "W")}
    assert faults == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[keys]\nundoo = "z"\n', 'did you mean "undo"'),
        ('[keys]\nsurface-walls = "1"\n', 'no command is called "surface-walls"'),
        ("[keys]\nundo = 3\n", "a key or a list of keys"),
        ("keys = 3\n", "[keys] must be a table"),
        ("[keys\n", "keymap.toml"),
        ('[keys]\nundo = "u"\nredo = "u"\n', "both"),
    ],
)
def test_what_is_wrong_is_told_in_a_line(tmp_path: Path, text: str, told: str) -> None:
    _, faults = keymap_from(tmp_path, text)
    assert len(faults) == 1
    assert told in faults[0]


def test_right_lines_count_beside_wrong_ones(tmp_path: Path) -> None:
    keymap, faults = keymap_from(tmp_path, '[keys]\nundo = "z"\nnothing = "n"\n')
    assert keymap == {"undo": ("z",)}
    assert len(faults) == 1


def test_a_file_that_is_not_text_is_told(tmp_path: Path) -> None:
    (tmp_path / "keymap.toml").write_bytes(b"\xff\xfe")
    assert len(read_keymap(tmp_path)[1]) == 1
