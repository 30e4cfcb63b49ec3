"""The tables of the page."""

from collections.abc import Iterator

from housemap.checks.words import room_name
from housemap.schedule import telling, wording
from housemap.schedule.document import Schedule
from housemap.schedule.page.parts import Column, chip, table
from housemap.schedule.page.tags import Html, tag, together
from housemap.schedule.quantities import Line, Need

CHIP = Column("", "chip")
ROOM = (
    CHIP, Column("surface", "what"), Column("paint", "name"), Column("LRV", "number lrv"),
    Column("sheen", "sheen"), Column("coats", "number coats"), Column("area", "number area"),
    Column("needed", "number volume"), Column("sample", "tried"),
)  # fmt: skip
NEED = (
    CHIP, Column("paint", "name"), Column("sheen", "sheen"), Column("area", "number area"),
    Column("with waste", "number volume"), Column("tins", "tins"), Column("cost", "number cost"),
)  # fmt: skip
TESTER = (CHIP, Column("paint", "name"), Column("room", "what"), Column("where", "where"),
          Column("when to look", "where"))  # fmt: skip
SAMPLE = (CHIP, Column("sample", "where"))


def rooms(schedule: Schedule) -> Html:
    return together(*_rooms(schedule))


def _rooms(schedule: Schedule) -> Iterator[Html]:
    for room_id, room in schedule.house.rooms.items():
        rows = [_line(schedule, line) for line in schedule.lines_of(room_id)]
        if rows:
            note = (tag("p", room.notes, class_="soft"),) if room.notes else ()
            yield tag("div", tag("h3", room.name), *note, table(ROOM, rows), class_="room")


def _line(schedule: Schedule, line: Line) -> tuple[str, ...]:
    house, swatch = schedule.house, schedule.swatch(line.paint)
    return (
        chip(swatch),
        wording.wall_of_surface(line.surface),
        wording.paint(house, line.paint),
        f"{swatch.lrv:.0f}",
        line.sheen or wording.NO_SHEEN,
        str(line.coats),
        wording.area(line.area_m2, house.units),
        wording.volume(line.litres, house.units),
        telling.TRIED[schedule.tried(line.paint, line.room)],
    )


def needs(schedule: Schedule) -> Html:
    return table(NEED, [_need(schedule, need) for need in schedule.quantities.needs])


def _need(schedule: Schedule, need: Need) -> tuple[str, ...]:
    house = schedule.house
    return (
        chip(schedule.swatch(need.paint)),
        wording.paint(house, need.paint),
        need.sheen or wording.NO_SHEEN,
        wording.area(need.area_m2, house.units),
        wording.volume(need.litres, house.units),
        wording.tins(need.purchase, house.units),
        wording.money(need.cost),
    )


def testers(schedule: Schedule) -> Html:
    house = schedule.house
    rows = [
        (
            chip(schedule.swatch(tester.paint)),
            wording.paint(house, tester.paint),
            room_name(house, tester.room),
            telling.places(schedule.house, tester),
            "; ".join(tester.hours),
        )
        for tester in schedule.testers
    ]
    return table(TESTER, rows)


def samples(schedule: Schedule) -> Html:
    house = schedule.house
    rows = [
        (chip(schedule.swatch(sample.paint)), telling.sample(house, sample))
        for sample in house.samples.values()
    ]
    return table(SAMPLE, rows)
