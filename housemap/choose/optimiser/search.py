"""Anytime branch and bound, best first: the best choice so far, and a bound that only rises.

A node is bounded as soon as it is made: its multipliers climb (climb.py), what cannot be part of a
better choice is taken out (fixing.py), and few palettes left are tried one by one (listing.py).
"""

import numpy as np

from housemap.choose.optimiser.batch import Batch, root, settle
from housemap.choose.optimiser.bound import Ground
from housemap.choose.optimiser.climb import Climb
from housemap.choose.optimiser.fixing import Outlook, outlook, rule_out
from housemap.choose.optimiser.guess import (
    PaletteGuess,
    by_use,
    guess_for,
    palette_for,
)
from housemap.choose.optimiser.incumbent import Incumbent
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.listing import TRIED_AT_ONCE, Listing
from housemap.choose.optimiser.loose import carried
from housemap.choose.optimiser.problem import Method
from housemap.choose.optimiser.relaxation import Relaxation, Relaxer
from housemap.choose.optimiser.waiting import Waiting

STEPS = 11
"""Of a climb between two looks at what can be taken out."""
ROUNDS = 25
"""Climbs of the root at most; every other node has one."""
SINGLE = 1e-5
"""Share of a cost by which a climb goes too far, as single precision may be off by that."""
PROGRESS = 0.08
"""The root's climbs end with one that closes less than this share of the gap."""
SHRINKING = 0.9
"""They go on as long as each leaves at most this share of the open labels."""


class Search:
    """The search of one problem, and all that it needs to bound nodes."""

    def __init__(self, indexed: Indexed, incumbent: Incumbent) -> None:
        self.indexed, self.incumbent = indexed, incumbent
        self.relaxer = Relaxer(indexed, incumbent.watch.poll)
        self.relaxation = self.relaxer.relax(indexed.sizes)
        self.guess = guess_for(self.relaxer, self.relaxation, incumbent)
        palettes = self.guess.palettes if isinstance(self.guess, PaletteGuess) else None
        self.listing = None if palettes is None else Listing(palettes)
        self.waiting = Waiting(self.relaxer, paints_first=palettes is not None)
        self.nodes = 0
        self.method: Method = "search"

    def run(self) -> None:
        """To the proof, or until the watch raises StoppedError."""
        self._begin()
        while self.waiting.bound < self.incumbent.target:
            self.incumbent.prove(self.waiting.bound)
            for relaxation, batch in self.waiting.batches(self.incumbent.target):
                self._grow(relaxation, batch)
        self.incumbent.prove(self.incumbent.cost)

    def _begin(self) -> None:
        """A choice to start from, and the bound of the whole problem."""
        first = root(self.indexed, len(self.relaxation.loose.numbers))
        settle(self.indexed, first)
        self.nodes += 1
        ground = self._ground(self.relaxation, first)
        self._start(ground)
        if self.incumbent.done or not first.alive.all():
            return
        if self.listing is not None and self.listing.finish(first, TRIED_AT_ONCE).all():
            self.method = "enumeration"
        else:
            self._climb_root(self._next_ground(ground))

    def _start(self, ground: Ground) -> None:
        """From what the rooms would choose freely; labels that cost too much even so go out."""
        start, seen = ground.batch, outlook(ground)
        self.incumbent.prove(float(start.bound[0]))
        self.incumbent.consider(seen.labels[0])
        if not self.incumbent.done:
            ranking = by_use(self.indexed, seen.labels[0])
            self.guess.start(palette_for(self.incumbent, ranking), ranking, start.pull)
            rule_out(ground, seen, self.incumbent.target)

    def _climb_root(self, ground: Ground) -> None:
        first, climb = ground.batch, Climb(ground, self.incumbent.offer)
        for _ in range(ROUNDS):
            gap, labels = self.incumbent.target - first.bound[0], first.is_open.sum()
            seen = self._round(climb)
            self.incumbent.prove(float(first.bound[0]))
            if self.listing is not None:
                self.listing.palettes.cuts.learn(first.base[0, :1], first.cut[0, :1])
            self.guess.again(first)
            left = self.incumbent.target - first.bound[0]
            if left <= 0 or not first.alive.all():
                return
            if gap - left < PROGRESS * left and first.is_open.sum() > SHRINKING * labels:
                break
            climb.go_on(self._next_ground(climb.ground))
        self._keep(climb.ground.relaxation, first, seen)

    def _next_ground(self, ground: Ground) -> Ground:
        """With fewer labels open; of a better relaxation, if that is now affordable."""
        before, first = ground.relaxation, ground.batch
        after = before if before.exact else self.relaxer.relax(first.sizes(0))
        first.pull = carried(before.loose.numbers, after.loose.numbers, first.pull)
        return self._ground(after, first)

    def _ground(self, relaxation: Relaxation, batch: Batch) -> Ground:
        return Ground(relaxation, batch, self.incumbent.watch.poll)

    def _grow(self, relaxation: Relaxation, batch: Batch) -> None:
        """Bound the nodes of a batch, and keep those that are still open."""
        self.nodes += len(batch)
        settle(self.indexed, batch)
        batch = batch.take(batch.alive)
        batch = batch.take(~self._finished(batch))
        if len(batch):
            climb = Climb(self._ground(relaxation, batch), self.incumbent.offer)
            seen = self._round(climb)
            self.guess.again(batch)
            self._keep(relaxation, batch, seen)

    def _round(self, climb: Climb) -> Outlook:
        """Raise the bounds and take out what they rule out, in place."""
        goal = self.incumbent.target + SINGLE * abs(self.incumbent.target)
        for _ in range(STEPS):
            climb.step(self.incumbent.target)
            if (climb.best >= goal).all():
                break
        seen = outlook(climb.ground)
        climb.consider(seen.labels)
        rule_out(climb.ground, seen, self.incumbent.target)
        return seen

    def _keep(self, relaxation: Relaxation, batch: Batch, seen: Outlook) -> None:
        left = (batch.bound < self.incumbent.target) & batch.alive
        left[left] = ~self._finished(batch.take(left))
        self.waiting.push(relaxation.loose.numbers, batch, seen, left)

    def _finished(self, batch: Batch) -> Mask:
        """(b): the nodes of which nothing is left to look into."""
        finished = np.asarray((batch.is_open.sum(axis=2) == 1).all(axis=1))
        for labels in batch.is_open[finished].argmax(axis=2):
            self.incumbent.consider(labels)
        if self.listing is not None:
            finished[~finished] = self.listing.finish(batch.take(~finished))
        return finished
