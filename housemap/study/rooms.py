"""Every room with its colours; only those whose inputs changed are made anew."""

from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from housemap.model.geometry import room_areas
from housemap.model.house import House, Sample
from housemap.plan.house_graph import HouseGraph
from housemap.study.parts import Coat, PaintedRoom, Swatch
from housemap.study.reuse import Renewed, renewed
from housemap.study.study import Study


def rooms_of(
    house: House,
    graph: HouseGraph,
    before: Study,
    swatches: Renewed[tuple[str, str], Swatch],
) -> Renewed[str, PaintedRoom]:
    stale = _stale_rooms(house, graph, before, swatches.touched)
    parts = _Parts(house, graph, swatches.parts, _samples(house, before))
    return renewed(before.rooms, house.rooms, {room: _painted(room, parts) for room in stale})


@dataclass(frozen=True, slots=True)
class _Parts:
    """What painted rooms are made of."""

    house: House
    graph: HouseGraph
    swatches: Mapping[tuple[str, str], Swatch]
    samples: Callable[[str], tuple[Sample, ...]]


def _stale_rooms(
    house: House, graph: HouseGraph, before: Study, new_swatches: frozenset[tuple[str, str]]
) -> frozenset[str]:
    old = before.rooms
    stale = {k for k, room in house.rooms.items() if k not in old or old[k].room is not room}
    # An open-plan opening is as high as the lower of its two rooms.
    taller = {k for k in stale & old.keys() if old[k].room.height_m != house.rooms[k].height_m}
    stale |= {r for k in taller for o in old[k].openings.values() for r in o.between}
    known = house.rooms.keys() & old.keys()
    if new_swatches:
        stale |= {k for k in known if _wears(old[k], new_swatches)}
    if graph is not before.graph:
        stale |= {k for k in known if old[k].openings != graph.openings_of(k)}
    if house.samples is not before.house.samples:
        samples = _samples(house, before)
        stale |= {k for k in known if old[k].samples != samples(k)}
    return frozenset(stale & house.rooms.keys())


def _wears(room: PaintedRoom, swatches: frozenset[tuple[str, str]]) -> bool:
    return any(coat.swatch.key in swatches for coat in room.every_coat)


def _samples(house: House, before: Study) -> Callable[[str], tuple[Sample, ...]]:
    """The samples of a room, as known from before where none was edited."""
    if house.samples is before.house.samples and house.rooms.keys() == before.rooms.keys():
        return lambda room: before.rooms[room].samples
    by_room: defaultdict[str, list[Sample]] = defaultdict(list)
    for sample in house.samples.values():
        by_room[sample.room].append(sample)
    return lambda room: tuple(by_room[room])


def _painted(room_id: str, parts: _Parts) -> PaintedRoom:
    def paint(surface: str, paint_id: str) -> Coat:
        return Coat(room_id, surface, parts.swatches["Paint", paint_id])

    def finish(surface: str, finish_id: str) -> Coat:
        return Coat(room_id, surface, parts.swatches["Finish", finish_id])

    room, openings = parts.house.rooms[room_id], parts.graph.openings_of(room_id)
    return PaintedRoom(
        id=room_id,
        room=room,
        coats={s: paint(s, paint_id) for s, paint_id in room.paints.chosen()},
        accents=tuple(
            paint(f"accent {wall}", room.accents[wall].paint) for wall in sorted(room.accents)
        ),
        floor=finish("floor", room.floor) if room.floor else None,
        fixed=tuple(finish("fixed", finish_id) for finish_id in room.fixed),
        pieces=tuple(
            finish(f"piece {key}", piece.finish)
            for key, piece in room.pieces.items()
            if piece.finish
        ),
        openings=openings,
        samples=parts.samples(room_id),
        areas=room_areas(parts.house, room_id, openings.values()),
    )
