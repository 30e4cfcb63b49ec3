"""An edition as one HTML page: for print and for a phone, with no script and no request."""

from collections.abc import Iterable
from functools import cache
from importlib.resources import files

from housemap.model.house import Edition, House
from housemap.schedule import sections
from housemap.schedule.blocks import (
    Block,
    Bullets,
    Cell,
    Column,
    Facts,
    Figure,
    Figures,
    Html,
    Row,
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
    body = tag(
        "body",
        _header(schedule, edition, name),
        tag("main", *(_section(each, 2) for each in sections_of(schedule, edition))),
        class_=edition,
    )
    return f"<!doctype html>\n{tag('html', head, body, lang='en')}\n"


@cache
def _css() -> str:
    return files(__package__).joinpath("page.css").read_text("utf-8")


def _running(schedule: Schedule, title: str) -> str:
    """Size of the paper, and house, issue and number on every page (CSS Paged Media 3)."""
    issue = f"issue {schedule.issue}" if schedule.issue else "draft"
    right = f"{issue}, {schedule.date:%-d %B %Y}, {schedule.revision}"
    return (
        f"@page {{ size: {_paper(schedule.house)}; @top-left {{ content: {css_text(title)} }}"
        f" @top-right {{ content: {css_text(right)} }} }}"
    )


_ON_LETTER = frozenset({"US", "CA", "MX", "PH"})
"""Countries that print on Letter (from memory); of a country not given, its feet tell."""


def _paper(house: House) -> str:
    feet = not house.country and house.units == "ft"
    return "letter" if feet or house.country in _ON_LETTER else "A4"


_HARMLESS = frozenset(" ,.:()-'")


def css_text(text: str) -> str:
    """A CSS string that holds a text whatever is in it (CSS Syntax 3, escapes)."""
    escaped = (
        c if c.isalnum() or c in _HARMLESS else f"\\{ord(c):x} " for c in " ".join(text.split())
    )
    return f'"{"".join(escaped)}"'


def _header(schedule: Schedule, edition: Edition, name: str) -> Html:
    return tag(
        "header",
        tag("p", TITLES[edition], class_="soft"),
        tag("h1", name),
        _facts(sections.parties(schedule)),
        _facts(sections.totals(schedule, edition)),
    )


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
            return _facts(block)
        case Figures():
            return _figures(block.figures)
        case SignOff():
            return tag("div", *map(_party, block.parties), class_="sign")


def _facts(facts: Facts) -> Html:
    return tag("dl", *(tag("div", tag("dt", n), tag("dd", v)) for n, v in facts.pairs))


def _figures(figures: Iterable[Figure]) -> Html:
    drawn = [
        tag("figure", picture, tag("figcaption", figure.caption), class_=figure.kind)
        for figure in figures
        if (picture := figure.draw())
    ]
    return tag("div", *drawn, class_="figures") if drawn else Html()


def _table(table: Table, title: str) -> Html:
    """A real table on any screen; where it is too wide it scrolls within itself.

    A caption that only repeats the heading above is there for a screen reader.
    """
    if not table.rows:
        return Html()
    head = tag("tr", *(tag("th", c.name, scope="col", class_=c.kind) for c in table.columns))
    body = (_row(table.columns, row) for row in table.rows)
    hidden = "unseen" if table.caption == title else None
    caption = tag("caption", table.caption, class_=hidden)
    made = tag("table", caption, tag("thead", head), tag("tbody", *body))
    short = "table short" if len(table.rows) <= KEPT_WHOLE else "table"
    return tag("div", made, class_=short, tabindex=0, role="region", aria_label=table.caption)


def _row(columns: Iterable[Column], row: Row) -> Html:
    cells = (_cell(c, cell) for c, cell in zip(columns, row.cells, strict=True))
    return tag("tr", *cells, class_="changed" if row.changed else None)


def _cell(column: Column, cell: Cell) -> Html:
    inside = cell.text
    if column.kind == "tins":  # a tin is never broken from its number
        inside = ", ".join(tin.replace(" ", "\N{NO-BREAK SPACE}") for tin in inside.split(", "))
    if cell.swatch:
        chip = _chip(cell.swatch.colour.srgb_hex, cell.number)
        inside = tag("div", chip, tag("span", cell.text), class_="paint")
    if column.kind == "head":
        return tag("th", inside, scope="row", class_="head")
    return tag("td", inside, class_=column.kind)


def _chip(hex_: str, number: int | None) -> Html:
    """A patch of the colour with the number of the paint."""
    style = f"background:{hex_};color:{ink_on(hex_)}"
    return tag("span", str(number or "\N{NO-BREAK SPACE}"), class_="chip", style=style)


def _party(party: str) -> Html:
    lines = (tag("div", tag("span", words)) for words in ("name", "signature", "date"))
    return tag("div", tag("b", party), *lines, class_="party")
