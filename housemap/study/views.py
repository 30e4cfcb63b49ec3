"""Seen pairs, the view from each room, and the views each room appears in."""

from collections.abc import Mapping

from housemap.plan.house_graph import HouseGraph, Pair, sorted_pair
from housemap.study.layout import Layout
from housemap.study.parts import PaintedRoom, Seen, SeenPair, Surroundings, View
from housemap.study.reuse import Renewed, renewed
from housemap.study.study import Study


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
    made = {pair: _seen_pair(pair, layout.graph, rooms.parts) for pair in stale}
    return renewed(before.pairs, sightings, made)


def _seen_pair(pair: Pair, graph: HouseGraph, rooms: Mapping[str, PaintedRoom]) -> SeenPair:
    first, second = pair
    shared = graph.openings_between(first, second)
    return SeenPair(rooms[first], rooms[second], graph.sightings[pair], shared)


def views_of(
    before: Study,
    layout: Layout,
    rooms: Renewed[str, PaintedRoom],
    pairs: Renewed[Pair, SeenPair],
) -> Renewed[str, View]:
    stale = rooms.touched.union(*pairs.touched) & rooms.parts.keys()
    made = {room: _view(room, layout, rooms.parts) for room in stale}
    return renewed(before.views, rooms.parts, made)


def _view(room: str, layout: Layout, rooms: Mapping[str, PaintedRoom]) -> View:
    graph = layout.graph
    seen = (
        Seen(rooms[other], graph.sightings[sorted_pair(room, other)]) for other in graph.sees(room)
    )
    return View(rooms[room], tuple(seen))


def surroundings_of(
    before: Study, layout: Layout, views: Renewed[str, View]
) -> Renewed[str, Surroundings]:
    alive = views.touched & views.parts.keys()
    stale = alive.union(*(layout.graph.sees(room) for room in alive))
    made = {room: _surroundings(room, layout, views.parts) for room in stale}
    return renewed(before.surroundings, views.parts, made)


def _surroundings(room: str, layout: Layout, views: Mapping[str, View]) -> Surroundings:
    seen_from = (room, *layout.graph.sees(room))
    return Surroundings(views[room].room, tuple(views[r] for r in seen_from))
