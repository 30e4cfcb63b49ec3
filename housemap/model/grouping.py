"""Things that have something in common, put together."""

from collections.abc import Iterable
from typing import TypeVar

Key = TypeVar("Key")
Thing = TypeVar("Thing")


def grouped(pairs: Iterable[tuple[Key, Thing]]) -> dict[Key, list[Thing]]:
    """Things by their key, keys in the order in which they come up."""
    groups: dict[Key, list[Thing]] = {}
    for key, thing in pairs:
        groups.setdefault(key, []).append(thing)
    return groups
