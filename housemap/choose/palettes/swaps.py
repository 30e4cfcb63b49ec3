"""Paints of a whole deck in the place of a palette's colours: which would do better there."""

from collections.abc import Callable, Mapping, Sequence

from housemap.checks.options import own_options
from housemap.choose.deck.ranking import options_of
from housemap.choose.house_problem import filled
from housemap.choose.palettes.screened import Screened
from housemap.choose.sweep.group import GroupTrial
from housemap.model.house import Role

WORTH = 0.05
"""Of a cost: what a swap must save at least; costs are known nearer than that."""

Roles = frozenset[Role | None]


def better_swaps(
    screened: Screened,
    assignment: Mapping[str, str],
    earlier: Sequence[str],
    stopped: Callable[[], bool],
) -> Mapping[int, Roles]:
    """Rows of the deck that cost less in the place of a colour, with the roles of its rooms.

    All checks of the rooms and pairs are weighed, in every light. `earlier` are paints that
    others brought in, to which nothing may be like. Pinned paints, and those that kept rooms have
    too, stay. Once stopped nothing more is looked for.
    """
    source = screened.source
    report = screened.report.after(filled(screened.report.house, assignment))
    options = options_of(report.house, source.chips, source.deck)
    found: dict[int, Roles] = {}
    for paint, rooms in _groups(screened, assignment).items():
        roles = frozenset(report.house.rooms[room].role for room in rooms)
        rows = screened.suiting(roles, earlier)
        if len(rows) and not stopped():
            group = GroupTrial(report, rooms, "walls")
            now = group.costs(
                own_options([report.study.paint(paint)]), deep=report.deep is not None
            )
            best, costs = group.best(options.rows(rows))
            if costs[0] < now[0] - WORTH:
                found[int(rows[best[0]])] = roles
    return found


def _groups(screened: Screened, assignment: Mapping[str, str]) -> Mapping[str, tuple[str, ...]]:
    """The rooms of each paint that may be swapped."""
    house = screened.source.report.house
    stay = {room.paints.walls for key, room in house.rooms.items() if key not in assignment}
    groups: dict[str, tuple[str, ...]] = {}
    for room, paint in assignment.items():
        if paint not in {*screened.pinned, *stay}:
            groups[paint] = (*groups.get(paint, ()), room)
    return groups
