"""The best choice that a search knows, and the bound it has proved."""

import math
from collections.abc import Mapping

from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Indexed
from housemap.choose.optimiser.problem import Progress, tolerance
from housemap.choose.optimiser.watch import Watch

NOTHING = Progress({}, 0.0, 0.0, 0.0)
"""Of a choice that has no rooms yet."""


class Incumbent:
    """Best labels so far; every better choice and every higher bound is told to the watch."""

    def __init__(self, indexed: Indexed, watch: Watch, base: Progress = NOTHING) -> None:
        """`base` is what has been settled of other rooms."""
        self.indexed, self.watch = indexed, watch
        self.labels: Labels | None = None
        self.cost = math.inf
        self.bound = -math.inf
        self._base = base

    @property
    def target(self) -> float:
        """A choice must cost less than this to count as better."""
        return self.cost - tolerance(self.cost)

    @property
    def done(self) -> bool:
        """Whether the best choice is proven to be optimal."""
        return self.bound >= self.target

    def consider(self, labels: Labels) -> float:
        """The cost of labels (n); they are offered if they keep to the cap."""
        cost = float(self.indexed.costs(labels[None])[0])
        if self.indexed.used(labels[None]).sum() <= self.indexed.cap:
            self.offer(labels, cost)
        return cost

    def offer(self, labels: Labels, cost: float) -> None:
        """A choice that keeps to the cap, and what it costs."""
        if cost < self.target:
            self.labels, self.cost = labels.copy(), cost
            self.watch.tell(self.progress, always=True)

    def prove(self, bound: float) -> None:
        """No choice costs less than the bound."""
        if min(bound, self.cost) > self.bound:
            self.bound = min(bound, self.cost)
            self.watch.tell(self.progress, always=self.done)

    def progress(self) -> Progress:
        """What is known now, with the rooms that were settled before."""
        cost, bound = self.cost + self._base.cost, self.bound + self._base.bound
        return Progress(self._assignment(), cost, bound, self.watch.seconds)

    def _assignment(self) -> Mapping[str, str]:
        if self.labels is None:
            return {}
        return {**self._base.assignment, **self.indexed.assignment(self.labels.tolist())}
