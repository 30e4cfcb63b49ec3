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
from housemap.tui.terminal import ask_tmux, drawing_for, settle_depth
from housemap.workbench.folders import config_folder, data_folder, state_folder

_LIBRARIES = ("textual", "rich", "numpy", "scipy", "colour-science", "networkx", "tomli-w")
_VARIABLES = ("TERM", "COLORTERM", "TERM_PROGRAM", "TMUX", "SSH_CONNECTION", "NO_COLOR", "LANG")


def _run(arguments: Namespace) -> int:
    if arguments.empty_cache:
        kept.empty()
    keymap, faults = read_keymap(config_folder())
    sections: dict[str, dict[str, str]] = {
        "housemap": {
            "version": __version__,
            "python": f"{platform.python_version()} on {platform.system()}",
            **{library: _version(library) for library in _LIBRARIES},
        },
        "terminal": _terminal(),
        "folders": {
            "keys": str(config_folder() / "keymap.toml"),
            "state": str(state_folder()),
            "decks": str(data_folder()),
            "cache": str(kept.cache_folder()),
            "cache holds": f"{kept.kept_bytes() / 1e6:.1f} MB that can be computed again",
        },
        "keymap": {
            "own keys": str(len(keymap)),
            **{f"fault {number}": fault for number, fault in enumerate(faults, 1)},
        },
    }
    show(arguments, lambda: sections, _lines(sections))
    return DONE


def _lines(sections: Mapping[str, Mapping[str, str]]) -> Iterator[str]:
    for title, rows in sections.items():
        yield title
        yield from table((f"  {name}", value) for name, value in rows.items())


def _version(library: str) -> str:
    try:
        return version(library)
    except PackageNotFoundError:
        return "missing"


def _terminal() -> dict[str, str]:
    depth = settle_depth("auto", os.environ, ask_tmux)
    size = shutil.get_terminal_size()
    pictures = drawing_for("ask", os.environ)
    is_terminal = sys.stdin.isatty() and sys.stderr.isatty()
    not_one = "not a terminal: the program cannot open here"
    return {
        "colours": f"{depth.words}: {depth.why}",
        "pictures": f"{pictures.words}: {pictures.why}",
        "size": f"{size.columns}x{size.lines} (80x24 or more shows everything)",
        "keys and screen": "a terminal" if is_terminal else not_one,
        "encoding": sys.stdout.encoding,
        **{name: repr(os.environ[name]) if name in os.environ else "not set"
           for name in _VARIABLES},
    }  # fmt: skip


ABOUT = Command(
    name="about",
    summary="Show what the program finds of the terminal, its libraries, folders and keymap.",
    examples=("housemap about", "housemap about --json", "housemap about --empty-cache"),
    arguments=(arg("--empty-cache", "first delete what can be computed again"),),
    run=_run,
)
