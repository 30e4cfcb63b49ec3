"""README.md says what the program does: its tables, its example, its pictures and its commands."""

import re
from pathlib import Path

import pytest

from housemap.checks import CHECKS
from housemap.cli.command import every_command
from tests.screens.golden import README as PICTURED
from tests.support.project import ROOT

README = ROOT / "README.md"

PICTURES = [f".github/{name}.svg" for name in PICTURED.frames]
LARGEST_PICTURE = 150_000
"""Bytes."""


@pytest.fixture(scope="module")
def text() -> str:
    return README.read_text("utf-8")


def test_what_it_links_to_is_there(text: str) -> None:
    targets = re.findall(r"\]\(([^)#]+)\)", text)
    assert targets
    assert [name for name in targets if not (ROOT / name).exists()] == []


def test_its_pictures_are_the_made_ones_and_small(text: str) -> None:
    shown = set(re.findall(r"!\[[^]]+\]\(([^)]+)\)", text))
    assert shown == {*PICTURES}
    assert max((ROOT / name).stat().st_size for name in shown) < LARGEST_PICTURE


def test_its_pictures_fetch_nothing() -> None:
    for picture in PICTURES:
        source = (ROOT / picture).read_text("utf-8")
        assert "href" not in source
        assert "url(" not in source


def test_the_continuous_check_runs_its_test_command(text: str) -> None:
    assert "&& .venv/bin/python -m pytest -n auto\n" in text
    assert '"$python" -m pytest -n auto' in Path(ROOT / ".ci" / "run").read_text("utf-8")


def test_it_names_every_check_as_the_program_does(text: str) -> None:
    assert [check.title for check in CHECKS if f"**{check.title}**" not in text] == []


def test_its_commands_are_commands(text: str) -> None:
    named = set(re.findall(r"`housemap ([a-z]+)", text))
    assert named <= {command.name for command in every_command()}


def test_it_can_be_read_at_a_sitting(text: str) -> None:
    assert text.count("\n") <= 180
