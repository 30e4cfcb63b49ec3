"""Two wall paints that meet where there is nowhere to stop."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from housemap.checks.changes import repaint
from housemap.checks.examples import two_rooms
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Change, Check, Example, Scope
from housemap.checks.words import both, room_name
from housemap.model.edits import put
from housemap.model.house import House
from housemap.plan.house_graph import graph_of
from housemap.study import SeenPair, Study


def nowhere_to_stop(pair: SeenPair, scope: Scope) -> Iterator[Finding]:
    del scope
    if pair.walls is None or pair.walls[0].swatch.id == pair.walls[1].swatch.id:
        return
    if any(opening.kind == "open" and not opening.stop for opening in pair.openings.values()):
        yield Finding(
            check="stop", severity="fault", places=tuple(map(Place.of, pair.walls)), kind="open"
        )


def tell(finding: Finding, house: House) -> str:
    return f"{both(house, finding)} meet in open plan with no corner or trim to stop at"


def changes(finding: Finding, study: Study) -> Iterator[Change]:
    """One paint through, or a place to stop made where the rooms meet."""
    yield from repaint(finding, study)
    rooms = " and ".join(room_name(study.house, room) for room in finding.rooms)
    yield Change(f"Give {rooms} a corner or trim to stop at", partial(_add_stop, finding), 0.0)


def _add_stop(finding: Finding, house: House) -> House:
    for opening_id, opening in graph_of(house).openings_between(*finding.rooms).items():
        if opening.kind == "open":
            house = put(house, "openings", opening_id, replace(opening, stop=True))
    return house


CHECK = Check(
    id="stop",
    title="Nowhere to stop",
    help=(
        "Two wall paints meet at an open-plan opening that has no corner, trim or other line where"
        " one can end and the next begin. Use one paint through, or make a stop: a bead, a"
        " pilaster, a change of plane (common practice)."
    ),
    limits=(),
    clean=Example(
        "Two wall paints with a cased opening between them.",
        two_rooms("5Y 8/1", "5Y 7/1", "cased"),
    ),
    caught=Example("The same two paints in open plan.", two_rooms("5Y 8/1", "5Y 7/1", "open")),
    tell=tell,
    changes=changes,
    of_pair=nowhere_to_stop,
)
