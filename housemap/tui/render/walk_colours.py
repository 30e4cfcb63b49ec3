"""The colour of every face of a view, and of what is in it, as the eye in the walk sees them."""

from collections.abc import Sequence

from housemap.model.house import Room
from housemap.plan.pixels import BARE as BARE_RGB
from housemap.plan.pixels import OUTSIDE, Rgb, painted_as, rgb_of
from housemap.plan.view import Face
from housemap.tui.render.look import Look
from housemap.tui.render.scene import BARE, Coat
from housemap.tui.render.shades import Shades


def paint_on(room: Room, surface: str) -> str | None:
    """The id of the paint on walls, ceiling, trim, doors, or "accent" and the wall's key."""
    kind, _, wall = surface.partition(" ")
    if kind == "accent":
        return room.accents[wall].paint if wall in room.accents else None
    paint: str | None = getattr(room.paints, kind)
    return paint


def coat_on(shades: Shades, room: str, surface: str, eye: str) -> Coat:
    """What is on a surface (also the floor), as seen from the room `eye`."""
    held = shades.house.rooms[room]
    if surface == "floor":
        return shades.stays(room, surface, held.floor, eye=eye) if held.floor else BARE
    return shades.on(room, surface, paint_on(held, surface), eye=eye)


def face_colours(shades: Shades, faces: Sequence[Face], eye: str, look: Look) -> list[Rgb]:
    return [_face_colour(shades, face, eye, look) for face in faces]


def _face_colour(shades: Shades, face: Face, eye: str, look: Look) -> Rgb:
    place = painted_as(shades.house, face)
    if place is None:
        return OUTSIDE[shades.light]
    colour = coat_on(shades, *place, eye).colour or look.greys.bare
    return rgb_of(colour) if colour else BARE_RGB
