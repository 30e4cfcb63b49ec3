"""`housemap merge`: two edits of one house file brought together, by meaning."""

import sys
from argparse import Namespace
from contextlib import suppress
from pathlib import Path
from subprocess import run

from housemap.cli.command import DONE, FORCE, FOUND, Command, arg
from housemap.cli.output import print_json
from housemap.cli.reading import each_of
from housemap.cli.written import check_free, remember
from housemap.errors import InputError
from housemap.file.merge import Conflict, merge_files, unsettled, value_text
from housemap.file.reader import HouseFile, load_house
from housemap.file.save import save_bytes
from housemap.model.house import House

MERGE_TOOL = (
    "git config mergetool.housemap.cmd"
    " 'housemap merge $BASE $LOCAL $REMOTE -o $MERGED --force --choose'"
)
MARKS = ("<<<<<<< yours\n", "=======\n", ">>>>>>> theirs\n")
"""Around two texts that cannot be merged; git and editors know them."""


def _run(arguments: Namespace) -> int:
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
    if arguments.json:
        print_json({"both_changed": [*map(_json, merged.conflicts)]})
    for conflict in () if arguments.json else merged.conflicts:
        print(f"both changed it: {conflict}", file=sys.stderr)
    if not merged.conflicts:
        return DONE
    if not arguments.json:
        words = "yours is used until you choose: open the file with housemap"
        print(f"{out}: {words}", file=sys.stderr)
    return _choose(out) if arguments.choose else FOUND


def _json(conflict: Conflict) -> dict[str, object]:
    sides = {"sent": conflict.base, "yours": conflict.mine, "theirs": conflict.theirs}
    texts = {
        side: None if value is None else value_text(conflict.field, value)
        for side, value in sides.items()
    }
    return {"path": list(conflict.path), **texts}


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
    run=_run,
)
