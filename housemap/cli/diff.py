"""`housemap diff`: what differs between two house files, by meaning, not by line."""

import sys
from argparse import Namespace
from pathlib import Path

from housemap.cli.command import DONE, FOUND, Command, arg
from housemap.cli.output import show
from housemap.cli.reading import each_house
from housemap.errors import HouseFileError, InputError
from housemap.file.merge import Change, described, diff, value_text
from housemap.file.reader import read_house


def _run(arguments: Namespace) -> int:
    if arguments.text:
        return _describe(arguments.before)
    if arguments.after is None:
        raise InputError.of("name two house files, or one with --text")
    (_, before), (_, after) = each_house([arguments.before, arguments.after], lambda house: house)
    changes = diff(before, after)
    lines = [*map(str, changes)] or ["no difference"]
    show(arguments, lambda: {"changes": [*map(_json, changes)]}, lines)
    return FOUND if changes else DONE


def _json(change: Change) -> dict[str, object]:
    before, after = (
        None if value is None else value_text(change.field, value)
        for value in (change.before, change.after)
    )
    return {"path": list(change.path), "before": before, "after": after}


def _describe(path: Path) -> int:
    """Print a house a line a value; a file that is no house as it is, for git shows those too."""
    try:
        print("\n".join(described(read_house(path))))
    except HouseFileError:
        if not path.is_file():
            raise
        sys.stdout.flush()
        sys.stdout.buffer.write(path.read_bytes())
    return DONE


DIFF = Command(
    name="diff",
    summary="List what differs between two house files, by meaning.",
    examples=(
        "housemap diff sent.toml house.toml",
        "housemap diff --json a.toml b.toml",
        'git config diff.housemap.textconv "housemap diff --text"',
    ),
    arguments=(
        arg("before A", "a house file", type=Path),
        arg("after B", "another, or the same one later", nargs="?", type=Path),
        arg("--text", "print A a line a value, as git diff compares it"),
    ),
    run=_run,
)
