"""`housemap deck` turns files of paints into a deck, whole or not at all, and tells what it did."""

import json
import os
from pathlib import Path

import pytest

from housemap.checks.examples import two_rooms
from housemap.cli import main
from housemap.deck.notation_deck import notation_deck
from housemap.file.deck_file import read_deck
from housemap.file.save import save_house
from housemap.model.house import Lab
from tests.support.decks import cgats_source, csv_source, cxf_source

Captured = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "data"
    monkeypatch.setenv("HOUSEMAP_DATA_DIR", str(folder))
    return folder


@pytest.fixture
def fan(tmp_path: Path) -> str:
    return written(tmp_path / "fan.csv", csv_source())


def written(path: Path, data: bytes) -> str:
    path.write_bytes(data)
    return str(path)


def test_a_table_becomes_a_deck(fan: str, tmp_path: Path, capsys: Captured) -> None:
    out = tmp_path / "fan.toml"
    assert main(["deck", fan, "-o", str(out)]) == 0
    deck = read_deck(out)
    assert list(deck) == ["a-102", "a-7"]
    assert deck["a-102"].deck == "fan"
    told = capsys.readouterr()
    assert "2 paints" in told.out
    assert "L* -> L*, such as 84.1" in told.err


@pytest.mark.parametrize(("name", "data"), [("m.txt", cgats_source()), ("m.cxf", cxf_source())])
def test_meter_files_become_decks(name: str, data: bytes, tmp_path: Path) -> None:
    out = tmp_path / "deck.toml"
    assert main(["deck", written(tmp_path / name, data), "-o", str(out)]) == 0
    assert sorted(paint.name for paint in read_deck(out).values()) == ["Moss", "Oat Ladle"]


def test_several_sources_become_one_deck_with_ids_of_its_own(fan: str, tmp_path: Path) -> None:
    first, both = tmp_path / "first.toml", tmp_path / "both.toml"
    main(["deck", fan, "-o", str(first)])
    assert main(["deck", fan, str(first), "-o", str(both)]) == 0
    assert list(read_deck(both)) == ["a-102", "a-7", "a-102-2", "a-7-2"]


def test_a_house_file_is_a_source(tmp_path: Path) -> None:
    house = tmp_path / "house.toml"
    save_house(two_rooms("5Y 8/1", "5PB 3/6", "open"), house)
    out = tmp_path / "deck.toml"
    assert main(["deck", str(house), "-o", str(out)]) == 0
    assert {"hall", "study"} <= set(read_deck(out))


def test_rows_rejected_for_one_reason_are_counted_and_every_other_has_its_line(
    tmp_path: Path, capsys: Captured
) -> None:
    rows = b"Bad,nothing\n" * 30 + b"".join(b"Worse,x%d\n" % i for i in range(30))
    source = written(tmp_path / "fan.csv", b"Name,Hex\nOat,#d9d0bf\n" + rows)
    assert main(["deck", source]) == 0
    told = capsys.readouterr().err
    assert "30 rows: " in told
    assert all(f"line {line}: " in told for line in range(33, 63))


def test_json_has_every_rejected_row_with_its_line(tmp_path: Path, capsys: Captured) -> None:
    source = written(tmp_path / "fan.csv", b"Name,Hex\nOat,#d9d0bf\n" + b"Bad,nothing\n" * 40)
    assert main(["deck", "--json", source]) == 0
    [read] = json.loads(capsys.readouterr().out)["sources"]
    assert [row["line"] for row in read["rejected"]] == list(range(3, 43))


def test_what_looks_wrong_is_told(tmp_path: Path, capsys: Captured) -> None:
    table = b"Name,Hex,LRV\nOat,#d9d0bf,20\nLadle,#d9d0be,63\n"
    main(["deck", written(tmp_path / "fan.csv", table)])
    told = capsys.readouterr().out
    assert "printed LRV 20.0, computed" in told
    assert "2 paints differ by 0." in told


def test_a_column_and_the_conditions_can_be_told(tmp_path: Path, capsys: Captured) -> None:
    table = b"Name,L,a,b,Wert\nOat,84,1,9,64\n"
    source, out = written(tmp_path / "fan.csv", table), tmp_path / "fan.toml"
    options = ["--observed", "d50 2", "--column", "Wert=LRV", "--name", "Own fan"]
    assert main(["deck", source, "-o", str(out), *options]) == 0
    [oat] = read_deck(out).values()
    assert (oat.colour, oat.lrv, oat.deck) == (Lab((84, 1, 9), "D50/2"), 64.0, "Own fan")
    assert "Wert -> LRV" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--observed", "moon"], "no CIE illuminant"),
        (["--column", "Wert=LRV"], 'no column "Wert"'),
        (["--column", "LRV=shine"], "nothing a column can mean"),
        (["--keep", "../x"], "a deck's name"),
        (["--keep", "notation"], "built-in deck"),
    ],
)
def test_what_cannot_be_meant_is_told_and_nothing_written(
    options: list[str], words: str, fan: str, data: Path, capsys: Captured
) -> None:
    assert main(["deck", fan, *options]) == 2
    assert words in capsys.readouterr().err
    assert not data.exists()


def test_one_bad_source_keeps_the_whole_deck_from_being_written(
    fan: str, tmp_path: Path, capsys: Captured
) -> None:
    bad, out = written(tmp_path / "bad.csv", b"Name,Size\nOat,3\n"), tmp_path / "deck.toml"
    missing = str(tmp_path / "missing.csv")
    assert main(["deck", bad, fan, missing, "-o", str(out)]) == 2
    told = capsys.readouterr().err
    assert "bad.csv: no column gives a colour" in told
    assert "missing.csv: cannot be read" in told
    assert not out.exists()


def test_a_deck_that_is_there_is_not_written_over_unless_forced(
    fan: str, tmp_path: Path, capsys: Captured
) -> None:
    out = tmp_path / "fan.toml"
    out.write_text("mine")
    assert main(["deck", fan, "-o", str(out)]) == 2
    assert "--force" in capsys.readouterr().err
    assert out.read_text() == "mine"
    assert main(["deck", fan, "-o", str(out), "--force"]) == 0
    assert len(read_deck(out)) == 2


def test_a_deck_is_kept_by_name_and_listed(fan: str, data: Path, capsys: Captured) -> None:
    assert main(["deck", fan, "--keep", "My fan"]) == 0
    assert len(read_deck(data / "decks" / "My fan.toml")) == 2
    capsys.readouterr()
    assert main(["deck", "--list"]) == 0
    names = [line.split("  ")[0] for line in capsys.readouterr().out.splitlines()]
    assert names == ["notation", "My fan"]


def test_the_built_in_deck_can_be_written(tmp_path: Path) -> None:
    out = tmp_path / "notation.toml"
    assert main(["deck", "--notation", "-o", str(out)]) == 0
    assert read_deck(out) == notation_deck()


def test_without_a_source_the_command_says_what_it_needs(capsys: Captured) -> None:
    assert main(["deck"]) == 2
    assert "name a source" in capsys.readouterr().err


def test_the_paints_of_a_deck_are_ranked_for_a_room(
    fan: str, tmp_path: Path, capsys: Captured
) -> None:
    house = tmp_path / "house.toml"
    save_house(two_rooms("5Y 8/1", "5PB 3/6", "open"), house)
    before = house.read_bytes()
    main(["deck", fan, "--keep", "fan"])
    capsys.readouterr()
    assert main(["rank", str(house), "study", "--deck", "fan", "--json"]) == 0
    ranked = json.loads(capsys.readouterr().out)
    assert {one["paint"] for one in ranked["candidates"]} == {"a-102", "a-7"}
    assert ranked["told"] == "all 2 paints weighed in every light"
    assert main(["rank", str(house), "study", "--deck", "fan"]) == 0
    assert "Oat Ladle" in capsys.readouterr().out
    assert house.read_bytes() == before


def test_a_deck_that_is_not_there_is_told(tmp_path: Path, capsys: Captured) -> None:
    house = tmp_path / "house.toml"
    save_house(two_rooms("5Y 8/1", "5PB 3/6", "open"), house)
    assert main(["rank", str(house), "study", "--deck", "spring"]) == 2
    assert 'no deck "spring"' in capsys.readouterr().err


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with a name are not everywhere")
def test_a_pipe_is_a_source(tmp_path: Path) -> None:
    out = tmp_path / "deck.toml"
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    if os.fork() == 0:
        pipe.write_bytes(csv_source())
        os._exit(0)
    assert main(["deck", str(pipe), "-o", str(out)]) == 0
    os.wait()
    assert len(read_deck(out)) == 2
