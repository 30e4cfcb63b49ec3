"""Whoever walks follows the house: edits, rooms that go, views of findings."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from housemap.checks import report_of
from housemap.file.reader import read_house
from housemap.model.edits import assign, put_part, remove_with_uses
from housemap.model.house import Accent, House, Room
from housemap.plan.pixels import in_view
from housemap.plan.viewpoints import gone_through, opening_ahead
from housemap.tui.render.look import Look
from housemap.tui.render.shades import shades_of
from housemap.tui.tasks.walk_drawing import face_colours, is_seen, matters_in
from housemap.workbench.session import Session
from housemap.workbench.walker import Walker
from tests.support.project import DEMO
from tests.support.strategies import houses

HOUSE = read_house(DEMO)
REPORT = report_of(HOUSE, deep=False)
PAINT = next(iter(HOUSE.paints))


def walker_in(room: str, house: House = HOUSE) -> Walker:
    session = Session.of(house)
    session.select(room)
    return Walker(session, room)


def test_the_same_walls_are_kept_while_only_paints_change() -> None:
    walker = walker_in("hall")
    elevations, view = walker.elevations, walker.view(40, 30)
    walker._session.try_out(assign(HOUSE, "hall", "walls", PAINT))
    assert walker.elevations is elevations
    assert walker.view(40, 30) is view


def test_an_accent_wall_is_seen_at_once() -> None:
    walker = walker_in("study")
    seen = set()
    for wall in "nesw":
        walker._session.try_out(put_part(HOUSE, "study", "accents", wall, Accent(PAINT)))
        view = walker.view(40, 30)
        assert view is not None
        seen |= {face.surface for face in view.faces if face.surface.startswith("accent")}
    assert len(seen) > 1


def test_the_route_is_kept_while_nothing_moves() -> None:
    walker = walker_in("hall")
    route = walker.route
    walker._session.try_out(put_part(HOUSE, "hall", "accents", "0", Accent(PAINT)))
    assert walker.route is route


def test_a_room_that_goes_is_left() -> None:
    walker = walker_in("study")
    session = walker._session
    session.apply(remove_with_uses(HOUSE, "rooms", "study"), "remove the study")
    assert walker.settle()
    assert walker.camera.room == session.selection.room
    session.apply(House(), "remove all")
    assert not walker.settle()


def test_a_room_that_shrinks_away_from_under_one_is_entered_anew() -> None:
    walker = walker_in("study")
    walker.camera = walker.camera._replace(at_m=(9.2, 2.6))
    study = HOUSE.rooms["study"]
    small = replace(study, size_m=(1.0, 3.0))
    walker._session.apply(replace(HOUSE, rooms={**HOUSE.rooms, "study": small}), "shrink")
    assert walker.settle()
    assert walker.camera.room == "study"
    assert walker.view(10, 10) is not None


def test_the_best_view_of_another_room_shows_it() -> None:
    walker = walker_in("hall")
    found = walker.views()
    assert found is not None
    for room in found.best:
        walker.go_to("hall")
        walker.look_to(room)
        view = walker.view(80, 60)
        assert view is not None
        assert any(face.room == room for face in view.faces)


def test_a_house_without_measures_can_be_toured_but_not_seen() -> None:
    walker = walker_in("b", House(rooms={"a": Room("A"), "b": Room("B")}))
    assert walker.view(10, 10) is None
    assert walker.views() is None
    assert len(walker.route.stops) == 2
    assert walker.standing().seen_m == ()


def test_every_stop_of_the_route_has_its_number() -> None:
    walker = walker_in("hall")
    for number, stop in enumerate(walker.route.stops):
        walker.go_to(stop.room)
        assert walker.stop == number


@pytest.mark.parametrize("matter", [m for m in REPORT.causes if m.rooms], ids=lambda m: m.check)
def test_the_view_of_a_finding_shows_one_of_its_places(matter: object) -> None:
    walker = walker_in("hall")
    finding = matter.first  # type: ignore[attr-defined]  # a Cause
    assert walker.look_at(finding)
    view = walker.view(80, 60)
    assert view is not None
    assert any((place.room, place.surface) in in_view(view) or place.surface in {"", "fixed"}
               for place in finding.places)  # fmt: skip


def test_the_findings_of_a_view_have_all_their_places_in_it() -> None:
    walker = walker_in("living")
    view = walker.view(80, 60)
    assert view is not None
    found = matters_in(REPORT, view)
    places = set(in_view(view))
    assert found
    told = {finding.key for matter in found for finding in matter.findings}
    for finding in REPORT.findings:
        assert (finding.key in told) == (bool(finding.rooms) and is_seen(finding, places))


@settings(max_examples=60, deadline=None)
@given(houses())
def test_any_legal_house_can_be_walked_through(house: House) -> None:
    if not house.rooms:
        return
    session = Session.of(house)
    walker = Walker(session, next(iter(house.rooms)))
    assert sorted(stop.room for stop in walker.route.stops) == sorted(house.rooms)
    for stop in walker.route.stops:
        walker.go_to(stop.room)
        view = walker.view(9, 8)
        assert (view is None) == (stop.room not in walker.space.rooms)
        assert walker.standing().room == stop.room
        opening = opening_ahead(walker.elevations, walker.camera)
        if view is not None and opening is not None:
            walker.camera = gone_through(walker.elevations, walker.camera, opening)
            assert stop.room in house.openings[opening].between
        colours = face_colours(shades_of(session), walker, view.faces, Look()) if view else []
        assert all(0 <= channel <= 255 for colour in colours for channel in colour)
