"""The colours of a room under reference light, by day and in the evening, side by side."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from math import dist

from housemap.model.house import SURFACES, Light
from housemap.tui.render.light_view import LIGHT_WORDS, LightView
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row, Run
from housemap.tui.render.scene import Coat
from housemap.tui.render.shades import LIGHTS
from housemap.tui.render.text import cut, fit

BLOCK_ROWS, TRIED_ROWS = 4, 2
LABEL = 12
"""Columns of a surface's name."""

Triple = tuple[float, float, float]


def wall_rows(view: LightView, page: Page) -> Iterator[Row]:
    """The wall paint in three touching blocks, with what it leans to under each light."""
    paint = view.walls
    if paint is None:
        yield page.line("no paint on the walls yet", quiet=True)
        return
    yield page.line(f"walls: {_named(view, paint)}", strong=True)
    if page.look.colour:
        yield from [_blocks(view, paint, page)] * BLOCK_ROWS
    if page.look.colour and view.tried not in {None, paint}:
        yield from [_blocks(view, view.tried, page)] * TRIED_ROWS
        yield page.line(f"and below it {_named(view, str(view.tried))}")
    yield _thirds([light if light == "reference" else LIGHT_WORDS[light] for light in LIGHTS], page)
    yield _thirds([_lean(view, light, paint) for light in LIGHTS], page)
    yield _thirds([_strength(view, light, paint) for light in LIGHTS], page, quiet=True)
    yield from page.text(_apart(view, paint), quiet=True)


def _named(view: LightView, paint: str) -> str:
    lrv = view.lrv.get(paint)
    return view.paint_name(paint) + (f", LRV {lrv:.0f}" if lrv is not None else "")


def other_rows(view: LightView, page: Page) -> Iterator[Row]:
    """Every other surface, in the same order of lights."""
    room = view.room
    painted = [(s, paint) for s, paint in room.paints.chosen() if s != "walls"]
    painted.sort(key=lambda each: SURFACES.index(each[0]))
    accents = [(f"accent {wall}", accent.paint) for wall, accent in room.accents.items()]
    for surface, paint in (*painted, *accents):
        coats = {light: view.under(light).on(view.id, surface, paint) for light in LIGHTS}
        yield _surface_row(view, coats, surface, view.paint_name(paint), page)
    floor = [("floor", room.floor)] if room.floor else []
    for label, finish in dict.fromkeys((*floor, *(("fixed", each) for each in room.fixed))):
        coats = {light: view.under(light).stays(view.id, label, finish) for light in LIGHTS}
        name = view.shades.house.finishes[finish].name
        yield _surface_row(view, coats, label, name, page)


def _surface_row(
    view: LightView, coats: Mapping[Light, Coat], label: str, name: str, page: Page
) -> Row:
    shown = cut(name, page.inner - LABEL - 3 * SWATCH - 1, page.more)
    return (
        page.run(f" {fit(label, LABEL)}", quiet=True),
        *_patches(view, coats, [SWATCH] * len(coats), page),
        page.run(f" {shown}"),
    )


def _blocks(view: LightView, paint: str | None, page: Page) -> Row:
    coats = {light: view.under(light).on(view.id, "walls", paint) for light in LIGHTS}
    return page.run(" "), *_patches(view, coats, _columns(page), page)


def _patches(
    view: LightView, coats: Mapping[Light, Coat], columns: Sequence[int], page: Page
) -> list[Run]:
    """A patch for each light; nothing where the room lacks it."""
    return [
        page.patch(coat, width) if view.has(light) else page.run(" " * width)
        for (light, coat), width in zip(coats.items(), columns, strict=True)
    ]


def _columns(page: Page) -> list[int]:
    third = page.inner // 3
    return [third, third, page.inner - 2 * third]


def _thirds(texts: list[str], page: Page, *, quiet: bool = False) -> Row:
    """Texts, each below its block."""
    each = zip(texts, _columns(page), strict=True)
    line = "".join(f"{fit(text, width - 1, page.more)} " for text, width in each)
    return page.run(" "), page.run(line, quiet=quiet)


def _lean(view: LightView, light: Light, paint: str) -> str:
    if light != "reference" and (reason := view.under(light).lacks(view.id)):
        return reason
    tone = view.under(light).undertone(view.id, "walls", paint)
    return tone.name if tone else ""


def _strength(view: LightView, light: Light, paint: str) -> str:
    """How strongly it leans, and how light it looks."""
    ucs = _ucs(view, light, paint)
    if ucs is None:
        return ""
    return f"lightness {ucs[0]:.0f} chroma {dist(ucs[1:], (0.0, 0.0)):.1f}"


def _ucs(view: LightView, light: Light, paint: str) -> Triple | None:
    if light == "reference":
        return view.lighting.swatches["Paint", paint].colour.ucs
    seen = view.lighting.seen.get((view.id, light))
    coat = view.lit.part.coats.get("walls")
    colour = seen.colours.get(coat) if seen and coat else None
    return colour.ucs if colour else None


def _apart(view: LightView, paint: str) -> str:
    """How far the lights move the colour."""
    known = {light: ucs for light in LIGHTS if (ucs := _ucs(view, light, paint))}
    to = view.look.glyphs.to
    told = ", ".join(
        f"{first}{to}{second} {dist(known[first], known[second]):.1f}"
        for first, second in combinations(known, 2)
    )
    return f"{told} (CAM16-UCS)" if told else "seen under the reference light alone"
