"""Every command prints JSON with its format and the keys that the guide lists."""

import json
import re
from pathlib import Path

import pytest

from housemap.cli import main
from housemap.cli.command import every_command
from housemap.cli.shell import every_words
from housemap.file.save import save_house
from housemap.guide import page
from tests.support.houses import small_house

KEYS = {
    "survey": {"written", "lines"}, "check": {"file", "findings", "causes", "accepted", "todo"},
    "sight": {"pairs"}, "rank": {"room", "surface", "candidates"}, "view": {"written", "text"},
    "schedule": {"edition", "written", "text"}, "diff": {"changes"},
    "deck": {"sources", "paints", "looks_wrong", "written"}, "guide": {"topics"},
    "about": {"housemap", "terminal", "folders", "keymap"}, "completion": {"shell", "text"},
    "man": {"text"},
}  # fmt: skip


def arguments(command: str, folder: Path) -> list[str]:
    house = str(folder / "house.toml")
    (folder / "fan.csv").write_text("name,hex\nOat,#d9d0bf\nFern,#405030\n")
    (folder / "lines.txt").write_text("Hall; height 2.5\n")
    return {
        "survey": [house, str(folder / "lines.txt")], "check": [house], "sight": [house],
        "rank": [house, "hall"], "view": [house, "hall", "-o", str(folder / "hall.png")],
        "schedule": [house], "diff": [house, house], "deck": [str(folder / "fan.csv")],
        "completion": ["bash"],
    }.get(command, [])  # fmt: skip


@pytest.mark.parametrize("command", KEYS)
def test_it_prints_one_object_with_its_format(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    save_house(small_house(), tmp_path / "house.toml")
    assert main([command, *arguments(command, tmp_path), "--json"]) in {0, 1}
    printed = json.loads(capsys.readouterr().out)
    assert printed.pop("format") == 1
    assert printed.keys() == KEYS[command]


def test_the_guide_lists_every_command_and_its_keys() -> None:
    rows = dict(re.findall(r"^\| `(\w+)` \| (.*) \|$", page("json"), re.MULTILINE))
    assert {command.name for command in every_command()} <= rows.keys()
    for command, keys in KEYS.items():
        assert keys <= set(re.findall(r"`(\w+)`", rows[command]))


@pytest.mark.parametrize("words", every_words(), ids=lambda words: words.command.name)
def test_every_command_takes_json(words: object) -> None:
    assert "--json" in words.options  # type: ignore[attr-defined]  # a Words
