"""Unsaved work outlives the program."""

import errno
import fcntl
import json
import os
import stat
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from random import Random
from time import sleep

import pytest

from housemap.errors import HouseFileError
from housemap.file.journal import Journal, left_behind, left_behind_of
from housemap.file.reader import fingerprint
from housemap.model.house import House
from tests.support.houses import small_house

CHILD = """
import sys
from dataclasses import replace
from pathlib import Path
from housemap.file.journal import Journal
from housemap.model.house import House
journal = Journal(Path(sys.argv[1]), sys.argv[2], "mark")
count = 0
while True:
    count += 1
    journal.keep(House(name=f"edit {count}", notes="x" * 5000))
    print(count, flush=True)
"""


def abandoned(journal: Journal) -> None:
    """Let a journal go as the system does when a program dies."""
    os.close(journal._handle)


def test_what_a_crash_left_is_exactly_what_was_there(tmp_path: Path) -> None:
    journal = Journal(tmp_path, tmp_path / "house.toml", "mark")
    journal.keep(replace(small_house(), notes="first"))
    journal.keep(small_house())
    abandoned(journal)
    (found,) = left_behind(tmp_path)
    assert found.house == small_house()
    assert (found.file, found.fingerprint) == (str(tmp_path / "house.toml"), "mark")
    found.forget()
    assert left_behind(tmp_path) == ()
    assert list((tmp_path / "recovery").iterdir()) == []


def test_the_work_of_a_running_program_is_not_offered(tmp_path: Path) -> None:
    journal = Journal(tmp_path)
    journal.keep(small_house())
    assert left_behind(tmp_path) == ()
    abandoned(journal)
    assert len(left_behind(tmp_path)) == 1


def test_nothing_is_left_once_the_work_is_saved_or_the_program_closed(tmp_path: Path) -> None:
    journal = Journal(tmp_path)
    journal.keep(small_house())
    journal.clear()
    journal.belongs_to(tmp_path / "new.toml", "newer")
    assert left_behind(tmp_path) == ()
    journal.keep(small_house())
    journal.close()
    assert list((tmp_path / "recovery").iterdir()) == []


def test_journals_are_private(tmp_path: Path) -> None:
    before = os.umask(0)
    try:
        journal = Journal(tmp_path)
        journal.keep(small_house())
    finally:
        os.umask(before)
    folder = tmp_path / "recovery"
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert {stat.S_IMODE(each.stat().st_mode) for each in folder.iterdir()} == {0o600}
    journal.close()


def test_the_newest_work_is_offered_first(tmp_path: Path) -> None:
    for name in ("older", "newer"):
        journal = Journal(tmp_path)
        journal.keep(House(name))
        abandoned(journal)
    assert [found.house.name for found in left_behind(tmp_path)] == ["newer", "older"]


@pytest.mark.parametrize(
    "junk", [b"", b"{", b"[]", b'"x"', b"\xff", json.dumps({"schema": 9}).encode(), b"[" * 5000]
)
def test_a_journal_that_cannot_be_read_is_left_alone(tmp_path: Path, junk: bytes) -> None:
    (tmp_path / "recovery").mkdir()
    (tmp_path / "recovery" / "1-x.json").write_bytes(junk)
    assert left_behind(tmp_path) == ()
    assert (tmp_path / "recovery" / "1-x.json").read_bytes() == junk


def test_a_folder_that_cannot_be_written_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "recovery").write_text("in the way")
    with pytest.raises(HouseFileError, match="the copy of unsaved work could not be written: "):
        Journal(tmp_path)


def test_a_full_disk_is_told_and_the_former_copy_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_handle: int, _data: bytes) -> int:
        raise OSError(28, "No space left on device")

    journal = Journal(tmp_path)
    journal.keep(House("kept"))
    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        with pytest.raises(HouseFileError, match="No space left on device"):
            journal.keep(House("lost"))
    abandoned(journal)
    assert [found.house for found in left_behind(tmp_path)] == [House("kept")]


def kill_at_random(folder: Path, random: Random) -> tuple[int, int]:
    """Kill a program amid its edits; return the last edit told and the one recovered."""
    command = [sys.executable, "-c", CHILD, str(folder), "house.toml"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        child.stdout.readline()
        sleep(random.random() * 0.05)
        child.kill()
        told = [1, *map(int, child.stdout.read().split())]
    (found,) = left_behind(folder)
    found.forget()
    return told[-1], int(found.house.name.removeprefix("edit "))


def test_no_edit_that_was_kept_is_lost_when_the_program_is_killed(tmp_path: Path) -> None:
    random = Random(1)
    for _ in range(8):
        told, recovered = kill_at_random(tmp_path, random)
        assert told <= recovered <= told + 1
    left = [each for each in (tmp_path / "recovery").iterdir() if each.suffix != ""]
    assert [each for each in left if each.suffix in {".json", ".lock"}] == []


@pytest.mark.parametrize(
    ("opened", "texts", "whose"),
    [
        ("made.toml", {"made.toml": "same"}, "its own"),
        ("made.toml", {"made.toml": "changed since"}, "its own"),
        ("link.toml", {"made.toml": "same"}, "its own"),
        ("hard.toml", {"made.toml": "same"}, "its own"),
        ("copy.toml", {"made.toml": "same", "copy.toml": "same"}, ""),
        ("copy.toml", {"made.toml": "changed since", "copy.toml": "same"}, ""),
        ("moved.toml", {"moved.toml": "same"}, "one that is gone"),
        ("moved.toml", {"moved.toml": "changed since"}, ""),
    ],
)
def test_work_belongs_to_the_file_it_was_made_in_and_to_no_copy_of_it(
    tmp_path: Path, opened: str, texts: dict[str, str], whose: str
) -> None:
    for name, text in texts.items():
        (tmp_path / name).write_text(text)
    (tmp_path / "link.toml").symlink_to("made.toml")
    if opened == "hard.toml":
        (tmp_path / "hard.toml").hardlink_to(tmp_path / "made.toml")
    journal = Journal(tmp_path, tmp_path / "made.toml", fingerprint(b"same"))
    journal.keep(small_house())
    abandoned(journal)
    file = tmp_path / opened
    found = left_behind_of(tmp_path, file, fingerprint(file.read_bytes()))
    assert (found is not None) == bool(whose)
    assert found is None or found.is_of(file) == (whose == "its own")


def test_work_on_a_house_without_a_file_is_offered_by_no_file(tmp_path: Path) -> None:
    journal = Journal(tmp_path)
    journal.keep(small_house())
    abandoned(journal)
    assert left_behind_of(tmp_path, tmp_path / "house.toml", "") is None


def test_what_killed_programs_left_is_cleaned_up_at_the_next_start(tmp_path: Path) -> None:
    dead, alive = Journal(tmp_path), Journal(tmp_path)
    abandoned(dead)
    with_work = Journal(tmp_path)
    with_work.keep(small_house())
    abandoned(with_work)
    half = with_work.path.with_name(f".{with_work.path.name}.4711-0badf00d")
    half.write_text("{")
    assert len(left_behind(tmp_path)) == 1
    left = {each.name for each in (tmp_path / "recovery").iterdir()}
    kept = {with_work.path.name, with_work.path.with_suffix(".lock").name}
    assert left == kept | {alive.path.with_suffix(".lock").name}
    alive.close()


def test_where_there_are_no_locks_a_program_is_known_by_its_number(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_lock(_handle: int, _how: int) -> None:
        raise OSError(errno.ENOLCK, "no locks here")

    monkeypatch.setattr(fcntl, "flock", no_lock)
    journal = Journal(tmp_path)
    journal.keep(small_house())
    assert left_behind(tmp_path) == ()
    with subprocess.Popen([sys.executable, "-c", ""]) as ended:
        ended.wait()
    for path in (journal.path, journal.path.with_suffix(".lock")):
        path.rename(path.with_name(f"{ended.pid}-0badf00d{path.suffix}"))
    assert len(left_behind(tmp_path)) == 1
