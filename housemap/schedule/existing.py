"""What is on the walls now: as noted room by room, as in another house file, or in an old save."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from os import PathLike
from pathlib import Path
from typing import NamedTuple

from housemap.errors import InputError, Problem
from housemap.file.earlier_saves import houses_before
from housemap.model.house import (
    SURFACES,
    ColourSource,
    Condition,
    Ground,
    House,
    Paint,
    State,
    SurfacePaints,
)
from housemap.model.takeoff import surface_of
from housemap.study import Study, Swatch, study_of

_FOUND = "found-"
"""Begins the id of a colour that is noted in a room and is no paint of the house."""
MOST = 3
"""Offered of all saves: the newest ones and the oldest, which most often is the house as found."""


class Before(NamedTuple):
    house: House
    source: str
    """Where that is known from, as in "as-found.toml"."""


class Existing(NamedTuple):
    swatch: Swatch | None = None
    """The colour on it; None where it is bare or not known."""
    ground: Ground | None = None
    """None where nobody noted it."""
    condition: Condition | None = None


UNKNOWN = Existing()


def colour_name(swatch: Swatch) -> str:
    """The name of a paint; of a colour that was only noted, what it looks like (ISCC-NBS)."""
    if swatch.id.startswith(_FOUND):
        return swatch.colour.undertone.words
    return swatch.name


@dataclass(frozen=True)
class ExistingCoats:
    """What is on every surface of a house now, as far as anybody knows."""

    states: Mapping[tuple[str, str], State] = field(default_factory=dict)
    """By room and surface, or part."""
    study: Study | None = None
    """Of the house in the colours that it has now."""

    def on(self, room: str, surface: str) -> Existing:
        """What is noted of the surface or part; of an accent wall, what is noted of the walls."""
        key = "walls" if surface.startswith("accent") else surface.removeprefix("part ")
        state, swatch = self.states.get((room, key)), None
        if state is None:
            swatch = self._worn(room, surface)
            return Existing(swatch, "painted") if swatch else UNKNOWN
        if self.study and (state.paint or state.colour):
            swatch = self.study.paint(state.paint or _found_id(room, key))
        elif state.ground == "painted":
            swatch = self._worn(room, surface)
        return Existing(swatch, state.ground, state.condition)

    @property
    def known(self) -> bool:
        return self.study is not None

    def _worn(self, room: str, surface: str) -> Swatch | None:
        """Of the house as it was painted before."""
        if self.study is None or room not in self.study.rooms or surface.startswith("part"):
            return None
        painted = self.study.rooms[room]
        coat = painted.coat_on(surface) or painted.coat_on(surface_of(surface))
        return coat.swatch if coat else None


def _found_id(room: str, surface: str) -> str:
    return f"{_FOUND}{room}-{surface}"


def existing_coats(house: House, before: Before | None) -> ExistingCoats:
    """By the states noted in the house, else by `before`. InputError for an impossible colour."""
    states = {
        (key, surface): state
        for key, room in house.rooms.items()
        for surface, state in room.states.items()
    }
    found = as_found(house, before.house if before else None)
    if found is None:
        return ExistingCoats(states)
    try:
        return ExistingCoats(states, study_of(found))
    except InputError as error:
        problems = [_where_noted(problem, states, before) for problem in error.problems]
        raise InputError(problems) from error


def _where_noted(
    problem: Problem, states: Mapping[tuple[str, str], State], before: Before | None
) -> Problem:
    """The problem at the state that gives the colour, else in the house before."""
    for room, surface in states:
        paint = f'paint "{_found_id(room, surface)}"'
        if problem.text.startswith(paint):
            text = problem.text.replace(paint, f'room "{room}", state "{surface}"', 1)
            return problem._replace(text=text, path=("room", room, "state", surface))
    return problem._replace(file=problem.file or (before.source if before else ""))


def as_found(house: House, before: House | None = None) -> House | None:
    """The house in the colours noted in it, else in `before`; None where nothing is known."""
    bare = {
        key: replace(room, paints=SurfacePaints(), accents={}) for key, room in house.rooms.items()
    }
    found = before or replace(house, rooms=bare)
    paints, rooms = dict(found.paints), dict(found.rooms)
    for key, room in house.rooms.items():
        for surface, state in room.states.items():
            paint = _paint_of(state, house, paints, _found_id(key, surface))
            if paint and key in rooms and surface in SURFACES:
                worn = replace(rooms[key].paints, **{surface: paint})
                accents = {} if surface == "walls" else rooms[key].accents
                rooms[key] = replace(rooms[key], paints=worn, accents=accents)
    worn_at_all = any(room.accents or [*room.paints.chosen()] for room in rooms.values())
    known = worn_at_all or len(paints) > len(found.paints)
    return replace(found, paints=paints, rooms=rooms) if known else None


def _paint_of(state: State, house: House, paints: dict[str, Paint], key: str) -> str | None:
    """The id of the paint that a state names, put among the paints where it is not there yet."""
    if state.paint:
        paints.setdefault(state.paint, house.paints[state.paint])
        return state.paint
    if state.colour:
        paints[key] = Paint("the colour there now", state.colour)
        return key
    return None


class Save(NamedTuple):
    when: datetime
    """Where the user is."""
    house: House

    @property
    def before(self) -> Before:
        return Before(self.house, f"the save of {self.when:%-d %B %Y, %H:%M}")


def names_of(saves: Sequence[Save]) -> tuple[str, ...]:
    """As short as parts them: as in "2 May 2026", or of one day "2 May 09:00"."""
    days = {save.when.date() for save in saves}
    form = "%-d %b %Y" if len(days) == len(saves) else "%-d %b %H:%M"
    return tuple(format(save.when, form) for save in saves)


def saves_before(folder: Path, file: str | PathLike[str], now: House) -> tuple[Save, ...]:
    """The saves kept in `folder` that differ in colours from the one after, the newest first."""
    found, worn = [], worn_by(now)
    for when, house in houses_before(folder, file):
        if (then := worn_by(house)) != worn:
            worn = then
            found.append(Save(when.astimezone(), house))
    return tuple(found if len(found) <= MOST else [*found[: MOST - 1], found[-1]])


def worn_by(house: House) -> Mapping[tuple[str, str], ColourSource]:
    """The colour of every surface of every room, whatever its paint is called."""
    found = {}
    for key, room in house.rooms.items():
        worn = {f"accent {wall}": accent.paint for wall, accent in room.accents.items()}
        for surface, paint in (*room.paints.chosen(), *worn.items()):
            found[key, surface] = house.paints[paint].colour
    return found
