"""Pieces of the page that several sections share: chips, tables, sections."""

from collections.abc import Iterable, Sequence

import numpy as np

from housemap.colorimetry.spaces import hex_to_srgb, srgb_to_xyz
from housemap.schedule.page.tags import Html, tag, together
from housemap.study import Swatch

_NUMBERS = frozenset({"LRV", "coats", "area", "needed", "with waste", "cost"})
"""Columns that are set to the right."""


def section(title: str, *body: Html) -> Html:
    """A section with its heading; nothing where the body is empty."""
    return together(tag("h2", title), *body) if any(body) else Html()


def chip(swatch: Swatch) -> Html:
    return tag("span", style=f"background:{swatch.colour.srgb_hex}", title=swatch.name)


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> Html:
    """A table that scrolls by itself on a narrow screen; a first column "" holds chips."""
    body = [
        tag("tr", *(_cell(name, cell) for name, cell in zip(head, row, strict=True)))
        for row in rows
    ]
    if not body:
        return Html()
    heading = tag("tr", *(tag("th", name, scope="col", class_=_class(name)) for name in head))
    return tag("div", tag("table", tag("thead", heading), tag("tbody", *body)), class_="wide")


def _cell(name: str, cell: str) -> Html:
    return tag("td", cell, class_=_class(name))


def _class(name: str) -> str | None:
    if name in _NUMBERS:
        return "number"
    return None if name else "chip"


def bullets(lines: Iterable[str]) -> Html:
    items = [tag("li", line) for line in lines]
    return tag("ul", *items) if items else Html()


def ink_on(hex_: str) -> str:
    """Black or white, whichever stands out more by the contrast ratio of WCAG 2.2."""
    luminance = float(srgb_to_xyz(np.array(hex_to_srgb(hex_)))[1]) / 100.0
    return "#000000" if (luminance + 0.05) / 0.05 >= 1.05 / (luminance + 0.05) else "#ffffff"
