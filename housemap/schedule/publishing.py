"""Writing an edition to a file, in the form that its name ends with."""

import datetime as dt
import os
import shutil
import subprocess
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

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


# A page as PDF, printed by a browser of the Chromium family where one is installed.

BROWSERS = "chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge"
"""Names under which a browser of that family is installed."""
SECONDS = 120.0

BY_HAND = (
    "No browser was found that can make a PDF. Write the schedule as .html, open it in any"
    " browser, and print it to PDF from there."
)


def browser() -> str | None:
    return next(filter(None, map(shutil.which, BROWSERS)), None)


def pdf_of(page: str) -> bytes:
    """Raises InputError where no browser is there, or it fails."""
    found = browser()
    if found is None:
        raise InputError([Problem(BY_HAND)])
    with TemporaryDirectory() as folder:
        source, target = Path(folder, "schedule.html"), Path(folder, "schedule.pdf")
        source.write_text(page, "utf-8")
        _print(found, Path(folder), source, target)
        if not target.is_file():
            raise InputError([Problem(f"The browser made no PDF. {BY_HAND}")])
        return target.read_bytes()


def _print(found: str, folder: Path, source: Path, target: Path) -> None:
    """With no network, no profile of the user's and no header of the browser's own."""
    options = (
        "--headless", "--disable-gpu", "--no-first-run", "--disable-sync", "--disable-extensions",
        "--disable-background-networking", "--disable-component-update", "--no-pdf-header-footer",
        f"--user-data-dir={folder / 'profile'}", *_sandbox(),
    )  # fmt: skip
    command = [found, *options, f"--print-to-pdf={target}", source.as_uri()]
    try:
        subprocess.run(  # noqa: S603 - names from the list above, a page of our own
            command, capture_output=True, check=False, timeout=SECONDS
        )
    except subprocess.TimeoutExpired as error:
        raise InputError([Problem(f"The browser took too long. {BY_HAND}")]) from error


def _sandbox() -> tuple[str, ...]:
    """For root it starts only without its sandbox; the page has no script and no request."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return ("--no-sandbox",) if root else ()
