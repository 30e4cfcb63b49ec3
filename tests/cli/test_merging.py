"""Two people, one house: diff and merge as commands, and as a merge driver of git."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from housemap.cli import main
from housemap.file import read_house, save_house
from housemap.model.edits import assign, change_entity
from housemap.model.house import House
from tests.support.houses import small_house


def saved(house: House, path: Path) -> str:
    save_house(house, path)
    return str(path)


def test_diff_tells_what_changed_and_ends_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    a = saved(small_house(), tmp_path / "a.toml")
    b = saved(assign(small_house(), "hall", "walls", "moss"), tmp_path / "b.toml")
    assert main(["diff", a, b]) == 1
    assert "hall" in capsys.readouterr().out
    assert main(["diff", "--json", a, b]) == 1
    [change] = json.loads(capsys.readouterr().out)["changes"]
    assert change["path"][:2] == ["room", "hall"]
    assert ("oat" in change["before"], "moss" in change["after"]) == (True, True)


def test_diff_of_equal_houses_ends_with_0(tmp_path: Path) -> None:
    a = saved(small_house(), tmp_path / "a.toml")
    assert main(["diff", a, a]) == 0


def test_edits_apart_merge_by_themselves(tmp_path: Path) -> None:
    base = small_house()
    mine = assign(base, "hall", "walls", "moss")
    theirs = change_entity(base, "rooms", "kitchen", height_m=2.6)
    files = [saved(h, tmp_path / f"{i}.toml") for i, h in enumerate((base, mine, theirs))]
    out = tmp_path / "out.toml"
    assert main(["merge", *files, "-o", str(out)]) == 0
    assert read_house(out) == change_entity(mine, "rooms", "kitchen", height_m=2.6)


def test_a_conflict_is_told_with_base_mine_and_theirs_and_ends_with_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    base = small_house()
    mine = change_entity(base, "rooms", "hall", height_m=2.5)
    theirs = change_entity(base, "rooms", "hall", height_m=2.7)
    files = [saved(h, tmp_path / f"{i}.toml") for i, h in enumerate((base, mine, theirs))]
    out = tmp_path / "out.toml"
    assert main(["merge", *files, "-o", str(out)]) == 1
    told = capsys.readouterr().err
    assert all(value in told for value in ("2.4", "2.5", "2.7"))
    assert read_house(out) == mine


def test_everything_wrong_with_the_three_files_is_told_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good = saved(small_house(), tmp_path / "good.toml")
    (tmp_path / "bad.toml").write_text("format = 1\nhouses = 3\n")
    missing = str(tmp_path / "missing.toml")
    out = tmp_path / "out.toml"
    assert main(["merge", good, str(tmp_path / "bad.toml"), missing, "-o", str(out)]) == 2
    told = capsys.readouterr().err
    assert "bad.toml:2" in told
    assert "missing.toml" in told
    assert not out.exists()


def test_git_merges_two_branches_with_it(tmp_path: Path) -> None:
    def git(*words: str) -> None:
        identity = ("-c", "user.name=A", "-c", "user.email=a@example.org")
        subprocess.run(["git", *identity, *words], cwd=tmp_path, check=True, capture_output=True)

    house, file = small_house(), tmp_path / "house.toml"
    git("init", "-q", "-b", "main")
    git("config", "merge.housemap.driver", f"{sys.executable} -m housemap merge %O %A %B -o %A")
    (tmp_path / ".gitattributes").write_text("*.toml merge=housemap\n")
    save_house(house, file)
    git("add", ".")
    git("commit", "-q", "-m", "base")
    git("checkout", "-q", "-b", "theirs")
    save_house(replace(house, notes="theirs"), file)
    git("commit", "-qam", "theirs")
    git("checkout", "-q", "main")
    save_house(replace(house, name="Mine"), file)
    git("commit", "-qam", "mine")
    git("merge", "-q", "--no-edit", "theirs")
    assert not [left for left in tmp_path.iterdir() if left.name.startswith(".merge_file")]
    assert read_house(file) == replace(house, name="Mine", notes="theirs")
