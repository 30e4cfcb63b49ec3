"""The colour of every surface under the light of the moment, as data."""

from dataclasses import replace

import pytest

from housemap.checks import Place, Report, report_of
from housemap.model.edits import assign, put
from housemap.model.house import SURFACES, Accent, House, Light, Opening, SurfacePaints
from housemap.tui.describe import light_note, light_shown
from housemap.tui.render.shades import LIGHTS, Shades, blocks_of
from housemap.workbench.session import Session
from tests.support.houses import paint, small_house
from tests.support.lit_houses import cornered_house, lit_house

HOUSE = lit_house()
REPORT = report_of(HOUSE)


def shades(light: Light, house: House = HOUSE, report: Report | None = REPORT) -> Shades:
    return Shades(light, house, report)


def close_to(first: str | None, second: str | None, steps: int = 1) -> bool:
    """Whether two screen colours differ by at most so many of 255 steps in each channel."""
    assert first
    assert second
    pairs = zip(bytes.fromhex(first[1:]), bytes.fromhex(second[1:]), strict=True)
    return all(abs(a - b) <= steps for a, b in pairs)


def test_the_reference_light_shows_a_paint_as_the_file_has_it() -> None:
    assert shades("reference").on("hall", "walls", "oat").colour == "#d9d0bf"
    assert shades("reference", report=None).on("hall", "walls", "oat").colour == "#d9d0bf"


@pytest.mark.parametrize("light", ["day", "evening"])
def test_every_coat_shows_as_an_eye_in_its_room_sees_it(light: Light) -> None:
    assert light != "reference"
    seen = REPORT.study.lighting.seen["hall", light]
    assert seen
    own = list(REPORT.study.rooms["hall"].every_coat)
    assert len(own) > len(SURFACES)
    for coat in own:
        assert shades(light).at(Place.of(coat)).colour == seen.colours[coat].srgb_hex


def test_day_and_evening_and_reference_are_three_colours() -> None:
    found = {shades(light).on("hall", "walls", "oat").colour for light in LIGHTS}
    assert len(found) == 3


def test_a_room_seen_through_an_opening_shows_by_the_light_of_the_eye() -> None:
    seen = REPORT.study.lighting.seen["hall", "evening"]
    assert seen
    walls = REPORT.study.rooms["kitchen"].coats["walls"]
    through = shades("evening").on("kitchen", "walls", "moss", eye="hall")
    assert through.colour == seen.colours[walls].srgb_hex
    assert through != shades("evening").on("kitchen", "walls", "moss")


def test_what_has_no_light_shows_as_under_the_reference_light_and_says_why() -> None:
    day = shades("day")
    assert day.on("study", "walls", "oat") == shades("reference").on("study", "walls", "oat")
    assert day.lacks("study") == "not measured"
    assert day.lacks("hall") == ""
    assert day.unlit == {"not measured": ("study",)}
    assert shades("reference").unlit == {}


def test_a_room_with_nothing_painted_is_not_told_of() -> None:
    bare = replace(HOUSE.rooms["study"], paints=SurfacePaints())
    house = put(HOUSE, "rooms", "study", bare)
    assert shades("day", house, report_of(house)).unlit == {}


def test_before_the_light_is_computed_the_reference_light_stands_for_it() -> None:
    for report in (None, report_of(HOUSE, deep=False)):
        early = shades("evening", report=report)
        assert early.light_to_come
        assert early.on("hall", "walls", "oat").colour == "#d9d0bf"
        assert early.unlit == {}
    assert not shades("evening").light_to_come
    assert not shades("reference", report=None).light_to_come


@pytest.mark.parametrize("surface", [*SURFACES, "accent w"])
@pytest.mark.parametrize("light", ["day", "evening"])
def test_a_paint_just_put_on_shows_at_once_nearly_as_it_will(light: Light, surface: str) -> None:
    """By the light that was there; its own bounces are missing until the next report."""
    if surface == "accent w":
        hall = HOUSE.rooms["hall"]
        house = put(HOUSE, "rooms", "hall", replace(hall, accents={"w": Accent("chalk")}))
    else:
        house = assign(HOUSE, "hall", next(s for s in SURFACES if s == surface), "chalk")
    at_once = shades(light, house).on("hall", surface, "chalk")
    later = shades(light, house, report_of(house)).on("hall", surface, "chalk")
    assert close_to(at_once.colour, later.colour, 12)


def test_after_a_close_look_a_paint_tried_on_the_walls_shows_as_it_will() -> None:
    house = assign(HOUSE, "hall", "walls", "moss")
    lighting = REPORT.study.lighting
    lighting.close.look(lighting, "hall")
    at_once = shades("evening", house).on("hall", "walls", "moss")
    later = shades("evening", house, report_of(house)).on("hall", "walls", "moss")
    assert close_to(at_once.colour, later.colour)


def test_a_paint_that_was_edited_shows_its_new_colour_at_once() -> None:
    house = put(HOUSE, "paints", "oat", paint("#204060", "Oat Ladle"))
    for light in LIGHTS:
        assert shades(light, house).on("hall", "walls", "oat").colour == "#204060"


def test_what_has_no_paint_is_bare_under_every_light() -> None:
    assert {shades(light).on("study", "ceiling", None).state for light in LIGHTS} == {"bare"}


def test_undertones_and_differences_are_those_of_the_light() -> None:
    hall = REPORT.study.rooms["hall"].coats["walls"]
    kitchen = REPORT.study.rooms["kitchen"].coats["walls"]
    seen = REPORT.study.lighting.seen["hall", "evening"]
    assert seen
    evening = shades("evening")
    own = REPORT.study.paint("oat").colour
    turned = seen.colours[hall].shift_from(own.ucs)
    assert turned
    assert evening.undertone("hall", "walls", "oat") == f"{own.undertone.words}, {turned}"
    assert evening.apart("hall", hall, kitchen) == pytest.approx(seen.difference(hall, kitchen).ucs)
    plain = shades("reference").undertone("hall", "walls", "oat")
    assert plain == own.undertone.words


def test_the_map_shows_the_light_and_tells_where_it_is_missing() -> None:
    blocks = blocks_of(shades("day"))
    assert blocks["hall"].coat("walls") == shades("day").on("hall", "walls", "oat")
    assert blocks["hall"].accents["w"] == shades("day").on("hall", "accent w", "moss")
    assert blocks["study"].lacks == "not measured"
    assert blocks["hall"].lacks == ""


def session_under(light: Light, report: Report | None = REPORT) -> Session:
    session = Session.of(HOUSE)
    session.report = report
    session.select_light(light)
    return session


def test_the_light_is_always_told_in_words() -> None:
    assert light_note(session_under("reference")) == "light: reference"
    assert light_note(session_under("day")) == "light: day (1 room unlit)"
    assert light_note(session_under("evening", None)) == "light: evening (being computed)"
    assert "Study (not measured)" in light_shown(shades("day"))
    assert "being computed" in light_shown(shades("day", report=None)).lower()


def test_an_accent_on_a_wall_that_the_report_does_not_know_shows_plainly() -> None:
    house = cornered_house(accents={"3": Accent("chalk")})
    shown = shades("day", house).on("hall", "accent 3", "chalk")
    assert shown.colour == HOUSE.paints["chalk"].colour.hex  # type: ignore[union-attr]  # an Srgb


def test_opening_another_house_does_not_break_the_colours_of_this_one() -> None:
    """A report may lag behind: rooms and paints that it does not know show plainly."""
    house = small_house(
        rooms={**HOUSE.rooms, "den": replace(HOUSE.rooms["hall"], name="Den")},
        openings={"new": Opening(("den", "hall"), "cased")},
    )
    assert Shades("day", house, REPORT).on("den", "walls", "oat").state == "known"
