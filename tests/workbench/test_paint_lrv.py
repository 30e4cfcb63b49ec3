"""A typed LRV that contradicts the typed colour is asked about; either answer ends it."""

import pytest

from housemap.colorimetry.facts import colour_facts
from housemap.model.house import Paint, Srgb
from housemap.workbench.paint_lrv import contradiction

GREY = Srgb("#aeb1b0")
"""By IEC 61966-2-1 Y = 100 (0.2126 x 0.423 + 0.7152 x 0.440 + 0.0722 x 0.434) = 43.6."""


def test_an_lrv_that_fits_is_not_asked_about() -> None:
    assert contradiction(Paint("Fog", GREY)) is None
    assert contradiction(Paint("Fog", GREY, lrv=44.0)) is None


def test_the_question_names_both() -> None:
    found = contradiction(Paint("Fog", GREY, lrv=52.0))
    assert found is not None
    assert found.question == "The colour of Fog gives LRV 44, you typed 52: which is right?"
    assert found.computed == pytest.approx(43.6, abs=0.3)  # 10 degrees in the place of 2


def test_the_colour_may_be_right() -> None:
    found = contradiction(Paint("Fog", GREY, lrv=52.0))
    assert found is not None
    assert found.by_colour() == Paint("Fog", GREY)


@pytest.mark.parametrize("lrv", [5.0, 52.0, 90.0])
def test_the_lrv_may_be_right_and_then_every_page_shows_it(lrv: float) -> None:
    found = contradiction(Paint("Fog", GREY, lrv=lrv))
    assert found is not None
    made = found.by_lrv()
    [facts] = colour_facts([made.colour])
    [before] = colour_facts([GREY])
    assert facts.lrv == pytest.approx(lrv, abs=0.01)
    assert facts.lab100[1:] == pytest.approx(before.lab100[1:], abs=0.01)
    assert isinstance(made, Paint)
    assert made.derived
    assert contradiction(made) is None
