"""A page as PDF, printed by a browser of the Chromium family where one is installed."""

import os
import shutil
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

from housemap.errors import InputError, Problem

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
