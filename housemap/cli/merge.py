"""`housemap merge`: two edits of one house file brought together, by meaning."""

import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from housemap.cli.command import DONE, FOUND, Command
from housemap.errors import InputError, Problem

if TYPE_CHECKING:
    from housemap.file import HouseFile


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("base", metavar="BASE", type=Path, help="the file that both started from")
    parser.add_argument("mine", metavar="MINE", type=Path, help="my edit of it")
    parser.add_argument("theirs", metavar="THEIRS", type=Path, help="their edit of it")
    parser.add_argument(
        "-o", dest="out", metavar="OUT", type=Path, required=True, help="where to write the result"
    )


def _run(arguments: Namespace) -> int:
    from housemap.file.merge import merge_files
    from housemap.file.save import save_bytes

    base, mine, theirs = _load((arguments.base, arguments.mine, arguments.theirs))
    text, merged = merge_files(base, mine, theirs)
    # As a merge driver of git it writes over git's own temporary file: nothing may stay beside it.
    save_bytes(text.encode(), arguments.out, keep_former=False)
    for conflict in merged.conflicts:
        print(f"conflict: {conflict}", file=sys.stderr)
    if merged.conflicts:
        print(
            "what is in conflict stands as in MINE where that fits, else as in BASE;"
            " open the file to settle it",
            file=sys.stderr,
        )
    return FOUND if merged.conflicts else DONE


def _load(paths: tuple[Path, Path, Path]) -> "list[HouseFile]":
    """Everything wrong with all three is told at once."""
    files: list[HouseFile] = []
    problems: list[Problem] = []
    for path in paths:
        try:
            files.append(_file(path))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return files


def _file(path: Path) -> "HouseFile":
    from housemap.file import HouseFile, load_house
    from housemap.model.house import House

    # git gives an empty file where two branches added the house each by its own.
    if path.is_file() and path.stat().st_size == 0:
        return HouseFile(House(), b"")
    return load_house(path)


MERGE = Command(
    name="merge",
    summary="Bring two edits of one house file together, by meaning; tell what is in conflict.",
    examples=(
        "housemap merge sent.toml house.toml theirs.toml -o merged.toml",
        'git config merge.housemap.driver "housemap merge %O %A %B -o %A"',
    ),
    arguments=_arguments,
    run=_run,
)
