"""The report of a house after an edit."""

import pytest

from housemap.checks import Report, report_of
from housemap.file.reader import read_house
from housemap.model.edits import assign, change
from tests.support.houses import small_house
from tests.support.project import DEMO

AT_THE_LIMIT = 0.01
"""Of a limit: a repaint passes less than 0.3 % of a room's light on only the next time."""


def test_a_deep_report_has_its_light_computed_whatever_the_edit() -> None:
    deep = report_of(small_house())
    for edited in (change(small_house(), notes="later"), small_house()):
        assert deep.after(edited).study.lighting.ready


def test_a_repaint_judges_anew_whatever_its_light_falls_on() -> None:
    """The nursery's walls light the stairs, which the living room sees."""
    house = read_house(DEMO)
    before = report_of(house)
    for room, paint in (("nursery", "coal-barge"), ("kitchen", "marigold-jar"), ("hall", "")):
        edited = assign(house, room, "walls", paint or None)
        after, fresh = found(before.after(edited)), found(report_of(edited))
        for key in after.keys() | fresh.keys():
            if key in after and key in fresh:
                assert after[key][0] == pytest.approx(fresh[key][0], rel=AT_THE_LIMIT)
                continue
            value, limit = after.get(key) or fresh[key]
            assert value == pytest.approx(limit, rel=AT_THE_LIMIT)


def found(report: Report) -> dict[object, tuple[float, float]]:
    return {each.key: (each.value or 0.0, each.limit or 0.0) for each in report.findings}
