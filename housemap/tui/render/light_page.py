"""The page of a room's light: one column on a small terminal, two on a large one."""

from collections.abc import Callable, Iterator

from housemap.tui.render.light_lux import lux_rows, tint_rows
from housemap.tui.render.light_paints import daylight_rows, paint_rows
from housemap.tui.render.light_sources import note_rows, source_rows
from housemap.tui.render.light_view import LightView, beside
from housemap.tui.render.light_walls import other_rows, wall_rows
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import Shades, shades_under

TWO_COLUMNS = 132
"""Columns of a terminal from which on the page has two."""

Part = Callable[[LightView, Page], Iterator[Row]]

AWAITED = (
    "The light of the house is being computed. It comes by itself, and takes a few seconds when a"
    " house is opened."
)


def light_rows(shades: Shades, room: str, tried: str | None, look: Look, width: int) -> list[Row]:
    """Everything that is known of the light of a room, as the report has it."""
    view, page = _view(shades, room, tried, look), Page(look, width)
    if view is None:
        return [page.blank(), *page.text(AWAITED)]
    if width < TWO_COLUMNS:
        parts = (wall_rows, other_rows, lux_rows, daylight_rows, paint_rows, tint_rows)
        return [page.blank(), *_rows(view, page, *parts, source_rows, note_rows)]
    left, right = Page(look, width // 2), Page(look, width - width // 2)
    first = [left.blank(), *_rows(view, left, wall_rows, other_rows, lux_rows, tint_rows)]
    second = _rows(view, right, daylight_rows, paint_rows, source_rows, note_rows)
    return beside(first, [*second], left)


def _view(shades: Shades, room: str, tried: str | None, look: Look) -> LightView | None:
    """What to show; None where the light of the room is not computed yet."""
    lighting, report = shades.lighting, shades.report
    if lighting is None or report is None or room not in lighting.rooms:
        return None
    shades = shades_under(shades.light, report.house, report)
    found = ((paint, shades.plain.lrv_of(paint)) for paint in report.house.paints)
    lrv = {paint: value for paint, value in found if value is not None}
    return LightView(shades, lighting, room, tried if tried in lrv else None, look, lrv)


def _rows(view: LightView, page: Page, *parts: Part) -> Iterator[Row]:
    for part in parts:
        yield from part(view, page)
