"""The cache: whole or not at all, for nobody else, of a bounded size, and never in the way."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from housemap.file import kept

BODY = bytes(range(256)) * 4


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", str(tmp_path / "cache"))
    return tmp_path / "cache"


def test_what_is_kept_is_found_again_and_for_its_owner_alone(folder: Path) -> None:
    assert kept.recall("a") is None
    kept.keep("a", BODY)
    assert kept.recall("a") == BODY
    assert kept.recall("b") is None
    assert [each.name for each in folder.iterdir()] == ["a"]
    if sys.platform != "win32":
        assert folder.stat().st_mode & 0o777 == 0o700
        assert (folder / "a").stat().st_mode & 0o777 == 0o600


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    at=st.integers(0, len(BODY) + kept.DIGEST_BYTES - 1), bit=st.integers(0, 7), cut=st.booleans()
)
def test_a_damaged_file_is_ignored(folder: Path, at: int, bit: int, cut: bool) -> None:  # noqa: FBT001 - drawn
    kept.keep("a", BODY)
    whole = bytearray((folder / "a").read_bytes())
    whole[at] ^= 1 << bit
    (folder / "a").write_bytes(whole[:at] if cut else whole)
    assert kept.recall("a") is None
    kept.keep("a", BODY)
    assert kept.recall("a") == BODY


def test_the_oldest_go_first_and_all_on_demand(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    each = len(BODY) + kept.DIGEST_BYTES
    monkeypatch.setattr(kept, "MOST_BYTES", 3 * each)
    for age, key in enumerate("abc"):
        kept.keep(key, BODY)
        os.utime(folder / key, (1000 + age, 1000 + age))
    assert kept.recall("a") == BODY  # and with that the newest
    kept.keep("d", BODY)
    assert {key for key in "abcd" if kept.recall(key)} == set("acd")
    assert kept.kept_bytes() == 3 * each
    kept.empty()
    assert kept.kept_bytes() == 0
    assert kept.recall("a") is None


@pytest.mark.parametrize("place", ["a-file", "a-file/below"])
def test_where_nothing_can_be_written_nothing_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str
) -> None:
    (tmp_path / "a-file").write_text("mine")
    monkeypatch.setattr(kept, "cache_folder", lambda: tmp_path / place)
    kept.keep("a", BODY)
    assert kept.recall("a") is None
    assert kept.kept_bytes() == 0
    kept.empty()
    assert (tmp_path / "a-file").read_text() == "mine"


TAKING_TURNS = """
from housemap.file import kept
for turn in range(200):
    kept.keep("a", bytes([turn % 7]) * 100_000)
    found = kept.recall("a")
    assert found is None or (len(found) == 100_000 and len(set(found)) == 1)
"""


def test_two_processes_at_once_never_read_half_a_result(folder: Path) -> None:
    both = [subprocess.Popen([sys.executable, "-c", TAKING_TURNS]) for _ in "12"]
    assert [each.wait() for each in both] == [0, 0]
    assert [each.name for each in folder.iterdir()] == ["a"]
