"""The guide: every topic has its page, and the tables in it are those of the program."""

import json
import re
from importlib.resources import files
from pathlib import Path

import pytest

from housemap import guide
from housemap.cli.main import main
from housemap.file.reader import parse_house
from housemap.guide import TOPICS, page
from housemap.model import schema
from housemap.model.fieldtypes import Record
from housemap.model.validation import problems
from tests.support.guide_tables import TABLES, with_table

COLOURS = [of for of, _ in schema.COLOURS.values()]
RECORDS = [each for each in schema.RECORDS.values() if each.entity not in COLOURS]

LONGEST_LINE = 100
"""Columns of a line of prose; tables may be wider."""


@pytest.mark.parametrize("topic", TABLES)
def test_its_tables_are_those_of_the_program(topic: str) -> None:
    assert with_table(topic) == page(topic), "run: python -m tests.support.guide_tables"


def test_every_page_has_a_topic_and_every_topic_a_page() -> None:
    pages = {
        file.name.removesuffix(".md")
        for file in files(guide).iterdir()
        if file.name.endswith(".md")
    }
    assert pages == set(TOPICS)


@pytest.mark.parametrize("topic", TOPICS)
def test_a_page_opens_with_its_title_and_its_prose_fits_a_terminal(topic: str) -> None:
    lines = page(topic).splitlines()
    assert lines[0].startswith("# ")
    assert [
        line
        for line in lines
        if len(line) > LONGEST_LINE and not line.startswith(("|", "reflectance"))
    ] == []


def test_the_command_lists_the_topics_and_prints_a_page(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["guide"]) == 0
    listed = capsys.readouterr().out
    assert all(topic in listed for topic in TOPICS)
    assert main(["guide", "survey"]) == 0
    assert capsys.readouterr().out == page("survey")


def test_the_command_answers_in_json(capsys: pytest.CaptureFixture[str]) -> None:
    main(["guide", "--json"])
    assert json.loads(capsys.readouterr().out) == {"format": 1, "topics": dict(TOPICS)}
    main(["guide", "decks", "--json"])
    answer = json.loads(capsys.readouterr().out)
    assert answer == {"format": 1, "topic": "decks", "text": page("decks")}


def test_a_topic_that_is_misspelt_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["guide", "survy"]) == 2
    assert "survey" in capsys.readouterr().err


@pytest.fixture(scope="module")
def example() -> str:
    found = re.search(r"```toml\n(format = 1\n.*?)```", page("house-file"), re.DOTALL)
    assert found
    return found[1]


def test_the_example_is_a_legal_house(example: str) -> None:
    house = parse_house(example, "house-file.md")
    assert not problems(house)
    assert len(house.rooms) == 2


def test_the_example_shows_every_table(example: str) -> None:
    house = parse_house(example, "house-file.md")
    study = house.rooms["study"]
    tables = (house.limits, house.paints, house.finishes, house.openings, house.sightlines)
    assert all((*tables, house.samples, house.visits, study.accents, study.windows, study.lamps))


@pytest.mark.parametrize(
    "record",
    RECORDS,
    ids=lambda record: record.entity.__name__,
)
def test_the_example_shows_every_key(example: str, record: Record) -> None:
    missing = [key for key in record.by_key if not re.search(rf"\b{key}\b", example)]
    assert not missing


def test_the_example_opens_and_is_checked_by_the_real_command(
    example: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "house.toml"
    file.write_text(example, "utf-8")
    assert main(["check", str(file), "--fail-on", "fault"]) in {0, 1}
    assert capsys.readouterr().err == ""
