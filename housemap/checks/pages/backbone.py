"""A backbone colour that does not carry the light."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from housemap.checks.changes import repaints_of
from housemap.checks.costs import cost_of_values
from housemap.checks.examples import two_rooms, with_room
from housemap.checks.finding import Finding, Place
from housemap.checks.page import Change, Check, Example, Limit, Scope
from housemap.checks.words import number, place_name
from housemap.colorimetry.arrays import Floats
from housemap.model.house import House
from housemap.study import Coat, PaintedRoom, SeenPair, Study


def too_dark(room: PaintedRoom, scope: Scope) -> Iterator[Finding]:
    walls = room.coats.get("walls")
    if room.room.role == "backbone" and walls and walls.swatch.lrv < scope.limits["lrv"]:
        yield Finding(
            check="backbone",
            severity="warn",
            places=(Place.of(walls),),
            kind="lrv",
            value=walls.swatch.lrv,
            limit=scope.limits["lrv"],
            unit="LRV",
        )


def darker_than_linked(pair: SeenPair, scope: Scope) -> Iterator[Finding]:
    if not pair.openings or pair.walls is None:
        return
    first, second = pair.walls
    roles = pair.first.room.role, pair.second.room.role
    if (roles[0] == "backbone") == (roles[1] == "backbone"):
        return
    backbone, other = (first, second) if roles[0] == "backbone" else (second, first)
    yield from _darker(backbone, other, scope)


def _darker(backbone: Coat, other: Coat, scope: Scope) -> Iterator[Finding]:
    by = other.swatch.lrv - backbone.swatch.lrv
    if by > scope.limits["darker"]:
        yield Finding(
            check="backbone",
            severity="warn",
            places=(Place.of(backbone), Place.of(other)),
            kind="darker",
            value=by,
            limit=scope.limits["darker"],
            unit="LRV",
        )


def lrv_costs(lrv: Floats, limit: float) -> Floats:
    """What backbones of these LRVs cost, 0 where they are light enough."""
    return np.where(lrv < limit, cost_of_values("warn", lrv, limit), 0.0)


def darker_costs(by: Floats, limit: float) -> Floats:
    """What backbones so many LRV points darker than what they link cost."""
    return np.where(by > limit, cost_of_values("warn", by, limit), 0.0)


def tell(finding: Finding, house: House) -> str:
    backbone = place_name(house, finding.places[0])
    if finding.kind == "lrv":
        return f"{backbone} has LRV {number(finding.value)}, below {number(finding.limit)}"
    other = place_name(house, finding.places[1])
    return f"{backbone} is {number(finding.value)} LRV points darker than {other}, which it links"


def changes(finding: Finding, study: Study) -> Iterator[Change]:
    """Only the backbone is repainted: the room beyond may be as light as it likes."""
    return repaints_of(finding.places[0], study)


def _hall_as_backbone(house: House) -> House:
    return with_room(house, "hall", replace(house.rooms["hall"], role="backbone"))


CHECK = Check(
    id="backbone",
    title="Backbone too dark",
    help=(
        "The colour that links the house, in halls and open space, should keep light in it:"
        " an LRV of 60 to 70 is usual (common practice), 55 the least here, and no darker than"
        " the rooms it opens into. A printed LRV is used where it is within 3 points of the"
        " computed one."
    ),
    limits=(
        Limit("lrv", 55.0, "LRV", "common practice: 60 to 70 for a backbone, less a margin"),
        Limit("darker", 0.0, "LRV", "common practice"),
    ),
    clean=Example(
        "A hall of LRV 70 links a study of LRV 42.",
        _hall_as_backbone(two_rooms("5Y 8.7/1", "5Y 7/2")),
    ),
    caught=Example(
        "A hall of LRV 42 links a study of LRV 70.",
        _hall_as_backbone(two_rooms("5Y 7/2", "5Y 8.7/1")),
    ),
    tell=tell,
    changes=changes,
    of_room=too_dark,
    of_pair=darker_than_linked,
)
