"""Writing an edition to a file, in the form that its name ends with."""

import datetime as dt
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from housemap.errors import InputError, Problem
from housemap.file.save import save_bytes
from housemap.model.house import Edition
from housemap.schedule.document import Schedule

MOST_BYTES = 2**28
"""Thousands of rooms fit."""

Form = Callable[[Schedule, Edition], str]


def check_ending(path: Path) -> None:
    """Raises InputError for a file that no form of the schedule is for."""
    if path.suffix.lower() not in {*_FORMS, ".pdf"}:
        text = f"the ending must be .html, .pdf, .md or .csv, found {path.suffix!r}"
        raise InputError([Problem(text)])


def form_of(ending: str) -> Form:
    """What writes that form. Raises InputError for another ending."""
    check_ending(Path(f"schedule{ending}"))
    return _FORMS[ending.lower()]


def write_schedule(schedule: Schedule, path: Path, edition: Edition = "full") -> tuple[Path, ...]:
    """Write it, each file whole or not at all; a spreadsheet has a file for each of its lists.

    Returns the files written. Raises InputError, HouseFileError.
    """
    written = files_of(path, edition)
    for file, data in zip(written, _contents(schedule, path, edition), strict=True):
        save_bytes(data, file, most=MOST_BYTES, what="a schedule")
    return written


def files_of(path: Path, edition: Edition) -> tuple[Path, ...]:
    """The files that would be written. Raises InputError for an ending that no form is for."""
    check_ending(path)
    if path.suffix.lower() != ".csv":
        return (path,)
    _, *others = sheet_names(edition)
    return path, *(path.with_stem(f"{path.stem}-{name}") for name in others)


def sheet_names(edition: Edition) -> tuple[str, ...]:
    """The lists of a spreadsheet; the first is in the file that was asked for."""
    lists = ("paint", "primer", "samples")
    return lists if edition == "supplier" else ("surfaces", *lists)


def _contents(schedule: Schedule, path: Path, edition: Edition) -> Sequence[bytes]:
    ending = path.suffix.lower()
    if ending == ".csv":
        from housemap.schedule.as_csv import sheet  # noqa: PLC0415 - only the form asked for

        return [sheet(schedule, name).encode() for name in sheet_names(edition)]
    if ending == ".pdf":
        from housemap.schedule.pdf import pdf_of  # noqa: PLC0415 - only the form asked for

        return [pdf_of(_html(schedule, edition))]
    return [form_of(ending)(schedule, edition).encode()]


def today() -> dt.date:
    """Where the user is."""
    return dt.datetime.now().astimezone().date()


def _markdown(schedule: Schedule, edition: Edition) -> str:
    from housemap.schedule.as_markdown import as_markdown  # noqa: PLC0415 - only the form asked for

    return as_markdown(schedule, edition)


def _csv(schedule: Schedule, edition: Edition) -> str:
    from housemap.schedule.as_csv import sheet  # noqa: PLC0415 - only the form asked for

    return sheet(schedule, sheet_names(edition)[0])


def _html(schedule: Schedule, edition: Edition) -> str:
    from housemap.schedule.as_html import as_html  # noqa: PLC0415 - only the form asked for

    return as_html(schedule, edition)


_FORMS: Mapping[str, Form] = {".md": _markdown, ".csv": _csv, ".html": _html}
