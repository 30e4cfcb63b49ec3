"""`housemap about`: what the program finds of the terminal, its libraries and its folders."""

import os
import platform
import shutil
import sys
from argparse import Namespace
from collections.abc import Iterator, Mapping
from importlib.metadata import PackageNotFoundError, version

from housemap import __version__
from housemap.cli.command import DONE, Command, arg
from housemap.cli.output import show, table
from housemap.file import kept
from housemap.tui.keys import read_keymap
from housemap.tui.pictures import drawing_for
from housemap.tui.terminal import ask_tmux, settle_depth
from housemap.workbench.folders import config_folder, data_folder, state_folder

_LIBRARIES = ("textual", "rich", "numpy", "scipy", "colour-science", "networkx", "tomli-w")
_VARIABLES = ("TERM", "COLORTERM", "TERM_PROGRAM", "TMUX", "SSH_CONNECTION", "NO_COLOR", "LANG")


def _run(arguments: Namespace) -> int:
    if arguments.empty_cache:
        kept.empty()
    sections = {
        "housemap": dict(_program()),
        "terminal": dict(_terminal()),
        "folders": dict(_folders()),
        "keymap": dict(_keymap()),
    }
    show(arguments, lambda: sections, _lines(sections))
    return DONE


def _lines(sections: Mapping[str, Mapping[str, str]]) -> Iterator[str]:
    for title, rows in sections.items():
        yield title
        yield from table((f"  {name}", value) for name, value in rows.items())


def _program() -> Iterator[tuple[str, str]]:
    yield "version", __version__
    yield "python", f"{platform.python_version()} on {platform.system()}"
    for library in _LIBRARIES:
        yield library, _version(library)


def _version(library: str) -> str:
    try:
        return version(library)
    except PackageNotFoundError:
        return "missing"


def _terminal() -> Iterator[tuple[str, str]]:
    depth = settle_depth("auto", os.environ, ask_tmux)
    size = shutil.get_terminal_size()
    pictures = drawing_for("ask", os.environ)
    yield "colours", f"{depth.words}: {depth.why}"
    yield "pictures", f"{pictures.words}: {pictures.why}"
    yield "size", f"{size.columns}x{size.lines} (80x24 or more shows everything)"
    yield "keys and screen", _whether(sys.stdin.isatty() and sys.stderr.isatty())
    yield "encoding", sys.stdout.encoding
    for name in _VARIABLES:
        yield name, repr(os.environ[name]) if name in os.environ else "not set"


def _whether(is_terminal: bool) -> str:  # noqa: FBT001 - the one thing it says
    return "a terminal" if is_terminal else "not a terminal: the program cannot open here"


def _folders() -> Iterator[tuple[str, str]]:
    yield "keys", str(config_folder() / "keymap.toml")
    yield "state", str(state_folder())
    yield "decks", str(data_folder())
    yield "cache", str(kept.cache_folder())
    yield "cache holds", f"{kept.kept_bytes() / 1e6:.1f} MB that can be computed again"


def _keymap() -> Iterator[tuple[str, str]]:
    """Everything that is wrong with the user's keys."""
    keymap, faults = read_keymap(config_folder())
    yield "own keys", str(len(keymap))
    yield from ((f"fault {number}", fault) for number, fault in enumerate(faults, 1))


ABOUT = Command(
    name="about",
    summary="Show what the program finds of the terminal, its libraries, folders and keymap.",
    examples=("housemap about", "housemap about --json", "housemap about --empty-cache"),
    arguments=(arg("--empty-cache", "first delete what can be computed again"),),
    run=_run,
)
