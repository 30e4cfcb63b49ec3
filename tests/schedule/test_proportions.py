"""The paints in their proportions, and where samples of them go."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from housemap.checks import report_of
from housemap.file import kept
from housemap.model.edits import paint_on
from housemap.model.house import (
    Accent,
    House,
    Opening,
    Room,
    Sample,
    SurfacePaints,
    Window,
)
from housemap.schedule import proportions
from housemap.schedule.document import Schedule, schedule_of
from housemap.schedule.proportions import rounds_of
from housemap.schedule.samples import hours
from housemap.study import study_of
from tests.support.houses import grid_house, paint, small_house


def schedule(house: House) -> Schedule:
    return schedule_of(report_of(house), dt.date(2026, 5, 2))


def cube() -> House:
    """Alone in the middle of it, every one of its four walls fills one side of the cube of view."""
    walls = {wall: Accent(wall) for wall in "nesw"}
    room = Room("Cube", size_m=(3.2, 3.2), height_m=3.2, at_m=(0.0, 0.0), accents=walls)
    paints = {wall: paint(f"#{i}0{i}0{i}0", wall) for i, wall in enumerate("nesw", 4)}
    return House(rooms={"cube": room}, paints=paints)


def test_four_like_walls_round_the_eye_take_a_quarter_each() -> None:
    """By symmetry; the eye stands on a grid, up to a hand's breadth off the middle."""
    shares = rounds_of(study_of(cube())).of_paints()
    assert shares == {wall: pytest.approx(0.25, abs=0.02) for wall in "nesw"}


def test_shares_of_area_and_of_view_each_make_a_whole() -> None:
    board = schedule(grid_house(6)).board
    assert sum(share.of_area for share in board) == pytest.approx(1.0)
    assert sum(share.of_view for share in board) == pytest.approx(1.0)
    assert [s.area_m2 for s in board] == sorted((s.area_m2 for s in board), reverse=True)


def test_a_house_without_measures_has_a_board_without_shares() -> None:
    house = House(
        rooms={"a": Room("A", paints=SurfacePaints(walls="oat"))}, paints={"oat": paint("#d9d0bf")}
    )
    [share] = schedule(house).board
    assert (share.area_m2, share.of_area, share.of_view) == (0.0, 0.0, 0.0)


def test_the_wall_most_seen_is_the_one_across_from_the_opening() -> None:
    """Two rooms in a row: who looks through the opening sees the far wall."""
    rooms = {
        "west": Room("West", size_m=(4, 4), height_m=2.5, at_m=(0.0, 0.0)),
        "east": Room("East", size_m=(4, 4), height_m=2.5, at_m=(4.1, 0.0)),
    }
    gap = Opening(("west", "east"), "cased", wall="e", along_m=1.2, width_m=1.6)
    house = House(rooms=rooms, openings={"gap": gap})
    assert rounds_of(study_of(house)).most_seen == {"west": "w", "east": "e"}


def test_shares_are_kept_while_rooms_and_openings_are_the_same(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", str(tmp_path))
    house = grid_house(2)
    fresh = rounds_of(study_of(house)).seen
    other = next(iter(house.paints))
    [room, *_] = house.rooms
    painted = paint_on(house, room, "walls", other)
    lower = replace(house.rooms[room], height_m=2.2)
    lowered = replace(house, rooms={**house.rooms, room: lower})
    with monkeypatch.context() as nothing_computed:
        nothing_computed.delattr(proportions, "look_about")
        assert rounds_of(study_of(painted)).seen == fresh
        with pytest.raises(NameError):
            rounds_of(study_of(lowered))
    [file] = tmp_path.iterdir()
    kept.keep(file.name, b'{"hall": 1}')
    assert rounds_of(study_of(house)).seen == fresh


@pytest.mark.parametrize(
    ("latitude", "wall", "when"),
    [(51.5, "e", "to noon in June"), (51.5, "w", "noon to 8 pm in June"),
     (51.5, "s", "to 4 pm in December"), (20.0, "n", "in June"), (61.0, "n", "in June"),
     (-34.0, "n", "7 am to 5 pm in June"), (-61.0, "s", "in December")],
)  # fmt: skip
def test_the_hours_follow_the_sun(latitude: float, wall: str, when: str) -> None:
    """It stands in the south at noon in the north, in the north at noon in the south.

    Sunset on 21 June at 51.5 degrees: 8.2 h; on 21 December 3.8 h after noon (solar time, by the
    sunrise equation cos w = -tan latitude tan 23.44 degrees).
    """
    window = {"one": Window(wall, 0.5, 1.0, 1.0, 0.9, sky_angle_deg=90.0)}
    house = House(
        rooms={"r": Room("R", size_m=(3, 3), height_m=2.4, windows=window)}, latitude_deg=latitude
    )
    told = list(hours(house, "r"))
    assert when in told[0]
    assert "lamps" in told[-1]


def test_what_stands_before_a_window_takes_its_sun() -> None:
    window = {"one": Window("n", 0.5, 1.0, 1.0, 0.9, sky_angle_deg=5.0)}
    room = Room("R", size_m=(3, 3), height_m=2.4, windows=window)
    house = House(rooms={"r": room}, latitude_deg=45.0)
    assert "never has sun" in next(hours(house, "r"))
    assert "where the house lies is not given" in next(
        hours(replace(house, latitude_deg=None), "r")
    )


def test_what_was_kept_or_rejected_needs_no_further_tester() -> None:
    house = grid_house(2)
    before = schedule(house).testers
    assert before
    first = before[0]
    for verdict in ("keep", "reject"):
        sample = Sample(first.paint, first.room, verdict=verdict)
        after = schedule(replace(house, samples={"one": sample})).testers
        assert (first.paint, first.room) not in [(t.paint, t.room) for t in after]
    unsure = Sample(first.paint, first.room, verdict="unsure")
    assert "unsure" in [t.tried for t in schedule(replace(house, samples={"one": unsure})).testers]


def test_the_status_of_every_paint_in_its_room_is_told() -> None:
    made = schedule(small_house())
    tried = {made.tried(line.trying) for line in made.quantities.lines}
    assert tried == {"kept", "untried"}
