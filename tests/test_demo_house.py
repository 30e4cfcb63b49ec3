"""The demo house is believable: it closes, it is in the writer's form, its mistakes are few."""

from collections import Counter

import pytest

from housemap.checks.report import Report, report_of
from housemap.colorimetry.facts import colour_facts
from housemap.file.reader import has_comments, read_house
from housemap.file.writer import dump_house
from housemap.model.house import House
from tests.support.project import DEMO

WRONGLY_PRINTED = {"sedge-mat"}
"""The paint whose printed LRV is off on purpose, so that it is found."""

MISTAKES = Counter(
    {"stop": 1, "undertone": 1, "jar": 1, "near-miss": 1, "fixed": 2, "label": 1,
     "lone": 2, "sheen": 1, "gamut": 1, "turn": 3}
)  # fmt: skip
"""What a consultant would find in it."""


@pytest.fixture(scope="module")
def demo() -> House:
    return read_house(DEMO)


@pytest.fixture(scope="module")
def report(demo: House) -> Report:
    return report_of(demo)


def test_it_is_written_as_the_program_writes(demo: House) -> None:
    assert DEMO.read_text("utf-8") == dump_house(demo)
    assert not has_comments(DEMO.read_text("utf-8"))


def test_every_room_has_its_place_and_the_measures_close(report: Report) -> None:
    assert not report.study.plan.unplaced
    assert not report.study.plan.closings
    assert all(room.measured for room in report.study.plan.rooms.values())


def test_it_has_two_levels_and_an_l_shaped_room(demo: House) -> None:
    assert {room.level for room in demo.rooms.values()} == {0, 1}
    assert len(demo.rooms) >= 14
    assert any(room.outline_m and len(room.outline_m) == 6 for room in demo.rooms.values())


def test_it_shows_every_kind_of_opening_and_every_way_to_give_a_colour(demo: House) -> None:
    kinds = {opening.kind for opening in demo.openings.values()}
    assert kinds == {"doorway", "cased", "open", "glazed", "stairs"}
    sources = {type(paint.colour).__name__ for paint in demo.paints.values()}
    assert sources == {"Reflectance", "Lab", "Xyz", "Srgb", "Notation"}


def test_printed_lrvs_are_right_but_one(demo: House) -> None:
    facts = colour_facts([paint.colour for paint in demo.paints.values()])
    off = {
        paint_id
        for (paint_id, paint), fact in zip(demo.paints.items(), facts, strict=True)
        if paint.lrv is not None and abs(paint.lrv - fact.lrv) > 3
    }
    assert off == WRONGLY_PRINTED


def test_its_mistakes_are_the_honest_ones(report: Report) -> None:
    assert Counter(finding.check for finding in report.findings) == MISTAKES


def test_the_landing_sees_the_hall(report: Report) -> None:
    assert ("hall", "landing") in report.study.graph.sightings
