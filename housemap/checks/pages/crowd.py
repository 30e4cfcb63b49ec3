"""Too many colours from one standing point."""

from collections.abc import Iterator

from housemap.checks.changes import repaint
from housemap.checks.examples import crowded_hall
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import paint_name, room_name
from housemap.model.house import House
from housemap.study import Coat, View


def crowded(view: View, scope: Scope) -> Iterator[Finding]:
    """The standing point from which most colours are seen, where they are too many."""
    walls = {room.id: room.coats["walls"] for room in view.rooms if "walls" in room.coats}
    seen_at_once = (_distinct(walls, {view.room.id, *s}, scope) for s in _together(view, scope))
    most = max(seen_at_once, key=len, default=())
    if len(most) > scope.limits["colours"]:
        yield Finding(
            check="crowd",
            severity="warn",
            places=tuple(map(Place.of, most)),
            kind="colours",
            value=float(len(most)),
            limit=scope.limits["colours"],
            unit="colours",
        )


def _together(view: View, scope: Scope) -> Iterator[frozenset[str]]:
    """The rooms seen at once; where measures are missing, all that are seen."""
    sight = scope.study.sight.rooms.get(view.room.id)
    if sight is None:
        yield frozenset(seen.room.id for seen in view.seen)
        return
    unmeasured = {s.room.id for s in view.seen if s.room.id not in scope.study.sight.rooms}
    yield frozenset(unmeasured)
    for together in sight.views.together:
        yield together.rooms | unmeasured


def _distinct(walls: dict[str, Coat], rooms: set[str], scope: Scope) -> tuple[Coat, ...]:
    """One coat of each colour that stands apart from those before it, the eye's own room first."""
    chosen: list[Coat] = []
    for room, coat in walls.items():
        if room in rooms and all(_apart(coat, other, scope) for other in chosen):
            chosen.append(coat)
    return tuple(chosen)


def _apart(coat: Coat, other: Coat, scope: Scope) -> bool:
    return scope.difference(coat, other).ucs >= scope.limits["apart"]


def tell(finding: Finding, house: House) -> str:
    first = finding.places[0]
    colours = ", ".join(paint_name(house, place) for place in finding.places)
    others = ", ".join(room_name(house, place.room) for place in finding.places[1:])
    return (
        f"From one place in {room_name(house, first.room)} one sees {len(finding.places)} wall"
        f" colours, above {finding.limit:g}: {colours} (looking into {others})"
    )


CHECK = Check(
    id="crowd",
    title="Too many colours at once",
    help=(
        "From one standing point more wall colours are in view than an eye takes as one scheme."
        " Colours closer than 5 CAM16-UCS units count once. Standing points lie on a grid of"
        " 0.25 m; where measures are missing, all that a room sees counts as seen at once."
    ),
    limits=(
        Limit("colours", 4.0, "colours", "common practice: a view holds together up to four"),
        Limit("apart", 5.0, "CAM16-UCS", "our assumption: nearer, two walls pass for one colour"),
    ),
    clean=Example("A hall that opens into five rooms of two colours.", crowded_hall(2)),
    caught=Example("The same hall with every room in a colour of its own.", crowded_hall(5)),
    tell=tell,
    changes=repaint,
    judged="in depth",
    of_view=crowded,
)
