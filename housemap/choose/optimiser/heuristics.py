"""Heuristics: where good choices come from.

A greedy covering gives a first palette; choices are improved by changing one room at a time from
many starts (iterated local search; Lourenço, Martin & Stützle 2003), palettes by swaps. Every
choice that is offered exists: heuristics give upper bounds only.
"""

from collections.abc import Callable

import numpy as np

from housemap import errors
from housemap.choose.optimiser.bucket_elimination import Labels
from housemap.choose.optimiser.dual_decomposition import Relaxer
from housemap.choose.optimiser.elimination_order import Budget
from housemap.choose.optimiser.incumbent import Incumbent
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.lagrangian import IN, OPEN, OUT, NodeBatch
from housemap.choose.optimiser.palette_descent import Palettes
from housemap.choose.optimiser.problem import Array, Poll, tolerance


def covering(indexed: Indexed, ranking: Labels, poll: Poll) -> list[int] | None:
    """At most `cap` paints with which every room has a candidate; None if there are none.

    Rooms with the fewest candidates first, each trying the paints that serve most rooms, those
    at the head of the ranking first.
    """
    place = {paint: number for number, paint in enumerate(ranking.tolist())}
    return _cover(indexed.label >= 0, indexed.cap, place.__getitem__, poll)


def _cover(has: Mask, places: int, order: Callable[[int], int], poll: Poll) -> list[int] | None:
    """Paints, one from every row of `has` (room, paint), at most so many."""
    if not len(has):
        return []
    if places * int(has.sum(axis=0).max()) < len(has):
        return None
    room = has[int(has.sum(axis=1).argmin())]
    for paint in sorted(np.flatnonzero(room).tolist(), key=lambda p: (-has[:, p].sum(), order(p))):
        rest = _cover(has[~has[:, paint]], places - 1, order, poll)
        if rest is not None:
            return [paint, *rest]
        poll()
    return None


# Iterated local search

KICKS, MANY_KICKS = 40, 250
"""Starts in a row without a gain, before it ends; of a lifted problem many."""
KICKED, SEED = 4, 20
"""Rooms that get a paint by chance at each start."""


class LocalSearch:
    """Changes the room and label that gain most, as long as one gains; then from elsewhere.

    What it gains by may be a lifted problem: there one more paint is no hurdle of its own.
    """

    def __init__(self, incumbent: Incumbent, indexed: Indexed) -> None:
        self.incumbent, self.indexed = incumbent, indexed
        self.random = np.random.default_rng(SEED)
        self._near: list[list[tuple[int, Array]]] = [[] for _ in self.indexed.own]
        for (one, other), table in zip(self.indexed.edges, self.indexed.pairs, strict=True):
            self._near[one].append((other, table.T))
            self._near[other].append((one, table))

    def improve(self) -> None:
        """From the best that is known, again and again; every gain is offered."""
        if self.incumbent.labels is None:
            return
        lifted = bool(len(self.indexed.lifted))
        best, tries = self._descend(self.incumbent.labels.copy()), 0
        cost = self._offered(best)
        while tries < (MANY_KICKS if lifted else KICKS):
            kicked = self._replaced(best) if lifted and tries % 2 else self._kicked(best)
            labels = self._descend(kicked)
            now = self._offered(labels)
            tries = 0 if now < cost else tries + 1
            best, cost = (labels, now) if now < cost else (best, cost)

    def _offered(self, labels: Labels) -> float:
        """What a choice costs here."""
        self.incumbent.consider(labels)
        return float(self.indexed.lifted_costs(labels[None])[0])

    def _kicked(self, labels: Labels) -> Labels:
        kicked = labels.copy()
        for room in self.random.integers(len(labels), size=min(KICKED, len(labels))).tolist():
            place = self.random.integers(self.indexed.sizes[room])
            fresh = kicked.copy()
            fresh[room] = place
            if self.indexed.used(fresh[None]).sum() <= self.indexed.cap:
                kicked = fresh
        return kicked

    def _replaced(self, labels: Labels) -> Labels:
        """One paint in the place of another in every room that may have it."""
        rooms, paint = np.arange(len(labels)), self.indexed.paint
        now = paint[rooms, labels]
        old, new = self.random.choice(now), self.random.integers(len(self.indexed.paints))
        other = self.indexed.label[:, new]
        return np.where((now == old) & (other >= 0), other, labels)

    def _descend(self, labels: Labels) -> Labels:
        """To a choice that no single change betters, in place."""
        alone = self.indexed.own.copy()
        for room, label in enumerate(labels.tolist()):
            self._add(alone, room, label, 1.0)
        rooms = np.arange(len(labels))
        while True:
            self.incumbent.watch.poll()
            gains = change_costs(self.indexed, labels, alone)
            room, label = divmod(int(gains.argmin()), gains.shape[1])
            if gains[room, label] > -tolerance(float(np.abs(alone[rooms, labels]).max())):
                return labels
            self._add(alone, room, int(labels[room]), -1.0)
            self._add(alone, room, label, 1.0)
            labels[room] = label

    def _add(self, alone: Array, room: int, label: int, times: float) -> None:
        """What the neighbours of a room pay for its label."""
        for other, table in self._near[room]:
            alone[other, : len(table)] += times * table[:, label]


def change_costs(indexed: Indexed, labels: Labels, alone: Array) -> Array:
    """(n, m): what one change of a choice (n) costs; infinite beyond the cap.

    `alone` (n, m): each label's own cost and its pairs', the other rooms as they are.
    """
    rooms = np.arange(len(labels))
    old = indexed.paint[rooms, labels][:, None]
    uses = np.bincount(old[:, 0], minlength=len(indexed.paints))
    gone = (uses[old] == 1) & (indexed.paint != old)
    more = (uses[indexed.paint] == 0).astype(np.intp) - gone
    costs = alone - alone[rooms, labels][:, None] + indexed.paint_cost * more
    allowed = indexed.real & (np.count_nonzero(uses) + more <= indexed.cap)
    return np.where(allowed, costs, np.inf)


# Palettes that a search leans to

OFTEN_USED = 0.5
"""Share of selections that have a paint, for it to be part of a palette where paints cost."""
AT_FIRST = 160
"""Palettes tried before the first bounds."""
DOZEN = 12
"""Paints of a palette where nothing but their cost limits them."""
A_PALETTE = Budget(5_000_000, 500_000)
"""For the elimination over one palette; thousands are made."""


class PaletteHeuristic:
    """Each new palette that the nodes lean to is tried.

    One that is better than all before is improved by swaps, and so is the best of the 1st, 2nd,
    4th, 8th ... batch, whatever it costs: a descent from elsewhere may end lower.
    """

    def __init__(self, palettes: Palettes) -> None:
        self.palettes, self.incumbent = palettes, palettes.incumbent
        self._tried: set[frozenset[int]] = set()
        self._batches = 0

    def start(self, labels: Labels) -> None:
        """From what the rooms would choose freely."""
        ranking = by_use(self.palettes.indexed, labels)
        self.palettes.descend(palette_for(self.incumbent, ranking), ranking, AT_FIRST)

    def again(self, batch: NodeBatch) -> None:
        # Those in first, then the most used of the open ones, then those out.
        lean = np.where(batch.state == IN, 2.0, np.where(batch.state == OUT, -1.0, batch.usage))
        rankings = np.argsort(-lean, axis=1, kind="stable")
        palettes = self._leaning(batch, rankings)
        fresh = []
        for place, key in enumerate(map(frozenset, palettes.tolist())):
            if key not in self._tried:
                self._tried.add(key)
                fresh.append(place)
        if not fresh:
            return
        self._batches += 1
        before = self.incumbent.target
        costs = self.palettes.costs(palettes[fresh])
        if costs.min() < before or self._batches & (self._batches - 1) == 0:
            place = fresh[int(costs.argmin())]
            self.palettes.descend(palettes[place], rankings[place])

    def _leaning(self, batch: NodeBatch, rankings: Labels) -> Labels:
        """By node, the most used paints: as many as the cap, or those used most of the time."""
        indexed = self.palettes.indexed
        palettes = rankings[:, : indexed.cap]
        if not indexed.problem.paint_cost:
            return palettes
        often = (batch.state == IN) | ((batch.state == OPEN) & (batch.usage > OFTEN_USED))
        count = np.clip(often.sum(axis=1, keepdims=True), 1, min(indexed.cap, DOZEN))
        palettes = palettes[:, : count.max()]
        return np.where(np.arange(palettes.shape[1]) < count, palettes, palettes[:, :1])


def palette_heuristic(relaxer: Relaxer, incumbent: Incumbent) -> PaletteHeuristic | None:
    """If paints join the rooms, and palettes of the cap or a dozen make small enough tables."""
    if relaxer.whole is None or not incumbent.indexed.coupled:
        return None
    size = min(incumbent.indexed.cap, DOZEN)
    sizes = np.minimum(incumbent.indexed.sizes, size)
    fits = relaxer.whole.fits(sizes, A_PALETTE)
    return PaletteHeuristic(Palettes(relaxer.whole, incumbent)) if fits else None


def plain_choice(incumbent: Incumbent) -> None:
    """Offer each room's cheapest paint, as it is and within a palette of those used most.

    Prove what is plain.

    Raises InputError if no choice keeps to the cap.
    """
    indexed = incumbent.indexed
    free = indexed.own.argmin(axis=1)
    incumbent.consider(free)
    palette = palette_for(incumbent, by_use(indexed, free))
    allowed = indexed.real & np.isin(indexed.paint, palette)
    own = np.where(allowed, indexed.own, np.inf)
    labels = own.argmin(axis=1)
    incumbent.consider(labels)
    pairs = sum(float(table.min()) for table in indexed.pairs)
    incumbent.prove(float(indexed.own.min(axis=1).sum()) + pairs)


def palette_for(incumbent: Incumbent, ranking: Labels) -> Labels:
    """A palette with which every room has a candidate, filled up from the ranking.

    Where paints cost, it is not filled up. Raises InputError if there is none.
    """
    indexed = incumbent.indexed
    found = covering(indexed, ranking, incumbent.watch.poll)
    if found is None:
        text = f"no choice of candidates keeps to the limit of paints, {indexed.cap}"
        raise errors.InputError([errors.Problem(text, ("paints",))])
    more = [] if indexed.problem.paint_cost else [p for p in ranking.tolist() if p not in found]
    return np.array([*found, *more][: indexed.cap], dtype=np.intp)


def by_use(indexed: Indexed, labels: Labels) -> Labels:
    """All paints, those first that most rooms have at the labels (n)."""
    rooms = np.arange(len(labels))
    use = np.bincount(indexed.paint[rooms, labels], minlength=len(indexed.paints))
    return np.argsort(-use, kind="stable")
