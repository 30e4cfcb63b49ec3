"""The repository is kept tidy: what lies where, and what code on the screen may not do."""

import ast
import re
from pathlib import Path

import pytest

from tests.support.project import PACKAGE, ROOT, source_trees, tracked_files
from tests.support.screen_lint import screen_faults

TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", "demo_house.toml", "housemap", "tests",
}  # fmt: skip

MACHINE = re.compile(
    r"(?<![\w.<-])/(?:work|tmp|root|opt|home)/|pypi[.]org|pythonhosted[.]org|npmjs[.]"
)
"""Absolute folders of somebody's machine, and hosts of package registries."""


TEXT_ENDINGS = {".py", ".md", ".toml", ".tcss", ".csv", ".json", ".txt", ".svg", ""}


def text_files() -> list[Path]:
    return [ROOT / path for path in tracked_files() if path.suffix in TEXT_ENDINGS]


def test_the_top_level_holds_only_what_belongs_there() -> None:
    top = {path.parts[0] for path in tracked_files()}
    assert {name for name in top if not name.startswith(".")} <= TOP_LEVEL


def test_no_file_names_a_folder_of_a_machine_or_a_registry() -> None:
    found = {
        f"{path.relative_to(ROOT)}:{number}: {line.strip()}"
        for path in text_files()
        for number, line in enumerate(path.read_text("utf-8", "replace").splitlines(), 1)
        if MACHINE.search(line)
    }
    assert not found


def test_a_folder_of_a_machine_would_be_found() -> None:
    assert MACHINE.search("read /" + "home/ada/house.toml")
    assert not MACHINE.search("house/home/plan.toml")


def test_no_module_swallows_every_exception() -> None:
    found = [
        f"{name}:{node.lineno}"
        for name, tree in source_trees().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.ExceptHandler) and catches_all(node)
    ]
    assert not found


def catches_all(handler: ast.ExceptHandler) -> bool:
    if handler.type is None:
        return True
    names = {node.id for node in ast.walk(handler.type) if isinstance(node, ast.Name)}
    return bool(names & {"Exception", "BaseException"})


def test_no_text_of_a_house_becomes_markup_on_the_screen() -> None:
    found = {
        name: faults
        for name, tree in source_trees().items()
        if name.startswith("housemap.tui") and (faults := screen_faults(tree))
    }
    assert not found


@pytest.mark.parametrize(
    "code",
    [
        "Static(f'{name}')",
        "Label('Room ' + name)",
        "Button('%s' % name)",
        "Option('{}'.format(name))",
        "self.notify(text)",
        "self.notify(text, markup=True)",
        "self.border_title = f'{room.name}'",
        "Content.from_markup(f'[b]{name}[/b]')",
        "escape(name)",
    ],
)
def test_code_that_may_turn_a_name_into_markup_is_caught(code: str) -> None:
    assert len(screen_faults(ast.parse(code))) == 1


@pytest.mark.parametrize(
    "code",
    [
        "Static(Content(name))",
        "Static(f'{name}', markup=False)",
        "Label('Rooms')",
        "self.notify(text, markup=False)",
        "self.border_title = Content(name)",
        "Content.from_markup('[b]$n[/b]', n=name)",
    ],
)
def test_code_that_keeps_a_name_as_text_is_let_through(code: str) -> None:
    assert screen_faults(ast.parse(code)) == ()


def test_the_style_sheet_changes_no_paint() -> None:
    """Opacity, tint and text-style dim blend a colour with what lies beneath."""
    found = [
        f"{path.name}:{number}: {line.strip()}"
        for path in PACKAGE.rglob("*.tcss")
        for number, line in enumerate(path.read_text("utf-8").splitlines(), 1)
        if re.match(r"\s*(opacity|text-opacity|tint|background-tint)\s*:", line)
        and not re.search(r":\s*(100%|1(\.0)?)\s*;", line)
    ]
    assert not found
