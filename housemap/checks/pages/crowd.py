"""Too many colours from one standing point."""

from collections.abc import Callable, Iterable, Iterator, Sequence

import numpy as np

from housemap.checks.changes import repaint
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import crowded_hall
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Check, Example, Limit, Scope
from housemap.checks.words import paint_name, room_name
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House
from housemap.study import Study, View


def crowded(view: View, scope: Scope) -> Iterator[Finding]:
    """The standing point from which most colours are seen, where they are too many."""
    walls = {room.id: room.coats["walls"] for room in view.rooms if "walls" in room.coats}

    def apart(one: str, other: str) -> bool:
        return scope.difference(walls[one], walls[other]).ucs >= scope.limits["apart"]

    most = most_at_once([*walls], together(view, scope.study), apart)
    if len(most) > scope.limits["colours"]:
        yield Finding(
            check="crowd",
            severity="warn",
            places=tuple(Place.of(walls[room]) for room in most),
            kind="colours",
            value=float(len(most)),
            limit=scope.limits["colours"],
            unit="colours",
        )


def together(view: View, study: Study) -> Iterator[frozenset[str]]:
    """The rooms seen at once, the eye's own too; where measures are missing, all seen from it."""
    own, sight = view.room.id, study.sight.rooms.get(view.room.id)
    if sight is None:
        yield frozenset(room.id for room in view.rooms)
        return
    unmeasured = {s.room.id for s in view.seen if s.room.id not in study.sight.rooms}
    yield frozenset({own, *unmeasured})
    for seen in sight.views.together:
        yield seen.rooms | {own, *unmeasured}


def most_at_once(
    rooms: Sequence[str],
    seen_together: Iterable[frozenset[str]],
    apart: Callable[[str, str], bool],
) -> tuple[str, ...]:
    """The most rooms seen together whose wall colours stand apart, one of each colour."""
    return max((_distinct(rooms, seen, apart) for seen in seen_together), key=len, default=())


def _distinct(
    rooms: Sequence[str], seen: frozenset[str], apart: Callable[[str, str], bool]
) -> tuple[str, ...]:
    chosen: list[str] = []
    for room in rooms:
        if room in seen and all(apart(room, other) for other in chosen):
            chosen.append(room)
    return tuple(chosen)


def count_costs(colours: Floats, limit: float) -> Floats:
    """What so many colours at once cost, 0 up to the limit."""
    return np.where(colours > limit, cost_of_values("warn", colours, limit), 0.0)


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
