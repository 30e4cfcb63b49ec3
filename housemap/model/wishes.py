"""What the client asked for, of the walls of a room or of one wall of it."""

from typing import NamedTuple

from housemap.model.house import STRENGTHS, Brief, House, Room, Strength

WALLS: Strength = "greyish"
"""The strongest colour on walls where the brief does not say."""
ACCENTS: Strength = "moderate"
"""The same for accents."""


class Wishes(NamedTuple):
    """What is asked of one colour."""

    strength: Strength | None = WALLS
    """The strongest; None where any will do."""
    like: frozenset[str] = frozenset()
    like_here: bool = False
    """Whether these hues were named for the room itself: then it is to have one of them."""
    avoid: frozenset[str] = frozenset()
    lean: frozenset[str] = frozenset()
    """Hues that a grey or white had better not lean to either; never more than a preference."""
    lrv: tuple[float, float] | None = None
    keep: bool = False
    """It is kept as it is: nothing is to be painted."""


ANYTHING, KEPT = Wishes(None), Wishes(None, keep=True)


def kept_rooms(house: House) -> frozenset[str]:
    return frozenset(key for key, own in house.brief.rooms.items() if own.keep)


def rooms_to_paint(house: House) -> dict[str, Room]:
    """Those indoors that are not kept as they are."""
    kept = kept_rooms(house)
    rooms = house.rooms.items()
    return {key: room for key, room in rooms if room.use != "outdoor" and key not in kept}


def kept_rooms_painted(before: House, after: House) -> tuple[str, ...]:
    """The kept rooms of a house that have other paints in another house."""
    kept = kept_rooms(before)
    return tuple(
        key
        for key in before.rooms
        if key in kept
        and key in after.rooms
        and _paints(before.rooms[key]) != _paints(after.rooms[key])
    )


def _paints(room: Room) -> object:
    parts = {key: part.paint for key, part in room.parts.items() if part.paint}
    return room.paints, room.accents, parts


def stated_wishes(brief: Brief, room: str | None = None, *, accent: bool = False) -> Wishes:
    """What the brief says of walls of the house, or of a room where that may differ.

    The range of LRV is one of walls: it does not hold for accents. Where only the strength of
    walls is stated, accents may be as strong as usual, or as strong as those.
    """
    own = brief.rooms.get(room) if room is not None else None
    key = "accent_strength" if accent else "strength"
    strength: Strength | None = (own and getattr(own, key)) or getattr(brief, key)
    if accent and strength is None and (walls := (own and own.strength) or brief.strength):
        strength = max(ACCENTS, walls, key=STRENGTHS.index)
    avoid = brief.avoid if own is None or own.avoid is None else own.avoid
    lrv = (own and own.lrv) or brief.lrv
    like = frozenset((own and own.like) or ())
    return Wishes(strength, like, bool(like), frozenset(avoid), lrv=None if accent else lrv)


def wishes_of(brief: Brief, room: str | None = None, *, accent: bool = False) -> Wishes:
    """All that a choice goes by: hues liked too, and the usual strength where none is stated."""
    stated = stated_wishes(brief, room, accent=accent)
    own = brief.rooms.get(room) if room is not None else None
    like = brief.like if own is None or own.like is None else own.like
    strength = stated.strength or (ACCENTS if accent else WALLS)
    return stated._replace(strength=strength, like=frozenset(like), lean=stated.avoid)


def woodwork_wishes(brief: Brief, *, trim: bool) -> Wishes:
    """The hues to avoid; trim does not lean to them either."""
    avoid = frozenset(brief.avoid)
    return ANYTHING._replace(avoid=avoid, lean=avoid if trim else frozenset())


def stated_in(house: House, room: str) -> tuple[Wishes, Wishes]:
    """What must not be on the walls of a room, and on one wall of it; nothing for one to keep."""
    if (own := house.brief.rooms.get(room)) and own.keep:
        return KEPT, KEPT
    if house.rooms[room].use == "outdoor":
        return ANYTHING, ANYTHING
    accent = house.rooms[room].role == "accent"
    walls = stated_wishes(house.brief, room, accent=accent)
    one_wall = stated_wishes(house.brief, room, accent=True)
    return walls, one_wall._replace(like=frozenset(), like_here=False)
