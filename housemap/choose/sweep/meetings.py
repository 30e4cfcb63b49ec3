"""Coats that meet the eye together, of one room or of two: near misses, undertones, steps.

Each meeting is judged under the reference light and by the eyes in both rooms under each light
that both have; the worst counts.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from housemap.checks import Severity, check_of
from housemap.checks.clash import clash_strength
from housemap.checks.pages import jar, near_miss, undertone
from housemap.choose.sweep.eyes import Looks, leaning, plain, seen_by
from housemap.choose.sweep.facing import Facing, Places
from housemap.choose.sweep.side import Side
from housemap.choose.sweep.tally import Tally
from housemap.colorimetry.arrays import Floats, Indices, Truths
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.difference import hue_apart, plane_distance, ucs_parts
from housemap.model.house import House
from housemap.plan.house_graph import SightKind

MEETINGS = ("near-miss", "undertone", "fixed")
"""The checks that look at coats that meet, within a room and between rooms."""
MOST_WEIGHT = 1.75
"""CIEDE2000 is at least delta L* over this: its weight of lightness is nowhere larger."""

Judged = tuple[Looks, Looks]
"""Both rooms' coats as one eye sees them."""


@dataclass(frozen=True, slots=True, eq=False)
class Fight:
    """Undertones as one eye sees them, of meetings that one check looks at."""

    places: Places
    looks: Judged
    strength: Floats
    found: Truths
    """Where they would fight, if both colours lean at all: (k,)."""

    @classmethod
    def of(cls, places: Places, looks: Judged, limits: Mapping[str, float]) -> "Fight":
        flat = places.flat(looks)
        one, other = (look.ucs.reshape(-1, 3)[at] for look, at in zip(looks, flat, strict=True))
        strength = clash_strength(plane_distance(one, other), np.abs(one[:, 0] - other[:, 0]))
        found = strength > limits["distance"]
        found[found] = hue_apart(one[found], other[found]) > limits["hue"]
        return cls(places, looks, strength, found)

    def asked(self, leans: tuple[Truths, Truths]) -> Iterator[tuple[Looks, Truths, Indices]]:
        """Colours of which must be known whether they lean."""
        for look, known, at in zip(self.looks, leans, self.places.flat(self.looks), strict=True):
            yield look, known, at[self.found]

    def costs(self, lean: tuple[Truths, Truths], severity: Severity) -> Floats:
        """(k,)"""
        costs = np.zeros(len(self.found))
        at = np.flatnonzero(self.found)[lean[0] & lean[1]]
        costs[at] = undertone.costs(self.strength[at], severity)
        return costs


def between_rooms(house: House, kind: SightKind, facing: Facing) -> Tally:
    """What meetings of two rooms that see each other cost: (n, m)."""
    first, second = facing.first, facing.second
    judged = [(plain(first.coats), facing.beside(plain(second.coats))), *_by_either_eye(facing)]
    tally = Tally(facing.shape)
    if "walls" in first.painted and "walls" in second.painted:
        tally.add("jar", _steps(judged, kind, check_of("jar").limits_in(house)))
    _add_meetings(tally, house, facing, judged, "fault" if kind == "open" else "warn")
    return tally


def within_room(house: House, side: Side) -> Tally:
    """What meetings within a room cost: (n, 1)."""
    looks = plain(side.coats), *side.looks.values()
    return _within(house, Facing(side, side, together=True), [(each, each) for each in looks])


def within_apart(house: House, side: Side, rest: Side) -> Tally:
    """Those of one surface with the rest of its room, under the reference light: (n, 1)."""
    facing = Facing(side, rest)
    return _within(house, facing, [(plain(side.coats), facing.beside(plain(rest.coats)))])


def _within(house: House, facing: Facing, judged: Sequence[Judged]) -> Tally:
    tally = Tally(facing.shape)
    _add_meetings(tally, house, facing, judged, "warn")
    return tally


def _by_either_eye(facing: Facing) -> Iterator[Judged]:
    first, second = facing.first, facing.second
    for name in first.sent.keys() & second.sent.keys():
        one, other = first.sent[name], second.sent[name]
        there, here = facing.lit_beside(other.xyz100), one.xyz100[:, :, np.newaxis]
        yield first.looks[name], seen_by(one.eye, there, axis=1)
        axis = 1 if facing.together else 0
        yield seen_by(other.eye, here, axis), facing.beside(second.looks[name])


def _steps(judged: Sequence[Judged], kind: SightKind, limits: Mapping[str, float]) -> Floats:
    """Of both rooms' walls, which are the first of their coats."""
    apart = (ucs_parts(one.ucs[0], other.ucs[0])[0] for one, other in judged)
    costs = (jar.step_costs(ucs, kind, limits) for ucs in apart)
    return np.asarray(np.maximum.reduce(np.broadcast_arrays(*costs)))


def _add_meetings(
    tally: Tally, house: House, facing: Facing, judged: Sequence[Judged], severity: Severity
) -> None:
    if not facing.first.surfaces or not facing.second.surfaces:
        return
    near, limits = facing.near(), check_of("near-miss").limits_in(house)
    _gather(tally, "near-miss", near, [_near(near, looks, limits) for looks in judged])
    limits, fixed = check_of("undertone").limits_in(house), check_of("fixed").limits_in(house)
    neutral, stays = facing.neutral(), facing.stays(fixed["chroma"])
    fights = [
        *(Fight.of(neutral, looks, limits) for looks in judged),
        *(Fight.of(stays, looks, fixed) for looks in judged),
    ]
    leans = facing.first.coats.leans, facing.second.coats.leans
    asked = iter(leaning([each for fight in fights for each in fight.asked(leans)]))
    lean = list(zip(asked, asked, strict=True))
    count = len(judged)
    of_neutrals = zip(fights[:count], lean[:count], strict=True)
    with_stays = zip(fights[count:], lean[count:], strict=True)
    _gather(tally, "undertone", neutral, [f.costs(each, severity) for f, each in of_neutrals])
    _gather(tally, "fixed", stays, [f.costs(each, "warn") for f, each in with_stays])


def _gather(tally: Tally, check: str, places: Places, costs: Sequence[Floats]) -> None:
    """The worst of each meeting's costs, summed for each pair of options."""
    worst = np.maximum.reduce(costs)
    cells, (n, m) = places.n * tally.shape[1] + places.m, tally.shape
    summed = np.asarray(np.bincount(cells, worst, n * m), dtype=np.float64)
    counted = np.bincount(cells[worst > 0.0], minlength=n * m)
    tally.add_counted(check, summed.reshape(n, m), counted.reshape(n, m))


def _near(places: Places, looks: Judged, limits: Mapping[str, float]) -> Floats:
    one, other = (
        look.lab100.reshape(-1, 3)[at] for look, at in zip(looks, places.flat(looks), strict=True)
    )
    costs = np.zeros(len(one))
    apart = np.abs(one[:, 0] - other[:, 0])
    close = np.flatnonzero(apart <= MOST_WEIGHT * limits["most"])
    costs[close] = near_miss.costs(ciede2000(one[close], other[close]), limits)
    return costs
