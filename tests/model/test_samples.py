"""What several samples of a paint in a room come to."""

import datetime as dt
from dataclasses import replace
from typing import cast

import pytest

from housemap.file.reader import parse_house
from housemap.file.writer import dump_house
from housemap.model.house import (
    House,
    Paint,
    Room,
    Sample,
    Srgb,
    Surface,
    SurfacePaints,
    Verdict,
)
from housemap.model.samples import Tried, come_to, samples_to_see, tried_in

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
    assert tried_in(house, "oat", "hall", "walls") == "kept"
    assert tried_in(house, "oat", "study", "walls") == "untried"
    assert tried_in(house, "peat", "hall", "walls") == "rejected"


@pytest.mark.parametrize(
    ("wall", "surface", "judged"),
    [
        (None, "ceiling", {"ceiling"}),
        ("n", None, {"walls", "accent e"}),
        (None, "walls", {"walls", "accent e"}),
        (None, "trim", {"trim", "doors", "part rail"}),
        (None, "doors", {"trim", "doors", "part rail"}),
        (None, None, {"walls", "accent e", "ceiling", "trim", "doors", "part rail"}),
    ],
)
def test_a_verdict_is_one_on_the_kind_of_surface_that_was_looked_at(
    wall: str | None, surface: Surface | None, judged: set[str]
) -> None:
    """Walls, ceiling or woodwork; a sample that names neither a wall nor a surface is on all."""
    seen = replace(sample("reject"), wall=wall, surface=surface)
    house = House(samples={"a": seen})
    every = ("walls", "accent e", "ceiling", "trim", "doors", "part rail")
    assert {on for on in every if tried_in(house, "oat", "hall", on) == "rejected"} == judged


def test_a_rejected_ceiling_leaves_the_same_paint_to_be_seen_on_the_trim() -> None:
    paints = SurfacePaints("oat", "tar", "tar", "tar")
    hall = Room("Hall", size_m=(3, 4), height_m=2.5, paints=paints)
    house = House(
        rooms={"hall": hall},
        paints={key: Paint(key, Srgb("#aabbcc")) for key in ("oat", "tar")},
        samples={"a": Sample("tar", "hall", verdict="reject", surface="ceiling")},
    )
    assert [(each.paint, each.surface) for each in samples_to_see(house)] == [
        ("oat", "walls"),
        ("tar", "trim"),
    ]


def places(house: House) -> list[tuple[str, str]]:
    return [(each.paint, each.room) for each in samples_to_see(house)]


def test_every_paint_in_use_without_an_approved_sample_is_to_be_seen_once() -> None:
    """In the largest room with it on the walls; not where it was approved or is not painted."""
    rooms = {
        "hall": Room("Hall", size_m=(2, 3), paints=SurfacePaints(walls="oat", trim="tar")),
        "study": Room("Study", size_m=(4, 3), paints=SurfacePaints(walls="moss", ceiling="oat")),
        "den": Room("Den", size_m=(3, 3), paints=SurfacePaints(walls="oat")),
        "terrace": Room("Terrace", use="outdoor", paints=SurfacePaints(walls="sky")),
    }
    paints = {key: Paint(key, Srgb("#aabbcc")) for key in ("sky", "tar", "oat", "moss", "unused")}
    house = House(rooms=rooms, paints=paints)
    assert places(house) == [("moss", "study"), ("oat", "den"), ("tar", "hall")]
    assert places(parse_house(dump_house(house))) == places(house), "as when it is opened again"
    seen = {"a": Sample("oat", "hall", verdict="keep"), "b": Sample("moss", "study")}
    assert places(replace(house, samples=seen)) == [("moss", "study"), ("tar", "hall")]
    other = {"a": Sample("oat", "den", verdict="reject"), "b": Sample("tar", "den", verdict="keep")}
    assert ("oat", "hall") in places(replace(house, samples=other))
    assert ("tar", "hall") in places(replace(house, samples=other))


def test_a_paint_that_covers_much_of_a_room_is_approved_there() -> None:
    """Below 10 m2 a mistake costs little (common practice); the house may set its own limit."""
    hall = Room("Hall", size_m=(3, 4), height_m=2.5, paints=SurfacePaints("oat", "oat", "tar"))
    house = House(
        rooms={"hall": hall, "study": replace(hall, name="Study")},
        paints={key: Paint(key, Srgb("#aabbcc")) for key in ("oat", "tar")},
        samples={"a": Sample("oat", "hall", verdict="keep")},
    )
    [study, trim] = samples_to_see(house)
    assert study[:4] == ("oat", "study", "walls", "untried")
    assert study.area_m2 == pytest.approx(2 * 7 * 2.5 + 12)  # walls and ceiling
    assert (trim.paint, trim.area_m2) == ("tar", None)
    assert places(replace(house, limits={"untried": {"area": 60.0}})) == [("tar", "hall")]


def test_what_was_approved_in_one_light_is_still_to_be_seen_in_the_other() -> None:
    """By day and by lamplight (common practice); a sample that says no light counts for both."""
    hall = Room("Hall", size_m=(3, 4), height_m=2.5, paints=SurfacePaints("oat"))
    house = House(rooms={"hall": hall}, paints={"oat": Paint("Oat", Srgb("#aabbcc"))})
    by_day = replace(sample("keep", MAY), light="day")
    by_lamp, again = replace(by_day, light="evening"), replace(by_day, when=JUNE)
    for limit in (10.0, 99.0):  # a paint to be seen in each room, or once in the house
        house = replace(house, limits={"untried": {"area": limit}})
        for samples, left in (
            ([by_day], ["evening"]),
            ([by_lamp], ["day"]),
            ([by_day, again], ["evening"]),
            ([by_day, by_lamp], []),
            ([replace(by_day, light=None)], []),
            ([by_day, replace(by_lamp, verdict="reject", when=JUNE)], []),
            ([by_day, replace(by_lamp, verdict="unsure")], ["evening"]),
        ):
            held = {str(number): each for number, each in enumerate(samples)}
            assert [e.light for e in samples_to_see(replace(house, samples=held))] == left


def test_what_is_unsure_or_up_is_looked_at_again_and_what_was_rejected_is_not() -> None:
    hall = Room("Hall", size_m=(3, 4), height_m=2.5, paints=SurfacePaints("oat"))
    house = House(rooms={"hall": hall}, paints={"oat": Paint("Oat", Srgb("#aabbcc"))})
    for verdict, tried in (
        ("unsure", ["unsure"]),
        (None, ["put up"]),
        ("reject", []),
        ("keep", []),
    ):
        samples = {"a": Sample("oat", "hall", verdict=cast("Verdict | None", verdict))}
        assert [each.tried for each in samples_to_see(replace(house, samples=samples))] == tried
