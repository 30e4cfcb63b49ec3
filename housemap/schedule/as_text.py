"""The schedule as text: Markdown, sheets for a spreadsheet, short texts to paste elsewhere."""

import csv
import io
import re
import unicodedata
from collections.abc import Iterator, Sequence

from housemap.checks.words import room_name
from housemap.model.house import Edition, Finish, House, Paint
from housemap.schedule import blocks, sections, wording
from housemap.schedule.document import Schedule
from housemap.schedule.editions import TITLES, sections_of
from housemap.schedule.quantities import Line, Need, PrimerNeed, sheen_on
from housemap.schedule.samples import Trial
from housemap.schedule.sections import left_off, places

_SPECIAL = re.compile(r"[\\`*_\[\]<>#|&~]")
_LIST = re.compile(r"^(\d*)([-+.)] )")
"""What Markdown takes for markup within a line, and for a list at its start."""


def as_markdown(schedule: Schedule, edition: Edition = "full") -> str:
    return "\n".join(_lines(schedule, edition)) + "\n"


def plain(text: str) -> str:
    """Text that Markdown shows as it is: no markup, no link, no HTML of a house file's own."""
    escaped = _SPECIAL.sub(r"\\\g<0>", text.replace("\n", " "))
    return _LIST.sub(r"\1\\\2", escaped)


def _lines(schedule: Schedule, edition: Edition) -> Iterator[str]:
    yield f"# {TITLES[edition]}: {plain(schedule.house.name or 'house')}"
    yield ""
    yield from _block(sections.parties(schedule, edition))
    yield from _block(sections.totals(schedule, edition))
    parts = sections_of(schedule, edition)
    if drawn := ", ".join(part.title for part in parts if _is_drawn(part)):
        yield f"In the .html and .pdf forms only, as they are drawn: {drawn}."
        yield ""
    for section in parts:
        if not _is_drawn(section):
            yield from _section(section, "##")


def _is_drawn(section: blocks.Section) -> bool:
    """Whether it says nothing without its drawings."""
    beside = [block for block in section.blocks if not isinstance(block, blocks.Figures)]
    said = any(not (isinstance(block, blocks.Text) and block.quiet) for block in beside)
    return len(beside) < len(section.blocks) and not said


def _section(section: blocks.Section, marks: str) -> Iterator[str]:
    yield f"{marks} {plain(section.title)}"
    yield ""
    for block in section.blocks:
        yield from _block(block)
    for part in section.parts:
        yield from _section(part, f"{marks}#")


def _block(block: blocks.Block) -> Iterator[str]:
    """Drawings are left to the page; their captions say which there are."""
    match block:
        case blocks.Table():
            yield from _table(block)
        case blocks.Text():
            yield plain(block.text)
        case blocks.Bullets():
            yield from (f"- {plain(item)}" for item in block.items)
        case blocks.Facts():
            yield from (f"- {name}: {plain(value)}" for name, value in block.pairs)
        case blocks.Figures():
            walls = (figure for figure in block.figures if figure.kind == "elevation")
            yield from (f"- {plain(figure.caption)}" for figure in walls)
        case blocks.SignOff():
            blank = ((party, "", "", "") for party in block.parties)
            yield from _table(blocks.table("", "for, name, signature, date", blank))
    yield ""


def _table(body: blocks.Table) -> Iterator[str]:
    """Nothing where there are no rows."""
    if body.rows:
        yield "| " + " | ".join(column.name for column in body.columns) + " |"
        yield "|" + "---|" * len(body.columns)
        for row in body.rows:
            yield "| " + " | ".join(plain(cell.text) for cell in row.cells) + " |"


# The schedule for a spreadsheet: a sheet a list, numbers plain, no formula ever.

SURFACES = (
    "room", "level", "surface", "paint", "code", "product", "LRV", "notation", "screen", "sheen",
    "now", "first_coat", "coats", "area_m2", "litres_without_waste", "hours",
    "was_in_last_issue",
)  # fmt: skip
PAINT = (
    "paint", "code", "product", "sheen", "supplier", "order", "area_m2", "litres_with_waste",
    "tins", "litres_bought", "price", "currency",
)  # fmt: skip
PRIMER = "primer", "supplier", "order", "area_m2", "litres_with_waste", "tins", "price", "currency"
SAMPLES = "paint", "code", "order", "room", "where", "when"

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def sheet(schedule: Schedule, name: str = "surfaces") -> str:
    """One of SHEETS, RFC 4180 with a header row; metres and litres whatever the house shows."""
    amounts = schedule.quantities
    head, rows = {
        "surfaces": (SURFACES, (_surface(schedule, each) for each in amounts.lines)),
        "paint": (PAINT, (_need(schedule, each) for each in amounts.needs)),
        "primer": (PRIMER, (_primer(schedule, each) for each in amounts.primers)),
        "samples": (SAMPLES, (_sample(schedule, each) for each in schedule.testers)),
    }[name]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([inert(cell) for cell in row] for row in rows)
    return out.getvalue()


def _surface(schedule: Schedule, line: Line) -> Sequence[str]:
    house, swatch = schedule.house, schedule.swatch(line.paint)
    room, paint, system = house.rooms[line.room], house.paints[line.paint], line.system
    return (
        room.name,
        str(room.level),
        wording.surface(house, line.room, line.surface),
        paint.name,
        paint.code,
        system.product,
        f"{swatch.lrv:.1f}",
        swatch.colour.notation.text,
        swatch.colour.srgb_hex,
        line.sheen or "",
        system.now,
        system.first.text if system.first else "",
        str(line.coats),
        _number(line.area_m2, 3),
        _number(line.litres, 4),
        _number(line.hours, 2),
        schedule.change(line) or "",
    )


def _number(amount: float | None, places_: int) -> str:
    return "" if amount is None else f"{amount:.{places_}f}"


def _need(schedule: Schedule, need: Need) -> Sequence[str]:
    house = schedule.house
    paint = house.paints[need.paint]
    return (
        paint.name,
        paint.code,
        need.product,
        wording.sheen(need) if need.sheen or need.open_for else "",
        paint.supplier,
        paint.order,
        f"{need.area_m2:.3f}",
        f"{need.litres:.3f}",
        wording.tins(need.purchase, "m") if need.purchase else "",
        _number(need.purchase.litres if need.purchase else None, 3),
        _number(need.cost, 2),
        house.client.currency,
    )


def _primer(schedule: Schedule, need: PrimerNeed) -> Sequence[str]:
    return (
        need.text,
        need.supplier,
        need.order,
        f"{need.area_m2:.3f}",
        f"{need.litres:.3f}",
        wording.tins(need.purchase, "m") if need.purchase else "",
        _number(need.cost, 2),
        schedule.house.client.currency,
    )


def _sample(schedule: Schedule, each: Trial) -> Sequence[str]:
    paint, room = schedule.house.paints[each.paint], room_name(schedule.house, each.room)
    where, when = places(schedule, each), "; ".join(each.hours)
    return paint.name, paint.code, paint.order, room, where, when


def inert(cell: str) -> str:
    """A cell that no spreadsheet runs: text that begins like a formula gets an apostrophe."""
    first = unicodedata.normalize("NFKC", cell[:1])  # full-width = + - @ are run as well
    if first.startswith(_FORMULA_STARTS):
        try:
            float(cell)
        except ValueError:
            return f"'{cell}"
    return cell


# To paste

NOT_COPIED = "Nothing to paste? Allow clipboard writes (OSC 52) in your terminal, or write a file."


def paint_code(paint: Paint | Finish) -> str:
    """What a counter asks for: the order code, else the code, else the name."""
    return (paint.order or paint.code or paint.name) if isinstance(paint, Paint) else paint.name


def room_line(house: House, room: str) -> str:
    """As in "Hall: walls Stubble Row (A-102), matt; trim Quarry Chalk (A-001), satin"."""
    held = house.rooms[room]
    each = (
        (wording.surface(house, room, on), wording.paint(house, paint), sheen_on(held, on))
        for on, paint in held.painted()
    )
    paints = [f"{on} {paint}" + (f", {sheen}" if sheen else "") for on, paint, sheen in each]
    return f"{held.name}: {'; '.join(paints) or 'no paint yet'}"


def shopping_list(schedule: Schedule) -> str:
    """A line a paint and sheen, then the primers."""
    house = schedule.house
    paints = [
        f"{wording.tins(need.purchase, house.units)}  {wording.paint(house, need.paint)},"
        f" {'' if need.sheen else 'sheen: '}{wording.sheen(need)}"
        + (f", {need.product}" if need.product else "")
        for need in schedule.quantities.needs
    ]
    primers = [
        f"{wording.volume(need.litres, house.units)}  {need.text}"
        for need in schedule.quantities.primers
    ]
    return "\n".join([*paints, *primers, *left_off(schedule)])
