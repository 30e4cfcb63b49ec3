"""An edition as one HTML page, with no script and no request, or in any other form in a file."""

import os
import shutil
import subprocess
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

from housemap.errors import InputError
from housemap.file.save import save_bytes
from housemap.model.house import Edition
from housemap.schedule import sections
from housemap.schedule.as_text import as_markdown, sheet
from housemap.schedule.blocks import (
    Block,
    Bullets,
    Cell,
    Column,
    Facts,
    Figures,
    Html,
    Section,
    SignOff,
    Table,
    Text,
    tag,
)
from housemap.schedule.document import Schedule
from housemap.schedule.drawings import ink_on
from housemap.schedule.editions import TITLES, sections_of

KEPT_WHOLE = 6
"""So many rows stay on one printed page."""
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


def as_html(schedule: Schedule, edition: Edition = "full") -> str:
    name = schedule.house.name or "house"
    title = f"{TITLES[edition]}: {name}"
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=POLICY),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("title", title),
        tag("style", Html(_css() + _running(schedule, title))),
    )
    facts = sections.parties(schedule, edition), sections.totals(schedule, edition)
    titles = tag("p", TITLES[edition], class_="soft"), tag("h1", name)
    header = tag("header", *titles, *(_block(each, "") for each in facts))
    main = tag("main", *(_section(each, 2) for each in sections_of(schedule, edition)))
    body = tag("body", header, main, class_=edition)
    return f"<!doctype html>\n{tag('html', head, body, lang='en')}\n"


@cache
def _css() -> str:
    return files(__package__).joinpath("page.css").read_text("utf-8")


def _running(schedule: Schedule, title: str) -> str:
    """Size of the paper, and house, issue and number on every page (CSS Paged Media 3)."""
    issue = f"issue {schedule.issue}" if schedule.issue else "draft"
    right = f"{issue}, {schedule.date:%-d %B %Y}, {schedule.revision}"
    country = schedule.house.country
    in_feet = not country and schedule.house.units == "ft"
    paper = "letter" if in_feet or country in _ON_LETTER else "A4"
    return (
        f"@page {{ size: {paper}; @top-left {{ content: {css_text(title)} }}"
        f" @top-right {{ content: {css_text(right)} }} }}"
    )


_ON_LETTER = frozenset({"US", "CA", "MX", "PH"})
"""Countries that print on Letter (from memory); of a country not given, its feet say so."""

_HARMLESS = frozenset(" ,.:()-'")


def css_text(text: str) -> str:
    """A CSS string that holds a text whatever is in it (CSS Syntax 3, escapes)."""
    escaped = (
        c if c.isalnum() or c in _HARMLESS else f"\\{ord(c):x} " for c in " ".join(text.split())
    )
    return f'"{"".join(escaped)}"'


def _section(section: Section, level: int) -> Html:
    whole = "" if level == 2 else "room"  # noqa: PLR2004 - the first level below the title
    return tag(
        "section",
        tag(f"h{level}", section.title),
        *(_block(block, section.title) for block in section.blocks),
        *(_section(part, level + 1) for part in section.parts),
        class_=whole or section.title.lower().replace(" ", "-"),
    )


def _block(block: Block, title: str) -> Html:
    match block:
        case Table():
            return _table(block, title)
        case Text():
            return tag("p", block.text, class_="soft" if block.quiet else None)
        case Bullets():
            items = [tag("li", item) for item in block.items]
            return tag("ul", *items) if items else Html()
        case Facts():
            return tag("dl", *(tag("div", tag("dt", n), tag("dd", v)) for n, v in block.pairs))
        case Figures():
            drawn = [
                tag("figure", picture, tag("figcaption", figure.caption), class_=figure.kind)
                for figure in block.figures
                if (picture := figure.draw())
            ]
            return tag("div", *drawn, class_="figures") if drawn else Html()
        case SignOff():
            blank = [tag("div", tag("span", words)) for words in ("name", "signature", "date")]
            each = (tag("div", tag("b", p), *blank, class_="party") for p in block.parties)
            return tag("div", *each, class_="sign")


def _table(table: Table, title: str) -> Html:
    """A real table on any screen; where it is too wide it scrolls within itself.

    A caption that only repeats the heading above is there for a screen reader.
    """
    if not table.rows:
        return Html()
    head = tag("tr", *(tag("th", c.name, scope="col", class_=c.kind) for c in table.columns))
    body = []
    for row in table.rows:
        cells = (_cell(c, cell) for c, cell in zip(table.columns, row.cells, strict=True))
        body.append(tag("tr", *cells, class_="changed" if row.changed else None))
    hidden = "unseen" if table.caption == title else None
    caption = tag("caption", table.caption, class_=hidden)
    made = tag("table", caption, tag("thead", head), tag("tbody", *body))
    short = "table short" if len(table.rows) <= KEPT_WHOLE else "table"
    return tag("div", made, class_=short, tabindex=0, role="region", aria_label=table.caption)


def _cell(column: Column, cell: Cell) -> Html:
    inside = cell.text
    if column.kind == "tins":  # a tin is never broken from its number
        inside = ", ".join(tin.replace(" ", "\N{NO-BREAK SPACE}") for tin in inside.split(", "))
    if cell.swatch:
        hex_, number = cell.swatch.colour.srgb_hex, str(cell.number or "\N{NO-BREAK SPACE}")
        style = f"background:{hex_};color:{ink_on(hex_)}"
        chip = tag("span", number, class_="chip", style=style)
        inside = tag("div", chip, tag("span", cell.text), class_="paint")
    if column.kind == "head":
        return tag("th", inside, scope="row", class_="head")
    return tag("td", inside, class_=column.kind)


# In a file, in the form that its name ends with

MOST_BYTES = 2**28
"""Thousands of rooms fit."""
SHEETS = "surfaces", "paint", "primer", "samples"
"""The lists of a spreadsheet; the first is in the file that was asked for."""


def files_of(path: Path, edition: Edition) -> tuple[Path, ...]:
    """One, or of a spreadsheet one for each list. InputError for an ending of no form."""
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
    # For root it starts only without its sandbox; the page has no script and no request.
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    options = (
        "--headless", "--disable-gpu", "--no-first-run", "--disable-sync", "--disable-extensions",
        "--disable-background-networking", "--disable-component-update", "--no-pdf-header-footer",
        f"--user-data-dir={folder / 'profile'}", *(("--no-sandbox",) if root else ()),
    )  # fmt: skip
    command = [found, *options, f"--print-to-pdf={target}", source.as_uri()]
    try:
        subprocess.run(  # noqa: S603 - names from the list above, a page of our own
            command, capture_output=True, check=False, timeout=SECONDS
        )
    except subprocess.TimeoutExpired as error:
        raise InputError.of(f"The browser took too long. {BY_HAND}") from error
