"""What a finding says is short and in plain words."""

import re
from dataclasses import replace

import pytest

from housemap.checks import CHECKS, Check, report_of
from housemap.checks.words import number
from housemap.file.reader import read_house
from housemap.model.house import House
from tests.support.project import DEMO

MOST_WORDS = 20
AVOIDED = ("told", "stays", "deg apart", "above", "M'", "a'b'", "CAM16", "gray", "which stays")


def sentences(text: str) -> list[str]:
    """Without what stands in brackets: the numbers, and names of paints."""
    plain = re.sub(r"\s*\([^)]*\)", "", text)
    return [each for each in re.split(r"(?<=[.:])\s", plain) if each]


def texts(house: House) -> list[str]:
    report = report_of(house)
    causes = [cause.describe(house) for cause in report.causes]
    return [*causes, *(check_text(f.check, f, house) for f in (*report.findings, *report.to_do))]


def check_text(check_id: str, finding: object, house: House) -> str:
    return next(c for c in CHECKS if c.id == check_id).describe(finding, house)  # type: ignore[arg-type]  # a finding


@pytest.mark.parametrize(
    "house",
    [*(c.caught.house for c in CHECKS), read_house(DEMO)],
    ids=[*(c.id for c in CHECKS), "demo"],
)
def test_no_sentence_is_longer_than_twenty_words_and_none_is_in_jargon(house: House) -> None:
    for text in texts(house):
        for sentence in sentences(text):
            assert len(sentence.split()) <= MOST_WORDS, sentence
        assert not [word for word in AVOIDED if word in text], text


@pytest.mark.parametrize(
    ("value", "limit", "shown"),
    [
        (14.9, 15.0, "14.9 of 15.0"),
        (29.96, 30.0, "29.96 of 30.00"),
        (9.97, 10.0, "9.97 of 10.00"),
        (48.6, 40.0, "49 of 40"),
        (3.0, 3.0, "3.0 of 3.0"),
    ],
)
def test_a_value_is_not_shown_as_its_limit(value: float, limit: float, shown: str) -> None:
    assert f"{number(value, limit)} of {number(limit, value)}" == shown


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_titles_and_headlines_are_short(check: Check) -> None:
    assert len(check.title.split()) <= 7
    assert len(check.headline.split()) <= 12
    for text in (check.help, check.advice, *(limit.source for limit in check.limits)):
        for part in re.split(r"[;:]\s", text):
            assert all(len(each.split()) <= MOST_WORDS for each in sentences(part)), part


def test_a_ceiling_leans_where_walls_lean() -> None:
    check = next(check for check in CHECKS if check.id == "fixed")
    house = check.caught.house
    [finding] = [each for each in report_of(house).findings if each.check == "fixed"]
    assert " lean " in check.describe(finding, house)
    place, finish = finding.places
    ceiling = replace(finding, places=(place._replace(surface="ceiling"), finish))
    said = check.describe(ceiling, house)
    assert " leans " in said
    assert " and clashes with the " in said


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_a_value_and_a_limit_that_differ_never_look_alike(check: Check) -> None:
    report = report_of(check.caught.house)
    for finding in (each for each in report.findings if each.check == check.id):
        if finding.limit and finding.value and finding.value % 1.0:
            close = replace(finding, value=finding.limit - 0.02)
            figures = re.findall(r"\d+(?:\.\d+)?", check.describe(close, report.house))
            assert sum(float(figure) == finding.limit for figure in figures) <= 1, figures
