"""`housemap saves`: the earlier saves of house files that the program keeps, and removing them."""

from argparse import Namespace
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

from housemap.cli.command import DONE, Command, arg
from housemap.cli.output import show, table
from housemap.file.earlier_saves import (
    DAYS,
    MOST,
    EarlierSave,
    earlier_saves,
    files_with_saves,
    remove_saves,
)
from housemap.file.reader import printable
from housemap.model.text import counted
from housemap.workbench.folders import state_folder

Kept = Sequence[tuple[Path, tuple[EarlierSave, ...]]]


def _run(arguments: Namespace) -> int:
    folder, file = state_folder(), arguments.file
    if file:
        kept: Kept = [(file, saves)] if (saves := earlier_saves(folder, file)) else []
    else:
        kept = list(files_with_saves(folder))
    if arguments.remove:
        for name, _ in kept:
            remove_saves(folder, name)
    show(
        arguments,
        lambda: {"removed": arguments.remove, "files": [*map(_json, kept)]},
        _lines(kept, each=bool(file), removed=arguments.remove),
    )
    return DONE


def _json(kept: tuple[Path, tuple[EarlierSave, ...]]) -> dict[str, Any]:
    file, saves = kept
    listed = [{"when": each.when.isoformat(), "copy": str(each.path)} for each in saves]
    return {"file": str(file), "saves": listed}


def _lines(kept: Kept, *, each: bool, removed: bool) -> Iterator[str]:
    if not kept:
        yield "no earlier saves"
    elif removed:
        yield f"removed {counted(sum(len(saves) for _, saves in kept), 'earlier save')}"
    elif each:
        yield from table((_local(save.when), str(save.path)) for _, saves in kept for save in saves)
    else:
        rows = ((str(len(saves)), _local(saves[0].when), file) for file, saves in kept)
        yield from table((count, when, printable(str(file))) for count, when, file in rows)
    if kept and not removed:
        yield f"At most {MOST} a house are kept, none longer than {DAYS} days."
        yield "Add --remove to remove them." if not each else "Open a copy by its path."


def _local(when: datetime) -> str:
    return f"{when.astimezone():%Y-%m-%d %H:%M}"


SAVES = Command(
    name="saves",
    summary="List the earlier saves that are kept of house files, or remove them.",
    examples=("housemap saves", "housemap saves house.toml", "housemap saves house.toml --remove"),
    arguments=(
        arg("file FILE", "a house file (default: every one)", nargs="?", type=Path),
        arg("--remove", "remove the saves that are listed"),
    ),
    run=_run,
)
