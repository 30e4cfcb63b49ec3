"""The card of the selected room: its surfaces, what it sees, what was found in it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rich.cells import cell_len

from housemap.model.house import SURFACES, House, Room, Surface
from housemap.model.measure import format_length
from housemap.model.shape import box_m, floor_area_m2
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Hex, Ink, Row, Run
from housemap.tui.render.scene import Coat, Colours
from housemap.tui.render.text import cut, fit, wrap

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.study import Swatch


@dataclass(frozen=True, slots=True)
class CardView:
    """Everything that the card shows."""

    house: House
    room: str
    surface: Surface
    colours: Colours
    report: "Report | None"
    """Of this very house, or None while it is being made."""
    look: Look


def card_rows(view: CardView, width: int) -> list[Row]:
    """The card in `width` columns."""
    page = Page(view.look, width)
    room = view.house.rooms[view.room]
    return [
        *page.title(room.name),
        *_facts(room, view.house, page),
        page.blank(),
        *_surfaces(view, room, page),
        *_stays(view, room, page),
        *_seen(view, page),
        *_found(view, page),
    ]


def _facts(room: Room, house: House, page: Page) -> Iterator[Row]:
    words = [f"level {room.level}", room.use]
    if room.role:
        words.append(room.role)
    yield page.line(f" {page.look.glyphs.dot} ".join(words), quiet=True)
    box, area = box_m(room), floor_area_m2(room)
    if box is None or area is None:
        yield page.line("not measured", quiet=True)
        return
    sides = " x ".join(format_length(side, house.units) for side in box)
    yield page.line(f"{sides}, {area:.1f} m2", quiet=True)


def _surfaces(view: CardView, room: Room, page: Page) -> Iterator[Row]:
    for number, surface in enumerate(SURFACES, 1):
        paint = room.paints.of(surface)
        chosen = surface == view.surface
        yield from _coat_rows(view, page, f"{number} {surface}", paint, chosen=chosen)
        sheen = room.sheens.of(surface)
        if sheen and paint is None:
            yield page.line(sheen, quiet=True, indent=SWATCH + 3)
    for wall, accent in room.accents.items():
        yield from _coat_rows(view, page, f"accent {wall}", accent.paint, chosen=False)


def _coat_rows(
    view: CardView, page: Page, label: str, paint_id: str | None, *, chosen: bool
) -> Iterator[Row]:
    """A surface: swatch, surface and paint on one row; what is known of the paint on the next."""
    glyphs = view.look.glyphs
    mark = page.run(glyphs.here if chosen else " ", strong=True)
    swatch = page.swatch(view.colours.coat(paint_id))
    paint = view.house.paints.get(paint_id) if paint_id else None
    room = page.inner - SWATCH - 13
    if paint is None:
        yield mark, swatch, page.run(f" {fit(label, 10)} "), page.run("no paint yet", quiet=True)
        return
    name = f"{paint.name}  {paint.code}".strip()
    shown = name if cell_len(name) <= room else paint.name
    yield (
        mark,
        swatch,
        page.run(f" {fit(label, 10)} ", strong=chosen),
        page.run(cut(shown, room + 1, glyphs.more), strong=chosen),
    )
    facts = _paint_facts(view, paint_id or "")
    if facts:
        yield (
            mark._replace(text=" "),
            swatch,
            page.run(f" {cut(facts, page.inner - SWATCH, glyphs.more)}", quiet=True),
        )


def _paint_facts(view: CardView, paint_id: str) -> str:
    """LRV, undertone and notation, as far as they are known."""
    swatch = _swatch(view, paint_id)
    lrv = view.colours.lrv.get(paint_id)
    words = [f"LRV {lrv:.0f}"] if lrv is not None else []
    if swatch:
        words += [swatch.colour.undertone.name, swatch.colour.notation.text]
    return "  ".join(words)


def _swatch(view: CardView, paint_id: str) -> "Swatch | None":
    return view.report.study.swatches.get(("Paint", paint_id)) if view.report else None


def _stays(view: CardView, room: Room, page: Page) -> Iterator[Row]:
    finishes = dict.fromkeys((*((room.floor,) if room.floor else ()), *room.fixed))
    if not finishes:
        return
    yield from page.heading("stays")
    for finish_id in finishes:
        swatch = view.report.study.swatches.get(("Finish", finish_id)) if view.report else None
        coat = Coat("known", swatch.colour.srgb_hex) if swatch else Coat("awaited")
        label = "floor" if finish_id == room.floor else "fixed"
        name = cut(
            view.house.finishes[finish_id].name, page.inner - SWATCH - 7, view.look.glyphs.more
        )
        yield page.run(" "), page.swatch(coat), page.run(f" {label}  ", quiet=True), page.run(name)


def _seen(view: CardView, page: Page) -> Iterator[Row]:
    """The rooms in view: the way there, and how far apart the wall colours are."""
    if view.report is None:
        yield from page.heading("computing what it sees ...")
        return
    study = view.report.study
    neighbours = study.neighbours.get(view.room, ())
    yield from page.heading("sees" if neighbours else "sees no other room")
    for other in neighbours:
        pair = study.pairs[min(view.room, other), max(view.room, other)]
        paint = view.house.rooms[other].paints.walls
        walls = pair.walls
        tail = ""
        if walls:
            difference = study.difference(walls[0].swatch, walls[1].swatch)
            tail = f"{difference.ucs:5.1f}"
        name = fit(view.house.rooms[other].name, max(page.inner - SWATCH - 17, 6))
        yield (
            page.run(" "),
            page.swatch(view.colours.coat(paint)),
            page.run(f" {name} "),
            page.run(fit(pair.sighting.kind, 10), quiet=True),
            page.run(tail),
        )


def _found(view: CardView, page: Page) -> Iterator[Row]:
    """What was found in the room, in words."""
    if view.report is None:
        return
    found = view.report.by_room.get(view.room, ())
    yield from page.heading("found" if found else "nothing found")
    for sentence in sentences(view.report, view.room):
        mark, text = sentence
        lines = wrap(text, page.inner - 3)
        for i, line in enumerate(lines):
            lead = f" {view.look.glyphs.marks[mark]}{mark[0].upper()} " if i == 0 else "    "
            yield page.run(lead, strong=True), page.run(line)


def sentences(report: "Report", room: str) -> Sequence[tuple[str, str]]:
    """Severity and sentence of each finding of a room."""
    from housemap.checks import check_of  # noqa: PLC0415 - a report is there, so is what it needs

    return [
        (finding.severity, check_of(finding.check).tell(finding, report.house))
        for finding in report.by_room.get(room, ())
    ]


def chip(colour: Hex) -> Run:
    """Two columns of a colour, to stand in a line of text."""
    return Run("  ", Ink(None, colour))
