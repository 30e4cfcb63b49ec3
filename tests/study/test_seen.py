"""What an eye sees: differences of coats in view, and what gloss makes of a wall."""

from dataclasses import replace

import pytest

from housemap.file.reader import read_house
from housemap.model.edits import put
from housemap.model.house import House, Sheen
from housemap.study import study_of
from housemap.study.seen import SeenView
from tests.support.project import DEMO


@pytest.fixture(scope="module")
def views() -> list[SeenView]:
    """Those of the demo house, by day; the one with most coats first."""
    found = filter(None, study_of(read_house(DEMO)).lighting.seen.values())
    return sorted(found, key=lambda view: -len(view.colours))


def test_two_coats_are_as_far_apart_one_way_as_the_other(views: list[SeenView]) -> None:
    view = views[0]
    first, *others = view.colours
    for other in others:
        there, back = view.difference(first, other), view.difference(other, first)
        assert there == back
    assert view.difference(first, first).de00 == pytest.approx(0.0, abs=1e-9)


def test_what_is_not_in_view_has_no_difference(views: list[SeenView]) -> None:
    view, other = views[0], views[-1]
    foreign = next(coat for coat in other.colours if coat not in view.colours)
    with pytest.raises(KeyError):
        view.difference(next(iter(view.colours)), foreign)


def test_a_glossy_wall_looks_deeper_where_it_is_known_how_its_paint_was_measured() -> None:
    house = read_house(DEMO)
    living = house.rooms["living"]
    paint = living.paints.walls
    assert paint
    known = put(house, "paints", paint, replace(house.paints[paint], gloss="included"))

    def lightness(of: House, sheen: Sheen) -> float:
        room = replace(living, sheens=replace(living.sheens, walls=sheen))
        view = study_of(put(of, "rooms", "living", room)).lighting.seen["living", "day"]
        assert view
        return view.colours[view.view.room.coats["walls"]].ucs[0]

    assert lightness(known, "gloss") < lightness(known, "matt") - 0.5
    assert lightness(house, "gloss") == lightness(house, "matt")
