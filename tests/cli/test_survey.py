"""A house can be written down in any editor: lines in, a house file out, faults one line each."""

import io
import json
from pathlib import Path

import pytest

from housemap.cli import main
from housemap.file.reader import read_house

LINES = """# ground floor
Hall 1.8 x 5.2
n 0.8 at 0.4 > Study 3.1 x 2.8

Study; w window 1.2 x 1.1
"""


def survey(tmp_path: Path, lines: str, *options: str) -> int:
    file = tmp_path / "lines.txt"
    file.write_text(lines)
    return main(["survey", *options, str(tmp_path / "house.toml"), str(file)])


def test_lines_make_a_house_and_more_lines_add_to_it(tmp_path: Path) -> None:
    assert survey(tmp_path, LINES) == 0
    house = read_house(tmp_path / "house.toml")
    assert [room.name for room in house.rooms.values()] == ["Hall", "Study"]
    assert len(house.rooms["study"].windows) == 1
    assert survey(tmp_path, "Hall height 2.6\n") == 0
    assert read_house(tmp_path / "house.toml").rooms["hall"].height_m == 2.6


def test_standard_input_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.TextIOWrapper(io.BytesIO(LINES.encode()))
    monkeypatch.setattr("sys.stdin", stream)
    assert main(["survey", str(tmp_path / "house.toml"), "-"]) == 0
    assert len(read_house(tmp_path / "house.toml").rooms) == 2


def test_every_fault_is_a_line_with_the_nearest_word_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert survey(tmp_path, "Hall 1.8 x 5.2\nn winow 1.2\ne dorway > Study 3 x 3\n") == 2
    first, second, last = capsys.readouterr().err.splitlines()
    assert first.endswith('lines.txt:2: column 3: "winow": did you mean window?')
    assert second.endswith('lines.txt:3: column 3: "dorway": did you mean doorway?')
    assert last.startswith("nothing was written")
    assert not (tmp_path / "house.toml").exists()


def test_json_says_what_was_understood(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert survey(tmp_path, LINES, "--json") == 0
    printed = json.loads(capsys.readouterr().out)
    assert printed["format"] == 1
    assert printed["written"] == str(tmp_path / "house.toml")
    assert [line["line"] for line in printed["lines"]] == [2, 3, 5]
    assert printed["lines"][0]["understood"][0].startswith("new room Hall")
    assert printed["lines"][0]["fault"] is None


def test_json_of_a_fault_says_where_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert survey(tmp_path, "Hall 1.8 x 5.2\nn winow 1.2", "--json") == 2
    printed = json.loads(capsys.readouterr().out)
    assert printed["written"] is None
    assert printed["lines"][1]["fault"]["start"] == 2


def test_try_writes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert survey(tmp_path, LINES, "--try") == 0
    assert "new room Hall" in capsys.readouterr().out
    assert not (tmp_path / "house.toml").exists()


def test_measures_that_do_not_add_up_are_shown_beside_their_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = "A 3 x 3\nA; e 0.8 at 1 > B 3 x 3 at 1\nB; n 0.8 at 1 > C 3 x 3 at 1\n"
    assert survey(tmp_path, lines + "C; s 0.8 at 0.2 > A at 0.2\n") == 0
    assert "look again: " in capsys.readouterr().out


@pytest.mark.parametrize("lines", [b"\xff\xfe\x00", b"x" * 3_000_000])
def test_what_is_no_text_is_refused_in_a_line(
    lines: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "lines.bin"
    file.write_bytes(lines)
    assert main(["survey", str(tmp_path / "house.toml"), str(file)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_a_file_of_lines_that_is_not_there_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["survey", str(tmp_path / "house.toml"), str(tmp_path / "none.txt")]) == 2
    assert "none.txt: cannot be read: No such file" in capsys.readouterr().err
