"""Daylight in a room, and what every paint of the house on its walls would make of the light."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from housemap.model.house import Use
from housemap.tui.render.daylight_curve import Curve, Mark, curve_rows
from housemap.tui.render.light_view import LightView, by_light, signed
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row
from housemap.tui.render.scene import Coat
from housemap.tui.render.text import fit

if TYPE_CHECKING:
    from housemap.light.daylight import DaylightFactor
    from housemap.study.close import PaintLight

NOW, TRIED = "●", "○"
ASCII_NOW, ASCII_TRIED = "@", "O"
MOST_PAINTS = 24
"""In the list: a house may hold whole decks."""


def daylight_rows(view: LightView, page: Page) -> Iterator[Row]:
    """The average daylight factor, against the limits of its standard and as a curve."""
    factor = view.lit.light.daylight
    if factor is None:
        return
    yield from page.heading("daylight factor")
    yield page.line(_factor_words(view, factor), strong=True)
    yield from page.text(_limit_words(view.room.use, factor.percent), quiet=True)
    yield from curve_rows(_curve(view, factor), page)
    yield page.line("LRV of the walls; each patch is a paint of the house", quiet=True)
    for paint in dict.fromkeys((view.walls, view.tried)):
        if paint in view.lrv:
            yield page.line(_legend(view, factor, str(paint)))


def _factor_words(view: LightView, factor: "DaylightFactor") -> str:
    plane = view.lit.light.plane_percent
    words = f"average {factor.percent:.2f} %"
    return f"{words}, over the working plane {plane:.2f} %" if plane is not None else words


def _legend(view: LightView, factor: "DaylightFactor", paint: str) -> str:
    from numpy import array  # noqa: PLC0415 - light has been computed

    percent = float(factor.percent_with("walls", array(view.lrv[paint])))
    words = f"{sign_of(view, paint)} {view.paint_name(paint)} {percent:.2f} %"
    if paint == view.walls or view.walls is None:
        return words
    return f"{words}, {signed(percent - factor.percent, view.look, 2)} against what is there"


def _limits() -> Mapping[Use, float]:
    from housemap.light.daylight import BS8206_PERCENT  # noqa: PLC0415 - light has been computed

    return BS8206_PERCENT


def _limit_words(use: Use, percent: float) -> str:
    limit = _limits().get(use)
    if limit is None:
        return f"BS 8206-2 sets no least average for a room of use {use}"
    met = "met" if percent >= limit else "not met"
    return f"BS 8206-2: at least {limit:g} % on average in a {use} room, {met}"


def _curve(view: LightView, factor: "DaylightFactor") -> Curve:
    from numpy import array  # noqa: PLC0415 - light has been computed

    def percent_at(lrv: Sequence[float]) -> Sequence[float]:
        return [*factor.percent_with("walls", array(lrv)).tolist()]

    paints = _one_each(view)
    percents = percent_at([*paints.values()])
    marks = [
        Mark(value, percent, _shown(view, paint), sign_of(view, paint))
        for (paint, value), percent in zip(paints.items(), percents, strict=True)
    ]
    limit = _limits().get(view.room.use)
    return Curve(percent_at, marks, {f"{limit:g} % {view.room.use}": limit} if limit else {})


def sign_of(view: LightView, paint: str) -> str:
    ascii_only = view.look.glyphs.ascii
    if paint == view.walls:
        return ASCII_NOW if ascii_only else NOW
    if paint == view.tried:
        return ASCII_TRIED if ascii_only else TRIED
    return ""


def _one_each(view: LightView) -> Mapping[str, float]:
    """A paint for each whole LRV, and those that have a sign, with their LRV."""
    lrv = view.lrv
    first = {round(value): paint for paint, value in lrv.items()}
    signed_too = [paint for paint in (view.walls, view.tried) if paint in lrv]
    return {paint: lrv[paint] for paint in (*first.values(), *map(str, signed_too))}


def _shown(view: LightView, paint: str) -> Coat:
    return view.shades.on(view.id, "walls", paint)


def paint_rows(view: LightView, page: Page) -> Iterator[Row]:
    """A row for each paint, the lightest first; what is on the walls and what is tried marked."""
    lights = view.lit.light.lights
    if not lights:
        return
    if view.paints is None:
        yield from page.heading("what other paints on the walls would do: being computed")
        return
    now = view.paints.get(view.walls or "")
    numbers = [f"{'factor':>8}"] if view.lit.light.daylight else []
    numbers += [f"{'by day' if name == 'day' else name:>14}" for name in lights]
    names = page.inner - SWATCH - 10 - sum(map(len, numbers))
    yield from page.heading(
        f"{fit('with it on the walls', SWATCH + 4 + names, page.more)} LRV {''.join(numbers)}",
        tidy=False,
    )
    paints = by_light(view.lrv)
    shown = _near(paints, view.tried or view.walls)
    for paint in shown:
        chosen = paint in (view.walls, view.tried)
        cells = "".join(_numbers(view, view.paints[paint], now))
        name = fit(view.paint_name(paint), names, page.more)
        text = f"{name} {view.lrv[paint]:>3.0f} {cells}"
        yield (
            page.run(f" {sign_of(view, paint) or ' '} ", strong=True),
            page.patch(_shown(view, paint), SWATCH),
            page.run(f" {text}", strong=chosen),
        )
    if len(shown) < len(paints):
        yield page.line(f"those nearest in LRV of {len(paints)} paints", quiet=True)


def _near(paints: Sequence[str], middle: str | None) -> Sequence[str]:
    """As many as a page is for, about the one in the middle."""
    at = paints.index(middle) if middle in paints else 0
    start = max(min(at - MOST_PAINTS // 2, len(paints) - MOST_PAINTS), 0)
    return paints[start : start + MOST_PAINTS]


def _numbers(view: LightView, paint: "PaintLight", now: "PaintLight | None") -> Iterator[str]:
    if paint.daylight_percent is not None:
        yield f"{paint.daylight_percent:>6.2f} %"
    for name, lux in paint.wall_lux.items():
        loss = ""
        if now is not None and now is not paint and now.wall_lux[name] > 0.0:
            loss = f"{signed(100.0 * (lux / now.wall_lux[name] - 1.0), view.look)} %"
        yield f"{lux:>5.0f} lx {loss:>5}"[-14:].rjust(14)
