"""Unsaved work is kept on disk, and where it cannot be, that is said for as long as it is so."""

import json
import os
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from housemap.file.earlier_saves import keep_save
from housemap.file.journal import Journal, left_behind
from housemap.file.save import save_house
from housemap.tui.render.look import Settings, write_settings
from housemap.workbench.folders import remember_house
from housemap.workbench.safekeeping import Safekeeping, copies_of
from housemap.workbench.session import Session
from tests.support.houses import small_house
from tests.support.screens import paint_hall


class AtOnce:
    """A runner that does all work at once."""

    def soon(self, call: Callable[[], None]) -> None:
        call()

    def after(self, seconds: float, call: Callable[[], None]) -> Callable[[], None]:
        del seconds
        call()
        return lambda: None

    def beside(self, group: str, work: Callable[[], None]) -> None:
        del group
        work()

    def post(self, call: Callable[[], object]) -> None:
        raise AssertionError(call)


@pytest.fixture
def state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOUSEMAP_STATE_DIR", str(tmp_path / "state"))
    return tmp_path / "state"


def test_an_edit_is_on_disk_and_gone_once_it_is_undone(state: Path) -> None:
    session = Session.of(small_house())
    keeping = Safekeeping(AtOnce(), session)
    session.apply(paint_hall, "edit")
    keeping.follow()
    assert keeping.fault == ""
    assert list((state / "recovery").glob("*.json"))
    session.undo()
    keeping.follow()
    assert not list((state / "recovery").glob("*.json"))
    assert left_behind(state) == ()
    keeping.close()


def test_a_folder_that_cannot_be_used_is_said_until_it_can(state: Path) -> None:
    session = Session.of(small_house())
    keeping = Safekeeping(AtOnce(), session)
    state.write_text("in the way")
    session.apply(paint_hall, "edit")
    keeping.follow()
    assert keeping.fault == "Save often: a crash would lose unsaved work (File exists)."
    state.unlink()
    keeping.follow()
    assert keeping.fault == ""
    keeping.close()


def test_everything_in_the_state_folder_is_for_the_user_alone(state: Path, tmp_path: Path) -> None:
    before = os.umask(0)
    try:
        save_house(small_house(), tmp_path / "house.toml")
        session = Session.read(tmp_path / "house.toml")
        keeping = Safekeeping(AtOnce(), session)
        session.apply(paint_hall, "edit")
        keeping.follow()
        keep_save(state, tmp_path / "house.toml")
        remember_house(tmp_path / "house.toml")
        write_settings(Settings(light=True))
    finally:
        os.umask(before)
    every = [state, *state.rglob("*")]
    modes = {(each.is_dir(), stat.S_IMODE(each.stat().st_mode)) for each in every}
    assert modes == {(True, 0o700), (False, 0o600)}
    keeping.close()


def test_of_a_file_that_does_not_read_every_copy_is_named(state: Path, tmp_path: Path) -> None:
    file = tmp_path / "my house.toml"
    file.write_text("broken =")
    assert list(copies_of(file))[1].startswith("No copy of it is kept here.")
    save_house(small_house(), file)
    keep_save(state, file)
    journal = Journal(state, file)
    journal.keep(small_house())
    os.close(journal._handle)  # as the end of a process would, which frees the lock
    file.write_text("broken =")
    _, former, saves, work = copies_of(file)
    assert former.endswith(f"housemap '{file}~'")
    assert saves.startswith("2 earlier saves, the newest of ")
    assert work.startswith("Unsaved work from ")


def test_what_is_typed_is_on_disk_with_the_house_and_gone_once_it_is_not_typed(state: Path) -> None:
    typed: dict[str, object] = {}
    session = Session.of(small_house())
    keeping = Safekeeping(AtOnce(), session, lambda: dict(typed))
    typed["survey"] = "height 2"
    keeping.follow()
    [kept] = (state / "recovery").glob("*.json")
    assert json.loads(kept.read_bytes())["typed"] == {"survey": "height 2"}
    typed.clear()
    keeping.follow()
    assert not list((state / "recovery").glob("*.json"))
    keeping.close()
