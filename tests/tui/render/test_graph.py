"""The house as a graph: every room is a disc, every opening and every sight a line."""

from itertools import combinations

import pytest
from hypothesis import given, settings

from housemap.file.reader import read_house
from housemap.model.house import House, Room
from housemap.plan.house_graph import graph_of
from housemap.plan.placing import place
from housemap.tui.map.drawing import Scene
from housemap.tui.map.graph import GraphPicture, edges_of
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import ASCII, DARK, NO_GREYS, UNICODE, Look
from housemap.tui.render.shades import blocks_of, shades_of
from housemap.workbench.session import Session
from tests.support.houses import grid_house, small_house
from tests.support.project import DEMO
from tests.support.strategies import houses

LOOKS = [Look(), Look(DARK, ASCII), Look(NO_GREYS, UNICODE)]


def picture_of(
    house: House, size: tuple[int, int] = (100, 40), look: Look | None = None, **more: object
) -> GraphPicture:
    blocks = blocks_of(shades_of(Session.of(house)))
    scene = Scene(house, place(house), 0, blocks, look or Look())
    picture = {"between": {}, "room": next(iter(house.rooms), None), "size": size} | more
    return GraphPicture(scene, graph_of(house), **picture)  # type: ignore[arg-type]  # by name


@pytest.mark.parametrize("look", LOOKS, ids=["blocks", "ascii", "no colour"])
def test_every_room_is_there_by_name_also_unmeasured_and_on_other_levels(look: Look) -> None:
    text = text_of(picture_of(small_house(), look=look).rows)
    assert all(name in text for name in ("Hall", "Kitchen", "Study"))


def test_discs_do_not_overlap_where_there_is_room() -> None:
    discs = picture_of(grid_house(20), (140, 50)).discs.values()
    for a, b in combinations(discs, 2):
        apart = abs(a.column - b.column) >= (a.columns + b.columns) / 2 - 1
        assert apart or abs(a.row - b.row) >= (a.rows + b.rows) / 2 - 1


def test_a_room_is_found_where_its_disc_is() -> None:
    picture = picture_of(small_house())
    for room, disc in picture.discs.items():
        assert picture.room_at(int(disc.column), int(disc.row)) == room


def test_openings_come_before_what_is_only_seen() -> None:
    house = small_house()
    edges = [*edges_of(graph_of(house), {})]
    assert {edge.rooms for edge in edges if edge.joined} == {
        tuple(sorted(opening.between)) for opening in house.openings.values()
    }
    assert [edge.joined for edge in edges] == sorted((e.joined for e in edges), reverse=True)


def test_a_finding_between_two_rooms_is_marked_on_their_line() -> None:
    pair = ("hall", "kitchen")
    marked = text_of(picture_of(small_house(), between={pair: "fault"}).rows)
    assert UNICODE.marks["fault"] in marked
    assert UNICODE.marks["fault"] not in text_of(picture_of(small_house()).rows)


@pytest.mark.parametrize("size", [(46, 21), (47, 20), (60, 22), (100, 40)])
def test_no_mark_covers_a_name(size: tuple[int, int]) -> None:
    house = read_house(DEMO)
    between = {edge.rooms: "note" for edge in edges_of(graph_of(house), {})}
    text = text_of(picture_of(house, size, between=between).rows)
    assert UNICODE.marks["note"] in text
    assert [room.name for room in house.rooms.values() if room.name not in text] == []


def test_a_house_of_one_room_and_a_tiny_screen_are_drawn() -> None:
    house = House(rooms={"hall": Room("Hall")})
    assert "Hall" in text_of(picture_of(house).rows)
    assert len(picture_of(house, (1, 1)).rows) == 1


@given(houses())
@settings(max_examples=40, deadline=None)
def test_any_house_fills_the_screen_and_no_more(house: House) -> None:
    rows = picture_of(house, (60, 20)).rows
    assert {width_of(row) for row in rows} == {60}
    assert len(rows) == 20
