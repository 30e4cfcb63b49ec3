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
