"""Pieces of the page that several sections share: chips, tables, sections."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from housemap.colorimetry.spaces import hex_to_srgb, srgb_to_xyz
from housemap.schedule.page.tags import Html, tag
from housemap.study import Swatch


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, and the class that gives it its width and place."""

    name: str
    kind: str


def section(title: str, *body: Html) -> Html:
    """A section with its heading; nothing where the body is empty."""
    return tag("section", tag("h2", title), *body) if any(body) else Html()


def chip(swatch: Swatch) -> Html:
    style = f"background:{swatch.colour.srgb_hex}"
    return tag("span", class_="chip", style=style, title=swatch.name)


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> Html:
    """A table that a phone shows as one block a row; nothing without rows."""
    body = [
        tag("tr", *(tag("td", text, class_=c.kind) for c, text in zip(columns, row, strict=True)))
        for row in rows
    ]
    if not body:
        return Html()
    head = tag("tr", *(_heading(column) for column in columns))
    return tag("table", tag("thead", head), tag("tbody", *body))


def _heading(column: Column) -> Html:
    if column.name:
        return tag("th", column.name, scope="col", class_=column.kind)
    return tag("td", class_=column.kind)


def bullets(lines: Iterable[str]) -> Html:
    items = [tag("li", line) for line in lines]
    return tag("ul", *items) if items else Html()


def ink_on(hex_: str) -> str:
    """Black or white, whichever stands out more by the contrast ratio of WCAG 2.2."""
    luminance = float(srgb_to_xyz(np.array(hex_to_srgb(hex_)))[1]) / 100.0
    return "#000000" if (luminance + 0.05) / 0.05 >= 1.05 / (luminance + 0.05) else "#ffffff"
