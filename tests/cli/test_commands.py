"""The commands print what the house file format promises, and end with its exit statuses."""

import json
import os
import subprocess
import sys
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from housemap.checks.examples import two_rooms
from housemap.cli import main
from housemap.file import kept
from housemap.file.save import save_house
from housemap.model.house import Accepted, House, Lab, Lamp, Paint
from tests.support.houses import small_house


@pytest.fixture
def jarring(tmp_path: Path) -> str:
    return _saved(two_rooms("5Y 9/1", "5PB 3/6", "open"), tmp_path / "jarring.toml")


@pytest.fixture
def quiet(tmp_path: Path) -> str:
    return _saved(two_rooms("5Y 8/1", "5Y 8/1").__class__(name="Empty"), tmp_path / "quiet.toml")


def _saved(house: House, path: Path) -> str:
    save_house(house, path)
    return str(path)


def test_check_ends_with_1_where_a_warning_was_found(jarring: str) -> None:
    assert main(["check", jarring]) == 1


def test_check_ends_with_0_where_nothing_was_found(
    quiet: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", quiet]) == 0
    assert "nothing found" in capsys.readouterr().out


@pytest.mark.parametrize(("least", "status"), [("note", 1), ("warn", 1), ("fault", 1)])
def test_fail_on_sets_how_grave_a_finding_must_be(jarring: str, least: str, status: int) -> None:
    assert main(["check", "--fail-on", least, jarring]) == status


def test_check_names_the_nearest_to_a_misspelt_check_and_limit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    limits = {"jarr": {"open": 18.0}, "jar": {"opne": 18.0}}
    accepted = {"a": Accepted("undertne", ("hall",))}
    path = _saved(replace(small_house(), limits=limits, accepted=accepted), tmp_path / "odd.toml")
    main(["check", path])
    told = capsys.readouterr().err.splitlines()
    assert told == [
        f'{path}: limits.jarr: there is no check "jarr"; the nearest is jar',
        f'{path}: accepted.a: there is no check "undertne"; the nearest is undertone',
        f'{path}: limits.jar: there is no limit "opne"; the nearest is open',
    ]


def test_a_colour_that_no_surface_has_is_named_with_its_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paints = {"glow": Paint("Glow", Lab((50.0, 120.0, -120.0)))}
    path = _saved(House("Glow", paints=paints), tmp_path / "glow.toml")
    line = 1 + Path(path).read_text().splitlines().index("lab = [50, 120, -120]")
    assert main(["check", path]) == 2
    assert capsys.readouterr().err.startswith(
        f'{path}:{line}: paint "glow": no surface is so light'
    )


def test_a_file_name_that_no_terminal_can_print_is_spelled_out(quiet: str, tmp_path: Path) -> None:
    odd = os.fsdecode(os.fsencode(tmp_path) + "/red\x1b[31m£".encode() + b"\xff.toml")
    Path(odd).write_bytes(Path(quiet).read_bytes())

    def printed(*words: str) -> str:
        command = [sys.executable, "-m", "housemap", *words, odd]
        strict = {**os.environ, "PYTHONIOENCODING": "ascii:strict"}
        return subprocess.run(
            command, env=strict, check=True, capture_output=True, text=True
        ).stdout

    assert "red\\u001b[31m\\xa3\\udcff.toml" in printed("check")
    assert json.loads(printed("check", "--json"))["file"] == odd


@pytest.mark.parametrize(
    ("streams", "status", "told"),
    [
        (">/dev/full", 2, "standard output: No space left on device\n"),
        (">&-", 0, ""),
        ("<&- 2>&-", 0, ""),
    ],
)
def test_output_that_nobody_takes_is_no_fault_of_the_program(
    streams: str, status: int, told: str
) -> None:
    command = f'exec "$0" -m housemap guide {streams}'
    done = subprocess.run(
        ["/bin/sh", "-c", command, sys.executable], check=False, capture_output=True, text=True
    )
    assert (done.returncode, done.stderr) == (status, told)


def test_check_json_is_one_object_a_house_and_nothing_else(
    jarring: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["check", "--json", jarring])
    printed = json.loads(capsys.readouterr().out)
    assert set(printed) == {"format", "file", "findings", "causes", "todo", "accepted"}
    finding = next(f for f in printed["findings"] if f["check"] == "jar")
    assert set(finding) == {
        "check", "severity", "rooms", "surfaces", "paints", "light", "value", "limit", "unit",
        "text",
    }  # fmt: skip
    assert finding["rooms"] == ["hall", "study"]
    assert finding["paints"] == ["hall", "study"]
    assert finding["severity"] == "fault"
    assert finding["value"] > finding["limit"] == 20


def test_check_json_of_several_files_is_a_list(
    jarring: str, quiet: str, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["check", "--json", jarring, quiet])
    assert [part["file"] for part in json.loads(capsys.readouterr().out)] == [jarring, quiet]


def test_everything_wrong_with_every_file_is_told_at_once_and_ends_with_2(
    jarring: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second = tmp_path / "first.toml", tmp_path / "second.toml"
    first.write_text('format = 1\n[room.hall]\nname = "Hall"\nheight = -2.4\n')
    second.write_text("format = 2\n")
    assert main(["check", str(first), jarring, str(second)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert f"{first}:4: " in captured.err
    assert str(second) in captured.err


def test_a_colour_that_no_surface_has_is_told_with_its_paint(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "house.toml"
    file.write_text('format = 1\n[paint.sun]\nname = "Sun"\nlab = [99.0, 0.0, 120.0]\n')
    assert main(["check", str(file)]) == 2
    error = capsys.readouterr().err
    assert str(file) in error
    assert 'paint "sun"' in error


def test_facts_json_tells_paints_rooms_and_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["facts", "--json", _saved(small_house(), tmp_path / "house.toml")]) == 0
    facts = json.loads(capsys.readouterr().out)
    oat, hall = facts["paints"]["oat"], facts["rooms"]["hall"]
    assert oat["srgb"] == "#d9d0bf"
    assert oat["lrv"] == pytest.approx(oat["xyz"][1])
    assert oat["undertone"]["family"] == "yellow"
    assert len(oat["reflectance"]["values"]) == 41
    assert hall["floor_area"] == pytest.approx(1.8 * 5.2)
    assert hall["wall_area"] == pytest.approx(2 * (1.8 + 5.2) * 2.4)
    # the window 1.2 x 1.1 and the doorway 0.8 x 2.0 are both above the 0.5 m2 of IS 1200 Part 13
    assert hall["wall_area_net"] == pytest.approx(2 * (1.8 + 5.2) * 2.4 - 1.2 * 1.1 - 0.8 * 2.0)
    assert set(facts["plan"]) == {"closing_error", "unplaced", "connection"}


def test_rank_puts_the_paint_that_costs_least_first(
    jarring: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["rank", "--json", jarring, "study"]) == 0
    ranked = json.loads(capsys.readouterr().out)
    costs = [one["cost"] for one in ranked["candidates"]]
    assert costs == sorted(costs)
    assert ranked["candidates"][0]["paint"] == "hall"
    assert ranked["candidates"][0]["findings_after"] == 0
    assert ranked["candidates"][1]["cost"] == pytest.approx(
        sum(ranked["candidates"][1]["parts"].values())
    )


def test_rank_names_a_room_that_is_not_there(
    jarring: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["rank", jarring, "attic"]) == 2
    assert "attic" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["check", "facts", "rank", ""])
def test_every_command_shows_examples(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([*([command] if command else []), "--help"])
    assert ended.value.code == 0
    assert "examples:" in capsys.readouterr().out


def test_about_shows_colours_versions_and_folders(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("TMUX", raising=False)
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
    assert main(["about", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["terminal"]["colours"].startswith("colours exact")
    assert told["housemap"]["textual"] != "missing"
    assert told["folders"]["keys"].endswith("keymap.toml")


def test_about_empties_the_cache_and_tells_its_size(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HOUSEMAP_CACHE_DIR", str(tmp_path))
    kept.keep("a", bytes(1_200_000))
    assert main(["about"]) == 0
    assert f"{tmp_path}" in (told := capsys.readouterr().out)
    assert "1.2 MB" in told
    assert main(["about", "--empty-cache"]) == 0
    assert "0.0 MB" in capsys.readouterr().out
    assert not [*tmp_path.iterdir()]


def test_sight_json_tells_both_directions_with_shares(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sight", "--json", _saved(small_house(), tmp_path / "house.toml")]) == 0
    pairs = json.loads(capsys.readouterr().out)["pairs"]
    ways = {(pair["from"], pair["to"]): pair for pair in pairs}
    assert {("hall", "kitchen"), ("kitchen", "hall"), ("hall", "study")} <= set(ways)
    kitchen = ways["hall", "kitchen"]
    assert kitchen["through"] == [[]]
    assert 0 < kitchen["share"] < kitchen["best"]["share"] < 1
    assert ways["hall", "study"]["share"] == 0.1  # as declared: the study has no measures
    assert ways["hall", "study"]["best"] is None


def test_facts_of_lamps_say_how_well_they_show_colours(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """CIE A is its own reference: Ra 100 (CIE 13.3). FL4, warm white, has 51 (CIE 15)."""
    house = small_house()
    lamps = {"old": Lamp(800.0, spectrum="A"), "tube": Lamp(800.0, spectrum="FL4")}
    hall = replace(house.rooms["hall"], lamps=lamps)
    file = _saved(replace(house, rooms={**house.rooms, "hall": hall}), tmp_path / "house.toml")
    assert main(["facts", "--lamps", "--json", file]) == 0
    shown = json.loads(capsys.readouterr().out)["lamps"]["hall"]
    assert shown["old"]["ra"] == pytest.approx(100.0, abs=0.5)
    assert shown["tube"]["ra"] == pytest.approx(51.0, abs=1.5)
    assert shown["tube"]["most"]["paint"] in {paint for _, paint in hall.paints.chosen()}
    assert main(["facts", "--lamps", file]) == 0
    assert "Lamps: how well they show colours" in capsys.readouterr().out


def test_facts_make_a_measured_spectrum_a_line_for_the_house_file(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """Even power at all wavelengths shows colours nearly as daylight does."""
    file, lamp = _saved(small_house(), tmp_path / "house.toml"), tmp_path / "lamp.csv"
    lamp.write_text("nm,power\n" + "".join(f"{nm},1\n" for nm in range(380, 781, 10)))
    assert main(["facts", "--json", "--spectrum", str(lamp), file]) == 0
    measured = json.loads(capsys.readouterr().out)["spectrum"]
    assert measured["ra"] > 90.0
    assert measured["power"] == {"start": 380.0, "step": 5.0, "values": [1.0] * 81}
    assert main(["facts", "--spectrum", str(lamp), file]) == 0
    line = capsys.readouterr().out.splitlines()[-1]
    assert tomllib.loads(line)["power"] == measured["power"]
    lamp.write_text("no spectrum")
    assert main(["facts", "--spectrum", str(lamp), file]) == 2
    assert "lamp.csv" in capsys.readouterr().err


def test_facts_tell_more_light_outside_as_more_light_inside(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    house = _saved(small_house(), tmp_path / "house.toml")

    def by_day(*options: str) -> float:
        main(["facts", "--json", *options, house])
        facts = json.loads(capsys.readouterr().out)
        return float(facts["rooms"]["hall"]["light"]["day"]["total"]["walls"])

    assert by_day("--outdoor", "20000") == pytest.approx(2 * by_day())


@pytest.mark.parametrize("when", ["2026-06-21", "2026-06-21T10:00+02:00", "2026-02-30T10:00"])
def test_the_time_of_the_sun_is_a_day_and_an_hour(
    when: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["facts", "--sun", when, _saved(small_house(), tmp_path / "house.toml")])
    assert ended.value.code == 2
    assert "must be a day and a solar time such as 2026-06-21T10:00" in capsys.readouterr().err


@pytest.mark.parametrize("lux", ["nothing", "0", "-5", "1e200", "nan"])
def test_light_outside_is_more_than_none_and_at_most_a_clear_noon(
    lux: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["facts", f"--outdoor={lux}", _saved(small_house(), tmp_path / "house.toml")])
    assert ended.value.code == 2
    assert "lux must be a number above 0, at most 200,000" in capsys.readouterr().err
