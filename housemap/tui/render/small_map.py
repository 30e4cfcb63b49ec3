"""The ground floor of a small house in a few rows, as the map draws it."""

from collections.abc import Mapping

from housemap.model.house import House
from housemap.plan.floor_plan import Plan
from housemap.tui.render.canvas import runs_of
from housemap.tui.render.frame import fitting_frame
from housemap.tui.render.geometry import geometry_of, rooms_of_level
from housemap.tui.render.house_map import Picture
from housemap.tui.render.look import Look
from housemap.tui.render.port import follow
from housemap.tui.render.runs import Row
from housemap.tui.render.scene import Block


def small_map(
    house: House, plan: Plan, blocks: Mapping[str, Block], look: Look, size: tuple[int, int]
) -> list[Row]:
    """A map of so many columns and rows; none for a house without rooms."""
    columns, rows = size
    levels = plan.levels()
    if not levels:
        return []
    level = min(levels, key=abs)
    outlines = [plan.rooms[room].outline_m for room in rooms_of_level(plan, level)]
    frame = fitting_frame(outlines, columns, rows, house.wall_thickness_m)
    port = follow(frame, None, None, columns, rows)
    geometry = geometry_of(house, plan, level, frame, port)
    return [runs_of(cells) for cells in Picture(geometry, blocks, look).rows]
