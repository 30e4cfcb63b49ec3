"""One level of a house on the map: how large it is drawn, and whether it is to scale."""

from housemap.model.house import House, Units
from housemap.plan.floor_plan import Plan
from housemap.tui.render.frame import Frame, enlarged_frame, fitting_frame
from housemap.tui.render.geometry import rooms_of_level


def level_frame(
    house: House, plan: Plan, level: int, columns: int, rows: int, *, enlarged: float = 1.0
) -> Frame:
    """A level of at least one room, fitted into so many cells, and `enlarged` so many times."""
    outlines = [plan.rooms[room].outline_m for room in rooms_of_level(plan, level)]
    fitting = fitting_frame(outlines, columns - 2, rows - 1, house.wall_thickness_m)
    if enlarged == 1:
        return fitting
    return enlarged_frame(outlines, fitting, enlarged, house.wall_thickness_m)


def scale_units(house: House, plan: Plan, level: int) -> Units | None:
    """The units of the scale bar; None where no room of the level is measured."""
    rooms = plan.rooms.values()
    measured = any(room.measured for room in rooms if room.level == level)
    return house.units if measured else None
