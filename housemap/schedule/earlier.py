"""How a house may be painted now: earlier saves of its file in which it wears other colours."""

from collections.abc import Iterator, Mapping
from os import PathLike
from pathlib import Path

from housemap.errors import HouseFileError
from housemap.file.revisions import Revision, revisions
from housemap.model.colour import ColourSource
from housemap.model.house import House
from housemap.schedule.document import Before

MOST = 3
"""Offered of all saves: the newest ones and the oldest, which most often is the house as found."""


def saves_before(folder: Path, file: str | PathLike[str], now: House) -> tuple[Before, ...]:
    """The saves kept in `folder` that differ in colours from the one after, the newest first."""
    found = list(_otherwise(revisions(folder, file), now))
    return tuple(found if len(found) <= MOST else [*found[: MOST - 1], found[-1]])


def _otherwise(kept: tuple[Revision, ...], now: House) -> Iterator[Before]:
    """A copy that no longer reads is passed over."""
    worn = worn_by(now)
    for revision in kept:
        try:
            house = revision.house()
        except HouseFileError:
            continue
        if (then := worn_by(house)) != worn:
            worn = then
            yield Before(house, f"the save of {revision.when.astimezone():%-d %B %Y, %H:%M}")


def worn_by(house: House) -> Mapping[tuple[str, str], ColourSource]:
    """The colour on every painted surface, by room and surface, whatever the paints are called."""
    colours = {key: paint.colour for key, paint in house.paints.items()}
    plain = {
        (key, surface): colours[paint]
        for key, room in house.rooms.items()
        for surface, paint in room.paints.chosen()
    }
    accents = {
        (key, f"accent {wall}"): colours[accent.paint]
        for key, room in house.rooms.items()
        for wall, accent in room.accents.items()
    }
    return plain | accents
