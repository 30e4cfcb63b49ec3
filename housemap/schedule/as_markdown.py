"""The schedule as Markdown."""

import re
from collections.abc import Iterable, Iterator, Sequence

from housemap.schedule import telling, wording
from housemap.schedule.document import Schedule

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
    yield ", ".join(f"{name} {plain(value)}" for name, value in telling.heading(schedule))
    yield ""
    yield from _section("Cautions", _bullets(schedule.cautions))
    yield from _section("Paints", _paints(schedule))
    yield from _rooms(schedule)
    yield from _section("To buy", _needs(schedule))
    meetings = (telling.meeting(house, meeting) for meeting in schedule.meetings)
    yield from _section("Where colours meet", _bullets(meetings))
    testers = (telling.tester(house, tester) for tester in schedule.testers)
    yield from _section("Samples to put up", _bullets(testers))
    samples = (telling.sample(house, sample) for sample in house.samples.values())
    yield from _section("Samples seen", _bullets(samples))
    matters = (f"{matter.severity}: {matter.tell(house)}" for matter in schedule.matters)
    yield from _section("Still open", _bullets(matters))


def _section(title: str, lines: Iterable[str]) -> Iterator[str]:
    body = list(lines)
    if body:
        yield f"## {title}"
        yield ""
        yield from body
        yield ""


def _bullets(lines: Iterable[str]) -> Iterator[str]:
    return (f"- {plain(line)}" for line in lines)


def _paints(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    rows = (
        (
            wording.paint(house, share.paint),
            f"{schedule.swatch(share.paint).lrv:.0f}",
            schedule.swatch(share.paint).colour.notation.text,
            schedule.swatch(share.paint).colour.undertone.name,
            wording.percent(share.of_area),
            wording.percent(share.of_view),
        )
        for share in schedule.board
    )
    head = ("paint", "LRV", "notation", "undertone", "of the area", "of the view")
    return _table(head, rows)


def _rooms(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    for room_id, room in house.rooms.items():
        rows = (
            (
                wording.wall_of_surface(line.surface),
                wording.paint(house, line.paint),
                line.sheen or wording.NO_SHEEN,
                str(line.coats),
                wording.area(line.area_m2, house.units),
                wording.volume(line.litres, house.units),
                telling.TRIED[schedule.tried(line.paint, line.room)],
            )
            for line in schedule.lines_of(room_id)
        )
        head = ("surface", "paint", "sheen", "coats", "area", "paint needed", "sample")
        yield from _section(plain(room.name), _table(head, rows))


def _needs(schedule: Schedule) -> Iterator[str]:
    house = schedule.house
    rows = (
        (
            wording.paint(house, need.paint),
            need.sheen or wording.NO_SHEEN,
            wording.area(need.area_m2, house.units),
            wording.volume(need.litres, house.units),
            wording.tins(need.purchase, house.units),
            wording.money(need.cost),
        )
        for need in schedule.quantities.needs
    )
    yield from _table(("paint", "sheen", "area", "with waste", "tins", "cost"), rows)
    for text in (
        telling.cost(schedule),
        telling.measured_how(schedule),
        telling.unmeasured(schedule),
    ):
        if text:
            yield ""
            yield plain(text)


def _table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Nothing where there are no rows."""
    body = ["| " + " | ".join(plain(cell) for cell in row) + " |" for row in rows]
    if body:
        yield "| " + " | ".join(head) + " |"
        yield "|" + "---|" * len(head)
        yield from body
