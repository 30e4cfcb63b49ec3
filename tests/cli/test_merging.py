"""Two people, one house: diff and merge as commands, and as a merge driver of git."""

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from housemap.cli import main
from housemap.file.merge import unsettled
from housemap.file.reader import load_house, read_house
from housemap.file.save import save_house
from housemap.file.writer import dump_house
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
    assert capsys.readouterr().out == "Hall walls: Moss Bank, was Oat Ladle\n"
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
    assert "both changed it: Hall, height: yours 2.5, theirs 2.7, sent as 2.4\n" in told
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


PROGRAM = f"{sys.executable} -m housemap"
DRIVER = f"{PROGRAM} merge %O %A %B -o %A"


class Git:
    """A repository of one house, with the program as its merge driver, merge tool and text."""

    def __init__(self, folder: Path, attributes: str) -> None:
        self.folder = folder
        self("init", "-q", "-b", "main")
        self("config", "merge.housemap.driver", DRIVER)
        self("config", "diff.housemap.textconv", f"{PROGRAM} diff --text")
        (folder / ".gitattributes").write_text(attributes)

    def __call__(self, *words: str, status: int = 0) -> str:
        identity = ("-c", "user.name=A", "-c", "user.email=a@example.org")
        done = subprocess.run(
            ["git", *identity, *words], cwd=self.folder, check=False, capture_output=True, text=True
        )
        assert done.returncode == status, done.stderr
        return done.stdout

    def branches(self, name: str, texts: tuple[str, str, str], status: int = 0) -> None:
        """Write a file as sent, as mine and as theirs, on two branches, and merge them."""
        file, (base, mine, theirs) = self.folder / name, texts
        file.write_text(base)
        self("add", ".")
        self("commit", "-q", "-m", "base")
        self("checkout", "-q", "-b", "theirs")
        file.write_text(theirs)
        self("commit", "-qam", "theirs")
        self("checkout", "-q", "main")
        file.write_text(mine)
        self("commit", "-qam", "mine")
        self("merge", "-q", "--no-edit", "theirs", status=status)


def texts(base: House, mine: House, theirs: House) -> tuple[str, str, str]:
    return dump_house(base), dump_house(mine), dump_house(theirs)


HOUSES = "house*.toml merge=housemap diff=housemap\n"


def test_git_merges_two_branches_with_it(tmp_path: Path) -> None:
    git, house = Git(tmp_path, HOUSES), small_house()
    mine, theirs = replace(house, name="Mine"), replace(house, notes="theirs")
    git.branches("house.toml", texts(house, mine, theirs))
    assert not [left for left in tmp_path.iterdir() if left.name.startswith(".merge_file")]
    assert read_house(tmp_path / "house.toml") == replace(house, name="Mine", notes="theirs")


def test_git_leaves_a_file_that_shows_both_sides_and_can_be_opened(tmp_path: Path) -> None:
    git, house = Git(tmp_path, HOUSES), small_house()
    mine, theirs = replace(house, name="Mine"), replace(house, name="Theirs")
    git.branches("house.toml", texts(house, mine, theirs), status=1)
    assert "UU house.toml" in git("status", "--short")
    held = load_house(tmp_path / "house.toml")
    assert held.house == mine
    assert unsettled(held.data) == (house, mine, theirs)


def test_git_leaves_both_sides_of_a_file_that_is_no_house(tmp_path: Path) -> None:
    git = Git(tmp_path, "*.toml merge=housemap\n")
    git.branches("other.toml", ("a = 1\n", "a = 2\n", "a = 3\n"), status=1)
    text = (tmp_path / "other.toml").read_text()
    assert text == "<<<<<<< yours\na = 2\n=======\na = 3\n>>>>>>> theirs\n"


def test_git_shows_a_difference_by_meaning(tmp_path: Path) -> None:
    git, house = Git(tmp_path, HOUSES), small_house()
    save_house(house, tmp_path / "house.toml")
    git("add", ".")
    git("commit", "-q", "-m", "base")
    save_house(assign(house, "hall", "walls", "moss"), tmp_path / "house.toml")
    told = git("diff", "house.toml").splitlines()
    assert '-room "hall": paints.walls "oat"' in told
    assert '+room "hall": paints.walls "moss"' in told
    (tmp_path / "house.toml").write_text("no house\n")
    assert "+no house" in git("diff", "house.toml").splitlines()


def test_a_merge_writes_over_nothing_but_yours(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = [saved(small_house(), tmp_path / f"{i}.toml") for i in range(3)]
    for out in (files[0], files[2]):
        assert main(["merge", *files, "-o", out]) == 2
        assert "add --force" in capsys.readouterr().err
        assert main(["merge", *files, "-o", out, "--force"]) == 0
    assert main(["merge", *files, "-o", files[1]]) == 0


def test_what_both_changed_is_listed_as_json(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    houses = (replace(small_house(), name=name) for name in ("Sent", "Yours", "Theirs"))
    files = [saved(house, tmp_path / f"{i}.toml") for i, house in enumerate(houses)]
    assert main(["merge", *files, "-o", str(tmp_path / "out.toml"), "--json"]) == 1
    assert json.loads(capsys.readouterr().out) == {
        "format": 1,
        "both_changed": [
            {
                "path": ["house", "name"],
                "sent": '"Sent"', "yours": '"Yours"', "theirs": '"Theirs"',
            }
        ],
    }  # fmt: skip
