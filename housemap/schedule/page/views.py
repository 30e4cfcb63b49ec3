"""Pictures of the key views: the rooms that see most of the others, as seen by day.

Rooms whose walls have a colour come first.
"""

from base64 import b64encode
from collections.abc import Iterator

from housemap.model.house import Light
from housemap.plan.elevations import Elevations
from housemap.plan.image_files import png_bytes
from housemap.plan.view import look
from housemap.plan.viewpoints import best_of
from housemap.schedule.document import Schedule
from housemap.schedule.page.tags import Html, tag
from housemap.study.painted import Painted

MOST = 6
_SIZE = 360, 240


def views(schedule: Schedule) -> Html:
    """At most so many views; nothing where no room is measured."""
    study, elevations = schedule.study, schedule.elevations
    seeing = sorted(study.sight.rooms, key=lambda r: (-len(study.sight.rooms[r].ways), r))
    indoors = [room for room in seeing if study.house.rooms[room].use != "outdoor"]
    key = sorted(indoors, key=lambda room: "walls" not in study.rooms[room].coats)[:MOST]
    pictures = [p for room in key for p in _picture(schedule, elevations, room)]
    return tag("div", *pictures, class_="views") if pictures else Html()


def _picture(schedule: Schedule, elevations: Elevations, room: str) -> Iterator[Html]:
    camera = best_of(elevations, room)
    view = look(elevations, camera, *_SIZE, smooth=True) if camera else None
    if camera is None or view is None:
        return
    lit = "day" in schedule.study.lighting.rooms[room].light.lights
    light: Light = "day" if lit else "reference"
    pixels = Painted(schedule.study, camera.room, light, view).pixels()
    name = schedule.house.rooms[room].name
    source = f"data:image/png;base64,{b64encode(png_bytes(pixels)).decode()}"
    words = "by day, overcast" if lit else "under the reference light"
    picture = tag("img", src=source, alt=f"{name} as seen from a corner", width=360, height=240)
    yield tag("figure", picture, tag("figcaption", f"{name}, {words}"))
