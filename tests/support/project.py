"""Where the project's own files are, and what git knows of them."""

import ast
import pkgutil
import subprocess
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

import housemap

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "housemap"
DEMO = ROOT / "demo_house.toml"


def tracked_files() -> tuple[Path, ...]:
    """The files that a fresh clone would hold, as paths below ROOT."""
    listing = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True
    )
    return tuple(Path(name) for name in listing.stdout.split("\0") if name)


def module_names() -> tuple[str, ...]:
    """Every module of the package, dotted; names alone, nothing but `housemap` is imported."""
    return tuple(sorted(_names_below(PACKAGE, housemap.__name__)))


def _names_below(folder: Path, name: str) -> Iterator[str]:
    yield name
    for module in pkgutil.iter_modules([str(folder)]):
        if module.ispkg:
            yield from _names_below(folder / module.name, f"{name}.{module.name}")
        else:
            yield f"{name}.{module.name}"


@cache
def source_trees() -> Mapping[str, ast.Module]:
    """The syntax tree of every module of the package, by dotted name."""
    return {
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): ast.parse(
            path.read_text("utf-8")
        )
        for path in sorted(PACKAGE.rglob("*.py"))
    }
