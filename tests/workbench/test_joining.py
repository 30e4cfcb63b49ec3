"""Two copies of a house become one: nothing of either side is lost, or replaced without a word."""

import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from housemap.errors import ChangedOnDiskError, HouseFileError
from housemap.file.earlier_saves import keep_save
from housemap.file.merge import diff
from housemap.file.reader import load_house, read_house
from housemap.file.save import save_house
from housemap.model.edits import assign, change_entity, put, renames
from housemap.model.house import House, Surface
from housemap.workbench.folders import state_folder
from housemap.workbench.joining import (
    Joining,
    Sent,
    Sides,
    change_text,
    kept_text,
    save_joined,
)
from housemap.workbench.session import Session
from tests.support.edited import edited
from tests.support.houses import paint, small_house
from tests.support.strategies import houses

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
    assert found.choose("theirs", name).rooms["hall"].name == "Lobby"
    assert found.choose("mine", name).rooms["hall"].name == "Entry"
    assert found.left == 1
    assert found.joined.rooms["hall"].name == "Entry"


def test_what_is_chosen_is_saved_together(session: Session, tmp_path: Path) -> None:
    found = Joining.with_file(session)
    for conflict in found.conflicts:
        found.choose("theirs", conflict.path)
    found.take()
    assert read_house(tmp_path / "house.toml") == session.house == THEIRS
    assert not session.unsaved
    assert session.undo().startswith("Merged")


def test_one_more_save_of_theirs_is_not_overwritten(session: Session, tmp_path: Path) -> None:
    found = Joining.with_file(session)
    for conflict in found.conflicts:
        found.choose("mine", conflict.path)
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


def test_an_old_copy_over_the_file_does_not_take_my_saved_colour_back(saved: Session) -> None:
    """Nobody can know whether theirs is older, or they chose the earlier colour again."""
    found = moss_saved_then(saved, lambda _: assign(HOUSE, "kitchen", "walls", "chalk"))
    [conflict] = found.conflicts
    assert (conflict.path[1], conflict.mine) == ("hall", "moss")
    found.choose("mine", conflict.path)
    found.take()
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


def save(session: Session, room: str, surface: Surface, paint: str) -> None:
    """Paint and save, as the program does: what the file was and is are kept."""
    session.apply(assign(session.house, room, surface, paint), room)
    assert session.file is not None
    session.save()
    keep_save(state_folder(), session.file.path)


def test_a_copy_is_compared_with_the_save_it_was_made_from(saved: Session, tmp_path: Path) -> None:
    """Theirs was made from the second of three saves, and saved by the program."""
    theirs = tmp_path / "theirs.toml"
    for room in ("hall", "study"):
        save(saved, room, "ceiling", "moss")
    sent = saved.house
    save_house(sent, theirs)
    save_house(assign(sent, "study", "doors", "chalk"), theirs)
    save(saved, "kitchen", "ceiling", "moss")
    mine = saved.house
    found = Joining.with_copy(saved, theirs)
    assert found.sides.base == sent
    assert found.sent is not None
    assert found.sent.words.startswith("the save of ")
    assert not found.left
    found.take()
    assert saved.house == assign(mine, "study", "doors", "chalk")
    assert saved.unsaved
    assert saved.undo() == "Changes of theirs.toml brought in"
    assert saved.house == mine


def test_what_only_they_changed_since_the_save_they_were_sent_comes_in_unasked(
    saved: Session, tmp_path: Path
) -> None:
    """Even where I had painted it myself before."""
    save(saved, "hall", "walls", "moss")
    save_house(saved.house, tmp_path / "theirs.toml")
    theirs = assign(saved.house, "hall", "walls", "chalk")
    save_house(theirs, tmp_path / "theirs.toml")
    found = Joining.with_copy(saved, tmp_path / "theirs.toml")
    assert not found.left
    assert found.joined == theirs


def test_a_copy_of_unknown_origin_is_asked_about_in_each_difference(
    saved: Session, tmp_path: Path
) -> None:
    """Theirs is older than all that is kept, and opened again after the save."""
    save_house(assign(HOUSE, "kitchen", "walls", "chalk"), tmp_path / "theirs.toml")
    save(saved, "hall", "walls", "moss")
    session = Session.read(tmp_path / "house.toml")
    found = Joining.with_copy(session, tmp_path / "theirs.toml")
    assert found.sent is None
    asked = [(each.path[1], each.mine, each.theirs) for each in found.conflicts]
    assert asked == [("hall", "moss", "oat"), ("kitchen", "moss", "chalk")]
    assert found.choose("theirs", *(each.path for each in found.conflicts)) == assign(
        HOUSE, "kitchen", "walls", "chalk"
    )


def test_an_old_copy_of_mine_brings_nothing_and_asks_nothing(
    saved: Session, tmp_path: Path
) -> None:
    save_house(HOUSE, tmp_path / "theirs.toml")
    save(saved, "hall", "walls", "moss")
    found = Joining.with_copy(Session.read(tmp_path / "house.toml"), tmp_path / "theirs.toml")
    assert found.sent is not None
    assert not found.left
    assert not found.came_in


def test_a_colour_that_i_tried_and_left_again_is_asked_about(
    saved: Session, tmp_path: Path
) -> None:
    """Their choice is what one of my saves had in between."""
    save_house(HOUSE, tmp_path / "theirs.toml")
    save_house(assign(HOUSE, "hall", "walls", "chalk"), tmp_path / "theirs.toml")
    for colour in ("moss", "chalk", "moss"):
        save(saved, "hall", "walls", colour)
    found = Joining.with_copy(Session.read(tmp_path / "house.toml"), tmp_path / "theirs.toml")
    [conflict] = found.conflicts
    assert (conflict.base, conflict.mine, conflict.theirs) == ("oat", "moss", "chalk")


def test_where_mine_stays_is_listed_too(saved: Session, tmp_path: Path) -> None:
    save_house(HOUSE, tmp_path / "theirs.toml")
    saved.apply(assign(HOUSE, "hall", "walls", "moss"), "hall")
    found = Joining.with_copy(saved, tmp_path / "theirs.toml")
    assert not found.left
    assert not found.came_in
    assert found.to_show
    [kept] = found.kept
    assert kept_text(kept, HOUSE, saved.house) == "Hall walls: yours Moss Bank, theirs Oat Ladle"


histories = houses(max_rooms=2).flatmap(
    lambda base: st.tuples(st.just(base), edited(base), edited(base), edited(base))
)


@given(drawn=histories, known=st.booleans())
def test_no_change_of_mine_is_lost_unasked(
    drawn: tuple[House, House, House, House], *, known: bool
) -> None:
    """Whoever answers "mine" to every question has all of his changes, whatever theirs is."""
    base, between, mine, theirs = drawn
    assume(not any(renames(*pair) for pair in ((base, mine), (base, theirs), (mine, theirs))))
    sides = Sides(base if known else mine, mine, theirs)
    sent = Sent(base, "known") if known else None
    found = Joining(sides, lambda _: None, sent, [between])
    joined = found.choose("mine", *(each.path for each in found.conflicts))
    if not known:
        assert joined == mine
    own = {c.path for before in (base, between) for c in diff(before, mine)}
    for change in diff(mine, joined):
        added = isinstance(change.after, tuple) and {*(change.before or ())} <= {*change.after}
        assert added or change.path not in own


def test_another_house_is_not_brought_in(saved: Session, tmp_path: Path) -> None:
    save_house(House("elsewhere"), tmp_path / "other.toml")
    with pytest.raises(HouseFileError, match="no room of this house"):
        Joining.with_copy(saved, tmp_path / "other.toml")


def test_what_came_in_is_said_in_the_names_of_people(saved: Session, tmp_path: Path) -> None:
    theirs = put(HOUSE, "paints", "tar", paint("#222222", "Tar Rope"))
    theirs = assign(change_entity(theirs, "rooms", "study", height_m=2.7), "study", "trim", "tar")
    opening = next(iter(HOUSE.openings))
    theirs = change_entity(theirs, "openings", opening, width_m=1.1)
    save_house(HOUSE, tmp_path / "theirs.toml")
    save_house(theirs, tmp_path / "theirs.toml")
    found = Joining.with_copy(saved, tmp_path / "theirs.toml")
    assert lines_of(found) == [
        "Paint Tar Rope: new",
        "Study, height: 2.7, was not set",
        "Study trim: Tar Rope, was unpainted",
        "Opening Hall to Kitchen, width: 1.1, was 0.8",
    ]
