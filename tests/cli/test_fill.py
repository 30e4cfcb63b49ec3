"""`housemap fill` fills what is bare, tells how good that is, and shows the problem it solved."""

import json
from pathlib import Path

import pytest

from housemap.choose.optimiser.solve import solve
from housemap.cli import main
from housemap.file.reader import read_house
from housemap.file.save import save_house
from housemap.model.edits import assign
from tests.choose.support.oracles import read_problem
from tests.support.houses import small_house


@pytest.fixture
def half_painted(tmp_path: Path) -> str:
    save_house(assign(small_house(), "kitchen", "walls", None), tmp_path / "house.toml")
    return str(tmp_path / "house.toml")


def test_the_filled_house_is_written_and_the_file_left_alone(
    half_painted: str, tmp_path: Path
) -> None:
    out = tmp_path / "filled.toml"
    before = Path(half_painted).read_bytes()
    assert main(["fill", half_painted, "-o", str(out)]) == 0
    assert read_house(out).rooms["kitchen"].paints.walls is not None
    assert read_house(out).rooms["hall"].paints.walls == "oat"
    assert Path(half_painted).read_bytes() == before


def test_json_tells_the_problem_so_that_anyone_can_solve_it_again(
    half_painted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fill", "--json", half_painted]) == 0
    told = json.loads(capsys.readouterr().out)
    assert set(told) == {
        "format", "assignment", "cost", "bound", "proven", "seconds", "problem", "brief", "rules",
        "rules_shown",
    }  # fmt: skip
    assert told["format"] == 1
    for rule in told["rules"]:
        for room, costs in rule["own"].items():
            assert len(costs) == len(told["problem"]["candidates"][room])
    assert told["proven"] is True
    assert told["bound"] == pytest.approx(told["cost"])
    again = read_problem(told["problem"])
    assert again.cost(told["assignment"]) == pytest.approx(told["cost"], abs=1e-4)
    assert solve(again).cost == pytest.approx(told["cost"], abs=1e-4)


def test_what_is_proven_is_said_in_words(
    half_painted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fill", half_painted, "--keep", "hall", "--paints", "2"]) == 0
    told = capsys.readouterr().out
    assert "paints compared, under these rules" in told
    assert "of at most 2" in told


@pytest.mark.parametrize("count", ["0", "-1", "two", "1.5"])
def test_a_limit_must_be_a_whole_number_above_0(
    half_painted: str, count: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["fill", half_painted, f"--paints={count}"])
    assert ended.value.code == 2
    assert "whole number above 0" in capsys.readouterr().err


def test_a_limit_that_kept_rooms_already_break_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    save_house(small_house(), tmp_path / "house.toml")
    status = main(
        ["fill", str(tmp_path / "house.toml"), "--keep", "hall", "kitchen", "--paints", "1"]
    )
    assert status == 2
    assert capsys.readouterr().err


def test_a_palette_from_a_deck_is_told_with_what_was_screened_and_written(
    half_painted: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "palette.toml"
    ask = ["fill", half_painted, "--deck", "notation", "--paints", "3", "--keep", "hall"]
    assert main([*ask, "--pin", "moss", "-o", str(out)]) == 0
    told = capsys.readouterr().out
    assert "palette 3: " in told
    assert "Shortlisted " in told
    before, after = read_house(Path(half_painted)), read_house(out)
    assert {k: after.paints[k] for k in before.paints} == before.paints
    assert after.rooms["hall"] == before.rooms["hall"]
    new = after.rooms["kitchen"].paints.walls
    assert new is not None
    assert new == "moss" or after.paints[new].deck
    assert after.rooms["kitchen"].paints.trim is not None


def test_json_tells_each_palette_with_its_problem(
    half_painted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fill", "--json", half_painted, "--deck", "notation", "--keep", "hall"]) == 0
    told = json.loads(capsys.readouterr().out)
    for palette in told["palettes"]:
        again = read_problem(palette["problem"])
        assert again.cost(palette["assignment"]) == pytest.approx(palette["cost"], abs=1e-4)
        assert palette["bound"] <= palette["cost"] + 1e-6
        assert sum(palette["shares"].values()) == pytest.approx(1.0, abs=1e-4)


@pytest.mark.parametrize(
    ("more", "words"),
    [(["--pin", "moss"], "--pin needs --deck"), (["--deck", "nope"], "no deck"),
     (["--deck", "notation", "--pin", "nope"], 'no paint "nope"')],
)  # fmt: skip
def test_what_no_palette_can_be_made_of_is_told_in_a_line(
    half_painted: str, more: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fill", half_painted, *more]) == 2
    assert words in capsys.readouterr().err


def test_seconds_hold_for_all_of_the_work(
    half_painted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every search gets what is left of the time; each has at least a moment."""
    assert main(["fill", half_painted, "--deck", "notation", "--keep", "hall", "--seconds=1"]) == 0
    assert "palette 1" in capsys.readouterr().out


def test_a_scheme_is_built_around_a_paint(
    half_painted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    ask = ["fill", half_painted, "--keep", "hall", "--around"]
    assert main([*ask, "oat", "--deck", "notation", "--kind", "tonal"]) == 0
    out = capsys.readouterr().out
    assert "to go with Oat Ladle" in out
    assert "On walls: " in out
    assert main([*ask, "oat"]) == 0
    capsys.readouterr()
    assert main([*ask, "nope"]) == 2
    assert "to build around" in capsys.readouterr().err
