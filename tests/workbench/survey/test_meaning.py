"""What a line means in a house: rooms at their place, guesses that are told, clear faults."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from housemap.file.reader import parse_house
from housemap.file.writer import dump_house
from housemap.model.geometry import floor_area_m2, floor_outline_m
from housemap.model.house import (
    ColourSource,
    House,
    Lamp,
    Notation,
    Opening,
    Paint,
    Room,
    Srgb,
    State,
    Window,
)
from housemap.model.validation import problems
from housemap.plan.placing import place
from housemap.workbench.next_step import next_step
from housemap.workbench.session import Session
from housemap.workbench.survey.grammar import WordError, parse_line
from housemap.workbench.survey.meaning import Meaning, meaning_of
from housemap.workbench.survey.vocabulary import Fault, use_of

HALL = Room("Hall", use="hall", size_m=(1.8, 5.2), height_m=2.6)
HOUSE = House(rooms={"hall": HALL})


def names(house: House) -> Sequence[str]:
    return [room.name for room in house.rooms.values()]


def meant(text: str, house: House = HOUSE, room: str | None = "hall") -> Meaning:
    line = parse_line(text, house.units, names(house))
    assert line.fault is None, line.fault
    return meaning_of(line, house, room)


def surveyed(*texts: str, house: House = HOUSE, room: str | None = "hall") -> House:
    for text in texts:
        meaning = meant(text, house, room)
        house, room = meaning.house, meaning.home
    return house


def fault(text: str, house: House = HOUSE, room: str | None = "hall") -> Fault:
    with pytest.raises(WordError) as found:
        meant(text, house, room)
    return found.value.fault


def fault_anywhere(text: str) -> Fault:
    """Of a line's words, else of what they mean in the house."""
    return parse_line(text, "m", names(HOUSE)).fault or fault(text)


# Slips of the hand


@pytest.mark.parametrize(
    ("text", "word", "says"),
    [
        ("w winow 1.2 x 1.1", "winow", "did you mean window?"),
        ("winow w 1.2", "winow", "did you mean window?"),
        ("lmp 800", "lmp", "did you mean lamp?"),
        ("Hall heigth 2.5", "heigth", "did you mean height?"),
        ("n dorway > Study 3 x 3", "dorway", "did you mean doorway?"),
        ("e > Hal 3 x 3", "Hal", "did you mean Hall?"),
        ("Hal", "Hal", "did you mean Hall?"),
    ],
)
def test_a_misspelt_word_names_the_nearest_one(text: str, word: str, says: str) -> None:
    found = fault_anywhere(text)
    assert text[found.start : found.end] == word
    assert says in found.text


@pytest.mark.parametrize("name", ["Hall 2", "Halle B", '"Hal"', '"Windo"'])
def test_another_number_letter_or_quotes_make_a_name_of_its_own(name: str) -> None:
    house = surveyed(f"e > {name} 3 x 3")
    assert name.strip('"') in names(house)


def test_a_name_that_is_nearly_a_usual_one_is_asked_about() -> None:
    assert "did you mean kitchen?" in meant("n > Kichen 3 x 3").phrases[0]


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("height 99", "99 m, or 99 ft?"),
        ("height 9", "9 m, or 9 ft?"),
        ("n > Study 30 x 3", "30 m, or 30 ft?"),
        ("n > Study 3 x 3 x 8", "8 m, or 8 ft?"),
        ("n window 1.2 x 6", "6 m, or 6 ft?"),
        ("n 0.8 at 25 > Study 3 x 3", "25 m, or 25 ft?"),
    ],
)
def test_a_bare_number_beyond_a_home_is_asked_about(text: str, question: str) -> None:
    """Above 5 m of height and 20 m of length, which are our own limits."""
    assert question in fault_anywhere(text).text


def test_with_its_unit_a_large_length_is_taken() -> None:
    assert surveyed("height 9 m").rooms["hall"].height_m == 9
    assert surveyed("height 9'").rooms["hall"].height_m == pytest.approx(2.7432)


def test_answers_are_given_in_the_units_that_were_typed() -> None:
    phrase = meant("n 2'8\" at 1' > Study 10' x 9'").phrases[0]
    assert "2'8\" wide, 1'0\" from its west end" in phrase
    assert " m" not in phrase.replace(" more", "")
    assert surveyed("n 2'8\" at 1' > Study 10' x 9'").units == "m"
    assert "0.80 m wide" in meant("n 0.8 at 1' > Study 3 x 3").phrases[0]


def test_the_first_room_of_a_house_says_its_units() -> None:
    assert surveyed("Hall 6' x 17'", house=House(), room=None).units == "ft"
    assert surveyed("Hall 1.8 x 5.2", house=House(), room=None).units == "m"


# New rooms


def test_the_first_room_needs_a_name_and_a_size() -> None:
    meaning = meant("Hall 1.8 x 5.2", House(), None)
    assert meaning.house.rooms == {"hall": replace(HALL, height_m=2.4, role="backbone")}
    assert meaning.home == "hall"
    assert (
        "2.40 m high (usual), hall (by its name), backbone (it links rooms)" in meaning.phrases[0]
    )


def test_a_room_through_a_wall_takes_its_place_behind_the_opening() -> None:
    meaning = meant("n doorway 0.8 at 0.4 > Study 3.1 x 2.8 at 1.2")
    assert meaning.house.rooms["study"] == Room(
        "Study", use="office", size_m=(3.1, 2.8), height_m=2.6
    )
    assert meaning.house.openings["hall-study"] == Opening(
        ("hall", "study"), "doorway", wall="n", along_m=0.4, to_wall="s", to_along_m=1.2,
        width_m=0.8,
    )  # fmt: skip
    # 0.4 - 1.2 to the west; 5.2 and a wall of 0.1 to the north.
    assert place(meaning.house).rooms["study"].at_m == pytest.approx((-0.8, 5.3))
    assert meaning.home == "hall"


def test_height_and_level_come_from_the_room_and_can_be_said() -> None:
    house = surveyed("n > Study 3 x 3", "e > Bath 2 x 2 height 2.2 level 3 bedroom")
    assert (house.rooms["study"].height_m, house.rooms["study"].level) == (2.6, 0)
    assert house.rooms["bath"] == Room("Bath", 3, "bedroom", size_m=(2.0, 2.0), height_m=2.2)


@pytest.mark.parametrize(
    ("name", "use"),
    [("Hall", "hall"), ("Upper landing", "hall"), ("Living room", "living"), ("Snug", "living"),
     ("Kitchen", "kitchen"), ("Dining room", "dining"), ("Ensuite", "bathroom"), ("WC", "bathroom"),
     ("Bedroom 2", "bedroom"), ("Guest bedroom", "bedroom"), ("Study", "office"),
     ("Stairs", "stair"), ("Staircase", "stair"), ("Utility room", "utility"),
     ("Loo", "bathroom"), ("Lookout", "other"), ("Toilet", "bathroom"), ("Lounge", "living"),
     ("Larder", "utility"), ("Nook", "living"), ("Box room", "bedroom"), ("Den", "living"),
     ("Terrace", "outdoor"), ("Bathroom", "bathroom"), ("Sanctum", "other"), ("Warden", "other")],
)  # fmt: skip
def test_what_a_room_is_for_is_taken_from_its_name(name: str, use: str) -> None:
    assert use_of(name) == use


def test_further_things_on_the_line_belong_to_the_room_behind() -> None:
    meaning = meant("n at 0.4 > Study 3.1 x 2.8; s window 1.2 x 1.1 at 0.2 sill 0.8; lamp 900 down")
    study = meaning.house.rooms["study"]
    assert study.windows == {"window-s": Window("s", 0.2, 1.2, 1.1, 0.8)}
    assert study.lamps == {"lamp": Lamp(900.0, 2700.0, aim="down")}
    led = meant("n at 0.4 > Study 3.1 x 2.8; lamp 900 LED-B1").house.rooms["study"]
    assert led.lamps == {"lamp": Lamp(900.0, None, "LED-B1")}
    assert meaning.labels == ("Study added to Hall", "window in Study", "lamp in Study")
    assert meaning.home == "hall"


@pytest.mark.parametrize("corner", ["ne", "nw", "se", "sw"])
def test_a_room_may_lack_a_corner(corner: str) -> None:
    room = surveyed(f"e at 1 > Living 4 x 5 less 1 x 2 {corner}").rooms["living"]
    floor = Polygon(floor_outline_m(room))  # shapely judges area and shape
    assert floor.is_valid
    assert floor.exterior.is_ccw
    assert floor.area == pytest.approx(18.0)
    assert floor_area_m2(room) == pytest.approx(18.0)
    x, y = {"ne": (3.9, 4.9), "nw": (0.1, 4.9), "se": (3.9, 0.1), "sw": (0.1, 0.1)}[corner]
    assert floor.disjoint(Polygon([(x, y), (x + 0.05, y), (x, y + 0.05)]))


def test_a_front_and_a_back_door_lead_outside_and_the_line_stays_in_the_room() -> None:
    house = surveyed("s front door 0.95 at 0.5; lamp 800 lm", "back door n 0.8 at 0.4")
    front, back = house.openings.values()
    assert names(house) == ["Hall", "Outside"]
    for door in (front, back):
        assert (door.between, door.door) == (("hall", "outside"), "shut")
    assert (front.wall, front.width_m, front.along_m) == ("s", 0.95, 0.5)
    assert (back.wall, back.width_m, back.along_m) == ("n", 0.8, 0.4)
    assert len(house.rooms["hall"].lamps) == 1
    assert not problems(house)


@pytest.mark.parametrize("text", ["front door", "front door 0.95", "back door at 0.5"])
def test_a_front_door_without_a_wall_is_asked_for_it(text: str) -> None:
    line = parse_line(text, "m", ["Hall"])
    assert line.fault
    assert "in which wall? Write n, e, s or w" in line.fault.text


@pytest.mark.parametrize("name", ["outside", "Outdoors", "Porch 2 x 1", "Garden"])
def test_a_new_door_to_outdoors_stands_shut_and_outdoors_needs_no_size(name: str) -> None:
    """Common practice, no source: a front door is solid and kept shut."""
    house = surveyed(f"s 0.9 at 0.5 > {name}")
    [door] = house.openings.values()
    assert (house.rooms[door.between[1]].use, door.door) == ("outdoor", "shut")
    assert "measure outside" not in next_step(Session.of(house)).text
    [door] = surveyed(f"s glazed 0.9 at 0.5 > {name}").openings.values()
    assert door.door == "open"


def test_stairs_lead_to_another_level() -> None:
    house = surveyed("stairs up > Landing 2 x 3", "n stairs 0.9 at 0.2 down > Cellar 3 x 3")
    assert (house.rooms["landing"].level, house.rooms["cellar"].level) == (1, -1)
    assert house.openings["hall-landing"].kind == "stairs"
    assert house.openings["hall-landing"].wall is None


def test_a_place_is_assumed_on_another_level_only_for_its_first_room() -> None:
    house = surveyed("n stairs at 0.2 up > Landing 2 x 3")
    assert house.openings["hall-landing"].to_along_m is not None
    house = surveyed("n stairs at 0.2 up > Loft 2 x 3", house=house)
    assert house.openings["hall-loft"].to_along_m is None


# Joining, going, changing


def test_two_rooms_there_are_can_be_joined() -> None:
    house = surveyed("n at 0.4 > Study 3 x 3", "e at 1 > Bath 2 x 2", "Study", "e at 0.3 > Bath")
    joint = house.openings["study-bath"]
    assert (joint.wall, joint.to_wall, joint.to_along_m) == ("e", "w", None)
    assert fault("e > Bath 3 x 3", house).text.startswith("there is a Bath already")
    assert "itself" in fault("e > Hall", house).text


def test_a_name_alone_goes_there_and_a_size_changes_it() -> None:
    house = surveyed("n > Study 3 x 3")
    assert meant("Study", house).home == "study"
    assert meant("Study", house).house is house
    assert meant("Study 3.2 x 3", house).house.rooms["study"].size_m == (3.2, 3.0)
    assert "was 3.00 m x 3.00 m" in meant("Study 3.2 x 3", house).phrases[0]
    assert meant("height 2.3 use office", house).house.rooms["hall"].height_m == 2.3


def test_a_word_that_is_no_room_makes_none_by_mistake() -> None:
    assert fault("lampp").unfinished
    assert fault("lampp").text.startswith("no room has this name")
    assert surveyed("Garage 3 x 5").rooms["garage"].use == "utility"


# What is kept, and what is there now


@pytest.mark.parametrize(
    ("text", "name", "colour"),
    [
        ("floor oak 10YR 6/4", "Oak", Notation("10YR 6/4")),
        ("floor: oak boards #c19a6b", "Oak boards", Srgb("#c19a6b")),
        ("floor grey carpet", "Grey carpet", Notation("N 5.5/")),  # ISCC-NBS medium gray
        ("floor 5Y 7/1", "Floor", Notation("5Y 7/1")),
    ],
)
def test_a_floor_is_a_new_finish_with_the_colour_that_its_words_name(
    text: str, name: str, colour: ColourSource
) -> None:
    house = surveyed(text)
    floor = house.finishes[str(house.rooms["hall"].floor)]
    assert (floor.name, floor.colour) == (name, colour)


def test_a_finish_is_made_once_and_another_room_has_it_by_its_name() -> None:
    house = surveyed("floor oak boards lrv 35", "n > Study 3 x 3", "Study", "floor oak")
    assert [*house.finishes] == ["oak-boards"]
    assert house.rooms["study"].floor == house.rooms["hall"].floor == "oak-boards"
    assert house.finishes["oak-boards"].lrv == 35.0
    again = surveyed("worktop black", "worktop black", house=house)
    assert again.rooms["hall"].fixed == ("black-worktop",)


def test_without_a_colour_the_line_asks_for_one() -> None:
    found = fault("floor oak")
    assert found.unfinished
    assert found.text == (
        '"oak" is new: write its colour behind it, as in light brown, 10YR 6/4, #c19a6b or lrv 35'
    )
    assert "0 to 100" in fault("floor oak lrv 350").text


def test_what_is_there_now_is_noted_and_is_no_plan() -> None:
    house = replace(HOUSE, paints={"clay": Paint("Clay Petal", Srgb("#aa8877"))})
    for text, state in {
        "walls now clay petal": State(paint="clay"),
        "now 5Y 9/2": State(colour=Notation("5Y 9/2")),
        "now white, worn": State(colour=Notation("N 9/"), condition="worn"),
        "now papered": State(ground="paper"),
        "now worn, papered": State(ground="paper", condition="worn"),
        "now worn-out oak 5Y 5/4": State(colour=Notation("5Y 5/4")),
    }.items():
        after = surveyed(text, house=house).rooms["hall"]
        assert after.states == {"walls": state}
        assert after.paints == HALL.paints
    worn = surveyed("now papered", "now damaged", "ceiling now worn", house=house).rooms["hall"]
    assert worn.states["walls"] == State(ground="paper", condition="damaged")
    assert worn.states["ceiling"] == State(condition="worn")
    assert "write its colour" in fault("now magnolia", house).text


def test_rooms_of_one_name_are_sets_that_differ_by_their_ids() -> None:
    house = House(rooms={"a": replace(HALL, name="Bedroom"), "b": replace(HALL, name="Bedroom")})
    assert "a or b" in fault("Bedroom", house, "a").text
    assert meant("b", house, "a").home == "b"


# Where things are


def test_measures_may_be_taken_from_the_other_end() -> None:
    house = surveyed("n 0.8 at 0.3 from e > Study 3 x 3 at 0.2 from w", "e window 1 at 0.5 from n")
    joint = house.openings["hall-study"]
    assert joint.along_m == pytest.approx(1.8 - 0.3 - 0.8)
    assert joint.to_along_m == 0.2
    assert house.rooms["hall"].windows["window-e"].along_m == pytest.approx(5.2 - 0.5 - 1.0)
    assert "west or east" in fault("n at 0.3 from s > Study 3 x 3").text


def test_walls_of_an_outline_are_named_by_side_or_number() -> None:
    house = surveyed("e at 1 > Living 4 x 5 less 1 x 2 ne", "Living")
    # Edges: 0 south, 1 east below the cut, 2 north in the cut, 3 east in it, 4 north, 5 west.
    found = meant("n window 1 at 0.5; 2 window 0.5 at 0.1", house, "living").house.rooms["living"]
    assert [window.wall for window in found.windows.values()] == ["4", "2"]
    assert "has no wall 9" in fault("9 window 1 at 0", house, "living").text
    # The north edge of an outline runs from the east, and that is told.
    assert "from its east end" in meant("n window 1 at 0.5", house, "living").phrases[0]


def test_rooms_open_off_the_walls_of_an_outline() -> None:
    house = surveyed("e at 1 > Living 4 x 5 less 1 x 2 ne", "Living", "n at 1 > Study 3 x 3")
    joint = house.openings["living-study"]
    assert (joint.wall, joint.to_wall) == ("4", "s")
    plan = place(house)
    assert not [*plan.unplaced, *plan.overlaps, *plan.unmet]
    into = surveyed("Study", "w at 2 > Den 4 x 5 less 1 x 2 ne", house=house)
    joint = into.openings["study-den"]
    assert (joint.wall, joint.to_wall) == ("w", "1")  # the longer of its two east walls
    assert place(into).unmet == ()


def test_open_plan_takes_the_whole_wall_unless_a_width_is_said() -> None:
    meaning = meant("e open > Dining 3 x 4")
    joint = meaning.house.openings["hall-dining"]
    assert (joint.along_m, joint.width_m) == (0.0, 4.0)
    assert "the whole wall" in meaning.phrases[0]
    narrower = surveyed("e open 2 at 1 > Dining 3 x 4").openings["hall-dining"]
    assert (narrower.along_m, narrower.width_m) == (1.0, 2.0)


def test_what_is_not_said_is_left_open_or_told_as_assumed() -> None:
    unsaid = meant("n > Study 3 x 3")
    joint = unsaid.house.openings["hall-study"]
    assert (joint.along_m, joint.width_m, joint.to_along_m) == (None, None, None)
    assert "where in the wall is not said" in unsaid.phrases[0]
    guessed = meant("n at 0.4 > Study 3 x 3")
    assert "(usual)" in guessed.phrases[0]
    assert "(assumed" in guessed.phrases[0]
    window = meant("e window")
    assert "in the middle (assumed)" in window.phrases[0]
    assert window.house.rooms["hall"].windows["window-e"].along_m == pytest.approx(2.0)


def test_a_new_room_is_assumed_in_line_with_the_others_and_in_none_of_them() -> None:
    house = surveyed("e at 0.5 > Study 3.1 x 2.8", "e at 3.6 > Bath 2 x 2.3")
    plan = place(house)
    assert plan.rooms["study"].at_m == pytest.approx((1.9, 0.0))
    # Behind the study and its wall, and it ends where the hall does.
    assert plan.rooms["bath"].at_m == pytest.approx((1.9, 2.9))
    assert plan.overlaps == ()


# What does not fit


@pytest.mark.parametrize(
    ("text", "word", "says"),
    [
        ("n 0.8 at 1.2 > Study 3 x 3", "at 1.2", "the wall is 1.80 m long"),
        ("n 0.8 at 0.4 > Study 3 x 3 at 2.6", "at 2.6", "the wall is 3.00 m long"),
        ("s window 2.4", "2.4", "the wall is 1.80 m long"),
        ("s window 1 x 2 sill 1", "x 2", "the room is 2.6 high"),
        ("n height 3 > Study 3 x 3", "height 3", "must fit both rooms"),
        ("n > Study 3 x 2000 m", "3 x 2000 m", "at most 1000"),
        ("lamp 1400 900 K", "900 K", "at least 1000"),
        ("lamp at 1 9 2", "at 1 9 2", "must lie in the room"),
        ("5 window 1", "5", "n, e, s and w"),
        ("stairs at 0.5 > Landing 2 x 2", "at 0.5", "in which wall"),
        ("e open > Dining 3 x 4 less 3 x 1 ne", "less 3 x 1 ne", "must be smaller"),
        ("cased shut > Study 3 x 3", "shut", "goes with a doorway"),
    ],
)
def test_what_does_not_fit_the_house_is_told_at_its_word(text: str, word: str, says: str) -> None:
    found = fault(text)
    assert text[found.start : found.end] == word
    assert says in found.text


def test_lengths_are_told_in_the_units_of_the_house() -> None:
    feet = replace(HOUSE, units="ft")
    assert "6'0 1/2\"" not in fault("n 2'8\" at 5' > Study 9 x 9", feet).text
    assert "the wall is 5'10 7/8\" long" in fault("n 2'8\" at 5' > Study 9 x 9", feet).text
    assert (
        "8'0\" high (usual)" in meant("Hall 6 x 17", replace(House(), units="ft"), None).phrases[0]
    )


# What always holds

lengths = st.integers(3, 80).map(lambda dm: f"{dm / 10:g}")
pieces = st.one_of(
    st.builds("{} {} at {} > Room {} {} x {}".format, st.sampled_from("nesw"), lengths, lengths,
              st.integers(1, 4), lengths, lengths),
    st.builds("{} > Room {}".format, st.sampled_from(("n", "open", "s stairs up")),
              st.integers(1, 4)),
    st.builds("{} window {} x {} at {}".format, st.sampled_from("nesw"), lengths, lengths, lengths),
    st.builds("lamp {}".format, lengths), st.builds("Room {}".format, st.integers(1, 4)),
    st.builds("height {} less {} x {} nw".format, lengths, lengths, lengths),
    st.sampled_from(("e window", "n at 0 > Hall", "size 2 x 2", "level 2", "w cased stop > Hall")),
)  # fmt: skip


@given(st.lists(pieces, max_size=6))
def test_whatever_is_surveyed_is_a_legal_house_that_can_be_saved(texts: list[str]) -> None:
    house, room = HOUSE, "hall"
    for text in texts:
        line = parse_line(text, house.units, names(house))
        with suppress(WordError):
            meaning = meaning_of(line, house, room)
            house, room = meaning.house, meaning.home or room
            assert meaning.phrases or not line.clauses
    assert problems(house) == ()
    assert parse_house(dump_house(house), "house.toml") == house
    assert set(place(house).rooms) == set(house.rooms)
