"""What a legal house is."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given

from housemap.model import geometry
from housemap.model.house import (
    Accent,
    Accepted,
    Brief,
    Client,
    House,
    Lab,
    Lamp,
    Notation,
    Opening,
    Part,
    Piece,
    Primer,
    Reflectance,
    Room,
    RoomBrief,
    Scheme,
    SchemePaints,
    Sightline,
    SpectralPower,
    Srgb,
    State,
    Window,
    Xyz,
)
from housemap.model.validation import problems
from tests.support.houses import grid_house, paint, room, small_house
from tests.support.strategies import houses

WINDOW = Window("s", 0.3, 1.2, 1.1, 0.9)
POWER = SpectralPower(400.0, 100.0, (1.0, 2.0, 2.0, 1.0))
SQUARE = ((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0))


def told(house: House) -> list[str]:
    return [problem.text for problem in problems(house)]


def with_room(**values: Any) -> House:
    return House(rooms={"den": Room(**({"name": "Den", "size_m": (3.0, 4.0)} | values))})


@given(houses())
def test_every_house_that_the_tests_draw_is_legal(house: House) -> None:
    assert told(house) == []


def test_the_small_house_and_the_grid_are_legal() -> None:
    assert told(small_house()) == []
    assert told(grid_house(30)) == []


ROOMS: list[tuple[dict[str, Any], str]] = [
    ({"name": " "}, "name must not be empty"),
    ({"level": 999}, "level must be -20 to 200, found 999"),
    ({"size_m": (0.0, 4.0)}, "size (item 1) must be above 0, found 0"),
    ({"size_m": (0.001, 4.0)}, "size (item 1) must be at least 0.2, found 0.001"),
    ({"height_m": 0.001}, "height must be at least 0.5, found 0.001"),
    ({"windows": {"w": replace(WINDOW, width_m=0.001)}},
     'window "w": width must be at least 0.01, found 0.001'),
    ({"states": {"shelf": State()}},
     'state "shelf": its id must be a surface or a part of the room: walls, ceiling, trim, doors'),
    ({"states": {"walls": State("p", Srgb("#d9d0bf"))}},
     'state "walls": paint is given beside a colour; keep one of them'),
    ({"parts": {"trim": Part("skirting")}},
     'part "trim": its id must not be trim: that is a surface of every room'),
    ({"parts": {"rail": Part("panelling", wall="4")}},
     'part "rail": wall must be a wall of the room, which has n, e, s and w, found "4"'),
    ({"pieces": {"sofa": Piece((2.1, 0.9, 0.8), (1.0, 1.0))}},
     'piece "sofa": size (item 1) puts it at 1 to 3.1, and the room ends at 3'),
    ({"pieces": {"shelf": Piece((0.4, 0.9, 2.5), (1.0, 1.0))}, "height_m": 2.4},
     'piece "shelf": size (item 3) puts it at 0 to 2.5, and the room ends at 2.4'),
    ({"lamps": {"l": Lamp(800.0, 2700.0, "A", power=POWER)}},
     'lamp "l": power is given beside spectrum; keep one of them'),
    *(({"lamps": {"l": Lamp(800.0, power=power)}},
       'lamp "l": power must have light from 400 to 700 nm')
      for power in (replace(POWER, start_nm=500.0), replace(POWER, values=(0.0, 0.0, 0.0, 0.0)),
                    SpectralPower(200.0, 100.0, (1.0, *(0.0,) * 7, 1.0)))),
    ({"lamps": {"l": Lamp(800.0)}}, 'lamp "l": kelvin is missing: give kelvin, or a spectrum'),
    ({"height_m": float("nan")}, "height must be a finite number, found nan"),
    ({"outline_m": SQUARE}, "outline is given beside size; keep one of them"),
    ({"fixed": ("a", "a")}, "fixed must name each finish once"),
    ({"accents": {"5": Accent("p")}},
     'accent "5": must be a wall of the room, which has n, e, s and w, found "5"'),
    ({"windows": {"w": replace(WINDOW, wall="0")}},
     'window "w": wall must be a wall of the room, which has n, e, s and w, found "0"'),
    ({"windows": {"w": replace(WINDOW, along_m=2.0)}},
     'window "w": along and width reach 3.2, and the wall is 3 long'),
    ({"windows": {"w": WINDOW}, "height_m": 1.9},
     'window "w": height and sill reach 2, and the room is 1.9 high'),
    ({"windows": {"w": replace(WINDOW, transmittance=0.0)}},
     'window "w": transmittance must be above 0, found 0'),
    ({"lamps": {"l": Lamp(800.0, 2700.0, at_m=(3.5, 1.0, 2.0))}},
     'lamp "l": at (item 1) must lie in the room, 0 to 3, found 3.5'),
    ({"lamps": {"l": Lamp(800.0, 2700.0, spectrum="F11")}}, 'found "F11"'),
]  # fmt: skip


@pytest.mark.parametrize(("values", "text"), ROOMS)
def test_a_room_that_cannot_be_is_told(values: dict[str, Any], text: str) -> None:
    assert any(text in each for each in told(with_room(**values))), told(with_room(**values))


@pytest.mark.parametrize(
    ("outline", "text"),
    [
        (SQUARE[::-1], "must run counter-clockwise, found clockwise"),
        (((0.0, 0.0), (3.0, 3.0), (3.0, 0.0), (0.0, 3.0)), "must not touch or cross itself"),
        ((*SQUARE, SQUARE[0]), "must not touch or cross itself, nor repeat a point"),
        (SQUARE[:2], "must be a list of 3 to 100, found 2"),
        (
            ((0.0, 0.0), (3.0, 0.0), (3.0, 0.001), (0.0, 0.001)),
            "outline must be at least 0.2 wide and deep, found 0.001",
        ),
        (
            ((0.0, 0.0), (3.0, 0.0), (3.0, 0.2), (2.99, 0.01)),
            "outline must enclose a floor, found next to none",
        ),
    ],
)
def test_an_outline_must_be_simple_and_counter_clockwise(outline: Any, text: str) -> None:
    assert any(text in each for each in told(with_room(size_m=None, outline_m=outline)))


def test_an_outline_may_have_slanting_edges() -> None:
    bay = ((0.0, 0.0), (3.0, 0.0), (3.5, 1.5), (3.0, 3.0), (0.0, 3.0))
    assert told(with_room(size_m=None, outline_m=bay)) == []


def test_an_unmeasured_room_may_have_windows_and_accents() -> None:
    house = replace(with_room(size_m=None, windows={"w": WINDOW}), paints={"p": paint()})
    assert told(house) == []
    accent = replace(house.rooms["den"], accents={"n": Accent("p")})
    assert told(replace(house, rooms={"den": accent})) == []


OPENINGS: list[tuple[dict[str, Any], str]] = [
    ({"between": ("hall", "hall")}, "between must name two different rooms"),
    ({"between": ("hall", "attic")}, 'between (item 2) names the room "attic", which is not'),
    ({"kind": "cased", "door": "shut"}, "door goes with a doorway, not with kind cased"),
    ({"stop": True}, "stop goes with kind open, not with doorway"),
    ({"wall": None}, "along needs wall beside it"),
    ({"to_wall": None}, "to_along needs to_wall beside it"),
    ({"along_m": 1.1}, "along and width reach 1.9, and the wall is 1.8 long"),
    ({"to_wall": "2"}, 'to_wall must be a wall of the room, which has n, e, s and w, found "2"'),
    ({"hinge": "left", "kind": "cased"}, "hinge goes with a doorway, not with kind cased"),
    ({"into": "study"}, 'into must be one of the two rooms, found "study"'),
    ({"height_m": 2.5}, 'height must fit both rooms, "Hall" is 2.4 high, found 2.5'),
]


@pytest.mark.parametrize(("values", "text"), OPENINGS)
def test_an_opening_that_cannot_be_is_told(values: dict[str, Any], text: str) -> None:
    opening: Opening = replace(small_house().openings["hall-kitchen"], **values)
    found = told(small_house(openings={"o": opening}))
    assert any(f'opening "o": {text}' in each for each in found), found


@pytest.mark.parametrize(
    ("source", "text"),
    [
        (Srgb("d9d0bf"), "srgb must be a colour such as"),
        (Lab((101.0, 0.0, 0.0)), "lab (item 1) must be at most 100, found 101"),
        (Lab((50.0, 0.0, 0.0), "D65/4"), "observed must be a CIE illuminant and an observer"),
        (Xyz((50.0, 120.0, 50.0)), "xyz (item 2) must be at most 100, found 120"),
        (Notation("5X 7/1"), 'notation must be a notation such as "5Y 7/1" or "N 8/"'),
        (Reflectance(400.0, 10.0, (0.5, 1.5)), "reflectance.values (item 2) must be at most 1"),
    ],
)
def test_a_colour_that_cannot_be_is_told(source: Any, text: str) -> None:
    house = House(paints={"p": replace(paint(), colour=source)})
    assert any(text in each for each in told(house)), told(house)


@pytest.mark.parametrize("text", ["5Y 7/1", "N 8/", "10RP 2.5/12", "2.5PB 6/0.5", "N 9.5/"])
def test_notations_of_astm_d1535_are_legal(text: str) -> None:
    assert told(House(paints={"p": replace(paint(), colour=Notation(text))})) == []


def test_two_rooms_in_one_place_are_told() -> None:
    beside = room("B", size_m=(3.0, 3.0), at_m=(2.9, 0.0))
    house = House(rooms={"a": room("A", size_m=(3.0, 3.0), at_m=(0.0, 0.0)), "b": beside})
    assert told(house) == []
    over = replace(house, rooms={**house.rooms, "b": replace(beside, at_m=(1.5, 0.0))})
    assert told(over) == ['room "b": at puts it over room "a": 50% of the smaller one is shared']
    above = replace(over.rooms["b"], level=1)
    assert told(replace(over, rooms={**house.rooms, "b": above})) == []


def test_dangling_references_are_told_with_their_path() -> None:
    house = replace(small_house(), paints={}, visits={"attic": small_house().visits["hall"]})
    found = {problem.path: problem.text for problem in problems(house)}
    assert found["room", "hall", "paints", "walls"].endswith(
        'paints.walls names the paint "oat", which is not in the file'
    )
    assert (
        found["visit", "attic"] == 'visit "attic": names the room "attic", which is not in the file'
    )
    assert found["room", "hall", "accent", "w", "paint"].startswith(
        'room "hall", accent "w": paint'
    )


HOUSES: list[tuple[dict[str, Any], str]] = [
    ({"brief": Brief(lrv=(75.0, 40.0))},
     "brief: lrv must be the darkest, then the lightest, found 75 and 40"),
    ({"brief": Brief(like=("blue",), avoid=("pink", "blue"))},
     'brief: avoid must not name "blue", which is liked'),
    ({"brief": Brief(strength="loud")},  # type: ignore[arg-type]  # on purpose
     "brief: strength must be one of neutral, greyish, moderate, strong or vivid"),
    ({"brief": Brief(like=("teal",))}, "brief: like (item 1) must be one of pink, red"),
    ({"brief": Brief(rooms={"hall": RoomBrief(colours=0)})},
     'brief, room "hall": colours must be 1 to 100, found 0'),
    ({"brief": Brief(rooms={"attic": RoomBrief()})},
     'brief, room "attic": names the room "attic", which is not in the file'),
    ({"client": Client(currency="pounds")},
     'client: currency must be an ISO 4217 code such as "GBP", found "pounds"'),
    ({"client": Client(tax=120.0)}, "client: tax must be at most 100, found 120"),
    ({"client": Client(rates=(("floor", 1.0),))}, "client: rates must hold each of walls, ceiling"),
    ({"client": Client(rates=(("walls", 1e-300),))}, "client: rates.walls must be at least 0.01"),
    ({"primers": {"p": Primer("P", coverage=1e-300)}},
     'primer "p": coverage must be at least 0.01, found 1e-300'),
    ({"schemes": {"a": Scheme("A", paints={"hall": SchemePaints("tar")})}},
     'scheme "a": paints.hall.walls names the paint "tar", which is not in the file'),
    ({"schemes": {"a": Scheme("A", paints={"hall": SchemePaints(accents={"4": "oat"})})}},
     'scheme "a": paints.hall.accents must be a wall of the room'),
    ({"accepted": {"a": Accepted("jar", ())}}, 'accepted "a": rooms must be a list of 1 to 100'),
    ({"primers": {"a": Primer("Base", tins=(2.5,), prices=(20.0, 30.0))}},
     'primer "a": prices must be one a tin, 1, found 2'),
    ({"country": "Narnia"}, 'house: country must be an ISO 3166 code such as "GB"'),
]  # fmt: skip


@pytest.mark.parametrize(("values", "text"), HOUSES)
def test_wishes_schemes_and_papers_that_cannot_be_are_told(
    values: dict[str, Any], text: str
) -> None:
    found = told(small_house(**values))
    assert any(text in each for each in found), found


def test_a_sightline_joins_two_rooms() -> None:
    house = small_house(sightlines={"s": Sightline(("hall", "hall"), 1.5)})
    assert told(house) == [
        'sightline "s": share must be at most 1, found 1.5',
        'sightline "s": between must name two different rooms',
    ]


def test_limits_must_be_positive_and_are_otherwise_free() -> None:
    assert told(House(limits={"any-check": {"any-kind": 18.0}})) == []
    assert told(House(limits={"backbone": {"darker": 0.0}})) == []
    assert told(House(limits={"jar": {"open": -1.0}})) == [
        "limits: jar.open must be at least 0, found -1"
    ]


def band(width: float) -> tuple[tuple[float, float], ...]:
    """Return a thin slanting band with 82 corners."""
    lower = [(float(i), i + 0.02 * (i % 2)) for i in range(41)]
    return (*lower, *((x, y + width) for x, y in reversed(lower)))


def test_outlines_made_to_take_for_ever_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    many = {f"r{i}": Room("R", outline_m=band(0.1)) for i in range(300)}
    assert told(House(rooms=many)) == ["room outlines have more corners than can be judged"]
    few = {f"r{i}": Room("R", outline_m=band(0.1), at_m=(0.0, 0.2 * i)) for i in range(4)}
    assert told(House(rooms=few)) == []
    monkeypatch.setattr(geometry, "MOST_WORK", 100_000)
    assert told(House(rooms=few)) == ["room outlines overlap in more places than can be judged"]
