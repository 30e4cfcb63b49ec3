"""Which paints of a deck are worth weighing for a whole house: some for each role of a room.

Screening is quick and approximate: a fight of undertones with what stays is foretold from the
colours alone. Among those that promise best the calmest come first, accents apart, and of these
some are taken that are spread over their colours.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from housemap.checks import Report, check_of
from housemap.checks.pages.undertones import clash_strength
from housemap.choose.deck.chips import Chips
from housemap.choose.house_problem import TIERS
from housemap.colorimetry.arrays import Floats, Indices
from housemap.colorimetry.difference import hue_apart, plane_distance
from housemap.model.house import Role
from housemap.study import Coat, Swatch

SHORTLIST = 24
"""Paints of a role that are weighed against each other."""
POOL = 96
"""Of so many that promise best they are taken, and of all that promise as well."""


@dataclass(frozen=True, eq=False)
class Shortlist:
    """The chosen rows of a deck by role."""

    rows: Mapping[Role | None, Sequence[int]]
    fitting: Mapping[Role | None, int]
    """How many paints of the deck suit the role."""

    @property
    def told(self) -> str:
        """What was screened, in words."""
        parts = (
            f"{len(rows)} of {self.fitting[role]:,} {_NAMES[role]}"
            for role, rows in self.rows.items()
        )
        return ", ".join(parts)

    def joined(self, roles: Iterable[Role | None], row: int) -> "Shortlist":
        """With one more paint for some roles."""
        more = {role: (*self.rows[role], row) for role in roles if row not in self.rows[role]}
        return Shortlist({**self.rows, **more}, self.fitting)

    @cached_property
    def every(self) -> Sequence[int]:
        return list(dict.fromkeys(row for rows in self.rows.values() for row in rows))


_NAMES: Mapping[Role | None, str] = {
    "backbone": "for the backbone",
    "room": "for rooms",
    "accent": "for accents",
    None: "for rooms without a role",
}


def shortlist(
    report: Report, rooms: Iterable[str], chips: Chips, most: int = SHORTLIST
) -> Shortlist:
    """At most `most` rows of the deck for each role among the rooms.

    Where no paint of the deck suits a role, all of them do.
    """
    by_role: dict[Role | None, list[str]] = {}
    for room in rooms:
        by_role.setdefault(report.house.rooms[room].role, []).append(room)
    ucs = _ucs(chips.swatches)
    chosen: dict[Role | None, Sequence[int]] = {}
    fitting: dict[Role | None, int] = {}
    for role, keys in by_role.items():
        rows = of_role(role, chips)
        fitting[role] = len(rows)
        chosen[role] = _best(rows, _fights(report, keys, chips, rows), ucs, role, most)
    if None in chosen and len(chosen) > 1:
        chosen[None] = _shared(chosen, most)
    return Shortlist(chosen, fitting)


def _shared(chosen: Mapping[Role | None, Sequence[int]], most: int) -> Sequence[int]:
    """For rooms without a role, where others have one: some of their paints and some of each role,
    so that few paints can serve the whole house.
    """  # noqa: D205 - one sentence
    each = max(most // len(chosen), 1)
    return list(dict.fromkeys(row for rows in chosen.values() for row in rows[:each]))


def of_role(role: Role | None, chips: Chips) -> Indices:
    """Rows that suit a role; all where none does."""
    every = np.arange(len(chips))
    if role is None:
        return every
    tier = TIERS[role]
    rows = np.array([row for row in every if tier.holds(chips.swatches[row])], dtype=np.intp)
    return rows if len(rows) else every


def _best(
    rows: Indices, foretold: Floats, ucs: Floats, role: Role | None, most: int
) -> Sequence[int]:
    chroma = np.zeros(len(rows)) if role == "accent" else np.hypot(ucs[rows, 1], ucs[rows, 2])
    order = np.lexsort((chroma, foretold))
    pool = rows[order[:POOL]]
    if role == "accent" and len(rows) > POOL:
        pool = rows[foretold <= foretold[order[POOL - 1]]]
    return [int(pool[place]) for place in spread_rows(ucs[pool], most)] if len(pool) else []


def spread_rows(ucs: Floats, count: int) -> list[int]:
    """Rows spread over the colours (n, 3): each is the furthest from those before it."""
    rows = [int(((ucs - ucs.mean(0)) ** 2).sum(-1).argmin())]
    apart = _squared(ucs, rows[0])
    while len(rows) < min(count, len(ucs)):
        rows.append(int(apart.argmax()))
        apart = np.minimum(apart, _squared(ucs, rows[-1]))
    return rows


def _squared(ucs: Floats, row: int) -> Floats:
    return np.asarray(((ucs - ucs[row]) ** 2).sum(-1))


def _fights(report: Report, rooms: Iterable[str], chips: Chips, rows: Indices) -> Floats:
    """How often, and how strongly, each paint would fight with what stays in or near the rooms."""
    stays = [coat.swatch for room in rooms for coat in _staying(report, room)]
    swatches = [chips.swatches[row] for row in rows]
    if not stays or not swatches:
        return np.zeros(len(rows))
    limits = check_of("fixed").limits_in(report.house)
    paint, kept = _ucs(swatches)[:, None], _ucs(stays)
    strength = clash_strength(plane_distance(paint, kept), np.abs(paint[..., 0] - kept[..., 0]))
    fights = (hue_apart(paint, kept) > limits["hue"]) & (strength > limits["distance"])
    leaning = np.array([swatch.colour.near_neutral for swatch in swatches])
    return np.asarray((fights * (1.0 + strength / 10.0)).sum(axis=1) * leaning)


def _staying(report: Report, room: str) -> Iterable[Coat]:
    """The floor and the fixed finishes of the room and of those that it sees, if they lean."""
    most = check_of("fixed").limits_in(report.house)["chroma"]
    for seen in report.study.views[room].rooms:
        for coat in seen.stays:
            tone = coat.swatch.colour
            if tone.notation.chroma <= most and tone.undertone.family != "none":
                yield coat


def _ucs(swatches: Sequence[Swatch]) -> Floats:
    return np.array([swatch.colour.ucs for swatch in swatches]).reshape(-1, 3)
