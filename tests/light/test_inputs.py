"""From the house to what light sees of a room: openings, holes, shapes, lamps, and the notes."""

from dataclasses import replace

import numpy as np
import pytest

from housemap.light import enclosures
from housemap.light.inputs import RoomColours, RoomOpening, SurfaceColour, inputs_of, openings_of
from housemap.light.mesh import Hole
from housemap.light.scene import grey, holes_of, lamp_place_m, scene_of, shape_of, why_not
from housemap.model.house import House, Lamp, Opening, Room, Window
from housemap.plan.house_graph import graph_of
from tests.support.houses import small_house
from tests.support.lit_rooms import light_of, living_inputs, living_room

ELL = ((0.0, 0.0), (5.0, 0.0), (5.0, 2.0), (2.0, 2.0), (2.0, 5.0), (0.0, 5.0))
PAINTS = {key: grey(0.1 * i) for i, key in enumerate(("chalk", "moss", "oat"), 1)}
FINISHES = {"oak-floor": grey(0.25)}


def test_a_house_gives_each_room_its_colours_and_openings() -> None:
    house = small_house()
    openings = graph_of(house).openings_of("hall")
    got = inputs_of(house, "hall", PAINTS, FINISHES, openings)
    assert got.colours.walls is PAINTS["oat"]
    assert got.colours.accents == {"w": PAINTS["moss"]}
    assert got.colours.floor is FINISHES["oak-floor"]
    assert got.colours.ceiling is None
    assert got.openings == (RoomOpening("hall-kitchen", "n", 0.4, 0.8, 2.0, depth_m=0.1),)


def test_an_opening_lies_in_its_second_room_where_that_side_says() -> None:
    (got,) = openings_in(small_house(), "kitchen")
    assert (got.wall, got.along_m) == ("s", 0.4)


def openings_in(house: House, room: str) -> tuple[RoomOpening, ...]:
    return openings_of(house, room, graph_of(house).openings_of(room))


def house_with(opening: Opening) -> House:
    return small_house(openings={"way": opening})


def test_openings_are_as_high_as_their_kind_unless_given() -> None:
    heights = {}
    for kind in ("doorway", "cased", "open"):
        opening = Opening(("hall", "kitchen"), kind, wall="n", along_m=0.1, width_m=0.9)
        heights[kind] = openings_in(house_with(opening), "hall")[0].height_m
        given = replace(opening, height_m=1.9)
        assert openings_in(house_with(given), "hall")[0].height_m == 1.9
    assert heights == {"doorway": 2.0, "cased": 2.1, "open": 2.4}


@pytest.mark.parametrize(
    ("opening", "closed", "reflects"),
    [
        (Opening(("hall", "kitchen"), "cased"), "open", 0.0),
        (Opening(("hall", "kitchen"), "doorway"), "open", 0.0),
        (Opening(("hall", "kitchen"), "glazed"), "glass", 0.1),
        (Opening(("hall", "kitchen"), "doorway", door="shut"), "door", 0.44),
    ],
)
def test_an_opening_reflects_as_it_is_closed(
    opening: Opening, closed: str, reflects: float
) -> None:
    """Open 0, glass 0.1, a shut door as it is painted."""
    placed = replace(opening, wall="n", along_m=0.4, width_m=0.8)
    (got,) = openings_in(house_with(placed), "hall")
    assert got.closed == closed
    colours = RoomColours(walls=grey(0.6), doors=grey(0.44))
    scene = scene_of(living_inputs(colours)._replace(openings=(got._replace(wall="e"),)))
    at = scene.shape.surfaces.index("opening way")
    assert scene.grey[at] == pytest.approx(reflects)
    assert np.all(scene.reflectance[at] == pytest.approx(reflects))


def test_stairs_are_no_hole_in_a_wall() -> None:
    assert openings_in(house_with(Opening(("hall", "kitchen"), "stairs")), "hall") == ()


@pytest.mark.parametrize(
    ("size", "void"),
    [
        ((3.0, 4.4), (1.9, 1.0, 1.0, 2.8)),
        ((4.4, 3.0), (1.0, 1.9, 2.8, 1.0)),
        ((2.0, 3.0), (0.9, 0.2, 1.0, 2.8)),
    ],
)
def test_a_stairwell_without_measures_leaves_a_landing_where_there_is_room(
    size: tuple[float, float], void: tuple[float, ...]
) -> None:
    """x, y and their extents; of the first, two ray tracers have the light (`joined_rooms`)."""
    rooms = {
        name: Room(name, level=level, size_m=size, height_m=2.5, at_m=(1.0, 2.0))
        for level, name in enumerate(("hall", "landing"))
    }
    stairs = Opening(("hall", "landing"), "stairs")
    (got,) = openings_in(House(rooms=rooms, openings={"stairs": stairs}), "hall")
    assert got.wall == "ceiling"
    assert (got.along_m, got.sill_m, got.width_m, got.height_m) == pytest.approx(void)


def test_holes_are_counted_along_the_outline() -> None:
    """The file counts north and west walls from west and south; the outline runs back."""
    windows = {wall: Window(wall, 0.5, 1.0, 1.2, 0.9) for wall in ("n", "e", "s", "w")}
    holes = holes_of(living_inputs(windows=windows))
    along = {hole.surface: hole.along_m for hole in holes.all}
    assert along == pytest.approx({"s": 0.5, "e": 0.5, "n": 4.0 - 1.5, "w": 3.5 - 1.5})


def test_a_window_that_runs_over_its_wall_is_cut_to_it() -> None:
    windows = {"wide": Window("s", 3.0, 2.0, 3.0, 0.9), "off": Window("s", 5.0, 1.0, 1.0, 0.9)}
    (hole,) = holes_of(living_inputs(windows=windows)).all
    assert hole == Hole("window wide", "s", 3.0, 0.9, 1.0, 1.6, shines=True)


def test_an_outline_room_keeps_its_edge_numbers() -> None:
    window = Window("2", 0.5, 1.0, 1.2, 0.9)
    inputs = living_inputs(size_m=None, outline_m=ELL, windows={"a": window})
    shape = shape_of(inputs.room, holes_of(inputs).all)
    assert shape.wall_keys == ("0", "1", "2", "3", "4", "5")
    assert shape.holes[0].along_m == 0.5
    areas = dict(
        zip(scene_of(inputs).shape.surfaces, scene_of(inputs).mesh.surface_area_m2(), strict=True)
    )
    assert areas["2"] + areas["window a"] == pytest.approx(3.0 * 2.5)


@pytest.mark.parametrize(
    ("lamp", "place"),
    [
        (Lamp(800.0, 2700.0), (2.0, 1.75, 2.0)),
        (Lamp(800.0, 2700.0, aim="up"), (2.0, 1.75, 2.0)),
        (Lamp(800.0, 2700.0, aim="down"), (2.0, 1.75, 2.5)),
        (Lamp(800.0, 2700.0, at_m=(0.0, 1.0, 9.0)), (0.0, 1.0, 2.5)),
        (Lamp(800.0, 2700.0, at_m=(7.0, 1.0, 2.0)), (2.0, 1.75, 2.0)),
    ],
)
def test_lamps_stand_where_the_file_format_says(lamp: Lamp, place: tuple[float, ...]) -> None:
    """Default the middle: on the ceiling for down, at 0.8 of the height otherwise."""
    assert lamp_place_m(living_room(), lamp) == pytest.approx(place)


def test_in_an_angled_room_a_lamp_without_a_place_hangs_inside() -> None:
    u_shape = (
        (0.0, 0.0),
        (6.0, 0.0),
        (6.0, 4.0),
        (4.0, 4.0),
        (4.0, 1.0),
        (2.0, 1.0),
        (2.0, 4.0),
        (0.0, 4.0),
    )
    x, y, _ = lamp_place_m(living_room(size_m=None, outline_m=u_shape), Lamp(800.0, 2700.0))
    assert not (2.0 <= x <= 4.0 and y >= 1.0)


def notes(**more: object) -> str:
    colours = more.pop("colours", None)
    assert colours is None or isinstance(colours, RoomColours)
    (room,) = light_of([living_inputs(colours, **more)])
    return " ".join(room.notes)


def test_a_complete_room_needs_no_words() -> None:
    assert notes() == ""


def test_what_is_missing_is_said() -> None:
    assert "No window" in notes(windows={})
    assert "No lamp" in notes(lamps={})
    assert "Not measured" in notes(size_m=None)
    assert "No height" in notes(height_m=None)
    assert "Outdoors" in notes(use="outdoor")
    assert "Deeper than three times its height" in notes(size_m=(3.0, 8.0))
    assert "warmer than any CIE LED" in notes(lamps={"candle": Lamp(300.0, 1900.0)})
    assert 'Lamp "far" stands outside' in notes(
        lamps={"far": Lamp(1.0, 2700.0, at_m=(9.0, 0.0, 1.0))}
    )
    assert "counted by rays" in notes(size_m=None, outline_m=ELL, windows={})


def test_a_lamp_with_a_spectrum_needs_no_kelvin() -> None:
    bare, warm = (Lamp(800.0, kelvin, "LED-B1") for kelvin in (None, 1900.0))
    with_none, with_some = (light_of([living_inputs(lamps={"l": lamp})]) for lamp in (bare, warm))
    assert with_none[0].notes == with_some[0].notes == ()
    assert with_none[0].lights["evening"].total_lux("walls") > 0.0
    assert with_none[0].lights["evening"].total_lux("walls") == pytest.approx(
        with_some[0].lights["evening"].total_lux("walls")
    )


def test_unpainted_surfaces_are_said_and_taken_as_greys() -> None:
    """The low ends of EN 12464-1:2011's ranges."""
    text = notes(colours=RoomColours())
    assert "No paint on the walls yet: counted as a grey of LRV 50." in text
    assert "No paint on the ceiling yet: counted as a grey of LRV 70." in text
    assert "No floor finish yet: counted as a grey of LRV 20." in text


def test_a_house_without_latitude_is_said_where_it_matters() -> None:
    inputs = living_inputs()._replace(latitude_deg=None)
    assert "no latitude" in " ".join(light_of([inputs])[0].notes)
    windows = {"a": replace(inputs.room.windows["garden"], kelvin=6000.0)}
    told = inputs._replace(room=replace(inputs.room, windows=windows))
    assert "no latitude" not in " ".join(light_of([told])[0].notes)


def test_an_opening_without_a_place_counts_as_wall_and_is_said() -> None:
    inputs = living_inputs()._replace(openings=(RoomOpening("way", None, None, 0.9, 2.0),))
    assert 'Opening "way" has no measured place' in " ".join(light_of([inputs])[0].notes)
    assert "opening way" not in scene_of(inputs).shape.surfaces


def test_a_hostile_outline_is_refused_in_words() -> None:
    turns = np.linspace(0.0, 2.0 * np.pi, 400, endpoint=False)
    round_room = tuple((2.0 + 2.0 * np.cos(t), 2.0 + 2.0 * np.sin(t)) for t in turns.tolist())
    assert "corners" in (why_not(Room("Round", outline_m=round_room, height_m=2.4)) or "")
    assert "larger than" in (why_not(Room("Vast", size_m=(9e9, 3.0), height_m=2.4)) or "")


def test_a_room_shape_is_computed_once_whatever_its_paints_and_its_openings_names() -> None:
    opening = RoomOpening("way", "e", 0.2, 0.9, 2.0)
    inputs = living_inputs()._replace(openings=(opening,))
    paint = RoomColours(walls=SurfaceColour(np.full(41, 0.3), 30.0))
    repainted = inputs._replace(colours=paint, openings=(opening._replace(name="gate"),))
    first, second = scene_of(inputs).mesh, scene_of(repainted).mesh
    assert first.exchange_m2 is second.exchange_m2
    names = [scene_of(each).shape.surfaces[-1] for each in (inputs, repainted)]
    assert names == ["opening way", "opening gate"]
    enclosures.forget()
    assert scene_of(inputs).mesh.exchange_m2 is not first.exchange_m2
