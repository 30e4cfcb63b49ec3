"""Keeping what an edit left alone."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

K = TypeVar("K")
V = TypeVar("V")


@dataclass(frozen=True, slots=True)
class Renewed(Generic[K, V]):
    """A table of parts, and the keys that are new, gone or hold another part than before."""

    parts: Mapping[K, V]
    touched: frozenset[K]


def renewed(before: Mapping[K, V], keys: Iterable[K], new: Mapping[K, V]) -> Renewed[K, V]:
    """The parts of `keys`: those of `new`, else those of `before`, in the order of `keys`.

    A table that keeps its keys is copied whole, so that an edit in a large house stays cheap.
    """
    live = dict.fromkeys(keys) if not isinstance(keys, Mapping) else keys
    if before.keys() == live.keys():
        return Renewed({**before, **new} if new else before, frozenset(new))
    parts = {key: new[key] if key in new else before[key] for key in live}
    return Renewed(parts, frozenset(new) | (before.keys() - live.keys()))
