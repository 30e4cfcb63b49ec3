"""Going on from where one stands: turning, stepping, through openings, to the best views."""

from math import dist

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from housemap.file.reader import read_house
from housemap.model.house import House, Room
from housemap.plan.elevations import Elevations
from housemap.plan.free_space import part_at, space_of
from housemap.plan.pixels import in_view
from housemap.plan.placing import place
from housemap.plan.route import route_of
from housemap.plan.view import Camera, look
from housemap.plan.viewpoints import (
    NARROWEST_DEG,
    WIDEST_DEG,
    arrived,
    best_of,
    best_showing,
    facing,
    gone_through,
    opening_ahead,
    stepped,
    turned,
    zoomed,
)
from tests.support.project import DEMO

HOUSE = read_house(DEMO)
PLAN = place(HOUSE)
SPACE = space_of(HOUSE, PLAN)
ELEVATIONS = Elevations(HOUSE, PLAN, SPACE)
ROUTE = route_of(ELEVATIONS.graph, PLAN, SPACE)

moves = st.lists(
    st.tuples(st.sampled_from(["turn", "step"]), st.integers(-180, 180), st.floats(0.05, 1.0)),
    max_size=25,
)


def test_a_full_turn_leads_back() -> None:
    camera = Camera("hall", (5.0, 1.0), 40.0)
    for _ in range(36):
        camera = turned(camera, 10.0)
    assert camera.toward_deg == pytest.approx(40.0)


@settings(max_examples=40, deadline=None)
@given(st.sampled_from([stop.room for stop in ROUTE.stops]), moves)
@example("nursery", [("step", -151, 0.5), ("step", -143, 1.0), ("step", 0, 0.25)])
def test_whoever_walks_never_leaves_the_house(
    room: str, walk: list[tuple[str, int, float]]
) -> None:
    stop = next(stop for stop in ROUTE.stops if stop.room == room)
    camera = arrived(ELEVATIONS, stop)
    for what, degrees, metres in walk:
        before = camera
        camera = turned(camera, degrees) if what == "turn" else stepped(
            SPACE, camera, degrees, metres
        )  # fmt: skip
        assert part_at(SPACE, camera.room, camera.at_m) is not None
        if what == "step" and camera.room == before.room:
            assert dist(camera.at_m, before.at_m) <= metres + 1e-9


def test_the_opening_ahead_is_the_one_that_is_looked_at() -> None:
    in_hall = Camera("hall", (4.65, 3.3), 0.0)
    ahead = {0.0: "hall-kitchen", 250.0: "hall-living", 150.0: "hall-stairs"}
    for toward, opening in ahead.items():
        camera = turned(in_hall, toward)
        found = opening_ahead(ELEVATIONS, camera)
        assert found is not None
        assert "hall" in HOUSE.openings[found].between
        if toward != 150.0:
            assert found == opening
    alone = House(rooms={"a": Room("A", size_m=(3.0, 3.0))})
    plan = place(alone)
    elevations = Elevations(alone, plan, space_of(alone, plan))
    assert opening_ahead(elevations, Camera("a", (1.0, 1.0), 0.0)) is None


@pytest.mark.parametrize("opening", HOUSE.openings)
def test_every_opening_can_be_gone_through_both_ways(opening: str) -> None:
    for here, there in (HOUSE.openings[opening].between, HOUSE.openings[opening].between[::-1]):
        stop = next(stop for stop in ROUTE.stops if stop.room == here)
        camera = gone_through(ELEVATIONS, arrived(ELEVATIONS, stop), opening)
        assert camera.room == there
        assert part_at(SPACE, there, camera.at_m) is not None


def test_behind_a_door_one_looks_on_the_way_one_came() -> None:
    camera = gone_through(ELEVATIONS, Camera("hall", (4.65, 4.0), 20.0), "hall-kitchen")
    assert camera.room == "kitchen"
    assert camera.toward_deg == pytest.approx(0.0, abs=1e-6)


def test_one_arrives_at_each_stop_in_its_room_and_sees_more_than_a_blank_wall() -> None:
    for stop in ROUTE.stops:
        camera = arrived(ELEVATIONS, stop)
        assert camera.room == stop.room
        assert part_at(SPACE, camera.room, camera.at_m) is not None
        view = look(ELEVATIONS, camera, 96, 72)
        assert view
        assert len(in_view(view)) >= 4
        assert max(in_view(view).values()) < 0.8


def test_one_looks_the_way_one_came_where_that_shows_something() -> None:
    stop = next(stop for stop in ROUTE.stops if stop.room == "kitchen")
    assert arrived(ELEVATIONS, stop).toward_deg == stop.toward_deg


def test_outdoors_one_faces_the_house() -> None:
    terrace = next(stop for stop in ROUTE.stops if stop.room == "terrace")
    view = look(ELEVATIONS, arrived(ELEVATIONS, terrace), 96, 72)
    assert view
    assert in_view(view)["kitchen", "walls"] > 0.05


def test_the_lens_stays_within_its_limits() -> None:
    camera = Camera("hall", (5.0, 1.0), 0.0)
    for by, limit in ((0.8, NARROWEST_DEG), (1.25, WIDEST_DEG)):
        for _ in range(20):
            camera = zoomed(camera, by)
        assert camera.field_deg == limit


def test_facing_looks_at_the_middle_of_the_room() -> None:
    house = House(rooms={"a": Room("A", size_m=(4.0, 4.0), at_m=(0.0, 0.0))})
    space = space_of(house, place(house))
    assert facing(space, Camera("a", (0.5, 0.5), 0.0)).toward_deg == pytest.approx(45.0)


@pytest.mark.parametrize("room", HOUSE.rooms)
def test_the_best_view_of_a_room_is_from_inside_and_shows_its_walls(room: str) -> None:
    camera = best_of(ELEVATIONS, room)
    assert camera is not None
    view = look(ELEVATIONS, camera, 60, 40)
    assert view is not None
    outdoors = HOUSE.rooms[room].use == "outdoor"
    assert outdoors or any(key[0] == room for key in in_view(view))


def test_the_view_of_two_walls_shows_both() -> None:
    wanted = [("study", "walls"), ("hall", "walls")]
    camera = best_showing(ELEVATIONS, wanted)
    assert camera is not None
    view = look(ELEVATIONS, camera, 60, 40)
    assert view is not None
    assert set(wanted) <= in_view(view).keys()


def test_what_has_no_measures_has_no_best_view() -> None:
    house = House(rooms={"a": Room("A")})
    plan = place(house)
    elevations = Elevations(house, plan, space_of(house, plan))
    assert best_of(elevations, "a") is None
    assert best_showing(elevations, [("a", "walls"), ("", "")]) is None
