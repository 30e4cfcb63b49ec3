"""Sight of whole houses: kept from edit to edit, joined with what is declared, and on random plans.

Random plans are compared with two independent methods (tests.support.rays); HOUSEMAP_EXAMPLES sets
how many are tried, and the plans of a short run are small.
"""

import os
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.model.house import Door, House, Opening, OpeningKind, Room, Sightline
from housemap.plan.free_space import space_of
from housemap.plan.house_graph import HouseGraph, graph_of
from housemap.plan.placing import place
from housemap.plan.sightings import DEPTH, contradicted, sightings, ways
from housemap.plan.visibility import Sight, sight_of, sight_rows, standing_points, views
from tests.support.plans import random_house
from tests.support.rays import FreeSpace, shares_by_rays
from tests.support.strategies import houses


def enfilade(count: int, kind: OpeningKind = "doorway", door: Door = "open") -> House:
    """Rooms of 4 x 3 m in a row from west to east, all doors in one line."""
    rooms = {f"r{i}": Room(f"Room {i}", size_m=(4.0, 3.0), height_m=2.4) for i in range(count)}
    openings = {
        f"d{i}": Opening(
            (f"r{i}", f"r{i + 1}"), kind, door, wall="e", along_m=1.0, to_wall="w",
            to_along_m=1.0, width_m=0.9,
        )
        for i in range(count - 1)
    }  # fmt: skip
    return House(rooms=rooms, openings=openings)


def with_opening(house: House, key: str, **changes: object) -> House:
    changed = replace(house.openings[key], **changes)  # type: ignore[arg-type]  # any field
    return replace(house, openings={**house.openings, key: changed})


def sight(house: House) -> Sight:
    return sight_of(house, place(house))


def seen_graph(house: House, found: Sight | None = None) -> HouseGraph:
    """The graph with who sees whom; with the shares of `found`, where given."""
    graph, plan = graph_of(house), place(house)
    pairs = found.pairs() if found else ways(space_of(house, plan))
    shares = found.shares() if found else {}
    return graph.with_sightings(sightings(graph, plan, pairs, shares))


def pairs(house: House) -> set[tuple[str, str]]:
    return set(sight(house).pairs())


def test_one_sees_along_a_row_of_open_doors_up_to_six() -> None:
    found = pairs(enfilade(DEPTH + 2))
    assert ("r0", f"r{DEPTH}") in found
    assert ("r0", f"r{DEPTH + 1}") not in found


def test_shut_doors_block_and_glazed_ones_do_not() -> None:
    house = enfilade(3)
    assert ("r0", "r2") in pairs(house)
    assert pairs(with_opening(house, "d0", door="shut")) == {("r1", "r2")}
    assert ("r0", "r2") in pairs(with_opening(house, "d0", kind="glazed"))


def test_a_hatch_below_the_eye_is_not_seen_through() -> None:
    assert pairs(with_opening(enfilade(3), "d0", height_m=1.2)) == {("r1", "r2")}


def test_doors_in_one_wall_do_not_see_each_other() -> None:
    hall = Room("Hall", size_m=(8.1, 1.2), height_m=2.4)
    rooms = {key: Room(key, size_m=(4.0, 3.0), height_m=2.4) for key in ("left", "right")}
    doors = {
        "d0": Opening(("hall", "left"), "cased", wall="n", along_m=1.0, to_wall="s",
                      to_along_m=1.0, width_m=0.9),
        "d1": Opening(("hall", "right"), "cased", wall="n", along_m=5.1, to_wall="s",
                      to_along_m=1.0, width_m=0.9),
    }  # fmt: skip
    house = House(rooms={"hall": hall, **rooms}, openings=doors)
    assert pairs(house) == {("hall", "left"), ("hall", "right")}


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**32), st.integers(3, 12), st.data())
def test_sight_after_an_edit_equals_sight_from_scratch(
    seed: int, count: int, data: st.DataObject
) -> None:
    house = random_house(Random(seed), count, ells=0.4)
    before = sight(house)
    key = data.draw(st.sampled_from(sorted(house.openings)))
    edited = data.draw(
        st.sampled_from(
            (
                with_opening(house, key, kind="doorway", door="shut"),
                with_opening(house, key, kind="open"),
                with_opening(house, key, width_m=0.6),
                replace(house, openings={k: o for k, o in house.openings.items() if k != key}),
            )
        )
    )
    assert sight_of(edited, place(edited), before) == sight(edited)


def test_an_edit_makes_anew_only_the_rooms_that_could_see_it() -> None:
    house = random_house(Random(7), 60, loops=0.2)
    before = sight(house)
    key = "-".join(next(iter(house.openings.values())).between)
    edited = with_opening(house, key, kind="doorway", door="shut")
    after = sight_of(edited, place(edited), before)
    anew = {room for room in house.rooms if after.rooms[room] is not before.rooms[room]}
    ends = set(house.openings[key].between)
    reach = ends | {other for end in ends for other in before.rooms[end].ways}
    assert anew <= reach
    assert sight_of(house, place(house), before) is before


@settings(max_examples=30, deadline=None)
@given(houses())
def test_any_legal_house_has_its_sightings(house: House) -> None:
    plan = place(house)
    found = sight_of(house, plan)
    graph = seen_graph(house, found)
    seen = graph.sightings
    for pair, sighting in seen.items():
        assert pair == sighting.rooms == tuple(sorted(pair))
        assert sighting.share is None or 0 <= sighting.share <= 1
    declared = {tuple(sorted(line.between)) for line in house.sightlines.values()}
    assert declared | set(found.pairs()) <= set(seen)
    assert set(contradicted(graph, plan, found.pairs())) <= set(house.sightlines)
    rows = sight_rows(graph, found)
    assert {(row.from_room, row.to_room) for row in rows} == {
        (row.to_room, row.from_room) for row in rows
    }


def test_pairs_alone_are_those_of_the_whole_sight() -> None:
    house = random_house(Random(3), 25, ells=0.5)
    found = sight(house)
    assert found.pairs() == ways(found.space)


def test_a_found_pair_carries_its_way_its_kind_and_the_greater_share() -> None:
    house = with_opening(enfilade(3), "d1", kind="open")
    found = sight(house)
    seen = seen_graph(house, found).sightings
    assert seen["r0", "r1"].kind == "doorway"
    assert seen["r1", "r2"].kind == "open"
    assert seen["r0", "r2"].kind == "sightline"
    assert seen["r0", "r2"].through == ("d0", "d1")
    shares = [found.rooms[a].views.shares[b] for a, b in (("r0", "r2"), ("r2", "r0"))]
    assert seen["r0", "r2"].share == max(shares)


def test_the_kind_is_that_of_the_most_open_opening_between_two_rooms() -> None:
    rooms = {key: Room(key) for key in "ab"}
    kinds: tuple[OpeningKind, ...] = ("doorway", "glazed", "cased", "open")
    for count in range(1, len(kinds) + 1):
        openings = {f"o{i}": Opening(("b", "a"), kind) for i, kind in enumerate(kinds[:count])}
        house = House(rooms=rooms, openings=openings)
        (seen,) = seen_graph(house).sightings.values()
        assert seen.kind == kinds[count - 1]


def test_without_measures_one_sees_two_openings_deep_and_what_is_declared() -> None:
    rooms = {key: Room(key) for key in "abcd"}
    openings = {
        "ab": Opening(("a", "b"), "doorway"),
        "bc": Opening(("b", "c"), "cased"),
        "cd": Opening(("c", "d"), "doorway", "shut"),
    }
    lines = {"ad": Sightline(("d", "a"), 0.2)}
    house = House(rooms=rooms, openings=openings, sightlines=lines)
    seen = seen_graph(house).sightings
    assert set(seen) == {("a", "b"), ("a", "c"), ("a", "d"), ("b", "c")}
    assert seen["a", "c"].through == ("ab", "bc")
    assert (seen["a", "d"].kind, seen["a", "d"].share) == ("sightline", 0.2)


@pytest.mark.parametrize(("wall", "seen"), [("e", False), ("n", True), (None, True)])
def test_nothing_is_seen_between_openings_of_one_wall(wall: str | None, seen: bool) -> None:  # noqa: FBT001 - a row
    """One comes in with the other at one's back."""
    rooms = {key: Room(key) for key in "abc"}
    openings = {
        "ab": Opening(("a", "b"), "stairs", wall="w", to_wall="e"),
        "bc": Opening(("b", "c"), "doorway", wall=wall),
    }
    house = House(rooms=rooms, openings=openings)
    assert (("a", "c") in seen_graph(house).sightings) is seen


def test_measures_are_believed_before_guesses_but_a_declared_line_stays() -> None:
    house = enfilade(3)
    offset = with_opening(with_opening(house, "d1", along_m=2.0), "d0", along_m=0.1, to_along_m=0.1)
    narrow = with_opening(with_opening(offset, "d1", width_m=0.3), "d0", width_m=0.3)
    deep = replace(narrow, wall_thickness_m=0.9)
    assert ("r0", "r2") not in seen_graph(deep, sight(deep)).sightings
    declared = replace(deep, sightlines={"line": Sightline(("r0", "r2"), 0.1)})
    seen = seen_graph(declared, sight(declared)).sightings
    assert seen["r0", "r2"].share == 0.1
    assert contradicted(graph_of(declared), place(declared), sight(declared).pairs()) == ("line",)


def test_an_unmeasured_way_round_leaves_a_declared_line_alone() -> None:
    house = with_opening(enfilade(3), "d0", door="shut")
    lines = {"line": Sightline(("r0", "r2"))}
    closed = replace(house, sightlines=lines)
    assert contradicted(graph_of(closed), place(closed), sight(closed).pairs()) == ("line",)
    rooms = {**house.rooms, "attic": Room("Attic")}
    round_ = {
        "up": Opening(("r0", "attic"), "open"),
        "down": Opening(("attic", "r2"), "open"),
    }
    way = replace(closed, rooms=rooms, openings={**house.openings, **round_})
    assert contradicted(graph_of(way), place(way), sight(way).pairs()) == ()


def test_rows_tell_both_directions_and_the_rooms_between() -> None:
    house = enfilade(3)
    found = sight(house)
    rows = sight_rows(seen_graph(house, found), found)
    assert [(row.from_room, row.to_room) for row in rows] == [
        ("r0", "r1"), ("r0", "r2"), ("r1", "r0"), ("r1", "r2"), ("r2", "r0"), ("r2", "r1"),
    ]  # fmt: skip
    row = rows[1]
    assert row.through == (("r1",),)
    assert row.best
    assert row.best.toward_deg == pytest.approx(90.0, abs=2.0)
    assert rows[0].through == ((),)


def test_rooms_that_only_stairs_join_are_no_row_but_a_sighting() -> None:
    rooms = {
        "hall": Room("Hall", size_m=(2.0, 5.0)),
        "landing": Room("Landing", level=1, size_m=(2.0, 4.0)),
    }
    house = House(rooms=rooms, openings={"stairs": Opening(("hall", "landing"), "stairs")})
    found = sight(house)
    graph = seen_graph(house, found)
    assert graph.sightings["hall", "landing"].kind == "stairs"
    assert sight_rows(graph, found) == ()


EXAMPLES = int(os.environ.get("HOUSEMAP_EXAMPLES", "10"))
ROOMS, MOST_ROOMS = 9, 40
RAYS = 720
LONG = 50


def plans(most: int) -> st.SearchStrategy[House]:
    return st.builds(
        lambda seed, count, ells, loops: random_house(Random(seed), count, ells=ells, loops=loops),
        st.integers(0, 2**32),
        st.integers(2, most),
        st.sampled_from((0.0, 0.5, 1.0)),
        st.sampled_from((0.0, 0.3, 0.8)),
    )


@settings(max_examples=EXAMPLES, deadline=None)
@given(plans(ROOMS))
def test_the_pairs_are_those_that_lines_past_two_corners_find(house: House) -> None:
    plan = place(house)
    free = FreeSpace(house, plan)
    exact = {frozenset(pair) for pair in ways(space_of(house, plan))}
    assert exact == free.seen_pairs(free.corners())


@pytest.mark.skipif(EXAMPLES < LONG, reason="seconds a plan: for a long run")
@settings(max_examples=max(1, EXAMPLES // LONG), deadline=None)
@given(st.integers(0, 2**32), st.sampled_from((0.0, 0.5)))
def test_so_are_those_of_the_largest_plans(seed: int, ells: float) -> None:
    house = random_house(Random(seed), MOST_ROOMS, ells=ells)
    plan = place(house)
    free = FreeSpace(house, plan)
    exact = {frozenset(pair) for pair in ways(space_of(house, plan))}
    assert exact == free.seen_pairs(free.corners())


@settings(max_examples=max(2, EXAMPLES // 4), deadline=None)
@given(plans(ROOMS if EXAMPLES >= LONG else 5))
def test_shares_are_those_of_dense_rays(house: House) -> None:
    plan = place(house)
    space = space_of(house, plan)
    room = next(iter(space.rooms))
    points = standing_points(space.rooms[room])
    found = views(space, room).shares
    by_rays = shares_by_rays(FreeSpace(house, plan), points, RAYS)
    for other in by_rays.keys() - {room}:
        assert abs(float(by_rays[other].mean()) - found.get(other, 0.0)) < 0.002
