"""Short texts to paste elsewhere: a paint's code, a room's lines, the shopping list."""

from housemap.model.house import House
from housemap.schedule import wording
from housemap.schedule.document import Schedule

NOT_COPIED = "Nothing to paste? Allow clipboard writes (OSC 52) in your terminal, or write a file."


def paint_code(house: House, paint: str) -> str:
    """What a counter asks for: the order code, else the code, else the name."""
    held = house.paints[paint]
    return held.order or held.code or held.name


def room_lines(schedule: Schedule, room: str) -> str:
    """A line a surface: "Hall, walls: Oat Straw (A-102), matt, 2 coats, 33.5 m2"."""
    house = schedule.house
    return "\n".join(
        f"{house.rooms[room].name}, {wording.surface(house, room, line.surface)}:"
        f" {wording.paint(house, line.paint)}, {line.sheen or 'sheen ' + wording.NO_SHEEN},"
        f" {line.coats} coats, {wording.area(line.area_m2, house.units)}"
        for line in schedule.lines_of(room)
    )


def shopping_list(schedule: Schedule) -> str:
    """A line a paint and sheen, then the primers."""
    house = schedule.house
    paints = [
        f"{wording.tins(need.purchase, house.units)}  {wording.paint(house, need.paint)},"
        f" {need.sheen or 'sheen ' + wording.NO_SHEEN}"
        + (f", {need.product}" if need.product else "")
        for need in schedule.quantities.needs
    ]
    primers = [
        f"{wording.volume(need.litres, house.units)}  {need.text}"
        for need in schedule.quantities.primers
    ]
    return "\n".join([*paints, *primers])
