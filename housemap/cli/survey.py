"""`housemap survey`: a house written down as lines of plain words, in any editor."""

import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from housemap.cli.command import DONE, Command, arg
from housemap.cli.output import picked, show
from housemap.errors import InputError, Problem
from housemap.file.paths import is_there
from housemap.file.reader import decode, printable, read_bytes
from housemap.model.house import House
from housemap.workbench.session import Session
from housemap.workbench.survey.surveyor import Entry, Surveyor

STDIN, PIPED = "-", "standard input"
MOST_BYTES = 2 * 2**20
"""More is not a survey."""


def _run(arguments: Namespace) -> int:
    path, source = arguments.file, arguments.lines
    session = Session.read(path) if is_there(path) else Session.of(House(name=path.stem))
    place = PIPED if source == STDIN else printable(source)
    entries = list(Surveyor(session).enter_all(_text_of(source).splitlines()))
    faults = [Problem(e.fault_text, file=place, line=e.number) for e in entries if e.fault]
    if faults and not arguments.json:
        raise InputError([*faults, Problem(f"nothing was written to {printable(str(path))}")])
    written = not faults and not arguments.dry and session.unsaved
    if written and session.file is None:
        session.save_as(path)
    elif written:
        session.save()
    lines = [_json(entry) for entry in entries]
    show(
        arguments,
        lambda: {"written": str(path) if written else None, "lines": lines},
        _lines(entries, printable(str(path)), written=written),
    )
    if faults:
        raise InputError(faults)
    return DONE


def _text_of(lines: str) -> str:
    """The text of the lines. Raises InputError."""
    if lines != STDIN:
        return decode(read_bytes(lines, MOST_BYTES, "a survey"), lines)
    data = sys.stdin.buffer.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise InputError.of("more than a survey can be", file=PIPED)
    return decode(data, PIPED)


def _lines(entries: Sequence[Entry], file: str, *, written: bool) -> Iterator[str]:
    for entry in entries:
        yield from entry.phrases
        yield from (f"  look again: {trouble}" for trouble in entry.troubles)
    yield f"written to {file}" if written else f"nothing to write to {file}"


def _json(entry: Entry) -> dict[str, Any]:
    fault = entry.fault
    return {
        "line": entry.number,
        "text": entry.text,
        "understood": entry.phrases,
        "contradictions": entry.troubles,
        "fault": fault and picked(fault, "start", "end", "text"),
    }


SURVEY = Command(
    name="survey",
    summary="Write a house down from lines of plain words.",
    examples=(
        "housemap survey house.toml lines.txt",
        "housemap survey house.toml - < lines.txt",
        "housemap survey --try --json house.toml lines.txt",
    ),
    arguments=(
        arg("file HOUSE", "a house file, new or known", type=Path),
        arg("lines LINES",
            "a file of survey lines; - or nothing reads standard input. Lines that begin with #"
            " are comments", nargs="?", default=STDIN),
        arg("--try", "say what the lines mean and write nothing", dest="dry", action="store_true"),
    ),
    run=_run,
)  # fmt: skip
