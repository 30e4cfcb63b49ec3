"""A study from a house and, where there is one, the study before: only what changed is made anew.

Edits share the tables and entities that they leave alone, so "unchanged" is a test of identity.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Generic, NamedTuple, TypeVar

from housemap.colorimetry.facts import ColourFacts, facts_or_errors
from housemap.errors import ColourError, InputError, Problem
from housemap.light.sky import OUTDOOR_LUX
from housemap.model.frozen import frozen
from housemap.model.grouping import grouped
from housemap.model.house import Finish, House, Paint, Room, Sample
from housemap.model.schema import KEY_OF_COLOUR
from housemap.model.takeoff import room_areas
from housemap.model.wishes import stated_in
from housemap.plan.floor_plan import same_places
from housemap.plan.free_space import space_of
from housemap.plan.house_graph import HouseGraph, Pair, graph_of, sorted_pair
from housemap.plan.placing import Plan, place
from housemap.plan.sightings import sightings, ways
from housemap.study.lighting import Lighting
from housemap.study.parts import (
    Coat,
    PaintedRoom,
    Seen,
    SeenPair,
    Surroundings,
    Swatch,
    View,
    sheen_on,
)
from housemap.study.study import Study, SwatchTable, Touched

K = TypeVar("K")
V = TypeVar("V")


@frozen()
class Renewed(Generic[K, V]):
    """A table of parts, and the keys that are new, gone or hold another part than before."""

    parts: Mapping[K, V]
    touched: frozenset[K]


def renewed(before: Mapping[K, V], keys: Iterable[K], new: Mapping[K, V]) -> Renewed[K, V]:
    """The parts of `keys`: those of `new`, else those of `before`, in the order of `keys`.

    A table that keeps its keys is copied whole, so that an edit in a large house is cheap.
    """
    live = dict.fromkeys(keys) if not isinstance(keys, Mapping) else keys
    if before.keys() == live.keys():
        return Renewed({**before, **new} if new else before, frozenset(new))
    parts = {key: new[key] if key in new else before[key] for key in live}
    return Renewed(parts, frozenset(new) | (before.keys() - live.keys()))


# The colour of every paint and finish; only new ones are computed, in one batch.

Key = tuple[str, str]


def swatches_of(house: House, before: Study) -> Renewed[Key, Swatch]:
    """Raises InputError, a line each, for colours that no surface can have."""
    if house.paints is before.house.paints and house.finishes is before.house.finishes:
        return Renewed(before.swatches, frozenset())
    entities = dict(_coloured(house))
    old = before.swatches
    fresh = {k: e for k, e in entities.items() if k not in old or old[k].entity != e}
    made = {
        key: Swatch(key[1], entity, colour)
        for (key, entity), colour in zip(fresh.items(), _facts(fresh), strict=True)
    }
    return renewed(old, entities, made)


def _coloured(house: House) -> Iterator[tuple[Key, Paint | Finish]]:
    for paint_id, paint in house.paints.items():
        yield (Paint.__name__, paint_id), paint
    for finish_id, finish in house.finishes.items():
        yield (Finish.__name__, finish_id), finish


def _facts(entities: Mapping[Key, Paint | Finish]) -> tuple[ColourFacts, ...]:
    """Facts of all; InputError with a line for each colour that has no meaning."""
    colours = [entity.colour for entity in entities.values()]
    made = facts_or_errors(colours)
    problems = [
        Problem(f'{kind.lower()} "{key}": {error}', (kind.lower(), key, KEY_OF_COLOUR[source]))
        for (kind, key), source, error in zip(entities, map(type, colours), made, strict=True)
        if isinstance(error, ColourError)
    ]
    if problems:
        raise InputError(problems)
    return tuple(each for each in made if isinstance(each, ColourFacts))


# Where rooms lie and the graph; kept as long as no measure, opening or sightline changed.


class Layout(NamedTuple):
    plan: Plan
    graph: HouseGraph


def layout_of(house: House, before: Study) -> Layout:
    if before.rooms and _same_layout(house, before.house):
        return Layout(before.plan, before.graph)
    graph = graph_of(house)
    plan = place(house, graph)
    return Layout(plan, graph.with_sightings(sightings(graph, plan, ways(space_of(house, plan)))))


def _same_layout(house: House, old: House) -> bool:
    both = zip(house.rooms.values(), old.rooms.values(), strict=False)
    same = house.sightlines is old.sightlines and same_places(house, old)
    return same and all((a.use, a.height_m) == (b.use, b.height_m) for a, b in both)


# Every room with its colours; only those whose inputs changed are made anew.


def rooms_of(
    house: House, graph: HouseGraph, before: Study, swatches: Renewed[tuple[str, str], Swatch]
) -> Renewed[str, PaintedRoom]:
    stale = _stale_rooms(house, graph, before, swatches.touched)
    parts = _Parts(house, graph, swatches.parts, _samples(house, before))
    return renewed(before.rooms, house.rooms, {room: _painted(room, parts) for room in stale})


class _Parts(NamedTuple):
    house: House
    graph: HouseGraph
    swatches: Mapping[tuple[str, str], Swatch]
    samples: Callable[[str], tuple[Sample, ...]]


def _stale_rooms(
    house: House, graph: HouseGraph, before: Study, new_swatches: frozenset[tuple[str, str]]
) -> frozenset[str]:
    old = before.rooms
    stale = {k for k, room in house.rooms.items() if k not in old or old[k].room is not room}
    # An open-plan opening is as high as the lower of its rooms, and has one face to the outside.
    other = {k for k in stale & old.keys() if _shell(old[k].room) != _shell(house.rooms[k])}
    stale |= {r for k in other for o in old[k].openings.values() for r in o.between}
    known = house.rooms.keys() & old.keys()
    if new_swatches:
        worn = {k: {coat.swatch.key for coat in old[k].every_coat} for k in known}
        stale |= {k for k in known if not new_swatches.isdisjoint(worn[k])}
    if graph is not before.graph:
        stale |= {k for k in known if old[k].openings != graph.openings_of(k)}
    if house.samples is not before.house.samples:
        samples = _samples(house, before)
        stale |= {k for k in known if old[k].samples != samples(k)}
    if house.brief is not before.house.brief:
        stale |= {k for k in known if old[k].wishes != stated_in(house, k)}
    return frozenset(stale & house.rooms.keys())


def _shell(room: Room) -> tuple[float | None, bool]:
    return room.height_m, room.use == "outdoor"


def _samples(house: House, before: Study) -> Callable[[str], tuple[Sample, ...]]:
    """The samples of a room, as known from before where none was edited."""
    if house.samples is before.house.samples and house.rooms.keys() == before.rooms.keys():
        return lambda room: before.rooms[room].samples
    by_room = grouped((sample.room, sample) for sample in house.samples.values())
    return lambda room: tuple(by_room.get(room, ()))


def _painted(room_id: str, parts: _Parts) -> PaintedRoom:
    def paint(surface: str, paint_id: str) -> Coat:
        return Coat(room_id, surface, parts.swatches["Paint", paint_id], sheen_on(room, surface))

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
        wishes=stated_in(parts.house, room_id),
        areas=room_areas(parts.house, room_id, openings.values()),
    )


# Seen pairs, the view from each room, and the views each room appears in.


def pairs_of(
    before: Study, layout: Layout, rooms: Renewed[str, PaintedRoom]
) -> Renewed[Pair, SeenPair]:
    sightings = layout.graph.sightings
    if layout.graph is before.graph:
        stale = {sorted_pair(r, other) for r in rooms.touched for other in layout.graph.sees(r)}
    else:
        stale = {
            pair
            for pair, sighting in sightings.items()
            if not rooms.touched.isdisjoint(pair) or before.graph.sightings.get(pair) != sighting
        }
    made = {}
    for one, other in stale:
        shared = layout.graph.openings_between(one, other)
        both = rooms.parts[one], rooms.parts[other]
        made[one, other] = SeenPair(*both, sightings[one, other], shared)
    return renewed(before.pairs, sightings, made)


def views_of(
    before: Study, layout: Layout, rooms: Renewed[str, PaintedRoom], pairs: Renewed[Pair, SeenPair]
) -> Renewed[str, View]:
    made, graph = {}, layout.graph
    for room in rooms.touched.union(*pairs.touched) & rooms.parts.keys():
        seen = ((other, graph.sightings[sorted_pair(room, other)]) for other in graph.sees(room))
        each = (Seen(rooms.parts[other], sighting) for other, sighting in seen)
        made[room] = View(rooms.parts[room], tuple(each))
    return renewed(before.views, rooms.parts, made)


def surroundings_of(
    before: Study, layout: Layout, views: Renewed[str, View]
) -> Renewed[str, Surroundings]:
    alive, sees, parts = views.touched & views.parts.keys(), layout.graph.sees, views.parts
    made = {
        room: Surroundings(parts[room].room, tuple(parts[r] for r in (room, *sees(room))))
        for room in alive.union(*map(sees, alive))
    }
    return renewed(before.surroundings, parts, made)


_EMPTY_HOUSE = House()
_EMPTY = Study(
    house=_EMPTY_HOUSE,
    plan=place(_EMPTY_HOUSE),
    graph=graph_of(_EMPTY_HOUSE),
    swatches={},
    table=SwatchTable({}),
    rooms={},
    pairs={},
    views={},
    surroundings={},
    lighting=Lighting(_EMPTY_HOUSE, {}, {}, {}),
    known_sight=None,
    touched=Touched(),
)


def study_of(
    house: House, previous: Study | None = None, outdoor_lux: float = OUTDOOR_LUX
) -> Study:
    """The study of `house`; equal to one from scratch whatever `previous` was.

    `outdoor_lux`: the overcast sky's light on open level ground, for the light by day.

    Raises InputError, a line each, for paints and finishes whose colour no surface can have.
    """
    before = previous or _EMPTY
    swatches = swatches_of(house, before)
    layout = layout_of(house, before)
    rooms = rooms_of(house, layout.graph, before, swatches)
    pairs = pairs_of(before, layout, rooms)
    views = views_of(before, layout, rooms, pairs)
    surroundings = surroundings_of(before, layout, views)
    return Study(
        house=house,
        plan=layout.plan,
        graph=layout.graph,
        swatches=swatches.parts,
        table=SwatchTable(swatches.parts) if swatches.touched else before.table,
        rooms=rooms.parts,
        pairs=pairs.parts,
        views=views.parts,
        surroundings=surroundings.parts,
        lighting=before.lighting.renewed(
            house, swatches.parts, rooms.parts, views.parts, outdoor_lux
        ),
        known_sight=before.__dict__.get("sight", before.known_sight),
        touched=Touched(
            swatches=swatches.touched,
            rooms=rooms.touched,
            pairs=pairs.touched,
            views=views.touched,
            surroundings=surroundings.touched,
            plans=frozenset() if layout.plan is before.plan else frozenset({""}),
            houses=frozenset({""}) if rooms.touched else frozenset(),
        ),
    )
