"""The forms of the schedule by the ending of a file's name."""

import datetime as dt
from collections.abc import Callable, Mapping
from pathlib import Path

from housemap.errors import InputError, Problem
from housemap.file.save import save_bytes
from housemap.schedule.document import Schedule

MOST_BYTES = 2**28
"""Thousands of rooms fit."""


def form_of(ending: str) -> Callable[[Schedule], str]:
    """What writes that form. Raises InputError for another ending."""
    found = _FORMS.get(ending.lower())
    if found is None:
        raise InputError([Problem(f"the ending must be .md, .csv or .html, found {ending!r}")])
    return found


def write_schedule(schedule: Schedule, path: Path) -> None:
    """Write it whole or not at all. Raises InputError, HouseFileError."""
    data = form_of(path.suffix)(schedule).encode()
    save_bytes(data, path, most=MOST_BYTES, what="a schedule")


def today() -> dt.date:
    """Where the user is."""
    return dt.datetime.now().astimezone().date()


def _markdown(schedule: Schedule) -> str:
    from housemap.schedule.as_markdown import as_markdown  # noqa: PLC0415 - only the form wanted

    return as_markdown(schedule)


def _csv(schedule: Schedule) -> str:
    from housemap.schedule.as_csv import as_csv  # noqa: PLC0415 - only the form wanted

    return as_csv(schedule)


def _html(schedule: Schedule) -> str:
    from housemap.schedule.page import as_html  # noqa: PLC0415 - only the form wanted

    return as_html(schedule)


_FORMS: Mapping[str, Callable[[Schedule], str]] = {
    ".md": _markdown, ".csv": _csv, ".html": _html,
}  # fmt: skip
