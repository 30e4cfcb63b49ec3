"""`housemap scheme` builds sets around a paint of a house, of a deck, or one that is typed."""

import json
from pathlib import Path

import pytest

from housemap.cli.main import main
from housemap.file.save import save_house
from tests.support.houses import small_house

KEYS = {"role", "paint", "name", "notation", "lrv", "lab", "strength", "hue", "reason"}


def output(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(["scheme", *arguments]) == 0
    return capsys.readouterr().out


def test_json_holds_what_the_format_says(capsys: pytest.CaptureFixture[str]) -> None:
    answer = json.loads(output(capsys, "10YR 7/1", "--json"))
    assert answer["format"] == 1
    assert answer["around"]["notation"] == "10YR 7/1"
    assert answer["compared"] > 1000
    assert {one["kind"] for one in answer["sets"]} == {"tonal", "neighbouring", "counter"}
    for one in answer["sets"]:
        assert one["proven"]
        assert one["bound"] == one["score"]
        assert one["broken"] == []
        assert [set(colour) for colour in one["colours"]] == [KEYS] * len(one["colours"])
        assert all(colour["paint"] is None for colour in one["colours"])  # computed ones


def test_paints_of_a_deck_go_by_their_id(capsys: pytest.CaptureFixture[str]) -> None:
    answer = json.loads(
        output(capsys, "10yr-7-1", "--deck", "notation", "--kind", "tonal", "--sets", "1", "--json")
    )
    [one] = answer["sets"]
    assert answer["compared"] > 4000
    assert all(colour["paint"] for colour in one["colours"])


def test_the_brief_of_a_house_is_kept(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "house.toml"
    save_house(small_house(), path)
    with path.open("a") as file:
        file.write('\n[brief]\navoid = ["green", "yellow green", "olive"]\ncolours = 4\n')
    text = output(capsys, "5Y 8/1", "--house", str(path), "--deck", "notation", "--json")
    for one in json.loads(text)["sets"]:
        assert len([c for c in one["colours"] if c["role"] not in {"trim", "dark"}]) >= 4
        accents = [c["hue"] for c in one["colours"] if c["role"] == "accent"]
        assert not [hue for hue in accents if hue.endswith(("green", "olive"))]


def test_a_card_is_written_and_the_text_says_what_was_compared(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = output(capsys, "#d9d0bf", "--sets", "2", "-o", str(tmp_path / "card.html"))
    assert "paints compared, under these rules" in text
    assert "put up samples" in text
    assert (tmp_path / "card.html").read_text().startswith("<!doctype html>")


def test_a_paint_that_nobody_has_gives_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["scheme", "moonlight"]) == 2
    assert 'no paint "moonlight"' in capsys.readouterr().err
