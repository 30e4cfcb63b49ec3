"""The page of a room's light: what it means first, then colours, sun, daylight, paints and lux."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import chain, combinations, zip_longest
from math import isinf
from typing import NamedTuple

from housemap.checks.words import surface_name
from housemap.colorimetry.undertone import shift_words
from housemap.light.as_seen import Tint, Tints, WallTints
from housemap.light.explanation import HARDLY, SHIFT_TEXT
from housemap.light.scene import LIGHTS as COMPUTED
from housemap.light.surface_light import LUX, Lit, xy
from housemap.model.geometry import walls
from housemap.model.house import LIGHT_WORDS, Light
from housemap.model.text import counted
from housemap.plan.floor_plan import short_wall_name
from housemap.study.lighting import PaintLight
from housemap.tui.describe import light_note
from housemap.tui.house_screen import Task
from housemap.tui.map.card_drawing import MONTH_NAMES, sun_rows
from housemap.tui.map.drawing import Scene
from housemap.tui.program_screen import PageScreen
from housemap.tui.render.cells import Row, Run, fit, plain
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page, first_fitting, signed
from housemap.tui.render.shades import BARE, LIGHTS, Coat, Shades, shades_of
from housemap.tui.tasks.walk import WalkTask
from housemap.workbench.light_facts import (
    RoomLight,
    by_lightness,
    paints_by_shift,
    rooms_by_daylight,
    rooms_in_sun,
)
from housemap.workbench.session import Session, next_room, rooms_in_order

NUMBER, GAIN = 8, 6
"""Columns of lux, and of a gain."""
WIDTH = 2 * NUMBER + GAIN
"""Columns of a light."""
LABEL = 12
"""Columns of a surface's name."""
MOST_GAIN = 100
TINT_LABEL = 20
"""Columns of a wall's name beside its tints."""
BLOCK_ROWS, TRIED_ROWS = 4, 2
BAR, LEAST_NAME = 20, 22
"""Columns of a bar of daylight, and of a paint's name that must be left for it."""
TWO_COLUMNS = 132
"""Columns of a terminal from which on the page has two."""

AWAITED = (
    "The light of the house is being computed. It comes by itself.",
    "It takes a few seconds when a house is opened.",
)
SUN_TIME = "Hours by the sun; summer clocks may be an hour ahead."
SUMMER = range(4, 11)
"""Months in which clocks of the northern half may be an hour ahead."""
METHOD = (
    "Method: daylight by BS EN 17037 and BS 8206-2; colours as seen by CIECAM16, changes in"
    " CAM16-UCS; sun on a clear day in true solar time"
)


class LightView(NamedTuple):
    room: RoomLight
    shades: Shades
    """Of the house for which it was computed."""
    tried: str | None
    """The paint that is tried on the walls."""
    look: Look

    def under(self, light: Light) -> Shades:
        return replace(self.shades, light=light)

    def in_lights(self, coat_of: Callable[[Shades], Coat]) -> list[Coat]:
        """Light by light; bare where the room lacks it."""
        return [coat_of(self.under(each)) if self.room.has(each) else BARE for each in LIGHTS]

    def name(self, paint: str) -> str:
        return self.shades.house.paints[paint].name or paint

    def sign(self, paint: str) -> str:
        now, tried = ("@", "O") if self.look.glyphs.ascii else ("●", "○")
        return now if paint == self.room.walls else tried if paint == self.tried else ""

    def on_walls(self, paint: str) -> Coat:
        return self.shades.on(self.room.id, "walls", paint)


def light_rows(shades: Shades, room: str, tried: str | None, look: Look, width: int) -> list[Row]:
    """Everything that is known of the light of a room, as the report has it."""
    page = Page(look, width)
    known = RoomLight.of(shades.report, room)
    if known is None:
        return [page.blank(), *page.texts(AWAITED)]
    shades = Shades(shades.light, known.house, shades.report)
    view = LightView(known, shades, tried if tried in known.lrv else None, look)
    left = (_sentences, _walls, _others, _sun, _lux, _tints)
    right = (_daylight, _paints, _rooms_compared, _paints_compared, _notes)
    if width < TWO_COLUMNS:
        return [page.blank(), *_rows(view, page, left[:4] + right[:2] + left[4:] + right[2:])]
    one, other = Page(look, width // 2), Page(look, width - width // 2)
    return [
        (*one.filled(row), *beside)
        for row, beside in zip_longest(
            [one.blank(), *_rows(view, one, left)], _rows(view, other, right), fillvalue=()
        )
    ]


def _rows(
    view: LightView, page: Page, parts: Sequence[Callable[[LightView, Page], Iterator[Row]]]
) -> list[Row]:
    return [row for part in parts for row in part(view, page)]


def _sentences(view: LightView, page: Page) -> Iterator[Row]:
    yield from page.texts(view.room.sentences())
    yield page.blank()


# Colours under the three lights, side by side


def _walls(view: LightView, page: Page) -> Iterator[Row]:
    """The wall paint in three touching blocks, with what it leans to under each light."""
    paint = view.room.walls
    if paint is None:
        yield page.line("No paint on the walls yet.", quiet=True)
        return
    yield page.line(f"walls: {_named(view, paint)}", strong=True)
    if page.look.colour:
        yield from [page.side_by_side(_coats(view, "walls", paint))] * BLOCK_ROWS
        if view.tried and view.tried != paint:
            yield from [page.side_by_side(_coats(view, "walls", view.tried))] * TRIED_ROWS
            yield page.line(f"and below it {_named(view, view.tried)}")
    yield page.names_below(["reference", *(LIGHT_WORDS[each] for each in LIGHTS[1:])])
    yield page.names_below([_lean(view, light, paint) for light in LIGHTS])
    yield from page.text(_moves(view), quiet=True)


def _named(view: LightView, paint: str) -> str:
    return f"{view.name(paint)}, LRV {view.room.lrv[paint]:.0f}"


def _coats(view: LightView, surface: str, paint: str) -> list[Coat]:
    return view.in_lights(lambda shades: shades.on(view.room.id, surface, paint))


def _lean(view: LightView, light: Light, paint: str) -> str:
    shades, place = view.under(light), (view.room.id, "walls", paint)
    if light == "reference":
        return shades.undertone(*place)
    return shades.lacks(view.room.id) or shades.shift(*place) or HARDLY


def _moves(view: LightView) -> str:
    """How far the lights move the colour of the walls."""
    pairs = ((one, other, view.room.moves(one, other)) for one, other in combinations(LIGHTS, 2))
    moves = [f"{one} to {other} {far:.1f}" for one, other, far in pairs if far is not None]
    if not moves:
        return "Seen under the reference light alone."
    return f"Colour shift: {', '.join(moves)}. A shift of {SHIFT_TEXT}."


def _others(view: LightView, page: Page) -> Iterator[Row]:
    """Every other surface, in the same order of lights."""
    house, room = view.room.house, view.room.room
    for surface, paint in room.paints.chosen():
        if surface != "walls":
            yield _swatches(_coats(view, surface, paint), surface, view.name(paint), page)
    for wall, accent in room.accents.items():
        coats = _coats(view, f"accent {wall}", accent.paint)
        yield _swatches(coats, _wall(view, wall), view.name(accent.paint), page)
    floor = [("floor", room.floor)] if room.floor else []
    for label, finish in dict.fromkeys((*floor, *(("fixed", each) for each in room.fixed))):
        coats = view.in_lights(
            partial(Shades.finish, room=view.room.id, surface=label, finish=finish)
        )
        yield _swatches(coats, label, house.finishes[finish].name, page)


def _swatches(coats: Sequence[Coat], label: str, name: str, page: Page) -> Row:
    lead = page.run(f" {fit(label, LABEL, page.more)}", quiet=True), *map(page.swatch, coats)
    return page.row((*lead, page.run(" ")), name)


# Sun


def _sun(view: LightView, page: Page) -> Iterator[Row]:
    """At which hours of a clear day the sun shines in, in summer, spring and winter."""
    room = view.room
    if not room.room.windows or not room.has("day"):
        return
    yield from page.heading("Sun through the windows on a clear day")
    if room.house.latitude_deg is None:
        yield from page.text("Give the house its latitude: ctrl+p, edit the house.", quiet=True)
        return
    yield from sun_rows(room.sun, page, 2)
    if any(room.sun.values()):
        yield from page.text(SUN_TIME, quiet=True)


# Daylight, and what every paint of the house on the walls would make of the light


def _daylight(view: LightView, page: Page) -> Iterator[Row]:
    """What there is of daylight, against what standards aim for."""
    room, light = view.room, view.room.light
    if light.daylight is None:
        return
    yield from page.heading("Daylight, in percent of the light outside")
    if light.median_daylight is not None:
        percent, aim = light.median_daylight.percent, room.aim_percent
        met = "that is met" if percent >= aim else "that is not met"
        words = f"Half of the room has {percent:.1f} % or more; aim for {aim:.1f} %: {met}."
        yield from page.text(words)
    words = f"By the older rule {light.daylight.percent:.2f} % on average"
    least = room.least_percent
    if least is None:
        words += f"; it names no least for the use {room.room.use}."
    else:
        met = "that is met" if light.daylight.percent >= least else "that is not met"
        words += f"; at least {least:g} %: {met}."
    yield from page.text(words, quiet=True)
    if view.tried and view.tried != room.walls:
        percent = room.percent_with(view.tried) or 0.0
        more = signed(percent - light.daylight.percent, view.look, 2)
        sign, name = view.sign(view.tried), view.name(view.tried)
        yield page.line(f"{sign} {name} {percent:.2f} %, {more} against now")


def _paints(view: LightView, page: Page) -> Iterator[Row]:
    """A row for each paint, the lightest first; what is on the walls and what is tried marked."""
    room, lights = view.room, view.room.light.lights
    if not lights:
        return
    if room.paints is None:
        yield from page.heading("What other paints on the walls would do: being computed")
        return
    paints, shown = room.paints, room.paints_near(view.tried or room.walls)
    has_day = room.light.daylight is not None
    heads = [f"{'daylight':>9}"] if has_day else []
    heads += [f"{'by day' if name == 'day' else name:>14}" for name in lights]
    spare = page.inner - SWATCH - 8 - sum(map(len, heads))
    most = max((paints[paint].daylight_percent or 0.0 for paint in shown), default=0.0)
    bar = BAR if has_day and spare - BAR >= LEAST_NAME else 0
    char, now = "#" if page.look.glyphs.ascii else "▬", paints.get(room.walls or "")
    columns = f"LRV {' ' * bar}{''.join(heads)}"
    head = page.row((), " With it on the walls", columns, quiet=True, tidy=False)
    yield from ((page.blank(), head) if not page.narrow else (head,))
    for paint in shown:
        sign, swatch = view.sign(paint), page.patch(view.on_walls(paint), SWATCH)
        # The brightest of the list has a full bar.
        length = round(bar * (paints[paint].daylight_percent or 0.0) / most) if most else 0
        figures = f"{(char * length).ljust(bar)}{''.join(_figures(view, paints[paint], now))}"
        lead = page.run(f" {sign or ' '} ", strong=True), swatch, page.run(" ")
        right = f"{room.lrv[paint]:.0f} {figures}"
        yield page.row(lead, view.name(paint), right, strong=bool(sign), tidy=False)
    if now is not None:
        yield page.line("percent beside lux: against the paint there now", quiet=True)
    if len(shown) < len(room.lrv):
        yield page.line(f"those nearest in LRV of {len(room.lrv)} paints", quiet=True)


def _figures(view: LightView, paint: PaintLight, now: PaintLight | None) -> Iterator[str]:
    """Daylight, then lux on the walls with what is won or lost against now."""
    if paint.daylight_percent is not None:
        yield f"{paint.daylight_percent:>7.2f} %"
    for name, lux in paint.wall_lux.items():
        change = ""
        if now is not None and now is not paint and now.wall_lux[name] > 0.0:
            change = f"{signed(100.0 * (lux / now.wall_lux[name] - 1.0), view.look)} %"
        yield f"{lux:>5.0f} lx {change:>5}"[-14:].rjust(14)


# Lux on each surface, and what the bounces add in colour


def _lux(view: LightView, page: Page) -> Iterator[Row]:
    """Direct light, all light and how many times as much, on each surface, light by light."""
    room, lights = view.room, view.room.light.lights
    if not lights:
        return
    yield from page.heading("Light on each surface, in lux")
    names = {wall.key: f" {_wall(view, wall.key)}" for wall in walls(room.room)}
    names = {"floor": "floor", "ceiling": "ceiling", "walls": "all walls", **names}
    label = max(page.inner - WIDTH * len(lights), 9)
    label = min(label, max(map(len, names.values())) + 1)
    heads = "".join(f"{LIGHT_WORDS[name]:>{WIDTH}}" for name in lights)
    columns = f"{'direct':>{NUMBER}}{'in all':>{NUMBER}}{'ratio':>{GAIN}}" * len(lights)
    for text in (heads, columns):
        yield page.line(f"{'':{label}}{text}", quiet=True, tidy=False)
    for key, name in names.items():
        cells = "".join(_cells(lit, key) for lit in lights.values())
        is_wall = key not in {"floor", "ceiling", "walls"}
        yield page.line(f"{fit(name.lstrip(), label - is_wall, page.more)}{cells}", quiet=is_wall,
                        indent=int(is_wall), tidy=False)  # fmt: skip


def _wall(view: LightView, key: str) -> str:
    return short_wall_name(view.room.house, view.room.id, key)


def _cells(lit: Lit, surface: str) -> str:
    gain = lit.gain(surface)
    shown = f"{gain:.2f}" if gain < MOST_GAIN else "-" if isinf(gain) else f">{MOST_GAIN}"
    direct, total = lit.direct_lux(surface), lit.total_lux(surface)
    return f"{direct:>{NUMBER}.0f}{total:>{NUMBER}.0f}{shown:>{GAIN}}"


def _tints(view: LightView, page: Page) -> Iterator[Row]:
    """What white looks like on each wall, light beside light, and where that comes from."""
    tints = view.room.tints
    if not view.room.light.lights:
        return
    if tints is None:
        yield from page.heading("What floor and walls add in colour: being computed")
        return
    yield from page.heading("What floor and walls add in colour: white looks")
    columns = (page.inner - TINT_LABEL) // max(len(tints), 1)
    lights = [LIGHT_WORDS[name] for name in tints]
    yield _cells_of("", (page.run(fit(each, columns), quiet=True) for each in lights), page)
    sources = [each.source for each in tints.values()]
    cells = (_tint(each, each.undertone.words, columns, page) for each in sources)
    yield _cells_of("where it comes in", chain.from_iterable(cells), page)
    for wall in dict.fromkeys(key for each in tints.values() for key in each.walls):
        walls_seen = [_wall_tint(each, wall, columns, page) for each in tints.values()]
        looks = chain.from_iterable(seen for seen, _ in walls_seen)
        yield _cells_of(_wall(view, wall), looks, page)
        yield _cells_of("", (causes for _, causes in walls_seen), page)


def _wall_tint(light: Tints, wall: str, columns: int, page: Page) -> tuple[Row, Run]:
    """What white looks like there; below it, where the light comes from."""
    found = light.walls.get(wall)
    if found is None:
        return (page.run(fit("no light", columns)),), page.run(" " * columns)
    shift = shift_words(light.source.ucs, found.whole.ucs) or HARDLY
    causes = page.run(f"{fit(_causes(found), columns - 1, page.more)} ", quiet=True)
    return _tint(found.whole, shift, columns, page), causes


def _causes(tints: WallTints) -> str:
    """How much of the light on a wall comes from the floor, and from the wall opposite."""
    parts = {"floor": tints.floor, "opposite": tints.opposite}
    percents = {name: 100 * part.lux / tints.whole.lux for name, part in parts.items() if part}
    return ", ".join(f"{name} {each:.0f} %" for name, each in percents.items() if each >= 1)


def _cells_of(label: str, cells: Iterable[Run], page: Page) -> Row:
    return page.run(f" {fit(label, TINT_LABEL, page.more)}", quiet=True), *cells


def _tint(tint: Tint, words: str, columns: int, page: Page) -> Row:
    patch = page.patch(Coat("known", tint.srgb_hex), SWATCH)
    return patch, page.run(f" {fit(words, columns - SWATCH - 1, page.more)}")


# The whole house, and what must be said beside the figures

FIGURE = 10
"""Columns of a figure in the list of rooms."""


def _rooms_compared(view: LightView, page: Page) -> Iterator[Row]:
    """Every room of the house with its light, the best lit by day first."""
    if not (rooms := rooms_by_daylight(view.room.report)):
        return
    heads = "".join(f"{each:>{FIGURE}}" for each in ("daylight", "by day", "evening"))
    title = fit("Rooms by daylight", page.inner - len(heads), page.more)
    yield from page.heading(f"{title}{heads}", tidy=False)
    for room in rooms:
        daylight, lights = room.light.daylight, room.light.lights
        line = page._replace(chosen=room.id == view.room.id)
        lux = (lights[each].total_lux("walls") if each in lights else None for each in COMPUTED)
        figures = [f"{daylight.percent:.2f} %" if daylight else "-"]
        figures += ["-" if each is None else f"{each:.0f} lx" for each in lux]
        swatch = page.patch(view.shades.on(room.id, "walls", room.walls), SWATCH)
        right = "".join(f"{each:>{FIGURE}}" for each in figures)
        lead = line.mark(), swatch, line.run(" ")
        yield line.row(lead, room.room.name, right, tidy=False)


def _paints_compared(view: LightView, page: Page) -> Iterator[Row]:
    """Every paint seen in both lights, and where it moves most."""
    shifts, house = paints_by_shift(view.room.report), view.room.house
    if shifts:
        yield from page.heading("Paints by shift from day to lamplight")
    for far, coat in shifts:
        paint, place = coat.swatch.id, (coat.room, coat.surface)
        where = f"{house.rooms[coat.room].name}, {surface_name(house, *place)}"
        swatch = page.patch(view.shades.on(*place, paint), SWATCH)
        lead = page.run(" "), swatch, page.run(" ")
        yield page.row(lead, f"{view.name(paint)}: {where}", f"{far:.1f}")


def _notes(view: LightView, page: Page) -> Iterator[Row]:
    """What was assumed, what could not be computed, and how the figures are made.

    Of each light that comes in: lumens and chromaticity.
    """
    notes, sources = view.room.light.notes, list[str]()
    if notes:
        yield from page.heading("Good to know")
    yield from page.texts(notes)
    yield page.blank()
    for name, lit in view.room.light.lights.items():
        x, y = xy(lit.source)
        sources.append(f"{LIGHT_WORDS[name]} {lit.source[LUX]:.0f} lm, {x:.3f}, {y:.3f}")
    comes_in = f"; light that comes in by CIE 1931 x and y: {'; '.join(sources)}"
    yield from page.text(f"{METHOD}{comes_in if sources else ''}.", quiet=True)


# The screen


class LightScreen(PageScreen):
    """Shows the light of one room; steps through the rooms, and through paints on its walls."""

    CONTEXT = "light"
    BAR = ("right", "left", "next", "light", "back")
    session: Session

    def __init__(self, owner: Task) -> None:
        super().__init__("", self._draw)
        self._owner, self.session = owner, owner.session
        self.tried: str | None = None
        """The paint that is tried on the walls."""

    def _draw(self, page: Page) -> Sequence[Row]:
        shades, room = shades_of(self.session), self._owner.room
        return light_rows(shades, room, self.tried, page.look, page.width)

    def draw_head(self) -> None:
        session = self.session
        rooms, room = rooms_in_order(session), self._owner.room
        name = f"{session.shown.rooms[room].name}: light"
        right = f"room {rooms.index(room) + 1} of {len(rooms)}"
        self.show_head(name, [light_note(session)], right)

    def action_next(self, step: int) -> None:
        room = next_room(rooms_in_order(self.session), self._owner.room, step)
        self.tried = None
        self.session.select(str(room))  # the map below follows when this page is left
        self._owner.desk.details.request()
        self.session_changed()

    def action_go(self, way: str) -> None:
        """Try the next lighter paint ("right") on the walls, or the next darker one."""
        shades = shades_of(self.session)
        if not (paints := by_lightness(shades.lrvs)):
            return
        now = self.tried or shades.house.rooms[self._owner.room].paints.walls
        at = paints.index(now) if now in paints else len(paints) // 2
        step = -1 if way == "right" else 1
        self.tried = paints[min(max(at + step, 0), len(paints) - 1)]
        self.rows.redraw()


def sun_words(when: str, clocks: str, names: Sequence[str], width: int) -> str:
    """Which rooms of the level are in the sun: as many names as fit, and how many more."""
    every, count = ", ".join(names) or "no room here", len(names)
    texts = [f"{when}{clocks}: {every} in the sun.", f"{when}: {every} in the sun."]
    texts.append(f"{when}: {every}.")
    for named in range(count - 1, 0, -1):
        more = counted(count - named, "more room")
        texts.append(f"{when}: {', '.join(names[:named])} and {more}.")
    return first_fitting([*texts, f"{when}: {count} rooms."], width)


class LightTask(Task):
    def open(self) -> None:
        """The map follows when the page closes."""
        self.desk.push(LightScreen(self), lambda _: self.desk.follow())

    def step_hour(self, by: int) -> None:
        self._show_sun(by, 0)

    def step_month(self, by: int) -> None:
        self._show_sun(0, by)

    def _show_sun(self, hours: int, months: int) -> None:
        """Show the sun at another hour or month; at noon of a spring day first."""
        if self.session.house.latitude_deg is None:
            self.say("Give the house its latitude first: ctrl+p, edit the house.")
            return
        month, hour = self.session.selection.sun or (3 - months, 12 - hours)
        self.session.select_sun(((month + months - 1) % 12 + 1, (hour + hours) % 24))
        self.desk.follow()
        self.say(self._sun_message())

    def hide_sun(self) -> None:
        self.session.select_sun(None)
        self.desk.follow()

    def _rooms(self) -> frozenset[str] | None:
        """Those that the sun shines into; None while the light is being computed."""
        report, sun = self.session.report, self.session.selection.sun
        latitude = self.session.house.latitude_deg
        lighting = report.study.lighting if report else None
        if lighting is None or not lighting.ready or latitude is None or sun is None:
            return None
        return rooms_in_sun(lighting.light, latitude, *sun)

    def _sun_message(self) -> str:
        assert self.session.selection.sun is not None
        rooms, (month, hour) = self._rooms(), self.session.selection.sun
        when, clocks = f"21 {MONTH_NAMES[month - 1]}, {hour} h by the sun", ""
        if (month in SUMMER) == ((self.session.house.latitude_deg or 0.0) >= 0.0):
            clocks = f" ({(hour + 1) % 24} h by summer clocks)"
        if rooms is None:
            return f"{when}{clocks}: the light is still being computed."
        if seen := self.desk.find_task(WalkTask).sun_seen():
            return f"{when}{clocks}: {seen}"
        level, shown = self.session.selection.level, self.session.shown.rooms
        names = sorted(plain(shown[room].name) for room in rooms if shown[room].level == level)
        return sun_words(when, clocks, names, self.desk.size.width)

    def scene(self, scene: Scene) -> Scene:
        rooms = self._rooms() or ()
        lit = {room: scene.blocks[room]._replace(in_sun=True) for room in rooms}
        return replace(scene, blocks={**scene.blocks, **lit}) if lit else scene
