"""What the samples of a paint in a room come to."""

import datetime as dt
from collections.abc import Iterable, Mapping
from typing import Literal

from housemap.model.house import House, Sample

Tried = Literal["kept", "rejected", "unsure", "put up", "untried"]
"""Put up: a tester is on the wall and nobody has judged it yet."""

_OF_VERDICT: dict[str | None, Tried] = {
    "keep": "kept",
    "reject": "rejected",
    "unsure": "unsure",
    None: "put up",
}


def come_to(samples: Iterable[Sample]) -> Tried:
    """Of samples of one paint in one room: the newest decision; without one, the newest word.

    Samples without a date are taken for older than those that have one; of the same day, the one
    that comes later in the file is the newer.
    """
    ordered = sorted(samples, key=lambda sample: sample.when or dt.date.min)
    verdicts = [sample.verdict for sample in ordered]
    decided = [verdict for verdict in verdicts if verdict not in {None, "unsure"}]
    judged = decided or [verdict for verdict in verdicts if verdict] or verdicts
    return _OF_VERDICT[judged[-1]] if judged else "untried"


def approved_paints(house: House) -> frozenset[str]:
    """The paints of which a sample was approved in some room."""
    return frozenset(paint for (paint, _), tried in all_tried(house).items() if tried == "kept")


def samples_of(house: House, paint: str, room: str) -> tuple[Sample, ...]:
    """In the order of the file."""
    place = (paint, room)
    return tuple(s for s in house.samples.values() if (s.paint, s.room) == place)


def tried_in(house: House, paint: str, room: str) -> Tried:
    return come_to(samples_of(house, paint, room))


def all_tried(house: House) -> Mapping[tuple[str, str], Tried]:
    """By paint and room: what was tried at all."""
    found: dict[tuple[str, str], list[Sample]] = {}
    for sample in house.samples.values():
        found.setdefault((sample.paint, sample.room), []).append(sample)
    return {place: come_to(samples) for place, samples in found.items()}
