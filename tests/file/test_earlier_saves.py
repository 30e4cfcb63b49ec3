"""Earlier saves can be had back."""

import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from housemap.errors import HouseFileError
from housemap.file.earlier_saves import (
    DAYS,
    MOST,
    earlier_saves,
    files_with_saves,
    keep_save,
    remove_saves,
)
from housemap.file.save import save_house
from housemap.model.house import House

NOON = datetime(2026, 5, 2, 12, tzinfo=UTC)


def saved(path: Path, state: Path, name: str, minute: int) -> None:
    save_house(House(name), path)
    keep_save(state, path, NOON + timedelta(minutes=minute))


def test_each_save_can_be_read_again_the_newest_first(tmp_path: Path) -> None:
    path, state = tmp_path / "house.toml", tmp_path / "state"
    for minute, name in enumerate(("one", "two", "three")):
        saved(path, state, name, minute)
    kept = earlier_saves(state, path)
    assert [each.house().name for each in kept] == ["three", "two", "one"]
    assert kept[-1].when == NOON
    assert {stat.S_IMODE(each.path.stat().st_mode) for each in kept} == {0o600}
    assert stat.S_IMODE(kept[0].path.parent.stat().st_mode) == 0o700


def test_the_same_file_is_kept_once_and_old_ones_make_room(tmp_path: Path) -> None:
    path, state = tmp_path / "house.toml", tmp_path / "state"
    saved(path, state, "same", 0)
    saved(path, state, "same", 1)
    assert len(earlier_saves(state, path)) == 1
    for minute in range(2, MOST + 5):
        saved(path, state, f"save {minute}", minute)
    kept = earlier_saves(state, path)
    assert len(kept) == MOST
    assert kept[0].house().name == f"save {MOST + 4}"


def test_files_of_one_name_in_two_folders_are_kept_apart(tmp_path: Path) -> None:
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        saved(tmp_path / folder / "house.toml", tmp_path / "state", folder, 0)
    (one,) = earlier_saves(tmp_path / "state", tmp_path / "a" / "house.toml")
    assert one.house().name == "a"
    (tmp_path / "link.toml").symlink_to(tmp_path / "a" / "house.toml")
    assert earlier_saves(tmp_path / "state", tmp_path / "link.toml") == (one,)


def test_a_file_never_saved_has_no_earlier_saves(tmp_path: Path) -> None:
    assert earlier_saves(tmp_path / "state", tmp_path / "none.toml") == ()


def test_a_folder_that_cannot_be_written_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "state").write_text("in the way")
    path = tmp_path / "house.toml"
    save_house(House(), path)
    with pytest.raises(HouseFileError, match="the copy for the earlier saves could not be written"):
        keep_save(tmp_path / "state", path)


def test_none_is_kept_longer_than_half_a_year(tmp_path: Path) -> None:
    path, other, state = tmp_path / "house.toml", tmp_path / "other.toml", tmp_path / "state"
    saved(other, state, "old", 0)
    saved(path, state, "old", 0)
    save_house(House("new"), path)
    keep_save(state, path, NOON + timedelta(days=DAYS + 1))
    assert [each.house().name for each in earlier_saves(state, path)] == ["new"]
    assert [(file, len(saves)) for file, saves in files_with_saves(state)] == [(path, 1)]
    assert len(list((state / "saves").iterdir())) == 1


def test_the_saves_of_a_file_are_listed_and_removed(tmp_path: Path) -> None:
    path, other, state = tmp_path / "house.toml", tmp_path / "other.toml", tmp_path / "state"
    for minute in range(2):
        saved(path, state, f"{minute}", minute)
    saved(other, state, "other", 0)
    assert {file: len(saves) for file, saves in files_with_saves(state)} == {path: 2, other: 1}
    assert remove_saves(state, path) == 2
    assert earlier_saves(state, path) == ()
    assert [file for file, _ in files_with_saves(state)] == [other]
    assert remove_saves(state, path) == 0
