"""Nodes that are bounded and wait to be split, and how each is split."""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from housemap.choose.optimiser.batch import Batch
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.fixing import Outlook
from housemap.choose.optimiser.selection import IN, OPEN, OUT

LEAN = 1.2
"""Paints that the palette has anyway are not split by: to have them would change little."""
CHAIN = 2
"""Paints that one split decides on; nodes that only have one paint more are hardly better."""


@dataclass(order=True, slots=True)
class Node:
    """One node (a batch of one), ordered by its bound."""

    bound: float
    number: int
    case: Batch = field(compare=False)
    loose: Labels = field(compare=False)
    """The pairs that were loose when it was bounded."""
    branches: tuple["Branch", ...] = field(compare=False)
    room: int = field(compare=False)
    """The room that is decided; -1 where paints are."""

    def children(self, target: float) -> Iterator[Batch]:
        """Those that may still hold a choice cheaper than the target, one by one."""
        for branch in self.branches:
            if branch.bound < target:
                child = self.case.take([0])
                child.bound = np.maximum(child.bound, branch.bound)
                branch.apply(child)
                yield child


@dataclass(frozen=True, slots=True)
class Branch:
    """What a child is to have, and the bound that is known of it."""

    bound: float
    paints: tuple[int, ...] = ()
    """That it has."""
    without: int = -1
    """The paint that it does not have; -1 for none."""
    room: int = -1
    label: int = -1
    """Of the room; -1 for none."""

    def apply(self, child: Batch) -> None:
        child.state[:, list(self.paints)] = IN
        if self.without >= 0:
            child.state[:, self.without] = OUT
        if self.room >= 0:
            child.is_open[:, self.room] = False
            child.is_open[:, self.room, self.label] = True


def split(
    batch: Batch,
    place: int,
    seen: Outlook,
    loose: Labels,
    number: int,
    *,
    paints_first: bool,
) -> Node:
    """How to split one node of a batch, in which some room still has several labels.

    By the paints that would be missed most, or by the room that loose pairs disagree with most.
    """
    case = batch.take([place])
    bound = float(batch.bound[place])
    several = case.is_open[0].sum(axis=1) > 1
    conflict = np.where(several, seen.conflict[place], 0.0)
    free = np.flatnonzero(case.state[0] == OPEN)
    if len(free) and (paints_first or not conflict.any()):
        weight = seen.regret[place] * (LEAN - batch.usage[place])
        ranked = free[np.argsort(-weight[free], kind="stable")][:CHAIN].tolist()
        return Node(bound, number, case, loose, _by_paints(ranked, seen, place), -1)
    room = int(np.where(several, 1.0 + conflict, 0.0).argmax())
    labels = np.flatnonzero(case.is_open[0, room]).tolist()
    bounds = seen.label[place, room].tolist()
    branches = tuple(Branch(bounds[label], room=room, label=label) for label in labels)
    return Node(bound, number, case, loose, branches, room)


def _by_paints(paints: list[int], seen: Outlook, place: int) -> tuple[Branch, ...]:
    """Without the first; with it but without the second; and so on; with all."""
    having, without = seen.with_paint[place].tolist(), seen.without[place].tolist()
    branches: list[Branch] = []
    least = -np.inf
    for at, paint in enumerate(paints):
        branches.append(Branch(max(least, without[paint]), tuple(paints[:at]), paint))
        least = max(least, having[paint])
    return (*branches, Branch(least, tuple(paints)))
