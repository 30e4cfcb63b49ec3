"""What several samples of a paint in a room come to."""

import datetime as dt
from dataclasses import replace

import pytest

from housemap.model.house import House, Paint, Room, Sample, Srgb, SurfacePaints, Verdict
from housemap.model.samples import Tried, come_to, open_samples, tried_in

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


def test_every_paint_in_use_without_an_approved_sample_is_open_once() -> None:
    """In the largest room with it on the walls; not where it was approved or is not painted."""
    rooms = {
        "hall": Room("Hall", size_m=(2, 3), paints=SurfacePaints(walls="oat", trim="tar")),
        "study": Room("Study", size_m=(4, 3), paints=SurfacePaints(walls="moss", ceiling="oat")),
        "den": Room("Den", size_m=(3, 3), paints=SurfacePaints(walls="oat")),
        "terrace": Room("Terrace", use="outdoor", paints=SurfacePaints(walls="sky")),
    }
    paints = {key: Paint(key, Srgb("#aabbcc")) for key in ("sky", "tar", "oat", "moss", "unused")}
    house = House(rooms=rooms, paints=paints)
    assert open_samples(house) == (("tar", "hall"), ("oat", "den"), ("moss", "study"))
    seen = {"a": Sample("oat", "hall", verdict="keep"), "b": Sample("moss", "study")}
    assert open_samples(replace(house, samples=seen)) == (("tar", "hall"), ("moss", "study"))
    other = {"a": Sample("oat", "den", verdict="reject"), "b": Sample("tar", "den", verdict="keep")}
    assert ("oat", "hall") in open_samples(replace(house, samples=other))
    assert ("tar", "hall") in open_samples(replace(house, samples=other))
