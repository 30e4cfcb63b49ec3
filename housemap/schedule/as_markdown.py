"""The schedule as Markdown."""

import re
from collections.abc import Iterable, Iterator, Sequence

from housemap.checks.words import room_name
from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.quantities import COATS, COVERAGE_M2_PER_L, WASTE

_SPECIAL = re.compile(r"[\\`*_\[\]<>#|&~]")
_LIST = re.compile(r"^(\d*)([-+.)] )")
"""What Markdown takes for markup within a line, and for a list at its start."""


def as_markdown(schedule: Schedule) -> str:
    return "\n".join(_lines(schedule)) + "\n"


def plain(text: str) -> str:
    """Text that Markdown shows as it is: no markup, no link, no HTML of a house file's own."""
    escaped = _SPECIAL.sub(r"\\\g<0>", text.replace("\n", " "))
    return _LIST.sub(r"\1\\\2", escaped)


def _lines(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    yield f"# Paint schedule: {plain(house.name or 'house')}"
    yield ""
    yield f"{schedule.date.isoformat()}, revision {schedule.revision}"
    yield ""
    yield from _section("Cautions", (f"- {plain(text)}" for text in schedule.cautions))
    yield from _rooms(schedule)
    yield from _section("To buy", _needs(schedule))
    yield from _section("Where colours meet", _meetings(schedule))
    yield from _section("Samples to put up", _testers(schedule))
    yield from _section(
        "Still open",
        (f"- {m.severity}: {plain(m.tell(house))}" for m in schedule.matters),
    )


def _section(title: str, lines: Iterable[str]) -> Iterator[str]:
    body = list(lines)
    if body:
        yield f"## {title}"
        yield ""
        yield from body
        yield ""


def _rooms(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for room_id, room in house.rooms.items():
        lines = schedule.lines_of(room_id)
        if lines:
            yield f"## {plain(room.name)}"
            yield ""
            yield from _table(
                ("surface", "paint", "sheen", "coats", "area", "paint needed"),
                (
                    (
                        wording.wall_of_surface(line.surface),
                        wording.paint(house, line.paint),
                        line.sheen or "not chosen",
                        str(line.coats),
                        wording.area(line.area_m2, house.units),
                        wording.volume(line.litres, house.units),
                    )
                    for line in lines
                ),
            )
            yield ""


def _needs(schedule: Schedule) -> Iterator[str]:
    house, amounts = schedule.house, schedule.quantities
    yield from _table(
        ("paint", "sheen", "area", "with waste", "tins", "cost"),
        (
            (
                wording.paint(house, need.paint),
                need.sheen or "not chosen",
                wording.area(need.area_m2, house.units),
                wording.volume(need.litres, house.units),
                wording.tins(need.purchase, house.units),
                wording.money(need.cost),
            )
            for need in amounts.needs
        ),
    )
    yield ""
    yield (
        f"In all {wording.money(amounts.cost)} for what has a price. {COATS} coats unless told"
        f" otherwise, {100 * WASTE:.0f} % waste; {COVERAGE_M2_PER_L:g} m2 per litre and coat where"
        " a paint states no coverage (an assumption)."
    )
    if amounts.unmeasured:
        rooms = ", ".join(room_name(house, room) for room in amounts.unmeasured)
        yield ""
        yield f"Not measured, so not counted: {plain(rooms)}."


def _meetings(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for meeting in schedule.meetings:
        rooms = " and ".join(room_name(house, room) for room in meeting.rooms)
        paints = " to ".join(wording.paint(house, paint) for paint in meeting.paints)
        text = f"{rooms}, {meeting.surface}: {paints}; {meeting.instruction}"
        yield f"- {plain(text)}"


def _testers(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for tester in schedule.testers:
        places = ", ".join(f"wall {wall} ({why})" for wall, why in tester.walls)
        name = f"{wording.paint(house, tester.paint)} in {room_name(house, tester.room)}"
        text = f"{name}: {places}; look {'; '.join(tester.hours)}"
        yield f"- {plain(text)}"


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    yield "| " + " | ".join(head) + " |"
    yield "|" + "---|" * len(head)
    for row in rows:
        yield "| " + " | ".join(plain(cell) for cell in row) + " |"
