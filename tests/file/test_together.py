"""Two people at one file."""

import subprocess
import sys
from pathlib import Path

import pytest

from housemap.errors import HouseFileError
from housemap.file import HouseFile, load_house, parse_house, save_house
from housemap.file.together import merge_files, save_together
from housemap.model import edits
from housemap.model.house import House
from tests.support.houses import paint, small_house

WRITER = """
import sys
from pathlib import Path
from housemap.file import load_house
from housemap.file.together import save_together
from housemap.model import edits
from housemap.model.colour import Srgb
from housemap.model.house import Paint
path, name, count = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
file = load_house(path)
house = file.house
for i in range(count):
    house = edits.put(house, "paints", f"{name}-{i}", Paint(f"{name} {i}", Srgb("#aabbcc")))
    done = save_together(house, path, file)
    assert not done.conflicts
    house, file = done.house, done.file
"""


def as_file(text: str) -> HouseFile:
    return HouseFile(parse_house(text), text.encode())


def test_files_are_merged_with_their_comments() -> None:
    text = '# one\nformat = 1\n[paint.oat] # sure\nname = "Oat"\nsrgb = "#d9d0bf"\n'
    mine = text.replace("# one", "# one\n# two").replace("# sure", "")
    theirs = text.replace('"Oat"', '"Oat Ladle" # renamed')
    merged, of = merge_files(as_file(text), as_file(mine), as_file(theirs))
    assert merged == (
        '# one\n# two\nformat = 1\n\n[house]\n\n[paint.oat]\nname = "Oat Ladle" # renamed\n'
        'srgb = "#d9d0bf"\n'
    )
    assert of.conflicts == ()


def test_a_save_takes_in_what_was_saved_meanwhile(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    save_house(small_house(), path)
    base = load_house(path)
    save_house(edits.put(base.house, "paints", "tar", paint("#222222", "Tar")), path)
    done = save_together(edits.assign(base.house, "hall", "trim", "chalk"), path, base)
    assert done.conflicts == ()
    assert done.house == load_house(path).house == done.file.house
    assert "tar" in done.house.paints
    assert done.house.rooms["hall"].paints.trim == "chalk"


def test_a_save_that_meets_a_conflict_writes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    save_house(House("base"), path)
    base = load_house(path)
    save_house(House("theirs"), path)
    done = save_together(House("mine"), path, base)
    assert [(c.mine, c.theirs) for c in done.conflicts] == [("mine", "theirs")]
    assert load_house(path).house == House("theirs")
    assert save_together(House("mine"), path, done.file).house == House("mine")


def test_a_file_that_somebody_broke_meanwhile_is_told_and_left(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    save_house(House("base"), path)
    base = load_house(path)
    path.write_text("format = 1\n[house\n")
    with pytest.raises(HouseFileError, match=r"house\.toml:2: not TOML"):
        save_together(House("mine"), path, base)
    assert path.read_text() == "format = 1\n[house\n"


def test_two_programs_lose_no_edit_of_either(tmp_path: Path) -> None:
    path, count = tmp_path / "house.toml", 20
    save_house(small_house(), path)
    command = [sys.executable, "-c", WRITER, str(path)]
    children = [subprocess.Popen([*command, name, str(count)]) for name in ("ann", "bo")]
    assert [child.wait() for child in children] == [0, 0]
    house = load_house(path).house
    made = {f"{name}-{i}" for name in ("ann", "bo") for i in range(count)}
    assert set(house.paints) == {*small_house().paints, *made}
