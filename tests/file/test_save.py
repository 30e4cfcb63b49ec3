"""A save is whole or not at all."""

import errno
import fcntl
import os
import stat
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest

from housemap.errors import ChangedOnDiskError, HouseFileError
from housemap.file import NEW_FILE, dump_house, load_house, save_house
from housemap.file import save as module
from housemap.file.reader import MOST_BYTES
from housemap.model.house import House

OLD, NEW = House("Old"), House("New")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    (tmp_path / "here").mkdir()
    path = tmp_path / "here" / "house.toml"
    path.write_text(dump_house(OLD))
    return path


def names(path: Path) -> set[str]:
    return {each.name for each in path.parent.iterdir()}


def test_the_new_house_is_written_and_the_former_file_kept(path: Path) -> None:
    written = save_house(NEW, path)
    assert path.read_text() == dump_house(NEW)
    assert path.with_name("house.toml~").read_text() == dump_house(OLD)
    assert names(path) == {"house.toml", "house.toml~"}
    assert written == load_house(path).fingerprint


def test_a_new_file_has_no_former_one_and_the_usual_mode(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        save_house(NEW, tmp_path / "new.toml", expected=NEW_FILE)
    finally:
        os.umask(before)
    assert [each.name for each in tmp_path.iterdir()] == ["new.toml"]
    assert stat.S_IMODE((tmp_path / "new.toml").stat().st_mode) == 0o640


@pytest.mark.parametrize("mode", [0o600, 0o644, 0o664])
def test_mode_bits_are_kept_on_both_files(path: Path, mode: int) -> None:
    path.chmod(mode)
    save_house(NEW, path)
    assert stat.S_IMODE(path.stat().st_mode) == mode
    assert stat.S_IMODE(path.with_name("house.toml~").stat().st_mode) == mode


def test_a_link_is_followed_and_stays_a_link(path: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    save_house(NEW, link)
    assert link.is_symlink()
    assert path.read_text() == dump_house(NEW)
    assert path.with_name("house.toml~").exists()


def test_a_file_that_changed_since_it_was_read_is_not_overwritten(path: Path) -> None:
    read = load_house(path).fingerprint
    path.write_text(dump_house(House("Somebody else's")))
    with pytest.raises(ChangedOnDiskError, match=r"house\.toml: has changed on disk"):
        save_house(NEW, path, expected=read)
    assert path.read_text() == dump_house(House("Somebody else's"))
    assert names(path) == {"house.toml"}
    with pytest.raises(ChangedOnDiskError):
        save_house(NEW, path, expected=NEW_FILE)
    path.unlink()
    with pytest.raises(ChangedOnDiskError):
        save_house(NEW, path, expected=read)
    assert names(path) == set()


def test_saving_again_and_again_needs_only_the_last_fingerprint(path: Path) -> None:
    mark = load_house(path).fingerprint
    for name in "abc":
        mark = save_house(House(name), path, expected=mark)
    assert load_house(path).house == House("c")


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (lambda path: path.parent / "none" / "x.toml", "No such file or directory"),
        (lambda path: path.parent, "it is not a regular file"),
        (lambda path: path / "below.toml", "Not a directory"),
        (lambda _path: "nul\0.toml", "its name cannot be used"),
    ],
)
def test_a_place_that_cannot_be_written_is_one_line(
    path: Path, spoil: Callable[[Path], Path | str], reason: str
) -> None:
    with pytest.raises(HouseFileError, match=f"could not be saved: {reason}") as caught:
        save_house(NEW, spoil(path))
    assert len(caught.value.problems) == 1
    assert path.read_text() == dump_house(OLD)


def test_a_ring_of_links_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(HouseFileError, match="could not be saved"):
        save_house(NEW, tmp_path / "a")


def test_a_read_only_file_is_left_alone(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda *_args: False)  # for root everything is writable
    with pytest.raises(HouseFileError, match="could not be saved: the file is read-only"):
        save_house(NEW, path)
    assert path.read_text() == dump_house(OLD)


def test_a_folder_that_somebody_else_is_saving_into_is_waited_for(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "LOCK_WAIT_S", 0.05)
    handle = os.open(path.parent, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        with pytest.raises(HouseFileError, match="another program is saving there"):
            save_house(NEW, path)
        fcntl.flock(handle, fcntl.LOCK_UN)
        save_house(NEW, path)
    finally:
        os.close(handle)
    assert path.read_text() == dump_house(NEW)


CALLS = ("open", "write", "fsync", "chmod", "rename", "replace", "stat", "unlink")
FAULTS = (errno.ENOSPC, errno.EIO, errno.EACCES)


class Failing:
    """Stands for a function of os and fails at its nth call."""

    def __init__(self, real: Callable[..., Any], nth: int, code: int) -> None:
        self.real, self.left, self.code, self.failed = real, nth, code, False

    def __call__(self, *args: Any, **more: Any) -> Any:
        self.left -= 1
        if self.left == 0:
            self.failed = True
            raise OSError(self.code, os.strerror(self.code))
        return self.real(*args, **more)


CASES = [(call, nth, code) for call in CALLS for nth in (1, 2, 3, 4) for code in FAULTS]


@pytest.mark.parametrize(("call", "nth", "code"), CASES)
def test_whatever_fails_the_file_is_the_old_or_the_new_one(
    path: Path, monkeypatch: pytest.MonkeyPatch, call: str, nth: int, code: int
) -> None:
    failing = Failing(getattr(os, call), nth, code)
    with monkeypatch.context() as patch:
        patch.setattr(os, call, failing)
        try:
            save_house(NEW, path)
            told = ""
        except HouseFileError as error:
            told = str(error)
    text = path.read_text()
    if told and "did not confirm" not in told:
        assert os.strerror(code) in told
        assert text == dump_house(OLD)
    else:
        assert text == dump_house(NEW)
    if call != "unlink":
        assert names(path) <= {"house.toml", "house.toml~"}
    save_house(NEW, path)
    assert path.read_text() == dump_house(NEW)


def test_the_faults_are_really_met(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    met = set()
    for call in CALLS:
        failing = Failing(getattr(os, call), 1, errno.EIO)
        with monkeypatch.context() as patch:
            patch.setattr(os, call, failing)
            with suppress(HouseFileError):
                save_house(NEW, path)
        met |= {call} if failing.failed else set()
    assert met >= {"open", "write", "fsync", "chmod", "replace"}


def test_what_a_killed_save_left_is_cleared_away(path: Path) -> None:
    ours = path.with_name(".house.toml.4711-0badf00d")
    others = [path.with_name(name) for name in (".house.toml.swp", ".other.toml.1-0badf00d")]
    for each in (ours, *others):
        each.write_text("format")
    save_house(NEW, path)
    assert names(path) == {"house.toml", "house.toml~", *(each.name for each in others)}


def test_a_house_too_large_to_be_read_again_is_not_saved(path: Path) -> None:
    with pytest.raises(HouseFileError, match="a house file is at most 2 MiB; the file is as it"):
        module.save_bytes(b"#" * (MOST_BYTES + 1), path)
    assert path.read_text() == dump_house(OLD)


def test_a_partial_write_goes_on(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda handle, data: real(handle, data[:7]))
    save_house(NEW, path)
    assert path.read_text() == dump_house(NEW)


def test_a_folder_that_cannot_be_flushed_or_locked_is_taken_as_it_is(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_lock(_handle: int, _how: int) -> None:
        raise OSError(errno.ENOLCK, "no locks here")

    monkeypatch.setattr(fcntl, "flock", no_lock)
    save_house(NEW, path)
    assert path.read_text() == dump_house(NEW)
