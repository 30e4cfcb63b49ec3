"""On the card of a room: how much light its wall paint costs, and what light is missing."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from housemap.tui.render.light_view import LIGHT_WORDS, signed
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import Shades

if TYPE_CHECKING:
    from housemap.light.room import RoomLight
    from housemap.study.close import PaintLight


def lacking_rows(shades: Shades, room: str, page: Page) -> Iterator[Row]:
    """Why the room shows as under the reference light, where another was asked for."""
    if shades.light_to_come:
        yield from page.text(f"{shades.light} light being computed, reference light shown")
    elif reason := shades.lacks(room):
        yield from page.text(f"{reason}: shown {LIGHT_WORDS['reference']}")


def cost_rows(shades: Shades, room: str, page: Page) -> Iterator[Row]:
    """Light on the walls and daylight factor, against the lightest paint of the house."""
    lighting = shades.lighting
    lit = lighting.rooms.get(room) if lighting else None
    paint = shades.house.rooms[room].paints.walls
    if lighting is None or lit is None or paint is None or not lit.light.lights:
        return
    _, lightest = max((value, each) for each, value in shades.plain.lrv.items())
    best = (shades.paints_on_walls(room) or {}).get(lightest)
    if paint == lightest:
        yield from page.heading("light, with the lightest paint of the house")
    else:
        name = shades.house.paints[lightest].name
        yield from page.heading(f"light, against {name} on the walls")
    figures = _figures(lit.light, None if paint == lightest else best, page)
    yield from page.text(", ".join(figures))


def _figures(light: "RoomLight", best: "PaintLight | None", page: Page) -> Iterator[str]:
    """Each as it is, and what is missing against the best."""
    for name, lit in light.lights.items():
        lux = lit.total_lux("walls")
        loss = f" {signed(100 * (lux / best.wall_lux[name] - 1), page.look)} %" if best else ""
        yield f"{'by day' if name == 'day' else name} {lux:.0f} lx{loss}"
    if light.daylight:
        percent = light.daylight.percent
        least = best.daylight_percent if best else None
        loss = f" {signed(percent - least, page.look, 2)}" if least is not None else ""
        yield f"daylight factor {percent:.2f} %{loss}"
