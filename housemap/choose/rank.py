"""Paints of the house, or of a deck, for one surface of a room, best first by what they cost.

Paints of a deck are judged as if they were taken into the house, and none of them is taken yet.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from housemap.checks import Report, check_of
from housemap.checks.options import PaintOptions, own_options
from housemap.choose.chips import Chips
from housemap.choose.schemes.house_rules import off_scheme
from housemap.choose.surface_trial import ROUND_OFF, Candidate, SurfaceTrial, best_of, wishes_on
from housemap.colorimetry.arrays import Indices
from housemap.errors import EditError
from housemap.model.edits import paint_on
from housemap.model.fieldtypes import unknown_id
from housemap.model.geometry import COMPASS, walls
from housemap.model.house import House, Paint


def check_place(house: House, room: str, surface: str) -> None:
    """Raises EditError for a room, or a wall of it ("accent" and its key), that is not there."""
    if room not in house.rooms:
        raise EditError(unknown_id("room", room, house.rooms))
    kind, _, wall = surface.partition(" ")
    keys = tuple(each.key for each in walls(house.rooms[room])) or COMPASS
    if kind == "accent" and wall not in keys:
        raise EditError(f'room "{room}" has no wall "{wall}"; its walls are {", ".join(keys)}')


def rank(report: Report, room: str, surface: str) -> tuple[Candidate, ...]:
    """Every paint of the house on the surface, best first (see `order`).

    Raises EditError as `check_place`.
    """
    check_place(report.house, room, surface)
    return tuple(sorted(candidates(report, room, surface), key=order))


def candidates(report: Report, room: str, surface: str) -> list[Candidate]:
    """What each paint of the house would do on the surface ("accent" and a wall too)."""
    paints = list(report.house.paints)
    if not paints:
        return []
    options = own_options([report.study.paint(paint) for paint in paints])
    found = SurfaceTrial(report, room, surface).effects(options, deep=report.deep is not None)
    return [found.row(row, paint) for row, paint in enumerate(paints)]


def bared(report: Report, room: str, surface: str) -> Candidate:
    """What the surface would do without paint."""
    return in_place(report.after(paint_on(report.house, room, surface, None)), room, surface)


def in_place(report: Report, room: str, surface: str = "walls") -> Candidate:
    """What a room costs as it is, and what the paint on a surface breaks of wishes and scheme."""
    parts: dict[str, float] = {}
    for finding in report.by_room.get(room, ()):
        if check_of(finding.check).wish:
            continue
        parts[finding.check] = parts.get(finding.check, 0.0) + finding.cost
    coat = report.study.rooms[room].coat_on(surface)
    if coat is None:
        return Candidate(None, parts, len(report.findings), None)
    alone = own_options([coat.swatch])
    wishes = wishes_on(report.house, room, surface, alone.colours)
    scheme = off_scheme(report.study, room, surface, alone)
    broken, off = float(wishes[0]), float(scheme[0])
    return Candidate(coat.swatch.id, parts, len(report.findings), None, broken, off)


def order(one: Candidate) -> tuple[float, int, float, str]:
    """What candidates are sorted by, best first: cost, then fewer findings, then harmony."""
    pleasing = -(one.harmony or 0.0)
    return round(one.cost, ROUND_OFF), one.findings_after, pleasing, one.paint or ""


# Paints of a deck

MOST = 120
"""Paints that are listed."""
_NOT_OF_THE_HOUSE = "+"
"""Before the id of a paint that is yet to be taken: no id of a house begins so."""


class DeckRanking(NamedTuple):
    """The best paints, best first."""

    best: tuple[Candidate, ...]
    """Their `paint` is the id in the deck."""
    of: int
    """Paints of the deck."""
    lit: bool
    """Whether all lights were looked at."""

    @property
    def summary(self) -> str:
        """What was done."""
        light = "in every light" if self.lit else "under the reference light"
        if len(self.best) == self.of:
            return f"all {self.of} paints weighed {light}"
        return f"the best {len(self.best)} of {self.of:,} paints, all weighed {light}"


@dataclass(frozen=True, slots=True, eq=False)
class Weighing:
    """Rows of a deck in the order of what they cost on a surface."""

    order: Indices
    """The best first; what is not among them by what it costs at least."""
    best: Mapping[int, Candidate]
    """By row, what the best of them do."""
    at_least: Mapping[int, float]
    """By row, what the others cost at least."""


def rank_deck(report: Report, room: str, surface: str, chips: Chips, deck: str) -> DeckRanking:
    """What the best paints of a deck would do on the surface; none of the others is better.

    Raises EditError as `check_place`.
    """
    check_place(report.house, room, surface)
    options = options_of(report.house, chips, deck)
    found, effects, _ = best_of(SurfaceTrial(report, room, surface), options, MOST)
    best = (effects.row(place, chips.swatches[row].id) for place, row in enumerate(found.tolist()))
    return DeckRanking(tuple(best), len(chips), lit=report.deep is not None)


def weigh(trial: SurfaceTrial, options: PaintOptions, rows: Indices) -> Weighing:
    """Some rows of the options on a surface."""
    if not len(rows):
        return Weighing(rows, {}, {})
    found, effects, costs = best_of(trial, options.rows(rows), MOST)
    best = {
        row: effects.row(place, options.swatches[row].id)
        for place, row in enumerate(rows[found].tolist())
    }
    order = np.argsort(costs, kind="stable")
    others = order[~np.isin(order, found)]
    at_least = zip(rows[others].tolist(), costs[others].tolist(), strict=True)
    return Weighing(rows[np.concatenate([found, others])], best, dict(at_least))


def options_of(house: House, chips: Chips, deck: str) -> PaintOptions:
    """Every chip as `taking.take` would take it: an equal paint of the house is that paint."""
    own = _own(house, chips, deck)
    ids = np.char.add(_NOT_OF_THE_HOUSE, chips.colours.ids)
    ids = ids.astype(np.result_type(ids, *(np.array(id_) for id_ in own.values())))
    for row, id_ in own.items():
        ids[row] = id_
    foreign = np.ones(len(chips), dtype=np.bool_)
    foreign[list(own)] = False
    limit = check_of("label").limits_in(house)["lrv"]
    findings = (chips.printed_off > limit).astype(np.intp) + ~chips.in_srgb
    return PaintOptions(
        chips.swatches, replace(chips.colours, ids=ids), foreign, findings * foreign
    )


def _own(house: House, chips: Chips, deck: str) -> dict[int, str]:
    """By row, the id of the equal paint that the house has."""
    known = {paint: id_ for id_, paint in reversed([*house.paints.items()])}
    names = {paint.name for paint in known}
    found: dict[int, str] = {}
    for row, swatch in enumerate(chips.swatches):
        if swatch.entity.name in names:
            assert isinstance(swatch.entity, Paint)
            own = known.get(replace(swatch.entity, deck=swatch.entity.deck or deck))
            if own is not None:
                found[row] = own
    return found
