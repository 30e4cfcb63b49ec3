"""The map beside the walk: one level in a few rows, without names, with where one stands."""

from dataclasses import replace

from housemap.model.house import House
from housemap.plan.floor_plan import Plan
from housemap.tui.render.canvas import lay_over, runs_of
from housemap.tui.render.frame import fitting_frame
from housemap.tui.render.geometry import Geometry, geometry_of, rooms_of_level
from housemap.tui.render.house_map import Picture, by_row
from housemap.tui.render.port import follow
from housemap.tui.render.runs import Row
from housemap.tui.render.standing import standing_stamps
from housemap.workbench.session import Standing


def inset_geometry(house: House, plan: Plan, level: int, columns: int, rows: int) -> Geometry:
    """A level of at least one room, fitted into so many cells."""
    outlines = [plan.rooms[room].outline_m for room in rooms_of_level(plan, level)]
    frame = fitting_frame(outlines, columns, rows, house.wall_thickness_m)
    port = follow(frame, None, None, columns, rows)
    return replace(geometry_of(house, plan, level, frame, port), boxes={}, panes={})


def inset_rows(picture: Picture, plan: Plan, standing: Standing) -> list[Row]:
    stamps = by_row(standing_stamps(picture, plan, standing))
    return [runs_of(lay_over(cells, stamps.get(y, ()))) for y, cells in enumerate(picture.rows)]
