"""Two copies of a house become one: nothing of either side is lost, or replaced without a word."""

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.errors import ChangedOnDiskError, HouseFileError
from housemap.file.earlier_saves import keep_save
from housemap.file.reader import load_house, read_house
from housemap.file.save import save_house
from housemap.model.edits import assign, change_entity, put
from housemap.model.house import House
from housemap.workbench.folders import state_folder
from housemap.workbench.joining import Joining, Sent, change_text, save_joined, sent_for
from housemap.workbench.session import Session
from tests.support.houses import paint, small_house

HOUSE = small_house()
MINE = assign(change_entity(HOUSE, "rooms", "hall", name="Entry"), "study", "walls", "moss")
THEIRS = assign(change_entity(HOUSE, "rooms", "hall", name="Lobby"), "study", "walls", "chalk")


@pytest.fixture(autouse=True)
def _state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))


@pytest.fixture
def saved(tmp_path: Path) -> Session:
    """A house just opened, of a file."""
    save_house(HOUSE, tmp_path / "house.toml")
    return Session.read(tmp_path / "house.toml")


@pytest.fixture
def session(saved: Session, tmp_path: Path) -> Session:
    """My edit, not saved, of a file that somebody else has saved meanwhile."""
    saved.apply(MINE, "mine")
    save_house(THEIRS, tmp_path / "house.toml")
    return saved


def lines_of(found: Joining) -> list[str]:
    """What came in, in words."""
    return [change_text(each, found.sides.mine, found.joined) for each in found.came_in]


# What both changed


def test_what_both_changed_is_listed_and_nothing_is_chosen(session: Session) -> None:
    found = Joining.with_file(session)
    assert len(found.conflicts) == found.left == 2
    assert session.house == MINE


def test_every_choice_shows_in_the_house_so_far(session: Session) -> None:
    found = Joining.with_file(session)
    name = next(each.path for each in found.conflicts if each.path[-1] == "name")
    assert found.choose(name, "theirs").rooms["hall"].name == "Lobby"
    assert found.choose(name, "mine").rooms["hall"].name == "Entry"
    assert found.left == 1
    assert found.joined.rooms["hall"].name == "Entry"


def test_what_is_chosen_is_saved_together(session: Session, tmp_path: Path) -> None:
    found = Joining.with_file(session)
    for conflict in found.conflicts:
        found.choose(conflict.path, "theirs")
    found.take()
    assert read_house(tmp_path / "house.toml") == session.house == THEIRS
    assert not session.unsaved
    assert session.undo().startswith("Merged")


def test_one_more_save_of_theirs_is_not_overwritten(session: Session, tmp_path: Path) -> None:
    found = Joining.with_file(session)
    for conflict in found.conflicts:
        found.choose(conflict.path, "mine")
    newest = replace(THEIRS, name="Theirs again")
    save_house(newest, tmp_path / "house.toml")
    with pytest.raises(ChangedOnDiskError):
        found.take()
    assert read_house(tmp_path / "house.toml") == newest


def test_a_file_without_both_sides_has_none(session: Session) -> None:
    assert Joining.in_file(session) is None


# Two people at one file


def test_changes_of_both_are_saved_together(saved: Session, tmp_path: Path) -> None:
    save_house(replace(HOUSE, notes="theirs"), tmp_path / "house.toml")
    mine = assign(HOUSE, "hall", "walls", "moss")
    saved.apply(mine, "paint")
    found = save_joined(saved)
    assert not found.left
    assert read_house(tmp_path / "house.toml") == saved.house == replace(mine, notes="theirs")
    assert not saved.unsaved
    assert lines_of(found) == ['House, notes: "theirs", was not set']
    saved.undo()
    assert saved.house == mine


def test_where_both_changed_one_thing_nothing_is_written(session: Session, tmp_path: Path) -> None:
    assert save_joined(session).left == 2
    assert read_house(tmp_path / "house.toml") == THEIRS
    assert session.house == MINE


def test_a_file_that_somebody_broke_meanwhile_is_left(session: Session, tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text("format = 1\n[house\n")
    with pytest.raises(HouseFileError, match=r"house\.toml:2: not TOML"):
        save_joined(session)
    assert (tmp_path / "house.toml").read_text() == "format = 1\n[house\n"


WRITER = """
import sys
from pathlib import Path
from housemap.errors import ChangedOnDiskError
from housemap.model import edits
from housemap.model.house import Paint, Srgb
from housemap.workbench.joining import save_joined
from housemap.workbench.session import Session
path, name, count = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
session = Session.read(path)
for i in range(count):
    paint = Paint(f"{name} {i}", Srgb("#aabbcc"))
    session.apply(edits.put(session.house, "paints", f"{name}-{i}", paint), "paint")
    try:
        session.save()
    except ChangedOnDiskError:
        assert not save_joined(session).left
"""


def test_two_programs_lose_no_edit_of_either(tmp_path: Path) -> None:
    path, count = tmp_path / "house.toml", 12
    save_house(HOUSE, path)
    command = [sys.executable, "-c", WRITER, str(path)]
    children = [subprocess.Popen([*command, name, str(count)]) for name in ("ann", "bo")]
    assert [child.wait() for child in children] == [0, 0]
    made = {f"{name}-{i}" for name in ("ann", "bo") for i in range(count)}
    assert set(load_house(path).house.paints) == {*HOUSE.paints, *made}


# What was changed since the house was opened is never replaced without a question


def moss_saved_then(saved: Session, theirs: Callable[[House], House]) -> Joining:
    """My colour is saved in the hall; theirs then lies on disk, and I change another room."""
    saved.apply(assign(saved.house, "hall", "walls", "moss"), "saved")
    saved.save()
    assert saved.file is not None
    save_house(theirs(saved.house), saved.file.path)
    saved.apply(assign(saved.house, "study", "walls", "chalk"), "not saved")
    return save_joined(saved)


def test_a_saved_colour_is_asked_about_where_their_copy_is_older(saved: Session) -> None:
    """Theirs was made from the house before my save, and paints the same walls."""
    found = moss_saved_then(saved, lambda _: assign(HOUSE, "hall", "walls", "chalk"))
    assert [(each.path[-1], each.mine, each.theirs) for each in found.conflicts] == [
        ("walls", "moss", "chalk")
    ]


def test_a_saved_colour_is_asked_about_where_their_copy_is_newer(saved: Session) -> None:
    """Theirs was made from my save, and changes in it what I changed today."""
    found = moss_saved_then(saved, lambda sent: assign(sent, "hall", "walls", "chalk"))
    assert [(each.path[-1], each.mine, each.theirs) for each in found.conflicts] == [
        ("walls", "moss", "chalk")
    ]


def test_what_they_left_alone_keeps_my_saved_colour_without_a_question(saved: Session) -> None:
    found = moss_saved_then(saved, lambda _: assign(HOUSE, "kitchen", "walls", "chalk"))
    assert not found.left
    walls = {room: saved.house.rooms[room].paints.walls for room in ("hall", "study", "kitchen")}
    assert walls == {"hall": "moss", "study": "chalk", "kitchen": "chalk"}
    assert lines_of(found) == ["Kitchen walls: Chalk Lump, was Moss Bank"]


def test_after_a_join_their_next_change_of_their_own_comes_in_unasked(saved: Session) -> None:
    moss_saved_then(saved, lambda sent: assign(sent, "kitchen", "walls", "chalk"))
    assert saved.file is not None
    save_house(assign(saved.house, "kitchen", "walls", "oat"), saved.file.path)
    assert not save_joined(saved).left
    assert saved.house.rooms["kitchen"].paints.walls == "oat"


# A colleague's copy


def test_a_copy_is_compared_with_the_save_it_was_made_from(saved: Session, tmp_path: Path) -> None:
    """Three saves are kept; theirs was made from the second."""
    versions = []
    for room in ("hall", "study", "kitchen"):
        saved.apply(assign(saved.house, room, "ceiling", "moss"), room)
        saved.save()
        keep_save(state_folder(), tmp_path / "house.toml")
        versions.append(saved.house)
    save_house(assign(versions[1], "study", "doors", "chalk"), tmp_path / "theirs.toml")
    found = Joining.with_copy(saved, tmp_path / "theirs.toml")
    assert found.sides.base == versions[1]
    assert found.sent.words.startswith("your save of ")
    assert not found.left
    found.take()
    assert saved.house == assign(versions[2], "study", "doors", "chalk")
    assert saved.unsaved
    assert saved.undo() == "Changes of theirs.toml brought in"
    assert saved.house == versions[2]


def test_a_later_save_of_mine_is_not_what_was_sent(saved: Session, tmp_path: Path) -> None:
    sent = saved.house
    keep_save(state_folder(), tmp_path / "house.toml")
    saved.apply(assign(sent, "study", "walls", "moss"), "study")
    saved.save()
    keep_save(state_folder(), tmp_path / "house.toml")
    save_house(assign(sent, "study", "walls", "chalk"), tmp_path / "theirs.toml")
    session = Session.read(tmp_path / "house.toml")
    [conflict] = Joining.with_copy(session, tmp_path / "theirs.toml").conflicts
    walls = sent.rooms["study"].paints.walls
    assert (conflict.base, conflict.mine, conflict.theirs) == (walls, "moss", "chalk")


Edit = tuple[str, str]
PLACES = [(room, name) for room in ("hall", "study", "kitchen") for name in ("name", "notes")]
EDITS = st.lists(st.sampled_from(PLACES), max_size=6, unique=True)


@given(before=EDITS, mine=EDITS, theirs=EDITS)
def test_both_sides_are_compared_with_what_was_sent(
    before: list[Edit], mine: list[Edit], theirs: list[Edit]
) -> None:
    """Every edit is saved; theirs leaves what was last changed before it was sent."""
    saves = [HOUSE]
    for n, (room, name) in enumerate(edit for edit in before if edit not in theirs):
        saves.append(change_entity(saves[-1], "rooms", room, **{name: f"before {n}"}))
    sent = copy = saves[-1]
    for n, (room, name) in enumerate(mine):
        saves.append(change_entity(saves[-1], "rooms", room, **{name: f"mine {n}"}))
    for n, (room, name) in enumerate(theirs):
        copy = change_entity(copy, "rooms", room, **{name: f"theirs {n}"})
    newest_first = [Sent(house, "a save") for house in reversed(saves)]
    assert sent_for(newest_first, saves[-1], copy).house == sent


def test_a_copy_of_a_house_without_a_file_is_compared_with_it_as_opened(tmp_path: Path) -> None:
    session = Session.of(HOUSE)
    save_house(THEIRS, tmp_path / "theirs.toml")
    found = Joining.with_copy(session, tmp_path / "theirs.toml")
    assert found.sent.words == "the house as you opened it"
    found.take()
    assert session.house == THEIRS


def test_another_house_is_not_brought_in(saved: Session, tmp_path: Path) -> None:
    save_house(House("elsewhere"), tmp_path / "other.toml")
    with pytest.raises(HouseFileError, match="no room of this house"):
        Joining.with_copy(saved, tmp_path / "other.toml")


def test_what_came_in_is_said_in_the_names_of_people(saved: Session, tmp_path: Path) -> None:
    theirs = put(HOUSE, "paints", "tar", paint("#222222", "Tar Rope"))
    theirs = assign(change_entity(theirs, "rooms", "study", height_m=2.7), "study", "trim", "tar")
    opening = next(iter(HOUSE.openings))
    theirs = change_entity(theirs, "openings", opening, width_m=1.1)
    save_house(theirs, tmp_path / "theirs.toml")
    found = Joining.with_copy(saved, tmp_path / "theirs.toml")
    assert lines_of(found) == [
        "Paint Tar Rope: new",
        "Study, height: 2.7, was not set",
        "Study trim: Tar Rope, was unpainted",
        "Opening Hall to Kitchen, width: 1.1, was 0.8",
    ]
