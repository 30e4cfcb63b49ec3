"""Taking a paint of a deck into a house, where it then belongs."""

from collections.abc import Mapping
from dataclasses import replace

from housemap.model.edits import change, free_id, put
from housemap.model.house import House, Paint


def take(house: House, deck_id: str, paint: Paint, deck: str = "") -> tuple[House, str]:
    """The house with the paint, and the id that it has there.

    An equal paint of the house is not taken twice; another paint that has this id keeps it.
    `deck` is what the paint says it comes from where it does not say so itself.
    """
    taken = replace(paint, deck=paint.deck or deck)
    for own_id, own in house.paints.items():
        if own == taken:
            return house, own_id
    new_id = free_id(deck_id, house.paints, "paint")
    return put(house, "paints", new_id, taken), new_id


def take_all(
    house: House, paints_of_deck: Mapping[str, Paint], deck: str = ""
) -> tuple[House, Mapping[str, str]]:
    """The house with many paints, each as `take` takes it; and its id there by id in the deck."""
    paints = dict(house.paints)
    known = {own: own_id for own_id, own in reversed(paints.items())}  # the first, as `take` does
    ids: dict[str, str] = {}
    for deck_id, paint in paints_of_deck.items():
        taken = replace(paint, deck=paint.deck or deck)
        if taken not in known:
            known[taken] = free_id(deck_id, paints, "paint")
            paints[known[taken]] = taken
        ids[deck_id] = known[taken]
    return change(house, paints=paints), ids
