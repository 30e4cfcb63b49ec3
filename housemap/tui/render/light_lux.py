"""How much light falls on the surfaces of a room, and what the bounces do to its colour."""

from collections.abc import Iterator, Mapping
from math import isinf
from typing import TYPE_CHECKING

from housemap.model.shape import walls
from housemap.tui.render.light_view import LIGHT_WORDS, LightView
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row
from housemap.tui.render.scene import Coat
from housemap.tui.render.text import cut

if TYPE_CHECKING:
    from housemap.light.as_seen import Tint, WallTints
    from housemap.light.room_scene import LightName
    from housemap.light.surface_light import Lit

NAME, NUMBER, GAIN = 8, 9, 7
"""Columns of a surface's name, of lux, and of a gain."""
WIDTH = 2 * NUMBER + GAIN
"""Columns of a light."""
PART, PART_WORDS = 10, 27
"""Columns of what a part of the light falls on, and of where it comes from."""


def lux_rows(view: LightView, page: Page) -> Iterator[Row]:
    """Direct light, all light and the gain on each surface, light by light."""
    lights = view.lit.light.lights
    if not lights:
        return
    yield from page.heading("lux on each surface: direct, after all bounces, gain")
    yield from (page.line(line, quiet=True, tidy=False) for line in _headings(lights))
    keys = [wall.key for wall in walls(view.room)]
    for name in ("floor", "ceiling", "walls", *keys):
        label = f" wall {name}" if name in keys else name
        cells = "".join(_cells(lit, name) for lit in lights.values())
        yield page.line(f"{label:<{NAME}}{cells}", quiet=name in keys, tidy=False)
    yield page.line(f"{'light in':<{NAME}}{_sources(lights)}", quiet=True, tidy=False)


def _headings(lights: "Mapping[LightName, Lit]") -> Iterator[str]:
    yield " " * NAME + "".join(f"{LIGHT_WORDS[name]:>{WIDTH}}" for name in lights)
    columns = f"{'direct':>{NUMBER}}{'all':>{NUMBER}}{'gain':>{GAIN}}"
    yield " " * NAME + columns * len(lights)


def _cells(lit: "Lit", surface: str) -> str:
    gain = lit.gain(surface)
    shown = "-" if isinf(gain) else f"{gain:.2f}"
    direct, total = lit.direct_lux(surface), lit.total_lux(surface)
    return f"{direct:>{NUMBER}.0f}{total:>{NUMBER}.0f}{shown:>{GAIN}}"


def _sources(lights: "Mapping[LightName, Lit]") -> str:
    """Lumens that come in, and their chromaticity."""
    from housemap.light.surface_light import LUX, xy  # noqa: PLC0415 - light has been computed

    parts = []
    for lit in lights.values():
        x, y = xy(lit.source)
        text = f"{lit.source[LUX]:.0f} lm x {x:.3f} y {y:.3f}"
        parts.append(f"{text:>{WIDTH}}")
    return "".join(parts)


def tint_rows(view: LightView, page: Page) -> Iterator[Row]:
    """For each wall and light: from the floor, from the wall opposite, and what a white reads."""
    if not view.lit.light.lights:
        return
    if view.tints is None:
        yield from page.heading("what the bounces add in colour: being computed")
        return
    for name, tints in view.tints.items():
        yield from page.heading(f"what the bounces add in colour {LIGHT_WORDS[name]}")
        shown = [
            (f"wall {wall}", *row)
            for wall, each in tints.walls.items()
            for row in _wall_parts(each)
        ]
        rows = [("light in", "a white by itself reads", tints.source), *_once(shown)]
        for label, words, tint in rows:
            yield _tint_row(label, words, tint, page)


def _wall_parts(each: "WallTints") -> Iterator[tuple[str, "Tint"]]:
    total = each.whole.lux
    if each.floor:
        yield f"{100 * each.floor.lux / total:.0f} % comes from the floor", each.floor
    if each.opposite:
        yield f"{100 * each.opposite.lux / total:.0f} % from wall {each.across}", each.opposite
    yield f"of {total:.0f} lx; a white reads", each.whole


def _once(rows: "list[tuple[str, str, Tint]]") -> "Iterator[tuple[str, str, Tint]]":
    """Each label on its first row alone."""
    before = ""
    for label, words, tint in rows:
        yield "" if label == before else label, words, tint
        before = label


def _tint_row(label: str, words: str, tint: "Tint", page: Page) -> Row:
    lead = f" {label:<{PART}}{words:<{PART_WORDS}}"
    columns = page.inner - PART - PART_WORDS - SWATCH - 1
    name = cut(tint.undertone.name, columns, page.more)
    strength = f", chroma {tint.undertone.chroma:.0f}"[: max(columns - len(name), 0)]
    return (
        page.run(lead, quiet=True),
        page.patch(Coat("known", tint.srgb_hex), SWATCH),
        page.run(f" {name}"),
        page.run(strength, quiet=True),
    )
