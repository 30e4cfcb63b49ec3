"""The best paints of a deck for one surface of a room, none of them taken into the house yet."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from housemap.checks import Report, check_of
from housemap.checks.options import PaintOptions
from housemap.choose.deck.chips import Chips
from housemap.choose.rank import Candidate, check_place
from housemap.choose.sweep.effects import PaintEffect
from housemap.choose.sweep.trial import SurfaceTrial, best_of
from housemap.colorimetry.arrays import Indices
from housemap.model.house import House, Paint

MOST = 120
"""Paints that are told."""
_NOT_OF_THE_HOUSE = "+"
"""Before the id of a paint that is yet to be taken: no id of a house begins so."""


@dataclass(frozen=True, slots=True)
class DeckRanking:
    """The best paints, best first."""

    best: tuple[Candidate, ...]
    """Their `paint` is the id in the deck."""
    of: int
    """Paints of the deck."""
    lit: bool
    """Whether all lights were looked at."""

    @property
    def told(self) -> str:
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
    best: Mapping[int, PaintEffect]
    """By row, what the best of them do."""
    at_least: Mapping[int, float]
    """By row, what the others cost at least."""


def rank_deck(report: Report, room: str, surface: str, chips: Chips, deck: str) -> DeckRanking:
    """What the best paints of a deck would do on the surface; none of the others is better.

    Raises EditError as `check_place`.
    """
    check_place(report.house, room, surface)
    options = options_of(report.house, chips, deck)
    found = weigh(SurfaceTrial(report, room, surface), options, np.arange(len(chips)))
    ranked = (Candidate(chips.swatches[row].id, effect) for row, effect in found.best.items())
    return DeckRanking(tuple(ranked), len(chips), lit=report.deep is not None)


def weigh(trial: SurfaceTrial, options: PaintOptions, rows: Indices) -> Weighing:
    """Some rows of the options on a surface."""
    if not len(rows):
        return Weighing(rows, {}, {})
    found = best_of(trial, options.rows(rows), MOST)
    best = {int(rows[at]): found.effects.row(i) for i, at in enumerate(found.rows.tolist())}
    order = np.argsort(found.at_least, kind="stable")
    others = order[~np.isin(order, found.rows)]
    at_least = zip(rows[others].tolist(), found.at_least[others].tolist(), strict=True)
    return Weighing(rows[np.concatenate([found.rows, others])], best, dict(at_least))


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
