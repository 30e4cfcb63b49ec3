"""Houses with schemes."""

from housemap.model.edits import make_scheme, put
from housemap.model.house import House


def with_scheme(house: House, painted: House, name: str) -> House:
    """The house with a scheme that paints its rooms as in `painted`, and the paints it needs.

    `painted` is the house with other paints, such as a suggestion; paints that it does not use are
    left behind. The rooms of the house stay as they are. Raises EditError as edits do.
    """
    used = {paint for room in painted.rooms.values() for _, paint in room.paints.chosen()}
    used |= {accent.paint for room in painted.rooms.values() for accent in room.accents.values()}
    for key in painted.paints:
        if key in used and key not in house.paints:
            house = put(house, "paints", key, painted.paints[key])
    made = make_scheme(painted, name)
    [new] = made.schemes.keys() - painted.schemes.keys()
    key = new if new not in house.schemes else f"{new}-{len(house.schemes) + 1}"
    return put(house, "schemes", key, made.schemes[new])
