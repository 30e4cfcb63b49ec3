"""Windows, lamps, and what must be said beside the figures of a room's light."""

from collections.abc import Iterator

from housemap.light.orientation import azimuth_deg, daylight_kelvin
from housemap.model.house import Lamp, Window
from housemap.model.measure import format_length
from housemap.model.shape import wall_of
from housemap.tui.render.light_view import LightView
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row

COMPASS = (
    "north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
)  # fmt: skip
AIMS = {"down": "shines down", "up": "shines up", "all": "shines all round"}


def source_rows(view: LightView, page: Page) -> Iterator[Row]:
    """Each window and lamp in a line or two."""
    room = view.room
    yield from page.heading("windows" if room.windows else "no windows")
    for key, window in room.windows.items():
        yield from page.text(f"{key}: {_window(view, window)}")
    yield from page.heading("lamps" if room.lamps else "no lamps")
    for key, lamp in room.lamps.items():
        yield from page.text(f"{key}: {_lamp(view, lamp)}")


def note_rows(view: LightView, page: Page) -> Iterator[Row]:
    """What was assumed, and what could not be computed."""
    notes = view.lit.light.notes
    if notes:
        yield from page.heading("to be known")
    for note in notes:
        yield from page.text(note)


def _window(view: LightView, window: Window) -> str:
    house = view.shades.house
    wide, high, sill = (
        format_length(each, house.units)
        for each in (window.width_m, window.height_m, window.sill_m)
    )
    wall = wall_of(view.room, window.wall)
    facing = azimuth_deg(wall, house.north_deg) if wall else None
    kelvin = window.kelvin or (
        daylight_kelvin(facing, house.latitude_deg) if facing is not None else None
    )
    words = [f"{wide} x {high} in wall {window.wall}, sill {sill}"]
    words += [f"faces {COMPASS[round(facing / 45.0) % 8]}"] if facing is not None else []
    words += [f"daylight of {kelvin:.0f} K"] if kelvin is not None else []
    words += [f"lets {100 * window.transmittance:.0f} % through"]
    words += [f"sees {window.sky_angle_deg:.0f} degrees of sky"]
    return ", ".join(words)


def _lamp(view: LightView, lamp: Lamp) -> str:
    colour = lamp.spectrum or f"{lamp.kelvin:.0f} K"
    units = view.shades.house.units
    where = "no place given"
    if lamp.at_m is not None:
        x, y, z = (format_length(each, units) for each in lamp.at_m)
        where = f"at {x}, {y}, {z} high"
    return f"{lamp.lumens:.0f} lm, {colour}, {AIMS[lamp.aim]}, {where}"
