"""README.md says what the program does: its tables, its example, its pictures and its commands."""

import re
from pathlib import Path

import pytest

from housemap.file import parse_house
from housemap.model import schema
from housemap.model.fieldtypes import Record
from housemap.model.validation import problems
from tests.support.pictures import PICTURES
from tests.support.project import ROOT

README = ROOT / "README.md"

RECORDS = [each for each in vars(schema).values() if isinstance(each, Record)]

LARGEST_PICTURE = 150_000
"""Bytes."""


@pytest.fixture(scope="module")
def text() -> str:
    return README.read_text("utf-8")


@pytest.fixture(scope="module")
def example(text: str) -> str:
    found = re.search(r"```toml\n(format = 1\n.*?)```", text, re.DOTALL)
    assert found
    return found[1]


def test_its_example_is_a_legal_house(example: str) -> None:
    house = parse_house(example, "README.md")
    assert not problems(house)
    assert len(house.rooms) == 2


def test_its_example_shows_every_table(example: str) -> None:
    house = parse_house(example, "README.md")
    study = house.rooms["study"]
    tables = (house.limits, house.paints, house.finishes, house.openings, house.sightlines)
    assert all((*tables, house.samples, house.visits, study.accents, study.windows, study.lamps))


@pytest.mark.parametrize(
    "record",
    [each for each in vars(schema).values() if isinstance(each, Record)],
    ids=lambda record: record.entity.__name__,
)
def test_its_example_shows_every_key(example: str, record: Record) -> None:
    missing = [key for key in record.keys if not re.search(rf"\b{key}\b", example)]
    assert not missing


def test_what_it_links_to_is_there(text: str) -> None:
    targets = re.findall(r"\]\(([^)#]+)\)", text)
    assert targets
    assert [name for name in targets if not (ROOT / name).exists()] == []


def test_its_pictures_are_the_made_ones_and_small(text: str) -> None:
    shown = set(re.findall(r"!\[[^]]+\]\(([^)]+)\)", text))
    assert shown == {picture.path.relative_to(ROOT).as_posix() for picture in PICTURES}
    assert max((ROOT / name).stat().st_size for name in shown) < LARGEST_PICTURE


def test_its_pictures_fetch_nothing() -> None:
    for picture in PICTURES:
        source = picture.path.read_text("utf-8")
        assert "href" not in source
        assert "url(" not in source


def test_the_continuous_check_runs_its_test_command(text: str) -> None:
    assert "&& .venv/bin/python -m pytest -n auto\n" in text
    assert '"$python" -m pytest -n auto' in Path(ROOT / ".ci" / "run").read_text("utf-8")
