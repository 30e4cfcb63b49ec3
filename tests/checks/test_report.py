"""The report of a house after an edit."""

from housemap.checks import report_of
from housemap.model.edits import change
from tests.support.houses import small_house


def test_a_deep_report_has_its_light_computed_whatever_the_edit() -> None:
    deep = report_of(small_house())
    for edited in (change(small_house(), notes="later"), small_house()):
        assert deep.after(edited).study.lighting.ready
