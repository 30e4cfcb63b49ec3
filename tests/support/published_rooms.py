"""The published plans of tests/plan/data as placed rooms, so that sight can be tried on them."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from housemap.model.house import House, Opening, Point, Room
from housemap.plan.floor_plan import PlacedOpening, PlacedRoom, Plan
from housemap.plan.free_space import Space, space_of

DATA = Path(__file__).parents[1] / "plan" / "data"


def published(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((DATA / f"{name}.json").read_text("utf-8"))
    return found


def space_from(
    outlines: Mapping[str, list[list[float]]], doors: Mapping[str, list[list[float]]]
) -> Space:
    """The space of rooms given by their corners, and of doors by the corners of their depth."""
    rooms = {key: _placed(corners) for key, corners in outlines.items()}
    openings = {key: _door(corners, outlines) for key, corners in doors.items()}
    house = House(
        rooms={key: Room(key) for key in rooms},
        openings={key: opening for key, (opening, _) in openings.items()},
    )
    plan = Plan(
        rooms=rooms,
        openings={key: placed for key, (_, placed) in openings.items()},
        closing_error_m=0.0,
        closings=(),
        unplaced=(),
        overlaps=(),
        unmet=(),
    )
    return space_of(house, plan)


def _placed(corners: list[list[float]]) -> PlacedRoom:
    return PlacedRoom(0, (0.0, 0.0), _ring(corners), measured=True, sized=True)


def _ring(corners: list[list[float]]) -> tuple[Point, ...]:
    """Counter-clockwise, wherever the published corners run."""
    ring = tuple((float(x), float(y)) for x, y in corners)
    area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))
    return ring if area >= 0 else ring[::-1]


def _door(
    corners: list[list[float]], outlines: Mapping[str, list[list[float]]]
) -> tuple[Opening, PlacedOpening]:
    """The two opposite sides that lie in the walls of two rooms are its mouths."""
    p, q, r, s = _ring(corners)
    for near, far in (((q, r), (p, s)), ((p, q), (s, r))):
        for a, room in outlines.items():
            for b, other in outlines.items():
                if a != b and _touches(near, room) and _touches(far, other):
                    return Opening((a, b), "cased"), PlacedOpening(near, far, measured=True)
    raise AssertionError(corners)


def _touches(side: tuple[Point, Point], corners: list[list[float]]) -> bool:
    """Whether it has a length and both ends lie on one straight side of the room."""
    ring = _ring(corners)
    return side[0] != side[1] and any(
        all(
            abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) < 1e-9
            and min(a[0], b[0]) - 1e-9 <= p[0] <= max(a[0], b[0]) + 1e-9
            and min(a[1], b[1]) - 1e-9 <= p[1] <= max(a[1], b[1]) + 1e-9
            for p in side
        )
        for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
    )
