"""A palette with which every room has a candidate, if the cap allows one."""

from collections.abc import Callable

import numpy as np

from housemap.choose.optimiser.eliminate import Labels
from housemap.choose.optimiser.indexed import Indexed, Mask
from housemap.choose.optimiser.problem import Poll


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
