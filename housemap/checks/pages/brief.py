"""What the house has that the client asked not to have."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from housemap.checks.check import Check, Example, Listed, OfRoom, Scope
from housemap.checks.examples import one_room
from housemap.checks.finding import WARN, Finding, Place, excess_costs, plain_finding
from housemap.checks.meetings import Limits, Verdict, verdict
from housemap.checks.options import RoomOptions
from housemap.checks.wishes import broken_text, wish_cost
from housemap.checks.words import room_name, surface_name
from housemap.colorimetry.arrays import Floats
from housemap.model.house import Brief, House, Room, SurfacePaints
from housemap.model.wishes import Wishes
from housemap.study import PaintedRoom
from housemap.study.colours import Colours


class _Asked(NamedTuple):
    """One surface of a room, with what is asked of it."""

    surface: str
    wishes: Wishes
    colours: Colours
    """Of its paints: one, or one an option."""
    cost: Floats
    """Of wishes that each of them breaks."""


def not_as_wished(room: RoomOptions, limits: Limits) -> Verdict:
    del limits
    asked = [*_asked(room)]
    cost = sum((np.broadcast_to(each.cost, room.count) for each in asked), np.zeros(room.count))

    def broken(option: int) -> Iterator[tuple[_Asked, int]]:
        """What is broken with an option, and the row of its colour."""
        for each in asked:
            row = option if len(each.colours) > 1 else 0
            if each.cost[row]:
                yield each, row

    def places(row: int) -> tuple[Place, ...]:
        each = broken(int(made.cell[row]))
        return tuple(Place(room.part.id, a.surface, str(a.colours.ids[at])) for a, at in each)

    def words(option: int) -> tuple[str, ...]:
        each = broken(option)
        return tuple(broken_text(a.colours, at, a.wishes, "the client wants") for a, at in each)

    made = verdict(room, cost > 0.0, cost, 0.0, WARN, cost=lambda rows: cost[rows], words=words)
    return replace(made, places=places)


def _asked(room: RoomOptions) -> Iterator[_Asked]:
    walls, accents = room.part.wishes
    surfaces = {coat.surface for coat in room.part.accents}
    if room.surface.startswith("accent "):
        surfaces.add(room.surface)
    for surface in ("walls", *sorted(surfaces)):
        wishes = walls if surface == "walls" else accents
        if room.has(surface):
            colours = room.on(surface)
            yield _Asked(surface, wishes, colours, wish_cost(colours, wishes))


def too_many_colours(rooms: Mapping[str, PaintedRoom], scope: Scope) -> Iterator[Finding]:
    """Of the whole house; indoors alone."""
    asked = scope.study.house.brief.colours
    indoors = [room for room in rooms.values() if room.room.use != "outdoor"]
    used = {room.coats["walls"].swatch.id for room in indoors if "walls" in room.coats}
    if asked is not None and len(used) > asked:
        count, limit = float(len(used)), float(asked)
        cost = float(excess_costs(WARN, np.array(count), limit))
        yield Finding("brief", "warn", (), "colours", count, limit, "colours", cost=cost)


def kept_but_painted(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    """A kept room in other paints than are noted as there now."""
    del scope
    now = {surface: state.paint for surface, state in room.room.states.items() if state.paint}
    coats = room.coats.values() if room.is_kept else ()
    new = (coat for coat in coats if now.get(coat.surface, coat.swatch.id) != coat.swatch.id)
    places = tuple(map(Place.of, new))
    if places:
        yield plain_finding("brief", "warn", places, "kept")


def tell_brief(finding: Finding, house: House) -> str:
    if not finding.places:
        return (
            f"The house has {finding.value:.0f} wall colours;"
            f" the client wants up to {finding.limit:.0f}."
        )
    room = room_name(house, finding.places[0].room)
    surfaces = [surface_name(house, place.room, place.surface) for place in finding.places]
    if finding.kind == "kept":
        return f"{room} {', '.join(surfaces)}: new paint; the client keeps the room as it is."
    each = zip(surfaces, finding.words, strict=True)
    return f"{room} {'. '.join(f'{surface}: {words}' for surface, words in each)}."


def _asked_for(brief: Brief) -> House:
    room = Room("Cloakroom", paints=SurfacePaints(walls="marigold"))
    return replace(one_room(room, marigold="5Y 8/12"), brief=brief)


BRIEF = Check(
    id="brief",
    title="Not what the client asked for",
    help=(
        "A wall colour is stronger than the client wants, or of a hue that the client avoids. Or it"
        " is lighter or darker than asked for, or has none of the hues asked for that very room."
        " Or the house has more wall colours than asked for. Hues liked in the whole house decide"
        " nothing here."
        " A grey or white that only leans to a hue is not of that hue."
        " Accents have a strength of their own. Where only that of walls is stated, they may be"
        " moderate, or as strong as walls. Outdoors is left out. A room to keep is"
        " reported only where its paint is not the one noted as there now."
        " Strengths and hues are those of the ISCC-NBS system (NBS SP 440)."
    ),
    limits=(),
    clean=Example("A vivid yellow where the client wants one.", _asked_for(Brief("vivid"))),
    caught=Example("The same where greyish was asked for.", _asked_for(Brief("greyish"))),
    looks=(
        OfRoom(not_as_wished),
        Listed("houses", too_many_colours),
        Listed("rooms", kept_but_painted),
    ),
    sentence=tell_brief,
    headline="Not what the client asked for",
    advice="The client's wishes can be changed by ctrl+p, wishes.",
    caused_by="paint",
    wish=True,
)
