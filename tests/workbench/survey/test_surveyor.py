"""What the survey says at once about measures that do not add up."""

from housemap.model.house import House
from housemap.workbench.session import Session
from housemap.workbench.survey.surveyor import Surveyor


def troubles(*lines: str) -> list[str]:
    """Those of the last line, the ones before being entered without any."""
    *entries, last = Surveyor(Session.of(House())).enter_all(lines)
    assert not [entry for entry in (*entries, last) if entry.fault]
    assert not [entry for entry in entries if entry.troubles]
    return list(last.troubles)


def test_walls_that_do_not_meet_are_named_with_those_that_do() -> None:
    [said] = troubles(
        "Hall 1.8 x 5.2",
        "n 0.8 at 0.5 > Kitchen 3 x 4 at 0.5",
        "Kitchen; e 0.8 at 1 > Pantry 2 x 2 at 0.4",
        "Hall; s 0.8 at 0.5 > Kitchen",
    )
    assert "Hall and Kitchen" in said
    assert "The north wall of Hall meets the south wall of Kitchen." in said


def test_rooms_apart_are_said_to_lie_apart() -> None:
    [said] = troubles(
        "Hall 1.8 x 5.2",
        "n 0.8 at 0.5 > Kitchen 3 x 4 at 0.5",
        "Kitchen; n 0.8 at 1 > Pantry 2 x 2 at 0.4",
        "Hall; s 2'6\" at 1' > Pantry",
    )
    assert "Hall and Pantry" in said
    assert "apart." in said


def test_an_opening_that_fits_says_nothing() -> None:
    assert troubles("Hall 1.8 x 5.2", "n 0.8 at 0.5 > Kitchen 3 x 4 at 0.5") == []


def test_a_door_between_levels_is_asked_about() -> None:
    lines = ("Hall 1.8 x 5.2", "stairs up > Landing 2 x 3", "Landing; n > Bath 2 x 2", "Bath")
    [said] = troubles(*lines, "w > Hall")
    assert "on two levels: is it stairs that join them?" in said
    assert troubles(*lines, "w stairs > Hall") == []
    assert troubles(*lines, "w > Garden; e > Bath") == []


LANDING = (
    "Landing 1.8 x 3.2",
    "e 0.75 at 0.3 > Child room 3 x 3 at 0.3",
    "w 0.8 at 0.5 > Study 2 x 2",
)


def test_a_window_before_another_room_is_asked_about() -> None:
    [said] = troubles(*LANDING, "e window 1.2 x 1.2 at 1.2")
    assert said == "Child room lies behind a window in the east wall of Landing. Check both."
    assert troubles(*LANDING, "e window 1.2 x 1.2 at 1.2 sill 1; Landing; n window 1 x 1") == [said]
    assert troubles(*LANDING, "e window 1.2 x 1.2 at 1") == [said]  # over the door there too
    assert troubles(*LANDING, "n window 1 x 1") == []
    assert troubles("Hall 2 x 4", "n 0.9 at 0.5 > Garden", "n window 0.4 x 1 at 1.5") == []


def test_a_window_over_a_door_or_a_window_is_asked_about() -> None:
    [said] = troubles("Hall 2 x 4", "n 0.8 at 0.5 > Study", "n window 0.7 x 1 at 0.6")
    assert (
        said
        == "A window in the north wall of Hall lies over the door to Study. Measure both again."
    )
    [said] = troubles("Hall 2 x 4", "n window 0.7 x 1 at 0.6", "n window 0.7 x 1 at 1")
    assert "lies over another window" in said
    [said] = troubles("Hall 2 x 4", "n 0.9 > Study", "n window 1.2 x 1 at 0.6")
    assert "lies over the door to Study" in said, "wherever that is"
    assert troubles("Hall 2 x 4", "n 0.9 > Study", "n window 1 x 1 at 1") == []
    above = "n window 0.7 x 0.3 at 0.6 sill 2.05"
    assert troubles("Hall 2 x 4", "n 0.8 at 0.5 > Study", above) == []
    assert troubles("Hall 2 x 4", "n window 0.7 x 1 at 0.6", "n window 0.7 x 1 at 1.3") == []


def test_a_lamp_that_lights_no_room_is_asked_about() -> None:
    *_, asked = Surveyor(Session.of(House())).enter_all(["Hall 2 x 4", "lamp 5 lm"])
    assert asked.fault is not None
    assert "5 lm, or 5 watt?" in asked.fault.text
    *_, bright, low = Surveyor(Session.of(House())).enter_all(
        ["Hall 2 x 4", "lamp 900000 lm", "height 0.6"]
    )
    assert "900,000 lm? A lamp gives 40 to 20,000 lm" in str(bright.fault)
    assert "0.60 m high? A room has 1.50 m or more" in str(low.fault)
    *_, bright = Surveyor(Session.of(House())).enter_all(
        ["Hall 2 x 4", "lamp 5 watt", "lamp 50 lm"]
    )
    assert bright.fault is None


def test_a_line_that_adds_a_room_says_where_the_next_words_go() -> None:
    surveyor = Surveyor(Session.of(House()))
    list(surveyor.enter_all(LANDING[:1]))
    meaning = surveyor.read(LANDING[1]).meaning
    assert meaning is not None
    assert meaning.where == "Still in Landing: type Child room to go in."
    meaning = surveyor.read("lamp 800 lm").meaning
    assert meaning is not None
    assert not meaning.where


def test_two_doors_in_one_place_are_asked_about() -> None:
    [said] = troubles("Hall 4 x 4", "s front door 0.9 at 0.25", "s 2 at 0.5 > Study")
    assert said == "Two doors overlap in the south wall of Hall: to Outside and Study."
    assert troubles("Hall 4 x 4", "s front door 0.9 at 0.25", "s 2 at 1.2 > Study") == []
