"""How much light falls on the surfaces of a room, and what the bounces do to its colour."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import ceil, dist, floor, isinf
from typing import TYPE_CHECKING

from housemap.light.orientation import azimuth_deg, daylight_kelvin
from housemap.model.geometry import wall_of, walls
from housemap.model.house import SURFACES, Lamp, Light, Use, Window
from housemap.model.lengths import format_length
from housemap.tui.map.picture import BRAILLE, BRAILLE_DOTS
from housemap.tui.render.cells import Cell, Ink, Row, Run, Stamp, cut, fit, lay_over, runs_of
from housemap.tui.render.light_view import LIGHT_WORDS, LightView, beside, by_light, signed
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.shades import LIGHTS, Coat, Shades, shades_under

if TYPE_CHECKING:
    from housemap.light.as_seen import Tint, WallTints
    from housemap.light.daylight import DaylightFactor
    from housemap.light.room_scene import LightName
    from housemap.light.sentences import LightFigures
    from housemap.light.surface_light import Lit
    from housemap.study.lighting import PaintLight


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
        rows = [("light in", "white looks", tints.source), *_once(shown)]
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
    name = cut(tint.undertone.words, columns, page.more)
    strength = f", chroma {tint.undertone.chroma:.0f}"[: max(columns - len(name), 0)]
    return (
        page.run(lead, quiet=True),
        page.patch(Coat("known", tint.srgb_hex), SWATCH),
        page.run(f" {name}"),
        page.run(strength, quiet=True),
    )


# The average daylight factor against the LRV of the walls, drawn.

FROM_LRV, TO_LRV = 30.0, 80.0
"""What is drawn at least."""
AXIS = 5
"""Columns before the curve."""
ROWS = 9
STEP = 0.5
"""Percent; the scale starts and ends at a multiple of it."""

Place = tuple[int, int]
"""Column and row."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A paint on the curve."""

    lrv: float
    percent: float
    coat: Coat
    sign: str = ""
    """Drawn on the curve; empty for a tick alone."""


@dataclass(frozen=True, slots=True)
class Curve:
    """Everything that is drawn."""

    percent_at: Callable[[Sequence[float]], Sequence[float]]
    marks: Sequence[Mark]
    limits: Mapping[str, float]
    """Percent, by the words that stand at its line."""


@dataclass(frozen=True, slots=True)
class _Scale:
    """From LRV and percent to columns and rows; a braille cell has 2 x 4 dots."""

    low: float
    high: float
    foot: float
    top: float
    columns: int

    def column(self, lrv: float) -> int:
        return min(int(self._part(lrv) * self.columns), self.columns - 1)

    def row(self, percent: float) -> int:
        return self.dot_row(percent) // 4

    def dot_row(self, percent: float) -> int:
        return min(
            max(int((self.top - percent) / (self.top - self.foot) * ROWS * 4), 0), ROWS * 4 - 1
        )

    def lrv_at_dot(self, dot: int) -> float:
        return self.low + (self.high - self.low) * (dot + 0.5) / (2 * self.columns)

    def _part(self, lrv: float) -> float:
        return (lrv - self.low) / (self.high - self.low)


def curve_rows(curve: Curve, page: Page) -> Iterator[Row]:
    """The curve with its axes, the limits as lines across, and the paints below."""
    scale = _scale(curve, max(page.inner - AXIS - 1, 10))
    cells = [_blank(page, scale.columns) for _ in range(ROWS)]
    stamps = [*_limits(curve, scale, page), *_line(curve, scale, page), *_signs(curve, scale, page)]
    for row in range(ROWS):
        drawn = lay_over(cells[row], (s for s in stamps if s.row == row))
        yield page.run(f" {_height(row, scale):>{AXIS - 1}}"), *runs_of(drawn)
    yield page.run(" " * AXIS), page.run(_axis(scale, page), quiet=True)
    yield page.run(" " * AXIS), *_ticks(curve, scale, page)
    yield page.run(" " * AXIS), page.run(_numbers(scale), quiet=True)


def _scale(curve: Curve, columns: int) -> _Scale:
    every = [mark.lrv for mark in curve.marks]
    low = min(FROM_LRV, *(10.0 * floor(lrv / 10.0) for lrv in every), FROM_LRV)
    high = max(TO_LRV, *(10.0 * ceil(lrv / 10.0) for lrv in every), TO_LRV)
    drawn = [*curve.percent_at([low, high]), *curve.limits.values()]
    foot, top = STEP * floor(min(drawn) / STEP), STEP * (floor(max(drawn) / STEP) + 1)
    return _Scale(low, high, foot, top, columns)


def _blank(page: Page, columns: int) -> list[Cell]:
    return [(" ", page.look.ink(page.look.greys.text))] * columns


def _height(row: int, scale: _Scale) -> str:
    """Percent at the head, middle and foot of the scale."""
    part = {0: 0.0, ROWS // 2: 0.5, ROWS - 1: 1.0}.get(row)
    return "" if part is None else f"{scale.top - part * (scale.top - scale.foot):.2f}"


def _limits(curve: Curve, scale: _Scale, page: Page) -> Iterator[Stamp]:
    greys, glyphs = page.look.greys, page.look.glyphs
    faint, quiet = page.look.ink(greys.faint), page.look.ink(greys.quiet)
    for words, percent in curve.limits.items():
        row = scale.row(percent)
        yield Stamp(0, row, glyphs.lines[10] * scale.columns, faint)
        yield Stamp(max(scale.columns - len(words) - 2, 0), row, f" {words} ", quiet)


def _line(curve: Curve, scale: _Scale, page: Page) -> Iterator[Stamp]:
    """The curve itself, without gaps where it is steep."""
    heights = curve.percent_at([scale.lrv_at_dot(dot) for dot in range(2 * scale.columns)])
    dots = [scale.dot_row(percent) for percent in heights]
    bits: dict[Place, int] = {}
    for dot, row in enumerate(dots):
        before = dots[max(dot - 1, 0)]
        for each in range(min(row, before + 1), max(row, before - 1) + 1):
            place = dot // 2, each // 4
            bits[place] = bits.get(place, 0) | BRAILLE_DOTS[each % 4][dot % 2]
    ink = page.look.ink(page.look.greys.strong)
    for (column, row), bit in bits.items():
        yield Stamp(column, row, "*" if page.look.glyphs.ascii else chr(BRAILLE + bit), ink)


def _signs(curve: Curve, scale: _Scale, page: Page) -> Iterator[Stamp]:
    """Marked paints: a sign on the curve, and a thread down to the axis."""
    greys, glyphs = page.look.greys, page.look.glyphs
    for mark in curve.marks:
        if mark.sign:
            column, row = scale.column(mark.lrv), scale.row(mark.percent)
            for below in range(row + 1, ROWS):
                yield Stamp(column, below, glyphs.lines[5], page.look.ink(greys.faint))
            yield Stamp(column, row, mark.sign, page.look.ink(greys.strong, bold=True))


def _axis(scale: _Scale, page: Page) -> str:
    lines = page.look.glyphs.lines
    tens = {scale.column(lrv) for lrv in _tens(scale)}
    return "".join(lines[2 | 4 | 8] if c in tens else lines[2 | 8] for c in range(scale.columns))


def _ticks(curve: Curve, scale: _Scale, page: Page) -> Row:
    """Each paint as a patch where its LRV lies; the marked ones over the others."""
    look = page.look
    cells = _blank(page, scale.columns)
    for mark in sorted(curve.marks, key=lambda mark: bool(mark.sign)):
        column = min(scale.column(mark.lrv), scale.columns - 2)
        known = mark.coat.colour is not None and look.colour
        ink = Ink(None, mark.coat.colour) if known else look.ink(look.greys.quiet)
        char = " " if known else look.glyphs.lines[5]
        cells[column : column + 2] = [(char, ink), (char if known else " ", ink)]
    return runs_of(cells)


def _numbers(scale: _Scale) -> str:
    line = [" "] * (scale.columns + 4)
    for lrv in _tens(scale):
        column = max(scale.column(lrv) - 1, 0)
        line[column : column + 2] = f"{lrv:.0f}".rjust(2)[-2:]
    return "".join(line).rstrip().ljust(scale.columns)[: scale.columns + 1]


def _tens(scale: _Scale) -> list[float]:
    count = round((scale.high - scale.low) / 10.0)
    return [scale.low + 10.0 * i for i in range(count + 1)]


# Daylight in a room, and what every paint of the house on its walls would make of the light.

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
    yield from page.text(_median_words(view), quiet=True)
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


def _median_words(view: LightView) -> str:
    """Today's standard, as the check of dark paints has it."""
    from housemap.light.daylight import median_percent  # noqa: PLC0415 - light has been computed

    median = view.lit.light.median_daylight
    if median is None:
        return ""
    least = round(median_percent(view.room.use), 2)
    met = "met" if median.percent >= least else "not met"
    return (
        f"BS EN 17037: half of the plane has {median.percent:.1f} %; aim for {least:.1f} %, {met}"
    )


def _least_averages() -> Mapping[Use, float]:
    from housemap.light.daylight import BS8206_PERCENT  # noqa: PLC0415 - light has been computed

    return BS8206_PERCENT


def _limit_words(use: Use, percent: float) -> str:
    limit = _least_averages().get(use)
    if limit is None:
        return f"No minimum is set for a {use} room"
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
    limit = _least_averages().get(view.room.use)
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
        cells = "".join(_columns_of(view, view.paints[paint], now))
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


def _columns_of(view: LightView, paint: "PaintLight", now: "PaintLight | None") -> Iterator[str]:
    if paint.daylight_percent is not None:
        yield f"{paint.daylight_percent:>6.2f} %"
    for name, lux in paint.wall_lux.items():
        loss = ""
        if now is not None and now is not paint and now.wall_lux[name] > 0.0:
            loss = f"{signed(100.0 * (lux / now.wall_lux[name] - 1.0), view.look)} %"
        yield f"{lux:>5.0f} lx {loss:>5}"[-14:].rjust(14)


# Windows, lamps, and what must be said beside the figures of a room's light.

COMPASS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip
AIMS = {"down": "shines down", "up": "shines up", "all": "shines all round"}


def source_rows(view: LightView, page: Page) -> Iterator[Row]:
    """Each window and lamp in a line or two."""
    room = view.room
    yield from page.heading("windows" if room.windows else "no windows")
    for key, window in room.windows.items():
        yield from page.text(f"{key}: {_window(view, window)}")
    yield from page.heading("lamps" if room.lamps else "no lamps")
    for key, lamp in room.lamps.items():
        yield from page.text(f"{key}: {_lamp(view, lamp)}")


def note_rows(view: LightView, page: Page) -> Iterator[Row]:
    """What was assumed, and what could not be computed."""
    notes = view.lit.light.notes
    if notes:
        yield from page.heading("to be known")
    for note in notes:
        yield from page.text(note)


def _window(view: LightView, window: Window) -> str:
    house = view.shades.house
    wide, high, sill = (
        format_length(each, house.units)
        for each in (window.width_m, window.height_m, window.sill_m)
    )
    wall = wall_of(view.room, window.wall)
    facing = azimuth_deg(wall, house.north_deg) if wall else None
    kelvin = window.kelvin or (
        daylight_kelvin(facing, house.latitude_deg) if facing is not None else None
    )
    words = [f"{wide} x {high} in wall {window.wall}, sill {sill}"]
    words += [f"faces {COMPASS[round(facing / 45.0) % 8]}"] if facing is not None else []
    words += [f"daylight of {kelvin:.0f} K"] if kelvin is not None else []
    words += [f"lets {100 * window.transmittance:.0f} % through"]
    words += [f"sees {window.sky_angle_deg:.0f} degrees of sky"]
    return ", ".join(words)


def _lamp(view: LightView, lamp: Lamp) -> str:
    units = view.shades.house.units
    where = "no place given"
    if lamp.at_m is not None:
        x, y, z = (format_length(each, units) for each in lamp.at_m)
        where = f"at {x}, {y}, {z} high"
    return f"{lamp.lumens:.0f} lm, {lamp.light_name}, {AIMS[lamp.aim]}, {where}"


# The colours of a room under reference light, by day and in the evening, side by side.

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
    return tone.words if tone else ""


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


# What it all means, in two or three sentences, before any figure.


def sentence_rows(view: LightView, page: Page) -> Iterator[Row]:
    from housemap.light.sentences import sentences  # noqa: PLC0415 - light has been computed

    if view.lit.light.lights:
        for sentence in sentences(_figures(view)):
            yield from page.text(sentence)
        yield page.blank()


def _figures(view: LightView) -> "LightFigures":
    from housemap.checks.pages.lamplight import BAND  # noqa: PLC0415 - light has been computed
    from housemap.light.daylight import median_percent  # noqa: PLC0415 - the same
    from housemap.light.sentences import LightFigures  # noqa: PLC0415 - the same

    light, (name, source, size) = view.lit.light, _tint_of_walls(view)
    median, evening = light.median_daylight, light.lights.get("evening")
    return LightFigures(
        median.percent if median else None,
        median_percent(view.room.use),
        evening.total_lux("walls") if evening else None,
        name, source, size, _shift(view), BAND,
    )  # fmt: skip


def _shift(view: LightView) -> float | None:
    """How far the walls' colour moves between day and evening, in CAM16-UCS units."""
    seen = [_ucs(view, light, view.walls) for light in ("day", "evening")] if view.walls else []
    known = [ucs for ucs in seen if ucs is not None]
    return dist(*known) if len(known) > 1 else None


def _tint_of_walls(view: LightView) -> tuple[str, str, float]:
    """What bounces make of a white wall by day, what does most of it, and how far it goes."""
    tints = view.tints.get("day") if view.tints else None
    if tints is None or not tints.walls:
        return "", "", 0.0

    def apart(tint: "Tint | None") -> float:
        return dist(tint.ucs[1:], tints.source.ucs[1:]) if tint else 0.0

    def brings(tint: "Tint | None") -> float:
        return tint.lux * apart(tint) if tint else 0.0

    worst = max(tints.walls.values(), key=lambda wall: apart(wall.whole))
    source = "floor" if brings(worst.floor) >= brings(worst.opposite) else "wall opposite"
    name = worst.whole.undertone.words
    return name, source, apart(worst.whole)


# The page of a room's light: one column on a small terminal, two on a large one.

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
        parts = (
            sentence_rows,
            wall_rows,
            other_rows,
            lux_rows,
            daylight_rows,
            paint_rows,
            tint_rows,
        )
        return [page.blank(), *_rows(view, page, *parts, source_rows, note_rows)]
    left, right = Page(look, width // 2), Page(look, width - width // 2)
    beginning = (sentence_rows, wall_rows, other_rows, lux_rows, tint_rows)
    first = [left.blank(), *_rows(view, left, *beginning)]
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
