"""Lists to walk by: the rooms seen from one, and the stops of the route."""

from housemap.model.house import House, Visit
from housemap.plan.route import Route
from housemap.plan.visibility import Views
from housemap.tui.render.choosing import title_row
from housemap.tui.render.listing import Line, patch
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import Shades
from housemap.tui.render.walk_colours import coat_on


def views_head(house: House, room: str, count: int, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    name = house.rooms[room].name
    rooms = f"{count} room{'' if count == 1 else 's'}"
    told = "Of all that is round one: at the best place, on average"
    return [title_row(f"Seen from {name}", rooms, line), *page.text(told, quiet=True), page.blank()]


def view_rows(shades: Shades, eye: str, room: str, views: Views, line: Line) -> tuple[Row, Row]:
    """A room seen from another: its walls as seen from there, its name, the best share."""
    gap, house = line.run(" "), shades.house
    swatch = patch(coat_on(shades, room, "walls", eye), SWATCH, line.look)
    paint = house.paints.get(house.rooms[room].paints.walls or "")
    best = f"{100 * views.best[room].share:.0f} %"
    mean = f"{100 * views.shares[room]:.0f} %"
    return (
        line.row((line.mark(), swatch, gap), house.rooms[room].name, best, strong=line.chosen),
        line.row((gap, swatch, gap), paint.name if paint else "no paint yet", mean, quiet=True),
    )


def route_head(house: House, route: Route, look: Look, width: int) -> list[Row]:
    """How far the route is, and how much of it has been walked."""
    line, page = Line(look, width), Page(look, width)
    stops = [stop.room for stop in route.stops]
    done = sum(room in house.visits for room in stops)
    order = "the shortest way" if route.shortest else "with little back and forth"
    return [
        title_row("Route", f"{done} of {len(stops)} ticked off", line),
        page.line(f"{route.length_m:.0f} m on foot, {order}", quiet=True),
        page.blank(),
    ]


def stop_rows(house: House, number: int, room: str, line: Line) -> tuple[Row, Row]:
    """A stop: its number, whether it is ticked off, and the note."""
    visit = house.visits.get(room)
    tick = line.look.glyphs.tick if visit else " "
    lead = (line.mark(), line.run(f"{number:>2} {tick} ", strong=bool(visit)))
    level = house.rooms[room].level
    return (
        line.row(lead, house.rooms[room].name, _when(visit), strong=line.chosen),
        line.row((line.run("      "),), _note(visit), f"level {level}", quiet=True),
    )


def _when(visit: Visit | None) -> str:
    return f"{visit.when:%-d %B %Y}" if visit and visit.when else ""


def _note(visit: Visit | None) -> str:
    return (visit.notes or "no note") if visit else "still to walk"
