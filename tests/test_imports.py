"""Only the tui imports the terminal; heavy libraries come in only where they are used."""

import ast
import subprocess
import sys
from collections.abc import Iterator, Sequence

import pytest

from tests.support.project import module_names, source_trees

SCREEN = ("textual", "rich")
HEAVY = ("numpy", "scipy", "networkx", "colour")

FIRST_BRINGER = """
import importlib, sys
modules, banned = sys.argv[1].split(","), sys.argv[2].split(",")
for module in modules:
    importlib.import_module(module)
    for name in banned:
        if name in sys.modules:
            sys.exit(f"{module} brings {name}")
"""


def imports_in_fresh_interpreter(modules: Sequence[str], banned: Sequence[str]) -> str:
    """Which module is the first to bring a banned one in; empty when none does."""
    result = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", FIRST_BRINGER, ",".join(modules), ",".join(banned)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert result.returncode == 0 or " brings " in result.stderr, result.stderr
    return result.stderr.strip()


def below(*packages: str) -> tuple[str, ...]:
    return tuple(
        name
        for name in module_names()
        if any(name == package or name.startswith(f"{package}.") for package in packages)
    )


def core_modules() -> tuple[str, ...]:
    return tuple(name for name in module_names() if name not in below("housemap.tui"))


def test_no_core_module_brings_the_screen_in() -> None:
    modules = [name for name in core_modules() if name != "housemap.__main__"]
    assert len(modules) > 30
    assert imports_in_fresh_interpreter(modules, SCREEN) == ""


@pytest.mark.parametrize(
    "packages",
    [
        ("housemap.errors", "housemap.model"),
        ("housemap.file",),
        ("housemap.plan.placing",),
    ],
    ids=["model", "file", "placing"],
)
def test_what_the_first_frame_needs_is_pure_python(packages: tuple[str, ...]) -> None:
    modules = below(*packages)
    assert modules
    assert imports_in_fresh_interpreter(modules, HEAVY) == ""


def test_the_commands_start_without_the_screen_or_heavy_libraries() -> None:
    assert imports_in_fresh_interpreter(["housemap.cli"], SCREEN + HEAVY) == ""


def test_the_screen_starts_without_heavy_libraries() -> None:
    modules = ["housemap.tui.app", "housemap.tui.house_screen"]
    assert imports_in_fresh_interpreter(modules, HEAVY) == ""


def test_the_first_picture_is_drawn_without_textual_or_heavy_libraries() -> None:
    modules = ["housemap.tui.ahead", "housemap.tui.render.first", "housemap.workbench.session"]
    assert imports_in_fresh_interpreter(modules, ("textual", *HEAVY)) == ""


def test_the_first_picture_waits_for_nothing_that_only_an_open_house_needs() -> None:
    house = ("housemap.model.house", "housemap.tui.describe", "housemap.workbench.session")
    assert imports_in_fresh_interpreter(["housemap.tui.app"], house) == ""


def test_a_banned_import_would_be_named() -> None:
    assert imports_in_fresh_interpreter(["networkx"], ["networkx"]) == "networkx brings networkx"


def imported_roots(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name.partition(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module.partition(".")[0]


def importers_of(library: str) -> set[str]:
    return {name for name, tree in source_trees().items() if library in imported_roots(tree)}


def test_one_module_imports_colour_science() -> None:
    assert importers_of("colour") == {"housemap.colorimetry.science"}


def test_one_module_imports_networkx() -> None:
    assert importers_of("networkx") == {"housemap.plan.house_graph"}


def test_only_the_tui_imports_textual_and_rich() -> None:
    importers = importers_of("textual") | importers_of("rich")
    assert importers
    assert importers <= set(below("housemap.tui"))
