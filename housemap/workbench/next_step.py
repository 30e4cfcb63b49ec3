"""Where a house stands on its way to a painter's schedule, and what comes next."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from housemap.model.geometry import is_measured
from housemap.model.house import House
from housemap.model.text import counted
from housemap.model.wishes import rooms_to_paint
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.checks import Report


class NextStep(NamedTuple):
    """One line of advice, and the command that follows it."""

    text: str
    """Where the house stands; the key of the command says how to go on."""
    command: str
    """The id of a command of the screen."""
    done: bool = False
    """There is no step left: the text says so."""
    where: str = ""
    """What the text goes on with where there is room."""


def next_step(session: Session) -> NextStep:
    """What the decided house lacks first; reports are used as far as they are there."""
    return next(_steps(session))


def _steps(session: Session) -> Iterator[NextStep]:
    house = session.house
    if not house.rooms:
        yield NextStep("write down the first room", "new")
    to_survey = [*_to_survey(house)]
    if not any(room.paints.walls for room in house.rooms.values()):
        yield from to_survey
    if not house.paints:
        yield NextStep("add paints from a deck", "decks")
    if session.base and session.base_is_current:
        yield from _found(session, session.base)
    to_paint = {key: room.paints for key, room in rooms_to_paint(house).items()}
    if bare := [key for key, paints in to_paint.items() if paints.walls is None]:
        here = session.selection.room in bare
        unpainted = f"go to {_names(house, bare)}: no wall paint yet"
        yield NextStep("choose wall paint here", "open") if here else NextStep(unpainted, "search")
    written = session.written if session.written and session.written.house == house else None
    if to_see := session.samples_to_see:
        left = f"{counted(len({each.paint for each in to_see}), 'sample')} still to approve"
        up = {each.paint for each in to_see if each.tried != "untried"}
        new = dict.fromkeys(house.paints[e.paint].name for e in to_see if e.paint not in up)
        put_up = f"put up samples of {_some([*new], 'paint')}" if new else left
        yield NextStep(left if written else put_up, "samples")
    yield from to_survey  # the schedule counts litres of measured rooms alone
    # Doors may be left as they are: not every room has its own.
    if open_rooms := [k for k, paints in to_paint.items() if None in (paints.ceiling, paints.trim)]:
        names = _names(house, open_rooms)
        yield NextStep(f"choose ceiling and trim of {names}: find alike", "find")
    if written:
        text = f"Nothing left to do: the papers of {written.on:%-d %B} are current."
        yield NextStep(text, "schedule", done=True)
    yield NextStep("write the painter's schedule", "schedule")


def _to_survey(house: House) -> Iterator[NextStep]:
    """Rooms without measures, then those that nothing joins to another room."""
    indoors = {key: room for key, room in house.rooms.items() if room.use != "outdoor"}
    joined = {key for each in house.openings.values() for key in each.between}
    joined |= {key for each in house.sightlines.values() for key in each.between}
    if unmeasured := _names(house, [k for k, room in indoors.items() if not is_measured(room)]):
        yield NextStep(f"measure {unmeasured}", "new")
    if len(indoors) > 1 and (apart := _names(house, [key for key in indoors if key not in joined])):
        yield NextStep(f"join {apart} to another room by a door or an opening", "new")


def _found(session: Session, report: "Report") -> Iterator[NextStep]:
    """What is serious, then what had its sample rejected, in the selected room first."""
    if serious := report.tally.serious:
        count = counted(serious, "serious finding")
        where = _names(session.house, report.causes[0].rooms[:1])
        more = f", first in {where}" if where else ""
        yield NextStep(f"look at {count}", "findings", where=more)
    rejected = [cause for cause in report.causes if cause.check == "rejected"]
    places = [place for cause in rejected for each in cause.findings for place in each.places]
    for place in sorted(places, key=lambda place: place.room != session.selection.room):
        surface, _, _ = place.surface.partition(" ")
        what = f"{_names(session.house, [place.room])} {surface}"
        again = NextStep(f"choose another paint for the {what}: sample rejected", "samples")
        there = NextStep(f"go to the {what}: its sample was rejected", "search")
        yield again if place.room == session.selection.room else there


def _names(house: House, rooms: Sequence[str]) -> str:
    return _some([house.rooms[room].name for room in rooms], "room")


def _some(names: Sequence[str], what: str) -> str:
    """The first of some names, and how many more there are; empty where there are none."""
    if len(names) <= 1:
        return "".join(names)
    return f"{names[0]} and {counted(len(names) - 1, f'more {what}')}"
