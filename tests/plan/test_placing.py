"""The plan that sizes and openings give."""

from dataclasses import replace
from random import Random

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import Polygon

from housemap.model.house import House, Opening, Point, Room
from housemap.plan.placing import Plan, place
from tests.support.houses import grid_house, small_house
from tests.support.plans import random_house
from tests.support.strategies import houses


def room(x: float, y: float, at: Point | None = None, level: int = 0) -> Room:
    return Room("Room", level=level, size_m=(x, y), at_m=at, height_m=2.4)


def opening(a: str, b: str, side: tuple[str, float], to_side: tuple[str, float]) -> Opening:
    """A doorway of 0.8 m; each side is its wall and where it lies along it."""
    return Opening(
        (a, b), "doorway", wall=side[0], along_m=side[1], to_wall=to_side[0],
        to_along_m=to_side[1], width_m=0.8,
    )  # fmt: skip


def ring(error_m: float = 0.0) -> House:
    """Four rooms of 4 x 3 m round a corner, the last opening off by `error_m` along its wall."""
    rooms = {key: room(4.0, 3.0) for key in ("sw", "se", "ne", "nw")}
    openings = {
        "south": opening("sw", "se", ("e", 1.0), ("w", 1.0)),
        "east": opening("se", "ne", ("n", 1.0), ("s", 1.0)),
        "north": opening("ne", "nw", ("w", 1.0), ("e", 1.0)),
        "west": opening("nw", "sw", ("s", 1.0), ("n", 1.0 + error_m)),
    }
    return House(rooms=rooms, openings=openings)


def at(plan: Plan, key: str) -> Point:
    return plan.rooms[key].at_m


def test_an_opening_puts_two_rooms_a_wall_apart_with_its_sides_in_line() -> None:
    house = House(
        rooms={"hall": room(1.8, 5.2), "kitchen": room(4.0, 3.0)},
        openings={"door": opening("hall", "kitchen", ("n", 0.4), ("s", 1.9))},
    )
    plan = place(house)
    assert at(plan, "hall") == (0.0, 0.0)
    assert at(plan, "kitchen") == pytest.approx((-1.5, 5.3))
    door = plan.openings["door"]
    assert np.allclose(door.near_m, ((0.4, 5.2), (1.2, 5.2)))
    assert np.allclose(door.far_m, ((0.4, 5.3), (1.2, 5.3)))
    assert plan.unplaced == ()


def test_walls_are_as_thick_as_the_house_says() -> None:
    house = replace(ring(), wall_thickness_m=0.25)
    assert at(place(house), "se") == pytest.approx((4.25, 0.0))
    assert at(place(replace(house, wall_thickness_m=0.0)), "se") == pytest.approx((4.0, 0.0))


def test_edges_of_an_outline_are_counted_from_point_to_point() -> None:
    ell = Room("L", outline_m=((0, 0), (4, 0), (4, 3), (2, 3), (2, 5), (0, 5)), height_m=2.4)
    house = House(
        rooms={"ell": ell, "box": room(2.0, 2.0)},
        # Edge 2 runs west along the inner corner, so that its 0.3 lies at x = 3.7 - 0.8.
        openings={"door": opening("ell", "box", ("2", 0.3), ("s", 0.5))},
    )
    plan = place(house)
    assert np.allclose(plan.openings["door"].near_m, ((3.7, 3.0), (2.9, 3.0)))
    assert at(plan, "box") == pytest.approx((2.4, 3.1))


def test_a_pin_holds_and_the_rest_follows() -> None:
    house = ring()
    pinned = replace(house, rooms={**house.rooms, "ne": room(4.0, 3.0, at=(10.0, 20.0))})
    plan = place(pinned)
    assert at(plan, "ne") == (10.0, 20.0)
    assert at(plan, "sw") == pytest.approx((5.9, 16.9))


def test_a_side_that_was_not_measured_is_found_between_pinned_rooms() -> None:
    house = House(
        rooms={"a": room(4.0, 3.0, (0.0, 0.0)), "b": room(4.0, 3.0, (4.2, 1.0))},
        openings={"door": Opening(("a", "b"), "doorway", wall="e", along_m=1.5, width_m=0.8)},
    )
    door = place(house).openings["door"]
    assert door.measured
    assert np.allclose(door.far_m, ((4.2, 1.5), (4.2, 2.3)))


def test_a_loop_that_closes_tells_nothing() -> None:
    plan = place(ring())
    assert plan.closing_error_m == 0.0
    assert plan.closings == ()


def test_a_closing_error_is_spread_evenly_over_the_openings_of_its_loop() -> None:
    """An adjusted traverse of equal weights: each of n legs takes 1/n of the misclosure."""
    plan = place(ring(0.4))
    assert plan.closing_error_m == pytest.approx(0.4)
    legs = [("sw", "se"), ("se", "ne"), ("ne", "nw"), ("nw", "sw")]
    wanted = [(4.1, 0.0), (0.0, 3.1), (-4.1, 0.0), (-0.4, -3.1)]
    for (a, b), (x, y) in zip(legs, wanted, strict=True):
        moved = (at(plan, b)[0] - at(plan, a)[0], at(plan, b)[1] - at(plan, a)[1])
        assert moved == pytest.approx((x + 0.1, y))


@pytest.mark.parametrize("error_m", [0.1, 0.2, 0.35])
def test_an_error_is_what_tape_measures_differ_by_and_no_more(error_m: float) -> None:
    """What is just at the limit of a check is not above it."""
    assert [closing.error_m for closing in place(ring(error_m)).closings] == [error_m]


def test_the_opening_that_breaks_several_loops_is_named_with_how_far_it_is_off() -> None:
    house = grid_house(20, columns=5)
    wrong = replace(house.openings["r0006-r0007"], to_along_m=1.35)
    plan = place(replace(house, openings={**house.openings, "r0006-r0007": wrong}))
    (closing,) = plan.closings
    assert closing.opening == "r0006-r0007"
    assert closing.error_m == pytest.approx(0.35)


def test_two_openings_wrong_far_apart_are_both_named_the_worse_first() -> None:
    house = grid_house(60)
    wrong = {
        "r0002-r0003": replace(house.openings["r0002-r0003"], along_m=1.2),
        "r0035-r0045": replace(house.openings["r0035-r0045"], along_m=1.6),
    }
    plan = place(replace(house, openings={**house.openings, **wrong}))
    assert [closing.opening for closing in plan.closings] == ["r0035-r0045", "r0002-r0003"]


@given(st.integers(0, 2**32), st.integers(4, 12))
def test_spread_positions_are_numpys_least_squares(seed: int, count: int) -> None:
    """numpy.linalg.lstsq over the same observations as a second solver."""
    random = Random(seed)
    house = random_house(random, count, loops=1.0)
    jittered = {
        key: replace(each, along_m=(each.along_m or 0.0) + random.uniform(-0.05, 0.05))
        for key, each in house.openings.items()
    }
    house = replace(house, openings=jittered)
    keys = list(house.rooms)
    rows, offsets = [], []
    for each in house.openings.values():
        lone = place(
            House(
                rooms={key: replace(house.rooms[key], at_m=None) for key in each.between},
                openings={"door": each},
            )
        )
        a, b = each.between
        row = np.zeros(count)
        row[keys.index(b)], row[keys.index(a)] = 1.0, -1.0
        rows.append(row)
        offsets.append(np.subtract(at(lone, b), at(lone, a)))
    pin = np.eye(count)[:1] * 1e6
    pinned = np.array([house.rooms[keys[0]].at_m]) * 1e6
    solved = np.linalg.lstsq(np.vstack([*rows, pin]), np.vstack([*offsets, pinned]), rcond=None)[0]
    plan = place(house)
    assert np.allclose([at(plan, key) for key in keys], solved, atol=1e-6)


def test_levels_lie_over_each_other_through_the_stairs() -> None:
    house = House(
        rooms={
            "hall": room(2.0, 5.0, (3.0, 1.0)),
            "landing": room(2.0, 4.0, level=1),
            "bedroom": room(3.0, 4.0, level=1),
        },
        openings={
            "stairs": Opening(("hall", "landing"), "stairs"),
            "door": opening("landing", "bedroom", ("e", 1.0), ("w", 1.0)),
        },
    )
    plan = place(house)
    assert at(plan, "landing") == (3.0, 1.0)
    assert at(plan, "bedroom") == pytest.approx((5.1, 1.0))
    assert plan.unplaced == ()


def test_rooms_lying_in_each_other_are_told() -> None:
    house = House(rooms={"a": room(4.0, 3.0, (0.0, 0.0)), "b": room(4.0, 3.0, (3.0, 1.0))})
    assert place(house).overlaps == (("a", "b"),)
    apart = replace(house, rooms={**house.rooms, "b": room(4.0, 3.0, (4.0, 0.0))})
    assert place(apart).overlaps == ()


def test_walls_that_do_not_face_each_other_are_told_and_place_nothing() -> None:
    house = House(
        rooms={"a": room(4.0, 3.0), "b": room(4.0, 3.0)},
        openings={"door": opening("a", "b", ("n", 1.0), ("e", 1.0))},
    )
    plan = place(house)
    assert [each.opening for each in plan.unmet] == ["door"]
    assert plan.unplaced == ("b",)


def two_rooms(door: Opening, b_at: tuple[float, float]) -> House:
    """Two rooms of 4 x 3 m, the first at the origin."""
    rooms = {"a": room(4.0, 3.0, (0.0, 0.0)), "b": room(4.0, 3.0, b_at)}
    return House(rooms=rooms, openings={"door": door})


@pytest.mark.parametrize(
    ("door", "b_at"),
    [
        (Opening(("a", "b"), "doorway"), (4.1, 0.0)),
        (Opening(("a", "b"), "doorway", wall="e"), (4.1, 0.0)),
        (Opening(("a", "b"), "doorway", wall="e", along_m=1.0, width_m=0.8), (4.1, 0.5)),
        (opening("a", "b", ("e", 1.0), ("w", 1.0)), (4.1, 0.0)),
        (Opening(("a", "b"), "stairs"), (9.0, 0.0)),
    ],
    ids=["no wall", "a wall", "one side", "both sides", "stairs"],
)
def test_openings_between_walls_that_meet_are_in_order(
    door: Opening, b_at: tuple[float, float]
) -> None:
    assert place(two_rooms(door, b_at)).unmet == ()


@pytest.mark.parametrize(
    "door",
    [
        Opening(("a", "b"), "doorway", wall="s", along_m=0.3, width_m=0.75),
        Opening(("a", "b"), "doorway", wall="s"),
        Opening(("a", "b"), "doorway", wall="n", along_m=0.3, width_m=0.75),
        Opening(("a", "b"), "doorway", to_wall="e"),
    ],
    ids=["wrong wall", "wrong wall, not measured", "no room behind", "wrong wall there"],
)
def test_an_opening_to_a_room_elsewhere_is_listed_with_what_would_meet(door: Opening) -> None:
    """The other room lies to the north-east: 1.5 m of the first room's north wall meet it."""
    (unmet,) = place(two_rooms(door, (2.5, 3.1))).unmet
    (contact,) = unmet.contacts
    assert (unmet.opening, unmet.apart_m) == ("door", 0.0)
    assert (contact.wall, contact.to_wall) == ("n", "s")
    assert (contact.start_m, contact.end_m) == pytest.approx((2.5, 4.0))


def test_two_rooms_two_metres_apart_are_not_joined() -> None:
    (unmet,) = place(two_rooms(Opening(("a", "b"), "doorway"), (6.0, 0.0))).unmet
    assert unmet.contacts == ()
    assert unmet.apart_m == pytest.approx(2.0)


def test_an_opening_off_in_a_loop_is_a_closing_and_not_listed_twice() -> None:
    plan = place(two_rooms(opening("a", "b", ("e", 1.0), ("w", 1.0)), (6.1, 0.0)))
    assert [closing.opening for closing in plan.closings] == ["door"]
    assert plan.unmet == ()


def test_a_room_without_measures_gets_a_place_beside_what_it_opens_into() -> None:
    house = small_house()
    study = Room("Study", use="office")
    to_study = Opening(("hall", "study"), "doorway", wall="e", along_m=1.0)
    plan = place(
        replace(
            house,
            rooms={**house.rooms, "study": study},
            openings={**house.openings, "hall-study": to_study},
        )
    )
    placed = plan.rooms["study"]
    assert not placed.measured
    assert placed.at_m[0] == pytest.approx(1.9)
    assert plan.unplaced == ("study",)


def test_a_room_not_measured_yet_is_drawn_before_the_door_that_leads_to_it() -> None:
    rooms = {"hall": room(6.0, 2.0), "study": room(3.0, 2.8)}
    door = Opening(("hall", "study"), "doorway", wall="n", along_m=4.1, width_m=0.8)
    plan = place(House(rooms=rooms, openings={"door": door}))
    assert plan.unplaced == ("study",)
    assert at(plan, "study") == pytest.approx((4.5 - 1.5, 2.1))


def test_with_sizes_alone_the_room_with_the_most_openings_is_the_middle_of_the_map() -> None:
    rooms = {key: room(3.0, 3.0) for key in ("den", "hall", "study", "bath")}
    openings = {key: Opening(("hall", key), "doorway") for key in ("den", "study", "bath")}
    plan = place(House(rooms=rooms, openings=openings))
    assert at(plan, "hall") == (0.0, 0.0)
    assert set(plan.unplaced) == {"den", "study", "bath"}


def test_a_house_without_measures_is_a_map_all_the_same() -> None:
    rooms = {f"r{i}": Room("Room", level=i // 6) for i in range(12)}
    openings = {f"o{i}": Opening((f"r{i // 2}", f"r{i + 1}"), "doorway") for i in range(11)}
    plan = place(House(rooms=rooms, openings=openings))
    assert_blocks_apart(plan)
    assert len(plan.unplaced) == len(rooms)


@given(houses())
def test_every_room_of_any_house_has_a_place_and_blocks_never_overlap(house: House) -> None:
    plan = place(house)
    assert plan.rooms.keys() == house.rooms.keys()
    assert_blocks_apart(plan)
    assert place(house) == plan


@given(st.integers(0, 2**32), st.integers(1, 14))
@example(1068334, 4)
def test_a_plan_that_closes_comes_out_without_gap_or_overlap(seed: int, count: int) -> None:
    house = random_house(Random(seed), count, ells=0.4)
    plan = place(house)
    assert plan.closing_error_m < 1e-9
    assert plan.overlaps == ()
    joined = {room for opening in house.openings.values() for room in opening.between}
    # A cut corner may leave a room no wall that is long enough for a door.
    assert not joined.intersection(plan.unplaced)


def assert_blocks_apart(plan: Plan) -> None:
    """Rooms of schematic place, unless the measures of two lay them into each other, as it says."""
    shapes = {key: Polygon(placed.outline_m) for key, placed in plan.rooms.items()}
    for a in plan.unplaced:
        for b, shape in shapes.items():
            apart = tuple(sorted((a, b))) not in plan.overlaps
            if a != b and plan.rooms[a].level == plan.rooms[b].level and apart:
                assert shapes[a].intersection(shape).area < 1e-6, (a, b)
