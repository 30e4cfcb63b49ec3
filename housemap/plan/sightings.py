"""Which rooms see each other, and through what; pure Python.

What is declared and, where measures are missing, what the openings make likely: rooms see each
other through one seen-through opening, and through two of them in a row.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from housemap.model.house import House, OpeningKind
from housemap.plan.placed import Plan

SightKind = Literal["open", "cased", "doorway", "glazed", "stairs", "sightline"]
Pair = tuple[str, str]
"""Two room ids, sorted."""

_OPENNESS: Mapping[OpeningKind, int] = {
    "open": 0, "cased": 1, "glazed": 2, "stairs": 3, "doorway": 4
}  # fmt: skip
"""The most open first."""


@dataclass(frozen=True, slots=True)
class Sighting:
    """Two rooms of which one sees the other."""

    rooms: Pair
    through: tuple[str, ...]
    """The openings on the way, from the first room to the second; none for a declared sightline."""
    kind: SightKind
    """Of the most open opening between the two, or "sightline" where they share none."""
    share: float | None
    """Of the full circle, 0..1, from the room that sees more; None where not known."""


def sightings(house: House, plan: Plan) -> Mapping[Pair, Sighting]:
    """Every pair of rooms that see each other, by sorted pair."""
    found = dict(_direct(house))
    for pair, doors in _two_deep(house):
        found.setdefault(pair, Sighting(pair, doors, "sightline", None))
    for line in house.sightlines.values():
        pair = sorted_pair(*line.between)
        before = found.get(pair)
        kind = before.kind if before else "sightline"
        through = before.through if before else ()
        found[pair] = Sighting(pair, through, kind, line.share)
    return dict(sorted(found.items()))


def sorted_pair(a: str, b: str) -> Pair:
    return (a, b) if a < b else (b, a)


def _direct(house: House) -> Iterator[tuple[Pair, Sighting]]:
    """Rooms joined by an opening one sees through; the most open one gives the kind."""
    best: dict[Pair, str] = {}
    for key, opening in house.openings.items():
        if opening.seen_through:
            pair = sorted_pair(*opening.between)
            held = best.get(pair)
            if held is None or _openness(house, key) < _openness(house, held):
                best[pair] = key
    for pair, key in best.items():
        yield pair, Sighting(pair, (key,), house.openings[key].kind, None)


def _openness(house: House, opening: str) -> int:
    return _OPENNESS[house.openings[opening].kind]


def _two_deep(house: House) -> Iterator[tuple[Pair, tuple[str, str]]]:
    """Rooms that a third one joins, through an opening each."""
    ways: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for key, opening in house.openings.items():
        if opening.seen_through:
            a, b = opening.between
            ways[a].append((key, b))
            ways[b].append((key, a))
    for doors in ways.values():
        for first, a in doors:
            for second, b in doors:
                if a < b:
                    yield (a, b), (first, second)
