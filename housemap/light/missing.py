"""Why a room has no light of some name, in a few words to stand beside its name."""

from housemap.light.room import RoomLight
from housemap.light.scene import LightName
from housemap.light.shape import why_not
from housemap.model.house import Room


def why_unlit(room: Room, known: RoomLight, light: LightName) -> str:
    """Such as "no lamp" or "not measured"; empty where the room has the light."""
    if light in known.lights:
        return ""
    if reason := why_not(room):
        first, _, rest = reason.partition(":")[0].partition(" ")
        return f"{first.lower()} {rest}".strip()
    return _no_daylight(room, known) if light == "day" else _no_lamplight(room)


def _no_daylight(room: Room, known: RoomLight) -> str:
    if not room.windows:
        return "no window"
    return "no window in its walls" if known.daylight is None else "no light by its windows"


def _no_lamplight(room: Room) -> str:
    return "no light from its lamps" if room.lamps else "no lamp"
