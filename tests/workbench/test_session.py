"""The session: one open house, changed in one place, without a screen."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.errors import ChangedOnDiskError, EditError, HouseFileError
from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.model.edits import assign
from housemap.model.house import House
from housemap.workbench.session import Session
from tests.support.houses import room, small_house


def paint_hall(house: House) -> House:
    return assign(house, "hall", "walls", "moss")


def remove_hall(house: House) -> House:
    rooms = {key: value for key, value in house.rooms.items() if key != "hall"}
    return replace(house, rooms=rooms, openings={}, sightlines={}, samples={}, visits={})


@pytest.fixture
def session() -> Session:
    return Session.of(small_house())


@pytest.fixture
def saved(tmp_path: Path) -> Session:
    save_house(small_house(), tmp_path / "house.toml")
    return Session.read(tmp_path / "house.toml")


def test_a_house_just_opened_is_saved_and_has_a_hall_selected(session: Session) -> None:
    assert not session.unsaved
    assert (session.selection.room, session.selection.level) == ("hall", 0)


def test_an_edit_makes_it_unsaved_and_undo_makes_it_saved_again(session: Session) -> None:
    label = "Hall walls: Moss Bank"
    states = [session.unsaved]
    for step in (lambda: session.apply(paint_hall, label), session.undo, session.redo):
        assert step() in {True, label}
        states.append(session.unsaved)
    assert states == [False, True, False, True]
    assert session.house == paint_hall(small_house())


def test_an_edit_that_changes_nothing_is_not_in_the_history(session: Session) -> None:
    assert not session.apply(lambda house: house, "nothing")
    with pytest.raises(EditError, match="nothing to undo"):
        session.undo()


def test_an_edit_that_does_not_fit_leaves_the_house_as_it_was(session: Session) -> None:
    with pytest.raises(EditError):
        session.apply(lambda house: assign(house, "attic", "walls", "moss"), "no such room")
    assert session.house == small_house()


@given(st.lists(st.sampled_from(["moss", "oat", "chalk", None]), max_size=12))
def test_undoing_everything_gives_the_house_as_opened(paints: list[str | None]) -> None:
    session = Session.of(small_house())
    houses = [assign(small_house(), "hall", "walls", paint) for paint in paints]
    made = sum(session.apply(house, "paint") for house in houses)
    for _ in range(made):
        session.undo()
    assert session.house == small_house()
    assert not session.unsaved


def test_a_house_tried_out_is_shown_and_changes_nothing(session: Session) -> None:
    tried = paint_hall(session.house)
    session.try_out(tried)
    assert session.shown == tried
    assert session.house == small_house()
    assert not session.unsaved
    session.try_out(None)
    assert session.shown == session.house


def test_what_is_applied_is_no_longer_tried_out(session: Session) -> None:
    session.try_out(paint_hall(session.house))
    session.apply(lambda house: assign(house, "kitchen", "walls", "oat"), "Kitchen walls")
    assert session.tried is None


def test_selecting_a_room_shows_its_level(session: Session) -> None:
    session.select("study")
    assert session.selection.level == 1


def test_another_room_is_selected_by_its_walls(session: Session) -> None:
    session.select("hall")
    session.select_surface("trim")
    surfaces = []
    for key in ("hall", "study"):
        session.select(key)
        surfaces.append(session.selection.surface)
    assert surfaces == ["trim", "walls"]


def test_selecting_a_level_selects_a_room_of_it(session: Session) -> None:
    session.select_level(1)
    assert session.selection.room == "study"


def test_when_the_selected_room_is_removed_another_is_selected(session: Session) -> None:
    session.apply(remove_hall, "Hall removed")
    assert session.selection.room == "kitchen"


def test_an_empty_house_has_no_room_selected() -> None:
    assert Session.of(House()).selection.room is None


def test_a_house_without_a_ground_floor_opens_on_the_nearest_level() -> None:
    house = House(rooms={"cellar": room("Cellar", level=-2), "attic": room("Attic", level=3)})
    assert Session.of(house).selection.level == -2


def test_the_plan_is_made_once_while_only_paints_change(session: Session) -> None:
    plan = session.plan
    session.apply(paint_hall, "paint")
    assert session.plan is plan
    hall = replace(session.house.rooms["hall"], size_m=(2.0, 5.2))
    session.apply(replace(session.house, rooms={**session.house.rooms, "hall": hall}), "size")
    assert session.plan is not plan


def test_saving_writes_the_file_and_keeps_the_former_one(saved: Session, tmp_path: Path) -> None:
    saved.apply(paint_hall, "paint")
    saved.save()
    assert not saved.unsaved
    assert read_house(tmp_path / "house.toml") == paint_hall(small_house())
    assert read_house(tmp_path / "house.toml~") == small_house()
    assert not saved.changed_on_disk


def test_a_file_changed_by_somebody_else_is_noticed_and_not_overwritten(
    saved: Session, tmp_path: Path
) -> None:
    theirs = replace(small_house(), notes="theirs")
    save_house(theirs, tmp_path / "house.toml")
    assert saved.changed_on_disk
    saved.apply(paint_hall, "paint")
    with pytest.raises(ChangedOnDiskError):
        saved.save()
    assert read_house(tmp_path / "house.toml") == theirs
    saved.save(over=True)
    assert read_house(tmp_path / "house.toml") == paint_hall(small_house())


@pytest.mark.usefixtures("saved")
def test_a_house_opened_read_only_is_never_written(tmp_path: Path) -> None:
    session = Session.read(tmp_path / "house.toml", read_only=True)
    session.apply(paint_hall, "paint")
    (tmp_path / "link.toml").hardlink_to(tmp_path / "house.toml")
    writes = (
        session.save,
        lambda: session.save_settled(session.house),
        lambda: session.save_as(tmp_path / "house.toml", over=True),
        lambda: session.save_as(tmp_path / "link.toml", over=True),
    )
    for write in writes:
        with pytest.raises(HouseFileError, match=r"read-only: .* another name"):
            write()
    assert read_house(tmp_path / "house.toml") == small_house()
    session.save_as(tmp_path / "copy.toml")
    assert read_house(tmp_path / "copy.toml") == session.house


def test_a_house_without_a_file_is_saved_under_a_name(session: Session, tmp_path: Path) -> None:
    with pytest.raises(HouseFileError, match="no file yet"):
        session.save()
    session.save_as(tmp_path / "new.toml")
    assert read_house(tmp_path / "new.toml") == session.house
    assert session.file is not None
    assert session.file.path == tmp_path / "new.toml"


def test_a_name_that_is_taken_is_not_overwritten_unasked(session: Session, tmp_path: Path) -> None:
    (tmp_path / "taken.toml").write_text("format = 1\n")
    with pytest.raises(ChangedOnDiskError):
        session.save_as(tmp_path / "taken.toml")
    session.save_as(tmp_path / "taken.toml", over=True)
    assert read_house(tmp_path / "taken.toml") == session.house


def test_comments_move_along_when_a_file_is_saved_under_another_name(tmp_path: Path) -> None:
    first = tmp_path / "first.toml"
    save_house(small_house(), first)
    first.write_text("# by hand\n" + first.read_text())
    session = Session.read(first)
    session.save_as(tmp_path / "second.toml")
    assert "# by hand" in (tmp_path / "second.toml").read_text()


def test_a_broken_file_opens_nothing_and_tells_its_lines(tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text("format = 1\n[room.hall]\nnmae = 'Hall'\n")
    with pytest.raises(HouseFileError, match=r"broken\.toml:3"):
        Session.read(path)


def test_a_file_that_was_deleted_is_saved_again(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    save_house(small_house(), path)
    session = Session.read(path)
    path.unlink()
    assert session.changed_on_disk
    assert session.gone_from_disk
    assert session.save()
    assert read_house(path) == small_house()
    assert not session.save()
