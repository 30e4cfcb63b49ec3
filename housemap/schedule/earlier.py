"""How a house may be painted now: earlier saves of its file in which it wears other colours."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from os import PathLike
from pathlib import Path

from housemap.errors import HouseFileError
from housemap.file.earlier_saves import EarlierSave, earlier_saves
from housemap.model.house import ColourSource, House
from housemap.schedule.document import Before

MOST = 3
"""Offered of all saves: the newest ones and the oldest, which most often is the house as found."""


@dataclass(frozen=True, slots=True)
class Save:
    """A house as it was saved once."""

    when: datetime
    """Where the user is."""
    house: House

    @property
    def before(self) -> Before:
        return Before(self.house, f"the save of {self.when:%-d %B %Y, %H:%M}")


def names_of(saves: Sequence[Save]) -> tuple[str, ...]:
    """As short as tells them apart: as in "2 May 2026", or of one day "2 May 09:00"."""
    days = {save.when.date() for save in saves}
    form = "%-d %b %Y" if len(days) == len(saves) else "%-d %b %H:%M"
    return tuple(format(save.when, form) for save in saves)


def saves_before(folder: Path, file: str | PathLike[str], now: House) -> tuple[Save, ...]:
    """The saves kept in `folder` that differ in colours from the one after, the newest first."""
    found = list(_otherwise(earlier_saves(folder, file), now))
    return tuple(found if len(found) <= MOST else [*found[: MOST - 1], found[-1]])


def _otherwise(kept: tuple[EarlierSave, ...], now: House) -> Iterator[Save]:
    """A copy that no longer reads is passed over."""
    worn = worn_by(now)
    for saved in kept:
        try:
            house = saved.house()
        except HouseFileError:
            continue
        if (then := worn_by(house)) != worn:
            worn = then
            yield Save(saved.when.astimezone(), house)


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
