"""Short texts to paste elsewhere: a paint's code, a room's paints, the shopping list."""

from housemap.model.house import Finish, House, Paint
from housemap.schedule import wording
from housemap.schedule.document import Schedule
from housemap.schedule.quantities import sheen_on
from housemap.schedule.sections import left_off

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
