"""Schemes of one house beside each other: findings, colours in proportion, changes."""

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple, TypeVar

import numpy as np

from housemap.checks import Report
from housemap.choose.schemes.shape import DISTINCT
from housemap.colorimetry.difference import ucs_parts
from housemap.model.edits import take_scheme
from housemap.model.house import House
from housemap.model.text import counted
from housemap.study import Study, Swatch

AS_IT_IS = "as it is"
TRULY = 0.25
"""Of the walls to be painted: what differs on less is no other choice (our assumption)."""


class Changed(NamedTuple):
    """A surface that has another paint."""

    room: str
    surface: str
    """As `Room.painted` names it."""
    now: str | None
    then: str | None
    """Ids of paints; None for none."""


@dataclass(frozen=True, eq=False)
class Compared:
    """The house in one of its schemes."""

    key: str | None
    """None for the house as it is."""
    name: str
    report: Report
    """Of the house so painted."""
    changed: int
    """Surfaces that have another paint in the house as it is."""

    @property
    def shares(self) -> Mapping[str, float]:
        """Of the wall area by wall paint, largest first."""
        rooms = self.report.house.rooms.items()
        return wall_shares(self.report.study, {k: r.paints.walls for k, r in rooms})


def compared(report: Report) -> tuple[Compared, ...]:
    """The house of the report as it is, then in each of its schemes."""
    house, made = report.house, [Compared(None, AS_IT_IS, report, 0)]
    for key, scheme in house.schemes.items():
        after = take_scheme(house, key)
        changed = len([*changes(house, after)])
        made.append(Compared(key, scheme.name, report.after(after), changed))
    return tuple(made)


def changes(before: House, after: House) -> Iterator[Changed]:
    """Surfaces with another paint, room by room."""
    for key, room in before.rooms.items():
        now, then = dict(room.painted()), dict(after.rooms[key].painted())
        for surface in {**now, **then}:
            if now.get(surface) != then.get(surface):
                yield Changed(key, surface, now.get(surface), then.get(surface))


Of = TypeVar("Of", bound=Hashable)


def wall_shares(study: Study, walls: Mapping[str, Of | None]) -> dict[Of, float]:
    """Of the wall area by what each room is given, such as its paint; the largest share first.

    Every room counts alike where one of them is not measured.
    """
    painted = {room: paint for room, paint in walls.items() if paint is not None}
    areas = [each.wall_net_m2 if each else None for each in (study.rooms[r].areas for r in painted)]
    known = [area for area in areas if area is not None]
    weights = known if len(known) == len(areas) and sum(known) > 0 else [1.0] * len(areas)
    shares: dict[Of, float] = {}
    for paint, weight in zip(painted.values(), weights, strict=True):
        shares[paint] = shares.get(paint, 0.0) + weight / sum(weights)
    return dict(sorted(shares.items(), key=lambda each: -each[1]))


def truly_differ(
    study: Study, walls: Mapping[str, Swatch], others: Iterable[Mapping[str, Swatch]]
) -> bool:
    """Whether walls have other colours than each of the choices before, on enough of their area."""
    for other in others:
        ucs = [
            np.array([own[r].colour.ucs for r in walls]).reshape(-1, 3) for own in (walls, other)
        ]
        differ = (ucs_parts(*ucs)[0] >= DISTINCT).tolist()
        if wall_shares(study, dict(zip(walls, differ, strict=True))).get(True, 0.0) < TRULY:
            return False
    return True


def too_few(count: int, asked: int, what: str) -> str:
    """What to say where fewer choices than asked for truly differ; empty where none is missing."""
    if count >= asked:
        return ""
    return f"Only {counted(count, what)}: no other differs clearly on a quarter of the walls."
