"""What several samples of a paint in a room come to."""

import datetime as dt

import pytest

from housemap.model.house import House, Sample, Verdict
from housemap.model.samples import Tried, come_to, tried_in

MAY, JUNE = dt.date(2026, 5, 2), dt.date(2026, 6, 2)


def sample(verdict: Verdict | None, when: dt.date | None = None) -> Sample:
    return Sample("oat", "hall", verdict=verdict, when=when)


@pytest.mark.parametrize(
    ("samples", "tried"),
    [
        ([], "untried"),
        ([sample(None)], "put up"),
        ([sample("unsure"), sample(None)], "unsure"),
        ([sample("keep")], "kept"),
        ([sample("keep", MAY), sample("reject", JUNE)], "rejected"),
        ([sample("reject", JUNE), sample("keep", MAY)], "rejected"),
        ([sample("keep", MAY), sample("unsure", JUNE)], "kept"),
        ([sample("reject", MAY), sample("keep", MAY)], "kept"),
        ([sample("reject", MAY), sample("keep")], "rejected"),
    ],
)
def test_the_newest_decision_stands(samples: list[Sample], tried: Tried) -> None:
    assert come_to(samples) == tried


def test_samples_elsewhere_and_of_other_paints_say_nothing() -> None:
    house = House(samples={"one": sample("keep"), "two": Sample("peat", "hall", verdict="reject")})
    assert tried_in(house, "oat", "hall") == "kept"
    assert tried_in(house, "oat", "study") == "untried"
    assert tried_in(house, "peat", "hall") == "rejected"
