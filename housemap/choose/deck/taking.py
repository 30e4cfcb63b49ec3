"""Taking a paint of a deck into a house, where it then belongs."""

from collections.abc import Mapping
from dataclasses import replace

from housemap.model.edits import change, free_id, put
from housemap.model.house import House, Paint


def take(house: House, wanted_id: str, paint: Paint, deck: str = "") -> tuple[House, str]:
    """The house with the paint, and the id that it has there.

    An equal paint of the house is not taken twice; another paint that has the wanted id keeps it.
    `deck` is what the paint says it comes from where it does not say so itself.
    """
    taken = replace(paint, deck=paint.deck or deck)
    for own_id, own in house.paints.items():
        if own == taken:
            return house, own_id
    new_id = free_id(wanted_id, house.paints, "paint")
    return put(house, "paints", new_id, taken), new_id


def take_all(
    house: House, wanted: Mapping[str, Paint], deck: str = ""
) -> tuple[House, Mapping[str, str]]:
    """The house with many paints, each as `take` takes it, and by wanted id the id that it has."""
    paints = dict(house.paints)
    known = {own: own_id for own_id, own in reversed(paints.items())}  # the first, as `take` does
    ids: dict[str, str] = {}
    for wanted_id, paint in wanted.items():
        taken = replace(paint, deck=paint.deck or deck)
        if taken not in known:
            known[taken] = free_id(wanted_id, paints, "paint")
            paints[known[taken]] = taken
        ids[wanted_id] = known[taken]
    return change(house, paints=paints), ids
