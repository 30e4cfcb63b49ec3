"""Nodes that are bounded and wait to be split, and how each is split."""

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from housemap.choose.optimiser.batch import Batch
from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.fixing import Outlook
from housemap.choose.optimiser.problem import Array
from housemap.choose.optimiser.selection import IN, OPEN, OUT


@dataclass(order=True, slots=True)
class Node:
    """One node (a batch of one), ordered by its bound."""

    bound: float
    number: int
    case: Batch = field(compare=False)
    loose: Labels = field(compare=False)
    """The pairs that were loose when it was bounded."""
    paint: int = field(compare=False)
    """The paint to decide on; -1 where a room is to be decided instead."""
    room: int = field(compare=False)
    bounds: Array = field(compare=False)
    """Of the paint in and out, or of each label of the room."""

    def children(self, target: float) -> Iterator[Batch]:
        """Those that may still hold a choice cheaper than the target, one by one."""
        for place in np.flatnonzero(self.bounds < target):
            child = self.case.take([0])
            child.bound = np.maximum(child.bound, self.bounds[place])
            if self.paint >= 0:
                child.state[:, self.paint] = (IN, OUT)[place]
            else:
                child.is_open[:, self.room] = False
                child.is_open[:, self.room, place] = True
            yield child


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

    By the paint that would be missed most, or by the room that loose pairs disagree with most.
    """
    case = batch.take([place])
    bound = float(batch.bound[place])
    several = case.is_open[0].sum(axis=1) > 1
    conflict = np.where(several, seen.conflict[place], 0.0)
    free = np.flatnonzero(case.state[0] == OPEN)
    if len(free) and (paints_first or not conflict.any()):
        paint = int(free[seen.regret[place, free].argmax()])
        bounds = np.array([seen.with_paint[place, paint], seen.without[place, paint]])
        return Node(bound, number, case, loose, paint, -1, bounds)
    room = int(np.where(several, 1.0 + conflict, 0.0).argmax())
    bounds = np.where(case.is_open[0, room], seen.label[place, room], np.inf)
    return Node(bound, number, case, loose, -1, room, bounds)
