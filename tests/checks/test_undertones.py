"""Whose undertones may fight, and what is said of the hue they lean to."""

import re
from dataclasses import replace

import pytest

from housemap.checks import Finding, Report, report_of
from housemap.checks.examples import lit_room, one_room, two_rooms, with_room
from housemap.file.reader import read_house
from housemap.model.edits import assign, put
from housemap.model.house import Finish, House, Notation, Paint, Room, SurfacePaints
from tests.support.project import DEMO

NO_UNDERTONE = ("N 9/", "N 9.4/", "N 7/", "N 5.5/", "5Y 8/0.2")
WHITE_WALLS = ("5Y 9/1", "5Y 8/1", "5Y 8.5/0.5", "10YR 8.5/1.5", "2.5PB 8/1.5", "5RP 8/1.5")
LIGHTS = (1900.0, 2700.0, 6500.0)


def clashes(report: Report) -> list[Finding]:
    return [f for f in report.findings if f.check in {"undertone", "fixed"}]


def lit_by(walls: str, kelvin: float, floor: str) -> House:
    """A room under a window and a lamp, with a floor and tiles of that colour."""
    house = lit_room(walls, kelvin)
    room = replace(house.rooms["hall"], floor="boards", fixed=("tiles",))
    kept = {key: Finish(f"Kept {key}", Notation(floor)) for key in ("boards", "tiles")}
    return replace(with_room(house, "hall", room), finishes=kept)


@pytest.mark.parametrize("walls", WHITE_WALLS)
@pytest.mark.parametrize("kelvin", LIGHTS)
def test_tiles_without_an_undertone_clash_with_no_wall_in_no_light(
    walls: str, kelvin: float
) -> None:
    """What a lamp or a wall throws on a white tile is light."""
    for tiles in NO_UNDERTONE:
        assert not clashes(report_of(lit_by(walls, kelvin, tiles))), tiles


@pytest.mark.parametrize("walls", NO_UNDERTONE)
@pytest.mark.parametrize("kelvin", LIGHTS)
def test_walls_without_an_undertone_clash_with_nothing_in_no_light(
    walls: str, kelvin: float
) -> None:
    for floor in ("10YR 6/4", "5R 6/3", "5G 6/3"):
        assert not clashes(report_of(lit_by(walls, kelvin, floor))), floor


def test_two_finishes_of_one_colour_are_one_finding() -> None:
    [finding] = clashes(report_of(lit_by("5PB 7/2", 2700.0, "10YR 6/4")))
    assert finding.places[1].surface == "floor"
    house = lit_by("5PB 7/2", 2700.0, "10YR 6/4")
    other = put(house, "finishes", "tiles", Finish("Other", Notation("10YR 5/4")))
    assert len(clashes(report_of(other))) == 2


@pytest.mark.parametrize("dark", ["2.5PB 4/2", "5G 3/2", "10R 3/2"])
def test_a_dark_colour_is_no_neutral_with_an_undertone(dark: str) -> None:
    """Navy, oak and a grey carpet; below LRV 20 little chroma is a colour (our assumption)."""
    room = Room("Hall", paints=SurfacePaints(walls="dark"), floor="oak", fixed=("carpet",))
    kept = {"oak": "10YR 6/4", "carpet": "N 5.5/"}
    assert not clashes(report_of(one_room(room, kept, dark=dark)))
    assert not clashes(report_of(two_rooms(dark, "10YR 8/2", "cased")))


def test_a_dark_grey_that_leans_still_has_an_undertone() -> None:
    assert clashes(report_of(two_rooms("5PB 4/1.4", "5YR 4/1", "open")))


def test_another_family_in_one_light_is_said_as_a_change_from_that_of_the_paint() -> None:
    """The dining room's paint is a greenish grey: what is said of it agrees."""
    report = report_of(read_house(DEMO))
    said = [report.describe(f) for f in clashes(report) if "lichen-slip" in f.paints]
    assert any("leans green" in each for each in said)
    assert any("turn yellow by day and clash with" in each for each in said)
    assert not any("lean yellow" in each or "leans yellow" in each for each in said)


def test_whatever_is_said_to_lean_to_a_hue_has_it_by_itself() -> None:
    house = read_house(DEMO)
    for key, text in {"blue": "5B 7/1.5", "pink": "5R 7/2", "grey": "1.9Y 7.3/0.7"}.items():
        house = put(house, "paints", key, Paint(key.title(), Notation(text)))
    for paint in ("blue", "pink", "grey"):
        report = report_of(assign(assign(house, "dining", "walls", paint), "hall", "walls", paint))
        for finding in clashes(report):
            for place, words in zip(finding.places, finding.words, strict=True):
                kind = ("Paint", place.paint) if place.paint else ("Finish", place.finish)
                own = report.study.swatches[kind].colour.undertone.family
                verb, family = words.split()
                assert own != "none"
                assert (verb == "lean") == (family == own), (words, own)


def test_a_clash_close_to_its_limit_quotes_the_figure_that_is_close() -> None:
    report = report_of(read_house(DEMO))
    [finding] = [f for f in clashes(report) if f.close]
    said = report.describe(finding)
    figures = re.search(
        r"; strength (4\.\d), limit 4\.0\) Close to the limit: judge by a sample", said
    )
    assert figures
    assert float(figures[1]) == pytest.approx(finding.parts["strength"], abs=0.05)


def test_of_two_that_lean_the_verb_is_said_once() -> None:
    report = report_of(two_rooms("5R 7/2", "5G 7/2"))
    [finding] = clashes(report)
    assert "one leans pink, the other green." in report.describe(finding)
