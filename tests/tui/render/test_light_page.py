"""The page of a room's light and the light on its card, as data."""

from dataclasses import replace
from itertools import takewhile

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from rich.cells import cell_len

from housemap.checks import Report, report_of
from housemap.colorimetry.undertone import shift_words
from housemap.file.reader import read_house
from housemap.light.surface_light import Lit
from housemap.model.edits import assign, put
from housemap.model.house import House, Light, Srgb, SurfacePaints
from housemap.tui.map.card_drawing import CardView, card_rows, lacking_rows, light_loss_rows
from housemap.tui.render.cells import Row, text_of, width_of
from housemap.tui.render.look import ASCII, DARK, NO_GREYS, UNICODE, Look
from housemap.tui.render.page import Page, signed
from housemap.tui.render.shades import LIGHTS, Shades
from housemap.tui.tasks.light import light_rows
from housemap.workbench.light_facts import RoomLight, paints_by_shift
from tests.support.houses import paint as paint_of
from tests.support.lit_houses import cornered_house, lit_house
from tests.support.project import DEMO
from tests.support.strategies import houses

LOOKS = [Look(), Look(DARK, ASCII), Look(NO_GREYS, UNICODE), Look(NO_GREYS, ASCII)]
HOUSE = lit_house()
OAT = Srgb("#d9d0bf")


def looked_at(house: House, *rooms: str) -> Report:
    report = report_of(house)
    for room in rooms:
        report.study.lighting.close.look(report.study.lighting, room)
    return report


REPORT = looked_at(HOUSE, "hall", "kitchen", "study")


def rows_of(
    room: str, report: Report | None = REPORT, light: Light = "reference", width: int = 80, *,
    tried: str | None = None, look: Look = LOOKS[0],
) -> list[Row]:  # fmt: skip
    house = report.house if report else HOUSE
    return light_rows(Shades(light, house, report), room, tried, look, width)


def page_of(room: str, **more: object) -> str:
    return text_of(rows_of(room, **more))  # type: ignore[arg-type]  # passed on as they are


def colours_of_row(row: Row) -> list[str | None]:
    return [run.ink.bg for run in row if not run.text.strip() and run.ink.bg != DARK.panel]


MEANT = ["Light enough by day.", "By lamplight the colour looks a little warmer."]


@pytest.mark.parametrize("width", [80, 160])
def test_the_page_begins_with_what_the_light_means(width: int) -> None:
    """Of the hall 0.74 % on half of the plane, 0.71 % aimed for; 52 lx by lamp; a shift of 2.2."""
    first = page_of("hall", width=width).splitlines()[1:3]
    assert [line[:80].strip() for line in first] == MEANT


def test_a_room_without_windows_is_dark_by_day() -> None:
    house = put(HOUSE, "rooms", "hall", replace(HOUSE.rooms["hall"], windows={}))
    told = page_of("hall", report=looked_at(house, "hall")).splitlines()[1:4]
    assert told[0].strip() == "Dark by day: lamps are on all the time."


def test_the_wall_colour_stands_side_by_side_under_the_three_lights() -> None:
    blocks = next(row for row in rows_of("hall") if len(colours_of_row(row)) >= len(LIGHTS))
    expected = [Shades(light, HOUSE, REPORT).on("hall", "walls", "oat").colour for light in LIGHTS]
    assert colours_of_row(blocks) == expected
    seen = REPORT.study.lighting.seen["hall", "evening"]
    assert seen
    walls = REPORT.study.rooms["hall"].coats["walls"]
    own = REPORT.study.paint("oat").colour
    assert seen.colours[walls].shift_from(own.ucs) in page_of("hall")


def shown_gain(lit: Lit, surface: str) -> float:
    """Infinite where no light comes directly, at most 100 elsewhere."""
    return min(lit.gain(surface), 100.0) if lit.direct_lux(surface) else np.inf


def test_the_page_tells_the_lux_of_each_surface_direct_and_after_all_bounces() -> None:
    lights = REPORT.study.lighting.rooms["hall"].light.lights
    for name in ("floor", "ceiling", "walls"):
        table = page_of("hall").split("Light on each surface")[1].splitlines()
        label = "all walls" if name == "walls" else name
        line = next(line for line in table if line.startswith(f" {label} "))
        cells = line.removeprefix(f" {label}").replace("-", "inf").replace(">100", "100").split()
        told = [
            value
            for lit in lights.values()
            for value in (lit.direct_lux(name), lit.total_lux(name), shown_gain(lit, name))
        ]
        assert [*map(float, cells)] == pytest.approx(told, abs=0.51)


def test_the_page_tells_what_floor_and_opposite_wall_add() -> None:
    text = page_of("hall")
    tints = REPORT.study.lighting.close.tints(REPORT.study.lighting, "hall")
    assert tints
    for each in tints.values():
        floor = each.walls["n"].floor
        assert floor
        share = 100 * floor.lux / each.walls["n"].whole.lux
        assert f"floor {share:.0f} %" in text
        whole = each.walls["n"].whole
        assert (shift_words(each.source.ucs, whole.ucs) or "much the same") in text
        assert "opposite " in text


def test_figures_of_the_lists_of_paints_and_rooms_stand_in_columns() -> None:
    for title in ("With it on the walls", "Rooms by daylight"):
        lines = page_of("hall", width=80).split(title)[1].splitlines()
        figures = [*takewhile(lambda line: " lx" in line, lines[1:])]
        assert len(figures) > 1
        assert len({line.rindex(" %", 0, line.index(" lx")) for line in figures}) == 1


def test_every_paint_of_the_house_is_told_with_what_it_would_do() -> None:
    text = page_of("hall", tried="moss")
    paints = REPORT.study.lighting.close.paints(REPORT.study.lighting, "hall")
    assert paints
    for paint, does in paints.items():
        name = HOUSE.paints[paint].name
        line = [line for line in text.splitlines() if name in line and " lx" in line]
        assert f"{does.daylight_percent:.2f} %" in line[0]
        assert f"{does.wall_lux['evening']:.0f} lx" in line[0]
    assert "Moss Bank" in text.split("and below it")[1].splitlines()[0]


def test_everything_that_was_assumed_is_listed() -> None:
    text = page_of("hall")
    for note in REPORT.study.lighting.rooms["hall"].light.notes:
        assert note.split()[0] in text


def test_a_room_without_light_tells_why_in_words() -> None:
    text = page_of("study")
    assert "not measured" in text
    assert "Give the room a size or an outline" in " ".join(text.split())
    shut = replace(HOUSE.openings["hall-kitchen"], door="shut")
    unlit = put(HOUSE, "rooms", "kitchen", replace(HOUSE.rooms["kitchen"], lamps={}))
    dark = looked_at(put(unlit, "openings", "hall-kitchen", shut), "kitchen")
    text = page_of("kitchen", report=dark)
    assert "no lamp" in text
    assert "by lamplight" not in text.split("Light on each surface")[1].split("Method")[0]


def test_all_rooms_are_listed_by_daylight_with_what_they_have() -> None:
    text = page_of("hall")
    rows = text[text.index("Rooms by daylight") :].splitlines()[1:]
    lit = {HOUSE.rooms[key].name: room.light for key, room in REPORT.study.lighting.rooms.items()}
    lit = {name: light for name, light in lit.items() if light.lights}
    listed = [next(name for name in lit if name in row) for row in rows[: len(lit)]]
    assert sorted(listed) == sorted(lit)
    percents = [daylight.percent if (daylight := lit[n].daylight) else 0.0 for n in listed]
    assert percents == sorted(percents, reverse=True)
    for name, row in zip(listed, rows, strict=False):
        for light in lit[name].lights.values():
            assert f" {light.total_lux('walls'):.0f} lx" in row


def test_all_paints_are_listed_by_their_shift_the_largest_first() -> None:
    text = page_of("hall")
    rows = text[text.index("Paints by shift") :].splitlines()[1:]
    shifts = paints_by_shift(REPORT)
    assert {coat.swatch.id for _, coat in shifts} == {*HOUSE.paints}
    assert [f"{far:.1f}" for far, _ in shifts] == [r.split()[-1] for r in rows[: len(shifts)]]
    assert [far for far, _ in shifts] == sorted((far for far, _ in shifts), reverse=True)
    for far, coat in shifts:
        room = RoomLight.of(REPORT, coat.room)
        if room is not None and coat.surface == "walls":
            assert room.moves("day", "evening") == pytest.approx(far)


def test_before_the_light_is_computed_the_page_says_so() -> None:
    for report in (None, report_of(HOUSE, deep=False)):
        assert "being computed" in page_of("hall", report=report)
    unseen = report_of(HOUSE)
    text = page_of("hall", report=unseen)
    assert "add in colour: being computed" in text
    assert "would do: being computed" in text


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("width", [60, 80, 131, 132, 160, 240])
@pytest.mark.parametrize("room", ["hall", "kitchen", "study"])
def test_no_row_is_wider_than_the_screen(room: str, width: int, look: Look) -> None:
    for row in rows_of(room, width=width, tried="chalk", look=look, light="evening"):
        assert width_of(row) <= width
    if look.glyphs.ascii:
        assert text_of(rows_of(room, width=width, look=look)).isascii()


def test_without_colour_no_empty_block_stands_for_one() -> None:
    rows = rows_of("hall", look=LOOKS[2])
    assert text_of(rows[5:6]).split()[0] == "reference"


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(houses(max_rooms=3))
def test_any_room_of_any_house_has_its_page(house: House) -> None:
    house = replace(
        house,
        paints={key: replace(each, colour=OAT) for key, each in house.paints.items()},
        finishes={key: replace(each, colour=OAT) for key, each in house.finishes.items()},
    )
    report = looked_at(house, *house.rooms)
    for room in house.rooms:
        for width, look in ((60, LOOKS[3]), (160, LOOKS[0])):
            for row in rows_of(room, report, "day", width, look=look):
                assert width_of(row) <= width
        card = Page(LOOKS[0], 34)
        shades = Shades("evening", house, report)
        for row in (*light_loss_rows(shades, room, card), *lacking_rows(shades, room, card)):
            assert width_of(row) <= 34


# The sun, and what other paints would make of the daylight


def test_the_hours_of_sun_are_drawn_for_three_days_of_the_year() -> None:
    """A window to the south at 51.5 degrees: sun about noon all year, longest in winter's low arc.

    The south wall has the sun before it from 6 to 18 h at most, between the equinoxes less.
    """
    report = looked_at(replace(HOUSE, latitude_deg=51.5, north_deg=0.0), "hall")
    page = page_of("hall", report=report).split("Sun through the windows")[1].splitlines()
    days = page[2:5]
    assert [line.split()[0] for line in days] == ["June", "March", "December"]
    for line in days:
        hours = line[10:]
        assert hours[2 * (12 - 3)] == "█", "noon"
        assert hours[2 * (4 - 3)] == hours[2 * (21 - 3)] == "·", "night, or the sun behind it"


def test_the_card_draws_the_hours_of_sun_small() -> None:
    report = looked_at(replace(HOUSE, latitude_deg=51.5, north_deg=0.0), "hall")
    shades = Shades("reference", report.house, report)
    rows = card_rows(CardView(report.house, "hall", "walls", shades, report, Look()), 34)
    lines = text_of(rows).split("sun at its windows")[1].splitlines()[1:5]
    assert lines[0].split() == ["3", "6", "9", "12", "15", "18", "21", "h"]
    assert [line[10:][12 - 3] for line in lines[1:]] == ["█"] * 3


def test_without_a_latitude_the_page_says_how_to_give_one() -> None:
    told = page_of("hall", report=looked_at(replace(HOUSE, latitude_deg=None), "hall"))
    assert "Give the house its latitude" in told


def test_on_a_wide_page_daylight_is_a_bar_as_long_as_the_figure_says() -> None:
    paints = REPORT.study.lighting.close.paints(REPORT.study.lighting, "hall")
    assert paints
    most = max(each.daylight_percent or 0.0 for each in paints.values())
    lines = [text_of([row]) for row in rows_of("hall", width=120)]
    for paint, does in paints.items():
        line = next(text for text in lines if HOUSE.paints[paint].name in text and " lx" in text)
        assert does.daylight_percent
        assert line.count("▬") == round(20 * does.daylight_percent / most)


def test_the_figures_are_named_by_their_method_in_one_line_at_the_end() -> None:
    *above, method = page_of("hall").split("Method:")
    assert "CAM16-UCS" in method
    assert all(word not in "".join(above) for word in ("CAM16", "CIE", "chroma", "BS "))


# On the card


def card_text(room: str, report: Report | None, light: Light = "reference", width: int = 48) -> str:
    shades = Shades(light, report.house if report else HOUSE, report)
    page = Page(Look(), width)
    return text_of([*lacking_rows(shades, room, page), *light_loss_rows(shades, room, page)])


def test_the_card_tells_what_the_wall_paint_costs_against_the_lightest() -> None:
    lighting = REPORT.study.lighting
    paints = lighting.close.paints(lighting, "hall") or {}
    best, now = paints["chalk"], paints["oat"]
    assert now.daylight_percent
    assert best.daylight_percent
    text = " ".join(card_text("hall", REPORT).split())
    assert "less than with Chalk Lump" in text
    lux = now.wall_lux["day"]
    assert lux < best.wall_lux["day"]
    loss = f"{100 * (1 - lux / best.wall_lux['day']):.0f} % less"
    assert f"by day {lux:.0f} lx ({loss})" in text
    lost = f"{best.daylight_percent - now.daylight_percent:.2f} less"
    assert f"daylight factor {now.daylight_percent:.2f} % ({lost})" in text


def test_the_lightest_paint_costs_nothing() -> None:
    text = card_text("hall", looked_at(assign(HOUSE, "hall", "walls", "chalk"), "hall"))
    assert "with the lightest paint" in text
    assert "\N{MINUS SIGN}" not in text


def test_the_light_is_compared_with_the_lightest_paint_in_use() -> None:
    """Not with one that a scheme left behind, on no wall or ceiling."""
    left = put(HOUSE, "paints", "left", paint_of("#ffffff", "Left Behind"))
    report = report_of(left)
    assert "Left Behind" not in card_text("hall", report)
    assert card_text("hall", report) == card_text("hall", report_of(HOUSE))


def test_the_card_follows_a_paint_that_is_tried_before_its_report() -> None:
    lighting = REPORT.study.lighting
    moss = (lighting.close.paints(lighting, "hall") or {})["moss"]
    tried = Shades("reference", assign(HOUSE, "hall", "walls", "moss"), REPORT)
    text = text_of(light_loss_rows(tried, "hall", Page(Look(), 48)))
    assert f"by day {moss.wall_lux['day']:.0f} lx" in text
    unseen = report_of(HOUSE)
    lagging = Shades("reference", assign(HOUSE, "hall", "walls", "moss"), unseen)
    assert [*light_loss_rows(lagging, "hall", Page(Look(), 48))] == []


def test_the_page_keeps_to_the_house_that_its_light_was_computed_for() -> None:
    """A house edited since, in walls, paints and windows, waits for its own report."""
    edited = put(cornered_house(), "paints", "new", HOUSE.paints["oat"])
    edited = assign(edited, "hall", "walls", "new")
    shades = Shades("day", edited, REPORT)
    before = Shades("day", HOUSE, REPORT)
    assert light_rows(shades, "hall", "new", Look(), 160) == light_rows(
        before, "hall", None, Look(), 160
    )


def test_the_card_keeps_to_what_is_known() -> None:
    assert card_text("hall", None) == ""
    assert "light on the walls" in card_text("hall", report_of(HOUSE))
    assert card_text("study", REPORT) == ""
    bare = replace(HOUSE.rooms["hall"], paints=SurfacePaints())
    assert card_text("hall", report_of(put(HOUSE, "rooms", "hall", bare))) == ""
    assert "not measured: shown under the reference light" in card_text("study", REPORT, "day")
    assert "being computed" in card_text("hall", None, "evening")


@pytest.mark.parametrize(
    ("number", "digits", "text"),
    [(3.2, 0, "+3"), (-0.46, 2, "\N{MINUS SIGN}0.46"), (-0.001, 2, "0.00"), (0.4, 0, "0")],
)
def test_differences_carry_their_sign(number: float, digits: int, text: str) -> None:
    assert signed(number, Look(), digits) == text
    assert cell_len(signed(number, LOOKS[1], digits)) == len(text)


def test_the_first_sentence_the_strip_and_the_map_have_one_word_for_the_lamps() -> None:
    demo = report_of(read_house(DEMO))
    for room in demo.house.rooms:
        shown = Shades("evening", demo.house, demo)
        paint = demo.house.rooms[room].paints.walls
        word = shown.shift(room, "walls", paint) if paint else ""
        first = next(
            (s for s in page_of(room, report=demo).splitlines() if "By lamplight" in s), ""
        )
        if "looks" in first:
            assert first.strip().endswith(f"looks {word or 'much the same'}.")
