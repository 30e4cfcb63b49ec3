"""`housemap diff` and `housemap merge`: two edits of one house file, by meaning, not by line."""

import sys
from argparse import Namespace
from contextlib import suppress
from pathlib import Path
from subprocess import run
from typing import Any

from housemap.cli.command import DONE, FORCE, FOUND, Command, arg
from housemap.cli.output import note, print_json, show
from housemap.cli.reading import each_house, each_of
from housemap.cli.written import check_free, remember
from housemap.errors import HouseFileError, InputError
from housemap.file.merge import (
    Change,
    Conflict,
    described,
    diff,
    merge_files,
    unsettled,
    value_text,
)
from housemap.file.reader import HouseFile, load_house, read_house
from housemap.file.save import save_bytes
from housemap.model.house import House
from housemap.workbench.joining import Sides, change_text, conflict_text

MERGE_TOOL = (
    "git config mergetool.housemap.cmd"
    " 'housemap merge $BASE $LOCAL $REMOTE -o $MERGED --force --choose'"
)
MARKS = ("<<<<<<< yours\n", "=======\n", ">>>>>>> theirs\n")
"""Around two texts that cannot be merged; git and editors know them."""


def _json(of: Change | Conflict, **sides: Any) -> dict[str, object]:
    texts = {k: None if v is None else value_text(of.field, v) for k, v in sides.items()}
    return {"path": list(of.path), **texts}


def _run_diff(arguments: Namespace) -> int:
    if arguments.text:
        return _describe(arguments.before)
    if arguments.after is None:
        raise InputError.of("name two house files, or one with --text")
    (_, before), (_, after) = each_house([arguments.before, arguments.after], lambda house: house)
    changes = diff(before, after)
    listed = [_json(each, before=each.before, after=each.after) for each in changes]
    lines = [change_text(each, before, after) for each in changes]
    show(arguments, lambda: {"changes": listed}, lines or ["no difference"])
    return FOUND if changes else DONE


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
    run=_run_diff,
)


def _run_merge(arguments: Namespace) -> int:
    out: Path = arguments.out
    # A merge driver of git writes over YOURS, git's own temporary file: nothing is left beside it.
    in_place = out.exists() and out.samefile(arguments.yours)
    if not in_place:
        check_free(out, force=arguments.force)
    try:
        sent, yours, theirs = each_of((arguments.sent, arguments.yours, arguments.theirs), _file)
    except InputError:
        if in_place:
            _show_both(arguments.yours, arguments.theirs)
        raise
    text, merged = merge_files(sent, yours, theirs)
    save_bytes(text.encode(), out, keep_former=False)
    if not in_place:
        remember(out)
    conflicts = merged.conflicts
    if arguments.json:
        each = [_json(c, sent=c.base, yours=c.mine, theirs=c.theirs) for c in conflicts]
        print_json({"both_changed": each})
    elif conflicts:
        sides = Sides(sent.house, yours.house, theirs.house)
        for conflict in conflicts:
            note(arguments, f"both changed it: {conflict_text(conflict, sides)}")
        words = "yours is used until you choose: open the file with housemap"
        note(arguments, f"{out}: {words}")
    if conflicts and arguments.choose:
        return _choose(out)
    return FOUND if conflicts else DONE


def _choose(out: Path) -> int:
    """Open the program on a file that shows both sides."""
    program = [sys.executable, "-m", "housemap", str(out)]
    status = run(program, check=False).returncode  # noqa: S603 - ourselves, on a file just written
    return status or (FOUND if unsettled(load_house(out).data) else DONE)


def _show_both(yours: Path, theirs: Path) -> None:
    """Leave both texts in a file where they are no houses, so that neither is lost in silence."""
    with suppress(OSError):
        ours, other = yours.read_bytes(), theirs.read_bytes()
        if ours != other:
            start, middle, end = (mark.encode() for mark in MARKS)
            yours.write_bytes(b"".join((start, _ended(ours), middle, _ended(other), end)))


def _ended(data: bytes) -> bytes:
    return data if not data or data.endswith(b"\n") else data + b"\n"


def _file(path: Path) -> HouseFile:
    # git gives an empty file where two branches added the house each by its own.
    if path.is_file() and path.stat().st_size == 0:
        return HouseFile(House(), b"")
    return load_house(path)


MERGE = Command(
    name="merge",
    summary="Bring two edits of one house file together, by meaning; list what both changed.",
    examples=(
        "housemap merge sent.toml house.toml theirs.toml -o merged.toml",
        'git config merge.housemap.driver "housemap merge %O %A %B -o %A"',
        MERGE_TOOL,
    ),
    arguments=(
        arg("sent SENT", "the file that both started from", type=Path),
        arg("yours YOURS", "your edit of it", type=Path),
        arg("theirs THEIRS", "their edit of it", type=Path),
        arg("-o OUT", "where to write the result", dest="out", type=Path, required=True),
        FORCE,
        arg("--choose", "open the program on what both changed"),
    ),
    run=_run_merge,
)
