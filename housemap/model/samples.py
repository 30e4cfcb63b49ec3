"""What the samples of a paint in a room come to."""

import datetime as dt
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Literal, NamedTuple, get_args

from housemap.model.geometry import floor_area_m2
from housemap.model.grouping import grouped
from housemap.model.house import House, Sample, SampleLight
from housemap.model.takeoff import RoomAreas, areas_of_rooms
from housemap.model.wishes import rooms_to_paint

Tried = Literal["kept", "rejected", "unsure", "put up", "untried"]
"""Put up: a tester is on the wall and nobody has judged it yet."""

OF_VERDICT: Mapping[str | None, Tried] = {
    "keep": "kept", "reject": "rejected", "unsure": "unsure", None: "put up",
}  # fmt: skip


def come_to(samples: Iterable[Sample]) -> Tried:
    """Of samples of one paint in one room: the newest decision; without one, the newest word.

    Samples without a date are taken for older than those that have one; of the same day, the one
    that comes later in the file is the newer.
    """
    ordered = sorted(samples, key=lambda sample: sample.when or dt.date.min)
    verdicts = [sample.verdict for sample in ordered]
    decided = [verdict for verdict in verdicts if verdict not in {None, "unsure"}]
    judged = decided or [verdict for verdict in verdicts if verdict] or verdicts
    return OF_VERDICT[judged[-1]] if judged else "untried"


def light_to_see(samples: Collection[Sample]) -> SampleLight | None:
    """The light by which a paint that was approved is still to be seen: by day or in the evening.

    None where it was approved by both, or by a sample without a light, which counts for both.
    """
    if come_to(samples) != "kept":
        return None
    seen = {sample.light for sample in samples if sample.verdict == "keep"}
    return "evening" if seen == {"day"} else "day" if seen == {"evening"} else None


Kind = Literal["walls", "ceiling", "trim"]
"""Of surfaces that a sample is judged for: accent walls are walls, doors and parts are trim."""
KINDS: tuple[Kind, ...] = get_args(Kind)


class Trying(NamedTuple):
    paint: str
    room: str
    kind: Kind


def trying(paint: str | None, room: str, surface: str) -> Trying:
    return Trying(paint or "", room, kind_of(surface))


def kind_of(surface: str) -> Kind:
    match surface.partition(" ")[0]:
        case "walls" | "accent":
            return "walls"
        case "ceiling":
            return "ceiling"
    return "trim"


def tryings(sample: Sample) -> Iterator[Trying]:
    """What it was judged for: its surface, else the walls if it names one, else everything."""
    judged = sample.surface or ("walls" if sample.wall else None)
    for kind in KINDS if judged is None else (kind_of(judged),):
        yield Trying(sample.paint, sample.room, kind)


OTHER_LIGHT: Mapping[SampleLight, SampleLight] = {"day": "evening", "evening": "day"}


def approved_paints(house: House) -> frozenset[str]:
    """The paints of which a sample was approved in some room."""
    return frozenset(place.paint for place, tried in all_tried(house).items() if tried == "kept")


class ToSee(NamedTuple):
    """A paint that needs a sample seen and judged in a room."""

    paint: str
    room: str
    surface: str
    """Its largest there: walls ceiling trim doors, "accent" and a wall's key, or "part" and id."""
    tried: Tried
    """Unsure and put up: there is a sample to look at again."""
    area_m2: float | None = None
    """What it covers there, where that alone asks for a sample."""
    light: SampleLight | None = None
    """By which it is still to be approved there, where it was approved by the other."""


LARGE_M2 = 10.0
"""Below it a mistake costs little (common practice, no source)."""
CHECK, ONE_LIGHT = CHECKS = "untried", "one-light"
"""The checks of what is to be seen, of which the limit of the first says what is large."""


def samples_to_see(
    house: House, areas: Mapping[str, RoomAreas | None] | None = None
) -> tuple[ToSee, ...]:
    """Which paints need a sample, in the order of their ids: the one rule for lists and papers.

    In every room to be painted a paint that covers more than the limit of walls and ceiling there,
    until it was approved in that room, by day and in the evening. Every other paint once, where it
    was put up, else in the largest room with it on the walls, until it was so approved in a room
    where it goes. None for surfaces on which it was rejected: another paint is chosen there.
    `areas` are those of the rooms, where known.
    """
    areas = areas_of_rooms(house) if areas is None else areas
    limit, samples = house.limits.get(CHECK, {}).get("area", LARGE_M2), samples_by_place(house)
    seen = {place: (come_to(each), light_to_see(each)) for place, each in samples.items()}
    found: dict[str, list[ToSee]] = {paint: [] for paint in sorted(house.paints)}
    elsewhere: dict[str, list[ToSee]] = {}
    approved = set()

    def judged(paint: str, room: str, surface: str) -> tuple[Tried, SampleLight | None]:
        return seen.get(trying(paint, room, surface), ("untried", None))

    to_paint = rooms_to_paint(house)
    for room in sorted(to_paint, key=lambda key: -(floor_area_m2(to_paint[key]) or 0.0)):
        painted = to_paint[room].painted()
        worn = {on: paint for on, paint in painted if judged(paint, room, on)[0] != "rejected"}
        covered = _covered(areas[room], worn)
        for surface, paint in worn.items():
            on, area = covered.get(paint, (surface, 0.0))
            is_large = area > limit
            on = on if is_large else surface
            verdict, light = judged(paint, room, on)
            place = ToSee(paint, room, on, verdict, area if is_large else None, light)
            if any(each.room == room for each in found[paint][-1:]):
                continue
            if verdict == "kept" and light is None:
                approved.add(paint)
            elif is_large:
                found[paint].append(place)
            else:
                elsewhere.setdefault(paint, []).append(place)
    for paint, places in elsewhere.items():
        if not found[paint] and paint not in approved:
            found[paint].append(max(places, key=_suits))
    return tuple(place for places in found.values() for place in places)


def _suits(place: ToSee) -> tuple[bool, bool, bool]:
    return place.light is not None, place.tried != "untried", place.surface == "walls"


def _covered(areas: RoomAreas | None, worn: Mapping[str, str]) -> Mapping[str, tuple[str, float]]:
    """By paint of walls, accent walls and ceiling: its largest surface, and its area in m2."""
    area_m2 = areas.to_paint_m2 if areas else {}
    large = (on for on in area_m2 if on in {"walls", "ceiling"} or on.startswith("accent "))
    alike = grouped((worn[surface], surface) for surface in large if surface in worn)
    return {
        paint: (max(on, key=area_m2.__getitem__), sum(area_m2[surface] for surface in on))
        for paint, on in alike.items()
    }


def samples_of(house: House, paint: str, room: str, surface: str) -> tuple[Sample, ...]:
    """Those that were judged for such a surface, in the order of the file."""
    place, held = trying(paint, room, surface), house.samples.values()
    return tuple(s for s in held if place in tryings(s))


def tried_in(house: House, paint: str, room: str, surface: str) -> Tried:
    return come_to(samples_of(house, paint, room, surface))


def all_tried(house: House) -> Mapping[Trying, Tried]:
    """What was tried at all, and what it came to."""
    return {place: come_to(samples) for place, samples in samples_by_place(house).items()}


def samples_by_place(house: House) -> Mapping[Trying, Sequence[Sample]]:
    return grouped((place, each) for each in house.samples.values() for place in tryings(each))
