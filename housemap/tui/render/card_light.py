"""On the card of a room: how much light its wall paint costs, and what light is missing."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from housemap.tui.render.light_view import LIGHT_WORDS, signed
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import Shades

if TYPE_CHECKING:
    from housemap.study.close import PaintLight


def lacking_rows(shades: Shades, room: str, page: Page) -> Iterator[Row]:
    """Why the room shows as under the reference light, where another was asked for."""
    if shades.light_to_come:
        yield from page.text(f"{shades.light} light being computed, reference light shown")
    elif reason := shades.lacks(room):
        yield from page.text(f"{reason}: shown {LIGHT_WORDS['reference']}")


def cost_rows(shades: Shades, room: str, page: Page) -> Iterator[Row]:
    """Light on the walls and daylight factor, against the lightest paint of the house."""
    now, lightest = _now(shades, room), _lightest(shades)
    if now is None or not now.wall_lux or lightest is None:
        return
    if lightest == shades.house.rooms[room].paints.walls:
        yield from page.heading("light, with the lightest paint of the house")
        yield from page.text(", ".join(_figures(now, None, page)))
        return
    name = shades.house.paints[lightest].name
    yield from page.heading(f"light, against {name}")
    best = (shades.paints_on_walls(room) or {}).get(lightest)
    yield from page.text(", ".join(_figures(now, best, page)))


def _now(shades: Shades, room: str) -> "PaintLight | None":
    """The light with the paint on the walls; None where it is not known."""
    paint = shades.house.rooms[room].paints.walls
    lit = shades.lighting.rooms.get(room) if shades.lighting else None
    if lit is None or paint is None:
        return None
    if known := (shades.paints_on_walls(room) or {}).get(paint):
        return known
    if lit.part.room.paints.walls != paint:
        return None
    from housemap.study.close import PaintLight  # noqa: PLC0415 - light has been computed

    percent = lit.light.daylight.percent if lit.light.daylight else None
    return PaintLight(percent, {k: on.total_lux("walls") for k, on in lit.light.lights.items()}, {})


def _lightest(shades: Shades) -> str | None:
    lrv = ((value, paint) for paint, value in shades.plain.lrv.items())
    return max(lrv, default=(0.0, None))[1]


def _figures(now: "PaintLight", best: "PaintLight | None", page: Page) -> Iterator[str]:
    """Each as it is, and what is missing against the best."""
    for name, lux in now.wall_lux.items():
        most = best.wall_lux[name] if best else 0.0
        loss = f" {signed(100.0 * (lux / most - 1.0), page.look)} %" if most > 0.0 else ""
        yield f"{'by day' if name == 'day' else name} {lux:.0f} lx{loss}"
    if now.daylight_percent is not None:
        most = (best.daylight_percent if best else None) or 0.0
        loss = f" {signed(now.daylight_percent - most, page.look, 2)}" if most else ""
        yield f"daylight factor {now.daylight_percent:.2f} %{loss}"
