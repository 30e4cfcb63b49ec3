"""The paints of a deck for one surface of a room, best first.

What is told of a weighed paint is exact: all findings of the house with it, in every light that
the report has. That takes milliseconds a paint without light and some 35 with it, so of a large
deck only a part is weighed, and which is approximate: first paints that are spread over its
colours, then, again and again, those that promise most by what is known of the weighed ones near
them. A better paint may be among the others. What was done is told.
"""

from dataclasses import dataclass

import numpy as np

from housemap.checks import Report
from housemap.choose.deck.chips import Chips
from housemap.choose.deck.taking import take
from housemap.choose.rank import Candidate, order, outcome
from housemap.colorimetry.arrays import Floats
from housemap.errors import EditError
from housemap.model.edits import paint_on
from housemap.model.house import Paint
from housemap.study import Swatch

SPREAD, ROUNDS, A_ROUND = 48, 3, 24
"""Paints weighed first; then so many rounds of so many."""
MOST = SPREAD + ROUNDS * A_ROUND
"""A deck of at most so many paints is weighed whole."""
NEIGHBOURS = 4
"""Weighed paints by which another one's cost is foretold."""


@dataclass(frozen=True, slots=True)
class FromDeck:
    """One paint of a deck on the surface."""

    id: str
    """In the deck."""
    paint: Paint
    candidate: Candidate
    """Its `paint` is the id that the paint has in the house of its report."""


@dataclass(frozen=True, slots=True)
class DeckRanking:
    """The weighed paints, best first."""

    best: tuple[FromDeck, ...]
    of: int
    """Paints of the deck."""

    @property
    def told(self) -> str:
        """What was done."""
        if len(self.best) == self.of:
            return f"all {self.of} paints weighed"
        return (
            f"{len(self.best)} of {self.of:,} paints weighed: {SPREAD} spread over the deck, then "
            f"{len(self.best) - SPREAD} like the best of them"
        )


@dataclass(frozen=True, slots=True)
class Place:
    """A surface of a house for which paints of a deck are weighed."""

    report: Report
    room: str
    surface: str
    deck: str

    def weigh(self, swatch: Swatch) -> FromDeck:
        """What a paint does there; the house is left as it is."""
        assert isinstance(swatch.entity, Paint)
        house, own_id = take(self.report.house, swatch.id, swatch.entity, self.deck)
        after = self.report.after(paint_on(house, self.room, self.surface, own_id))
        return FromDeck(swatch.id, swatch.entity, outcome(after, self.room, own_id))


def rank_deck(report: Report, room: str, surface: str, chips: Chips, deck: str) -> DeckRanking:
    """What paints of a deck would do on the surface.

    Raises EditError for a room that the house does not have.
    """
    if room not in report.house.rooms:
        raise EditError(f'there is no room "{room}"')
    place = Place(report, room, surface, deck)
    ucs = np.array([swatch.colour.ucs for swatch in chips.swatches]).reshape(-1, 3)
    found: dict[int, FromDeck] = {}
    rows = spread_rows(ucs, SPREAD) if len(chips) > MOST else [*range(len(chips))]
    while rows:
        found |= {row: place.weigh(chips.swatches[row]) for row in rows}
        enough = len(found) >= min(MOST, len(chips))
        costs = {row: one.candidate.cost for row, one in found.items()}
        rows = [] if enough else _promising(ucs, costs)
    best = sorted(found.values(), key=lambda one: (*order(one.candidate)[:3], one.id))
    return DeckRanking(tuple(best), len(chips))


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


def _promising(ucs: Floats, costs: dict[int, float]) -> list[int]:
    """The next rows to weigh: those with the least cost foretold, the nearest ones first."""
    rows = np.array(list(costs))
    apart = np.sqrt(((ucs[:, None, :] - ucs[rows]) ** 2).sum(-1))
    nearest = np.argsort(apart, axis=1)[:, :NEIGHBOURS]
    weight = 1.0 / (1.0 + np.take_along_axis(apart, nearest, axis=1))
    foretold = (weight * np.array(list(costs.values()))[nearest]).sum(1) / weight.sum(1)
    foretold[rows] = np.inf
    return [int(row) for row in np.lexsort((apart.min(1), foretold))[:A_ROUND]]
