"""Writing an edition to a file, in the form that its name ends with."""

import datetime as dt
import os
import shutil
import subprocess
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from housemap.errors import InputError
from housemap.file.save import save_bytes
from housemap.model.house import Edition
from housemap.schedule.as_html import as_html
from housemap.schedule.as_text import as_markdown, sheet
from housemap.schedule.document import Schedule

MOST_BYTES = 2**28
"""Thousands of rooms fit."""
SHEETS = "surfaces", "paint", "primer", "samples"
"""The lists of a spreadsheet; the first is in the file that was asked for."""


def today() -> dt.date:
    """Where the user is."""
    return dt.datetime.now().astimezone().date()


def files_of(path: Path, edition: Edition) -> tuple[Path, ...]:
    """The files that would be written: a spreadsheet has one for each of its lists.

    Raises InputError for an ending that no form of the schedule is for.
    """
    if path.suffix.lower() not in _FORMS:
        text = f"the ending must be .html, .pdf, .md or .csv, found {path.suffix!r}"
        raise InputError.of(text)
    if path.suffix.lower() != ".csv":
        return (path,)
    _, *others = _sheets(edition)
    return path, *(path.with_stem(f"{path.stem}-{name}") for name in others)


def write_schedule(schedule: Schedule, path: Path, edition: Edition = "full") -> tuple[Path, ...]:
    """Write it, each file whole or not at all. Raises InputError, HouseFileError."""
    written = files_of(path, edition)
    made = _FORMS[path.suffix.lower()](schedule, edition)
    for file, data in zip(written, made, strict=True):
        save_bytes(data, file, most=MOST_BYTES, what="a schedule")
    return written


def _sheets(edition: Edition) -> tuple[str, ...]:
    """The supplier needs no surfaces."""
    return SHEETS[1:] if edition == "supplier" else SHEETS


_FORMS: Mapping[str, Callable[[Schedule, Edition], Sequence[bytes]]] = {
    ".html": lambda schedule, edition: [as_html(schedule, edition).encode()],
    ".pdf": lambda schedule, edition: [pdf_of(as_html(schedule, edition))],
    ".md": lambda schedule, edition: [as_markdown(schedule, edition).encode()],
    ".csv": lambda schedule, edition: [sheet(schedule, n).encode() for n in _sheets(edition)],
}
"""What each file holds, by the ending of the first."""


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
        raise InputError.of(BY_HAND)
    with TemporaryDirectory() as folder:
        source, target = Path(folder, "schedule.html"), Path(folder, "schedule.pdf")
        source.write_text(page, "utf-8")
        _print(found, Path(folder), source, target)
        if not target.is_file():
            raise InputError.of(f"The browser made no PDF. {BY_HAND}")
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
        raise InputError.of(f"The browser took too long. {BY_HAND}") from error


def _sandbox() -> tuple[str, ...]:
    """For root it starts only without its sandbox; the page has no script and no request."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    return ("--no-sandbox",) if root else ()
