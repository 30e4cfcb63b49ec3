"""What both changed is chosen one by one, and saved together or not at all."""

from dataclasses import replace
from pathlib import Path

import pytest

from housemap.errors import ChangedOnDiskError
from housemap.file.reader import load_house, read_house
from housemap.file.save import save_house
from housemap.model.edits import assign, change_entity
from housemap.workbench.merge_conflicts import MergeConflicts
from housemap.workbench.session import Session
from tests.support.houses import small_house

HOUSE = small_house()
MINE = assign(change_entity(HOUSE, "rooms", "hall", name="Entry"), "study", "walls", "moss")
THEIRS = assign(change_entity(HOUSE, "rooms", "hall", name="Lobby"), "study", "walls", "chalk")


@pytest.fixture
def session(tmp_path: Path) -> Session:
    """My edit, not saved, of a file that somebody else has saved meanwhile."""
    file = tmp_path / "house.toml"
    save_house(HOUSE, file)
    found = Session.read(file)
    found.apply(MINE, "mine")
    save_house(THEIRS, file)
    return found


def conflicts(session: Session) -> MergeConflicts:
    assert session.file is not None
    return MergeConflicts.with_file(session, load_house(session.file.path))


def test_what_both_changed_is_listed_and_nothing_is_chosen(session: Session) -> None:
    found = conflicts(session)
    assert len(found.conflicts) == found.left == 2
    assert session.house == MINE


def test_every_choice_shows_in_the_house_so_far(session: Session) -> None:
    found = conflicts(session)
    name = next(each.path for each in found.conflicts if each.path[-1] == "name")
    assert found.choose(name, "theirs").rooms["hall"].name == "Lobby"
    assert found.choose(name, "mine").rooms["hall"].name == "Entry"
    assert found.left == 1
    assert found.merged.rooms["hall"].name == "Entry"


def test_what_is_chosen_is_saved_together(session: Session) -> None:
    found = conflicts(session)
    for conflict in found.conflicts:
        found.choose(conflict.path, "theirs")
    found.save()
    assert session.file is not None
    assert read_house(session.file.path) == THEIRS
    assert not session.unsaved


def test_one_more_save_of_theirs_is_not_overwritten(session: Session) -> None:
    found = conflicts(session)
    for conflict in found.conflicts:
        found.choose(conflict.path, "mine")
    assert session.file is not None
    newest = replace(THEIRS, name="Theirs again")
    save_house(newest, session.file.path)
    with pytest.raises(ChangedOnDiskError):
        found.save()
    assert read_house(session.file.path) == newest


def test_a_file_without_both_sides_has_none(session: Session) -> None:
    assert MergeConflicts.in_file(session) is None
