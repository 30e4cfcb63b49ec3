"""Rooms that stand in one place."""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from housemap.model.polygon import Box, Polygon, box_of, overlap_area_m2, signed_area_m2

SAME_PLACE = 0.1
"""The part of the smaller room above which two pinned rooms stand in one place. Below it the
measures merely do not close, which is a finding and no error."""
MOST_WORK = 5_000_000
"""Comparisons of two boxes or two corners, some seconds' worth; a real house takes a thousandth."""

Placed = tuple[Box, str, Polygon]


class TooIntricateError(Exception):
    """Comparing these outlines would take MOST_WORK and more."""


def same_place(pinned: Iterable[tuple[int, str, Polygon]]) -> Iterator[tuple[str, str, float]]:
    """Yield pairs of rooms that overlap on one level, with the share of the smaller one.

    `pinned` are level, id and outline in the plan. Raises TooIntricateError.
    """
    work = 0
    for (_, key, one), (_, other, two) in _box_pairs(pinned):
        work += 1 + (len(one) + len(two)) ** 2
        if work > MOST_WORK:
            raise TooIntricateError
        smaller = min(signed_area_m2(one), signed_area_m2(two))
        share = overlap_area_m2(one, two) / smaller
        if share > SAME_PLACE:
            yield key, other, share


def _box_pairs(
    pinned: Iterable[tuple[int, str, Polygon]],
) -> Iterator[tuple[Placed, Placed]]:
    """Yield the pairs whose boxes overlap; sorted from the west, most are never compared."""
    levels: defaultdict[int, list[Placed]] = defaultdict(list)
    for level, key, outline in pinned:
        levels[level].append((box_of(outline), key, outline))
    work = 0
    for rooms in levels.values():
        rooms.sort()
        for i, one in enumerate(rooms):
            (_, south, east, north) = one[0]
            for other in rooms[i + 1 :]:
                work += 1
                if other[0][0] >= east:
                    break
                if south < other[0][3] and other[0][1] < north:
                    yield one, other
            if work > MOST_WORK:
                raise TooIntricateError
