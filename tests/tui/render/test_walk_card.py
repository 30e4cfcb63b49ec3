"""Beside the walk stands what is in view, in figures that are counted, and what was found."""

from collections.abc import Mapping
from math import dist
from types import SimpleNamespace
from typing import Any

import pytest

from housemap.checks import Report, check_of, report_of
from housemap.model.edits import change_entity, put
from housemap.model.house import Finish, House, Light, Notation
from housemap.plan.pixels import in_view
from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import NO_GREYS, UNICODE, Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades
from housemap.tui.tasks.walk import RoutePanel, ViewsPanel
from housemap.tui.tasks.walk_drawing import (
    Place,
    WalkView,
    matters_in,
    walk_head,
    walk_rows,
)
from housemap.workbench.session import Session
from housemap.workbench.walker import Walker
from tests.support.houses import small_house

PLAIN = Look(NO_GREYS, UNICODE)


def view_of(
    house: House, room: str, light: Light = "reference", *, look_to: str | None = None,
    report: Report | None = None, picked: Place | None = None,
) -> WalkView:  # fmt: skip
    session = Session.of(house)
    walker = Walker(session, room)
    if look_to:
        walker.look_to(look_to)
    view = walker.view(80, 60)
    shares: Mapping[Place, float] = in_view(view) if view else {}
    matters = matters_in(report, view) if report and view else ()
    shades = Shades(light, house, report)
    return WalkView(
        shades, report, walker.camera, shares, picked, matters, None, "stop 1 of 2", PLAIN
    )


def text(view: WalkView, width: int = 48, most: int = 8) -> str:
    return text_of([*walk_head(view, width), *walk_rows(view, width, most)])


def test_what_is_kept_and_has_no_place_in_the_picture_is_listed_in_its_room() -> None:
    house = put(small_house(), "finishes", "sofa", Finish("Green sofa", Notation("5G 3/4")))
    house = change_entity(house, "rooms", "kitchen", fixed=("sofa",))
    lines = text(view_of(house, "kitchen", report=report_of(house, deep=False))).splitlines()
    at = next(i for i, line in enumerate(lines) if "kept here" in line)
    assert "Green sofa" in lines[at + 1]
    assert lines[at + 1].split()[-1] == "6"  # value 3 is Y 6.39 by ASTM D1535, from memory
    assert "kept here" not in text(view_of(house, "hall"))


def test_the_surfaces_in_view_come_with_paint_lrv_undertone_and_share() -> None:
    house = small_house()
    report = report_of(house, deep=False)
    told = text(view_of(house, "kitchen", report=report))
    lines = told.splitlines()
    at = next(i for i, line in enumerate(lines) if "Kitchen walls" in line)
    assert "Moss Bank, greyish yellow green" in lines[at + 1]
    share, percent, lrv = lines[at].split()[-3:]
    assert percent == "%"
    assert 20 < int(share) < 90
    assert lrv == f"{report.study.paint('moss').lrv:.0f}"


def test_before_the_report_names_and_shares_are_told_all_the_same() -> None:
    told = text(view_of(small_house(), "kitchen"))
    assert "Moss Bank" in told
    assert "looking for findings" in told


def test_what_has_no_paint_says_so() -> None:
    house = small_house()
    told = text(view_of(house, "hall", report=report_of(house, deep=False)))
    assert "no paint yet" in told
    assert "Hall west wall" in told or "Hall walls" in told


def test_walls_that_differ_are_compared_as_the_report_compares_them() -> None:
    report = report_of(small_house(), deep=False)
    told = text(view_of(small_house(), "kitchen", look_to="hall", report=report))
    hall, kitchen = (report.study.rooms[room].coats["walls"] for room in ("hall", "kitchen"))
    apart = dist(hall.swatch.colour.ucs, kitchen.swatch.colour.ucs)
    line = next(line for line in told.splitlines() if " / " in line and "Hall" in line)
    assert line.split()[-2] == f"{apart:.1f}"


def test_the_findings_of_the_view_are_listed() -> None:
    report = report_of(small_house(), deep=False)
    view = view_of(small_house(), "hall", report=report)
    told = text(view)
    assert view.matters
    assert "found in this view" in told
    for matter in view.matters:
        assert check_of(matter.check).title in told


def test_under_a_lamp_the_undertones_are_those_of_the_lamp() -> None:
    house = small_house()
    report = report_of(house)
    view = view_of(house, "hall", "evening", report=report)
    seen = report.study.lighting.seen["hall", "evening"]
    coat = report.study.rooms["hall"].coats["walls"]
    assert seen is not None
    tone = view.shades.tone(coat, eye="hall")
    assert seen.colours[coat].shift_from(coat.swatch.colour.ucs) in tone
    assert tone in text(view, width=90)


def test_the_picked_surface_is_marked_also_where_the_list_is_cut() -> None:
    house = small_house()
    view = view_of(house, "hall", report=report_of(house, deep=False))
    last = view.listed()[-1]
    picked = view_of(house, "hall", report=view.report, picked=last)
    told = text(picked, most=3)
    marked = [line for line in told.splitlines() if line.startswith(PLAIN.glyphs.here)]
    assert len(marked) == 1
    assert house.rooms[last[0]].name in marked[0]
    assert "more: . picks the next" in told


@pytest.mark.parametrize("width", [20, 34, 48, 90])
def test_no_row_is_wider_than_the_panel(width: int) -> None:
    house = small_house()
    view = view_of(house, "hall", report=report_of(house, deep=False))
    for row in [*walk_head(view, width), *walk_rows(view, width, 5)]:
        assert width_of(row) <= width


def test_the_head_tells_the_visit_and_its_note() -> None:
    told = text(view_of(small_house(), "hall"))
    assert "⌂ ticked off" in told
    assert "stop 1 of 2" in told


@pytest.mark.parametrize(("north", "words"), [(0.0, "east"), (90.0, "north"), (180.0, "west")])
def test_words_go_by_true_north_and_the_arrow_by_the_map(north: float, words: str) -> None:
    view = view_of(small_house(north_deg=north), "hall")
    east = WalkView(
        view.shades, None, view.camera.__class__("hall", view.camera.at_m, 90.0), {}, None, (),
        None, "", PLAIN,
    )  # fmt: skip
    assert f"→ looking {words}" in text(east)


# Lists to walk by


def test_a_stop_tells_its_number_tick_day_and_level() -> None:
    session = Session.of(small_house())
    panel = RoutePanel(owner_of(session), Walker(session, "hall").route, "hall")
    assert "1 of 3 ticked off" in text_of(panel.head(Page(PLAIN, 48)))
    ticked, still = (text_of(panel.entry(room, Page(PLAIN, 48))) for room in ("hall", "kitchen"))
    assert "1 ⌂ Hall" in ticked
    assert "2 May 2026" in ticked
    assert "still to walk" in still


def test_a_room_in_view_tells_how_much_of_it_is_seen() -> None:
    session = Session.of(small_house())
    found = Walker(session, "hall").views()
    assert found is not None
    panel = ViewsPanel(owner_of(session), "hall", found)
    told = text_of(panel.entry("kitchen", Page(PLAIN, 48)))
    assert "Kitchen" in told
    assert f"{100 * found.best['kitchen'].share:.0f} %" in told


def owner_of(session: Session) -> Any:
    """As much of a task as a list needs to be drawn."""
    return SimpleNamespace(session=session, look=PLAIN, walk=None)
