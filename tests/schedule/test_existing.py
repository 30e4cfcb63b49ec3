"""Which earlier saves are offered as the house that is painted over."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from housemap.errors import InputError
from housemap.file.earlier_saves import FOLDER, keep_save
from housemap.file.save import save_house
from housemap.model.edits import assign, put, rename
from housemap.model.house import House, Lab, State
from housemap.schedule.existing import MOST, Save, existing_coats, names_of, saves_before, worn_by
from tests.support.houses import paint, small_house

START = dt.datetime(2026, 5, 2, 9, 0, tzinfo=dt.UTC)


def saved(folder: Path, *houses: House) -> Path:
    """A file that held each of the houses in turn, a minute apart."""
    file = folder / "house.toml"
    for number, house in enumerate(houses):
        save_house(house, file)
        keep_save(folder / "state", file, START + dt.timedelta(minutes=number))
    return file


def in_colour(hex_: str) -> House:
    house = put(small_house(), "paints", "new", paint(hex_, "New"))
    return assign(house, "hall", "walls", "new")


def test_only_saves_in_other_colours_are_offered_the_newest_first(tmp_path: Path) -> None:
    first, second = in_colour("#3a3630"), in_colour("#8a8578")
    noted = replace(second, notes="nothing but words")
    file = saved(tmp_path, first, second, noted)
    offered = saves_before(tmp_path / "state", file, replace(noted, notes="more"))
    assert [worn_by(save.house) for save in offered] == [worn_by(first)]
    now = in_colour("#ffffff")
    offered = saves_before(tmp_path / "state", file, now)
    assert [save.house for save in offered] == [noted, first]
    assert offered[0].before.source.startswith("the save of 2 May 2026")


def test_of_many_saves_the_newest_and_the_oldest_are_offered(tmp_path: Path) -> None:
    houses = [in_colour(f"#{number:02x}6050") for number in range(16, 80, 8)]
    file = saved(tmp_path, *houses)
    offered = saves_before(tmp_path / "state", file, small_house())
    assert len(offered) == MOST
    assert [save.house for save in offered] == [houses[-1], houses[-2], houses[0]]


def test_a_copy_that_no_longer_reads_is_passed_over(tmp_path: Path) -> None:
    file = saved(tmp_path, in_colour("#3a3630"), in_colour("#8a8578"))
    [folder] = (tmp_path / "state" / FOLDER).iterdir()
    min(folder.iterdir()).write_text("no house")
    assert len(saves_before(tmp_path / "state", file, small_house())) == 1


def test_saves_are_called_by_the_day_or_where_a_day_has_two_by_the_hour() -> None:
    first, later = START, START + dt.timedelta(hours=2)
    house = small_house()
    assert names_of([Save(first, house)]) == ("2 May 2026",)
    assert names_of([Save(later, house), Save(first, house)]) == ("2 May 11:00", "2 May 09:00")


def test_another_name_for_a_paint_is_no_other_colour() -> None:
    house = small_house()
    assert worn_by(rename(house, "paints", "oat", "straw")) == worn_by(house)
    assert worn_by(in_colour("#3a3630")) != worn_by(house)


def test_an_impossible_colour_is_shown_at_the_state_that_gives_it() -> None:
    house = small_house()
    hall = replace(house.rooms["hall"], states={"walls": State(colour=Lab((50.0, 120.0, -120.0)))})
    with pytest.raises(InputError) as caught:
        existing_coats(replace(house, rooms={**house.rooms, "hall": hall}), None)
    [problem] = caught.value.problems
    assert problem.text.startswith('room "hall", state "walls": no surface is so light')
    assert problem.path == ("room", "hall", "state", "walls")
