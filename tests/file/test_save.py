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

from housemap.errors import ChangedOnDiskError, FileGoneError, HouseFileError
from housemap.file import atomic
from housemap.file.reader import MOST_BYTES, load_house
from housemap.file.save import NEW_FILE, clean_up, save_bytes, save_house
from housemap.file.writer import dump_house
from housemap.model.house import House

OLD, NEW = House("Old"), House("New")


def no_exchange(_one: Path, _other: Path) -> bool:
    return False


@pytest.fixture(params=["exchange", "link"])
def path(tmp_path: Path, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A house file, on a system that exchanges files in one step or one that does not."""
    if request.param == "link":
        monkeypatch.setattr(atomic, "exchange", no_exchange)
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
    with pytest.raises(FileGoneError, match=r"house\.toml: was deleted or renamed since"):
        save_house(NEW, path, expected=read)
    assert names(path) == set()


OTHER = dump_house(House("Somebody else's"))


def by_rename(path: Path) -> None:
    other = path.parent / "other"
    other.write_text(OTHER)
    other.replace(path)


def in_place(path: Path) -> None:
    path.write_text(OTHER)


class Meanwhile:
    """Stands for a function of os: somebody else saves before its nth call."""

    def __init__(self, real: Callable[..., Any], nth: int, save: Callable[[], object]) -> None:
        self.real, self.left, self.save = real, nth, save

    def __call__(self, *args: Any, **more: Any) -> Any:
        self.left -= 1
        if self.left == 0:
            self.save()
        return self.real(*args, **more)


@pytest.mark.parametrize("expected", [True, False])
@pytest.mark.parametrize("other", [by_rename, in_place])
@pytest.mark.parametrize(("call", "nth"), [("open", 2), ("fsync", 1), ("replace", 1), ("stat", 3)])
def test_what_somebody_saves_meanwhile_is_in_the_file_or_its_former_one(
    path: Path,
    monkeypatch: pytest.MonkeyPatch,
    call: str,
    nth: int,
    other: Callable[[Path], None],
    *,
    expected: bool,
) -> None:
    read = load_house(path).fingerprint
    with monkeypatch.context() as patch:
        patch.setattr(os, call, Meanwhile(getattr(os, call), nth, lambda: other(path)))
        with suppress(ChangedOnDiskError):
            save_house(NEW, path, expected=read if expected else None)
    texts = {each.read_text() for each in path.parent.iterdir() if each.name.startswith("house")}
    assert OTHER in texts
    if expected:
        assert path.read_text() == OTHER


@pytest.mark.parametrize("other", [by_rename, in_place])
def test_even_what_is_saved_at_the_last_moment_is_put_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, other: Callable[[Path], None]
) -> None:
    path = tmp_path / "house.toml"
    path.write_text(dump_house(OLD))
    read, real = load_house(path).fingerprint, atomic.exchange

    def late(one: Path, target: Path) -> bool:
        monkeypatch.setattr(atomic, "exchange", real)
        other(path)
        return real(one, target)

    monkeypatch.setattr(atomic, "exchange", late)
    with pytest.raises(ChangedOnDiskError):
        save_house(NEW, path, expected=read)
    assert path.read_text() == OTHER
    monkeypatch.setattr(atomic, "exchange", late)
    save_house(NEW, path)
    assert path.read_text() == dump_house(NEW)
    assert path.with_name("house.toml~").read_text() == OTHER


def test_a_file_that_somebody_makes_meanwhile_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "house.toml"
    make = Meanwhile(os.fsync, 1, lambda: path.write_text(OTHER))
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", make)
        with pytest.raises(ChangedOnDiskError):
            save_house(NEW, path, expected=NEW_FILE)
    assert path.read_text() == OTHER
    path.unlink()
    monkeypatch.setattr(os, "fsync", Meanwhile(os.fsync, 1, lambda: path.write_text(OTHER)))
    save_house(NEW, path)
    assert path.with_name("house.toml~").read_text() == OTHER


def test_a_file_with_other_names_is_written_under_all_of_them(path: Path) -> None:
    twin = path.with_name("twin.toml")
    os.link(path, twin)
    save_house(NEW, path)
    assert path.samefile(twin)
    assert twin.read_text() == dump_house(NEW)
    assert path.with_name("house.toml~").read_text() == dump_house(OLD)
    save_house(House("C"), path)
    save_house(House("D"), twin)
    assert path.read_text() == dump_house(House("D"))


def test_a_former_file_that_is_still_the_file_itself_counts_as_no_other_name(path: Path) -> None:
    os.link(path, path.with_name("house.toml~"))  # as a save leaves it that was killed between
    save_house(NEW, path)
    assert path.read_text() == dump_house(NEW)
    assert path.with_name("house.toml~").read_text() == dump_house(OLD)
    assert path.stat().st_nlink == 1


@pytest.mark.skipif(os.geteuid() != 0, reason="only root gives files away")
def test_owner_and_group_are_kept(path: Path) -> None:
    os.chown(path, 12, 34)
    save_house(NEW, path)
    assert (path.stat().st_uid, path.stat().st_gid) == (12, 34)


def test_extended_attributes_are_kept(path: Path) -> None:
    try:
        os.setxattr(path, "user.note", b"by hand")
    except OSError:
        pytest.skip("this file system has no attributes")
    save_house(NEW, path)
    assert os.getxattr(path, "user.note") == b"by hand"


@pytest.mark.parametrize(
    "name", ["x" * 250 + ".toml", "\u9ad8" * 83 + ".toml", "e\u0301" * 83 + ".t"]
)
def test_the_longest_names_are_saved_beside_their_former_file(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    save_house(OLD, path)
    save_house(NEW, path)
    assert path.read_text() == dump_house(NEW)
    (former,) = (each for each in tmp_path.iterdir() if each != path)
    assert former.name.endswith("~")
    assert former.read_text() == dump_house(OLD)


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
    monkeypatch.setattr(atomic, "LOCK_WAIT_S", 0.05)
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


CALLS = ("open", "write", "fsync", "chmod", "rename", "replace", "stat", "unlink", "link")
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
    ours.write_text("format")
    clean_up(path)
    assert not ours.exists()


def test_a_house_too_large_to_be_read_again_is_not_saved(path: Path) -> None:
    with pytest.raises(HouseFileError, match="a house file is at most 2 MiB; the file is as it"):
        save_bytes(b"#" * (MOST_BYTES + 1), path)
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
