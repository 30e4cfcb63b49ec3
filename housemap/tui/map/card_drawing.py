"""On the card of a room: how much light its wall paint costs, and what light is missing."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from housemap.model.geometry import box_m, floor_area_m2
from housemap.model.house import LIGHT_WORDS, SURFACES, House, Room, Surface
from housemap.model.lengths import format_length
from housemap.model.severity import letter_of
from housemap.model.text import counted
from housemap.model.wishes import kept_rooms
from housemap.plan.floor_plan import wall_name
from housemap.tui.render.cells import Row, cut, fit, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page, signed
from housemap.tui.render.shades import Shades, shades_of
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.study import SeenPair
    from housemap.study.lighting import PaintLight


def lacking_rows(shades: Shades, room: str, page: Page) -> Iterator[Row]:
    """Why the room shows as under the reference light, where another was asked for."""
    if shades.light_to_come:
        yield from page.text(f"{shades.light} light being computed, reference light shown")
    elif reason := shades.lacks(room):
        yield from page.text(f"{reason}: shown {LIGHT_WORDS['reference']}")


def light_loss_rows(shades: Shades, room: str, page: Page) -> Iterator[Row]:
    """Light on the walls and daylight factor, against the lightest paint in use."""
    now, lightest = _now(shades, room), _lightest(shades)
    if now is None or not now.wall_lux or lightest is None:
        return
    if lightest == shades.house.rooms[room].paints.walls:
        yield from page.heading("light, with the lightest paint of the house")
        best = None
    else:
        yield from page.heading("light on the walls")
        best = (shades.paints_on_walls(room) or {}).get(lightest)
    yield from page.text(", ".join(_figures(now, best)))
    if best is not None:
        name = shades.house.paints[lightest].name
        text = f"In brackets: less than with {name}, the lightest paint here."
        yield from page.text(text, quiet=True)


def _now(shades: Shades, room: str) -> "PaintLight | None":
    """The light with the paint on the walls; None where it is not known."""
    paint = shades.house.rooms[room].paints.walls
    if shades.lighting is None or paint is None or room not in shades.lighting.rooms:
        return None
    lit = shades.lighting.rooms[room]
    if known := (shades.paints_on_walls(room) or {}).get(paint):
        return known
    return shades.lighting.now(room) if lit.part.room.paints.walls == paint else None


def _lightest(shades: Shades) -> str | None:
    """Of the paints on a wall or a ceiling of the house."""
    rooms, lrvs = shades.house.rooms.values(), shades.lrvs
    used = {paint for room in rooms for paint in (room.paints.walls, room.paints.ceiling)}
    used |= {accent.paint for room in rooms for accent in room.accents.values()}
    lrv = ((value, paint) for paint, value in lrvs.items() if paint in used)
    return max(lrv, default=(0.0, None))[1]


def _figures(now: "PaintLight", best: "PaintLight | None") -> Iterator[str]:
    """Each as it is, and what is missing against the best."""
    for name, lux in now.wall_lux.items():
        most = best.wall_lux[name] if best else 0.0
        loss = f" ({_less(100.0 * (1.0 - lux / most), ' %')})" if most > 0.0 else ""
        yield f"{'by day' if name == 'day' else name} {lux:.0f} lx{loss}"
    if now.daylight_percent is not None:
        most = (best.daylight_percent if best else None) or 0.0
        loss = f" ({_less(most - now.daylight_percent, digits=2)})" if most else ""
        yield f"daylight factor {now.daylight_percent:.2f} %{loss}"


def _less(less: float, unit: str = "", digits: int = 0) -> str:
    """As in "26 % less"."""
    size = f"{abs(less):.{digits}f}"
    return f"{size}{unit} {'less' if less > 0 else 'more'}" if float(size) else "as much"


MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
FIRST_H, LAST_H = 3, 22
"""Hours between which the sun is drawn."""
MONTH = 9
"""Columns of a month's name."""


def sun_rows(hours: Mapping[int, Sequence[int]], page: Page, columns: int) -> Iterator[Row]:
    """Day 21 of some months, hour by hour of so many columns: whether the sun shines in."""
    if not any(hours.values()):
        if hours:
            yield page.line("No sun comes in at any time of the year.")
        return
    scale = "".join(f"{hour:<{3 * columns}}" for hour in range(FIRST_H, LAST_H, 3))
    yield page.line(f"{'':{MONTH}}{scale}h", quiet=True, tidy=False)
    full, none = ("#", ".") if page.look.glyphs.ascii else ("█", "·")
    for month, sunny in hours.items():
        bar = ((full if hour in sunny else none) * columns for hour in range(FIRST_H, LAST_H))
        name = page.run(f" {MONTH_NAMES[month - 1]:{MONTH}}", quiet=True)
        yield name, page.run("".join(bar))


def _sun(view: "CardView", page: Page) -> Iterator[Row]:
    lighting = view.shades.lighting
    hours = lighting.close.sun(lighting, view.room) if lighting else {}
    if hours and view.house.rooms[view.room].windows:
        yield from page.heading("sun at its windows, clear day")
        yield from sun_rows(hours, page, 1)


# The card of the selected room: its surfaces, what it sees, what was found in it.

LEFT = SWATCH + 2
"""Columns before the text beside a swatch."""


class CardView(NamedTuple):
    house: House
    room: str
    surface: Surface
    shades: Shades
    report: "Report | None"
    """Of this very house, or None while it is being made."""
    look: Look


def card_rows(view: CardView, width: int) -> list[Row]:
    page = Page(view.look, width)
    room = view.house.rooms[view.room]
    return [
        *page.title(room.name),
        *_in_short(view, room, page),
        page.blank(),
        *_facts(room, view.house, page),
        *lacking_rows(view.shades, view.room, page),
        page.blank(),
        *_surfaces(view, room, page),
        *_kept_finishes(view, room, page),
        *light_loss_rows(view.shades, view.room, page),
        *_seen(view, page),
        *_found(view, page),
        *_sun(view, page),
    ]


LIGHT_LRV, DARK_LRV = 60.0, 30.0
"""From which and to which LRV walls are called light and dark (common practice, no source)."""


def _in_short(view: CardView, room: Room, page: Page) -> Iterator[Row]:
    """The room in three plain lines: its walls, what it joins, what there is to look at."""
    yield from page.text(_walls_text(view, room))
    if view.room in kept_rooms(view.house):
        yield from page.text("Kept as it is: the client's wish.")
    if view.report is None:
        return
    graph = view.report.study.graph
    doors, seen = (
        sum(view.house.rooms[other].use != "outdoor" for other in others)
        for others in (graph.opens_into(view.room), graph.sees(view.room))
    )
    joins = f"Opens into {counted(doors, 'room')}, sees {seen}."
    yield from page.text(joins if doors else "Opens into no other room.")
    count = len(view.report.causes_by_room.get(view.room, ()))
    to_do = any(view.room in finding.rooms for finding in view.report.to_do)
    look = f"{counted(count, 'thing')} to look at." if count else "Nothing was found here."
    yield from page.text("" if to_do and not count else look)


def _walls_text(view: CardView, room: Room) -> str:
    paint_id = room.paints.walls
    if paint_id is None:
        return "No walls to paint." if room.use == "outdoor" else "Unpainted walls."
    lrv = view.shades.lrv_of(paint_id)
    tone = view.shades.undertone(view.room, "walls", paint_id)
    walls = "Walls"
    if lrv is not None:
        depth = "Light" if lrv >= LIGHT_LRV else "Dark" if lrv <= DARK_LRV else "Mid-tone"
        walls = f"{depth} walls"
    name, _, shift = tone.partition(", ")
    seen = f"; {shift} {LIGHT_WORDS[view.shades.light]}" if shift else ""
    return f"{walls}{f', {name}' if name else ''} ({view.house.paints[paint_id].name}){seen}."


def _facts(room: Room, house: House, page: Page) -> Iterator[Row]:
    words = [f"level {room.level}", room.use, *([room.role] if room.role else [])]
    yield page.line(", ".join(words), quiet=True)
    box, area = box_m(room), floor_area_m2(room)
    if box is None or area is None:
        yield page.line("not measured", quiet=True)
        return
    sides = " x ".join(format_length(side, house.units) for side in box)
    yield page.line(f"{sides}, {area:.1f} m2", quiet=True)


def _surfaces(view: CardView, room: Room, page: Page) -> Iterator[Row]:
    """Surfaces in one paint stand together: their names, the paint, what is known of it."""
    groups: dict[str | None, list[Surface]] = {}
    for surface in SURFACES:  # outdoors there are doors, and what was painted all the same
        paint_id = room.paints.of(surface)
        if room.use != "outdoor" or surface == "doors" or paint_id:
            groups.setdefault(paint_id, []).append(surface)
    for paint_id, surfaces in groups.items():
        label = ", ".join(_surface_text(view, room, surface) for surface in surfaces)
        yield from _paint_rows(view, page, label, paint_id, surfaces)
    for wall, accent in room.accents.items():
        on = [f"accent {wall}"]
        name = wall_name(view.house, view.room, wall)
        yield from _paint_rows(view, page, f"one wall: {name}", accent.paint, on)


def _surface_text(view: CardView, room: Room, surface: Surface) -> str:
    """The key that chooses it, its name, and its sheen; marked where it is chosen."""
    mark = view.look.glyphs.here if surface == view.surface else ""
    words = (f"{mark}{SURFACES.index(surface) + 1}", surface, room.sheens.of(surface) or "")
    return " ".join(filter(None, words))


def _paint_rows(
    view: CardView, page: Page, label: str, paint_id: str | None, surfaces: Sequence[str]
) -> Iterator[Row]:
    """The swatch shows the paint on each of the surfaces, side by side where they differ."""
    swatch = page.swatches([view.shades.on(view.room, each, paint_id) for each in surfaces])
    chosen = view.surface in surfaces
    paint = view.house.paints.get(paint_id) if paint_id else None
    name = f"{paint.name} {paint.code}".strip() if paint else "no paint yet"
    columns = page.inner - LEFT + 1
    labels, facts = wrap(label, columns), wrap(_paint_facts(view, paint_id, surfaces[0]), columns)
    lines = [(line, True) for line in labels]
    lines += [(cut(name, columns, view.look.glyphs.more), False)]
    lines += [(line, True) for line in facts if line]
    for i, (line, quiet) in enumerate(lines):
        strong = chosen and (not quiet or i == 0)
        text = page.run(f" {line}", quiet=quiet and not strong, strong=strong)
        yield page.run(" "), *swatch, text


def _paint_facts(view: CardView, paint_id: str | None, surface: str) -> str:
    """LRV, undertone as shown and notation, as far as they are known."""
    if paint_id is None:
        return ""
    shades, report = view.shades, view.report
    swatch = report.study.swatches.get(("Paint", paint_id)) if report else None
    lrv = shades.lrv_of(paint_id)
    words = [f"LRV {lrv:.0f}"] if lrv is not None else []
    tone = shades.undertone(view.room, surface, paint_id)
    if swatch and tone:
        lit = shades.light != "reference" and not shades.light_to_come
        lit = lit and not shades.lacks(view.room)
        words.append(f"{tone} {LIGHT_WORDS[shades.light]}" if lit else tone)
        words += [text] if (text := swatch.colour.notation.text) != swatch.name else []
    return ", ".join(words)


def _kept_finishes(view: CardView, room: Room, page: Page) -> Iterator[Row]:
    finishes = dict.fromkeys((*([room.floor] if room.floor else []), *room.fixed))
    if finishes:
        yield from page.heading("you are keeping")
    for finish_id in finishes:
        label = "floor" if finish_id == room.floor else "fixed"
        coat = view.shades.finish(view.room, label, finish_id)
        name = cut(view.house.finishes[finish_id].name, page.inner - LEFT - 5, page.more)
        yield page.run(" "), page.swatch(coat), page.run(f" {label} ", quiet=True), page.run(name)


WAY, APART, LRV = 10, 8, 6
"""Columns of how a room is seen, of the difference, and of the difference in LRV."""


def _seen(view: CardView, page: Page) -> Iterator[Row]:
    """The rooms in view: how they are seen, and how far apart the wall colours are."""
    if view.report is None:
        yield from page.heading("computing what it sees")
        return
    study = view.report.study
    neighbours = study.graph.sees(view.room)
    if not neighbours:
        yield from page.heading("sees no other room")
        return
    numbers = APART if page.narrow else APART + LRV
    names = page.inner - LEFT - WAY - numbers + 1
    columns = f"{'differs':>{APART}}{'LRV':>{LRV}}"[:numbers]
    yield from page.heading(f"{fit('sees', LEFT - 1 + names + WAY)}{columns}", tidy=False)
    for other in neighbours:
        pair = study.pairs[min(view.room, other), max(view.room, other)]
        seen = view.house.rooms[other]
        name = fit(seen.name, names)
        yield (
            page.run(" "),
            page.swatch(view.shades.on(other, "walls", seen.paints.walls, eye=view.room)),
            page.run(f" {name}"),
            page.run(f" {fit(pair.sighting.kind, WAY - 1)}", quiet=True),
            page.run(_apart(pair, view)[:numbers]),
        )


def _apart(pair: "SeenPair", view: CardView) -> str:
    """The CAM16-UCS difference of the walls as shown, and the other room's LRV less this one's."""
    if pair.walls is None:
        return ""
    first, second = pair.walls
    here, there = (first, second) if first.room == view.room else (second, first)
    apart = view.shades.apart(view.room, here, there) or 0.0
    lrv = there.swatch.lrv - here.swatch.lrv
    return f"{apart:{APART}.1f}{signed(lrv, view.look):>{LRV}}"


def _found(view: CardView, page: Page) -> Iterator[Row]:
    if view.report is None:
        return
    found = view.report.by_room.get(view.room, ())
    left = [finding for finding in view.report.to_do if view.room in finding.rooms]
    if not found and not left:
        yield from page.heading("nothing to look at here")
    for title, listed in (("to look at", found), ("to do", left)):
        if listed:
            yield from page.heading(title)
        for finding in listed:
            mark = f" {view.look.glyphs.marks[finding.severity]}{letter_of(finding.severity)} "
            yield from page.hanging(mark, view.report.describe(finding))


# The card of the room that is selected in a session.


def session_card(session: Session, look: Look, width: int) -> Sequence[Row]:
    """What is known of the room as it is shown; in an empty house, how to begin."""
    room = session.selection.room
    if room is None:
        how = "No rooms yet. Press n and type the first one, such as Hall 1.8 x 5.2."
        return [*Page(look, width).text(how)]
    report = session.report if session.report_is_current else None
    surface, shades = session.selection.surface, shades_of(session)
    return card_rows(CardView(session.shown, room, surface, shades, report, look), width)
