"""Edits give legal houses or say what does not fit."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.errors import EditError
from housemap.model import edits
from housemap.model.house import TABLES, Accent, House, SurfacePaints, Window
from housemap.model.rules import problems
from tests.support.houses import paint, room, small_house
from tests.support.strategies import houses


def test_assigning_puts_a_paint_on_one_surface_and_leaves_the_old_house_alone() -> None:
    house = small_house()
    after = edits.assign(house, "kitchen", "walls", "oat")
    assert after.rooms["kitchen"].paints == SurfacePaints("oat", "chalk", "chalk", "chalk")
    assert house == small_house()
    assert edits.assign(after, "kitchen", "walls", None).rooms["kitchen"].paints.walls is None


def test_unknown_ids_are_refused() -> None:
    with pytest.raises(EditError, match='there is no paint "tar"'):
        edits.assign(small_house(), "hall", "walls", "tar")
    with pytest.raises(EditError, match='there is no room "attic"'):
        edits.assign(small_house(), "attic", "walls", "oat")
    with pytest.raises(EditError, match='room "hall" has no lamp "spot"'):
        edits.remove_part(small_house(), "hall", "lamps", "spot")


def test_an_edit_that_makes_an_illegal_house_is_refused() -> None:
    with pytest.raises(EditError, match='room "hall": height must be above 0, found -1'):
        edits.change_entity(small_house(), "rooms", "hall", height_m=-1.0)
    with pytest.raises(EditError, match=r"along and width reach 2\.2"):
        edits.put_part(small_house(), "hall", "windows", "w", Window("s", 1.0, 1.2, 1.0, 0.9))
    with pytest.raises(EditError, match="its id must be made of a-z, 0-9 and -"):
        edits.put(small_house(), "paints", "Oat", paint())


def test_parts_limits_and_values_are_changed() -> None:
    house = edits.put_part(small_house(), "hall", "accents", "n", Accent("chalk"))
    assert set(house.rooms["hall"].accents) == {"n", "w"}
    assert set(edits.remove_part(house, "hall", "accents", "w").rooms["hall"].accents) == {"n"}
    assert edits.change(house, north_deg=20.0).north_deg == 20
    limited = edits.set_limit(house, "jar", "open", 18.0)
    assert limited.limits == {"jar": {"open": 18.0}}
    assert edits.set_limit(limited, "jar", "open", None) == house
    assert edits.set_sheen(house, "hall", "trim", "satin").rooms["hall"].sheens.trim == "satin"


def test_what_is_used_is_not_removed_by_itself() -> None:
    with pytest.raises(EditError, match='paint "oat" is used by room "hall", room "study", sample'):
        edits.remove(small_house(), "paints", "oat")
    unused = edits.put(small_house(), "paints", "tar", paint(name="Tar"))
    assert edits.remove(unused, "paints", "tar") == small_house()


def test_removing_with_uses_takes_along_what_cannot_be_without() -> None:
    house = edits.remove_with_uses(small_house(), "rooms", "hall")
    assert (house.openings, house.sightlines, house.samples, house.visits) == ({}, {}, {}, {})
    house = edits.remove_with_uses(small_house(), "paints", "moss")
    assert house.rooms["hall"].accents == {}
    assert house.rooms["kitchen"].paints == SurfacePaints(None, "chalk", "chalk", "chalk")
    house = edits.remove_with_uses(small_house(), "finishes", "oak-floor")
    assert (house.rooms["hall"].floor, house.rooms["hall"].fixed) == (None, ())


def test_references_follow_a_new_id() -> None:
    house = edits.rename(small_house(), "rooms", "hall", "entry")
    assert house.openings["hall-kitchen"].between == ("entry", "kitchen")
    assert (set(house.visits), house.samples["oat-hall"].room) == ({"entry"}, "entry")
    with pytest.raises(EditError, match='there is a room "study" already'):
        edits.rename(house, "rooms", "entry", "study")
    with pytest.raises(EditError, match=r'found "\.\./etc"'):
        edits.rename(house, "rooms", "entry", "../etc")


def test_new_ids_are_made_of_names() -> None:
    house = replace(small_house(), rooms={"hall": room(), "hall-2": room()})
    assert edits.new_id(house, "rooms", "Hall") == "hall-3"
    assert edits.new_id(house, "paints", "Crème  Brûlée No. 4") == "creme-brulee-no-4"
    assert edits.new_id(house, "paints", "白") == "paint"


@given(houses(), st.data())
def test_removing_and_renaming_anything_leaves_a_legal_house(
    house: House, data: st.DataObject
) -> None:
    tables = [table for table in TABLES if getattr(house, table)]
    if not tables:
        return
    table = data.draw(st.sampled_from(tables))
    key = data.draw(st.sampled_from(sorted(getattr(house, table))))
    assert problems(edits.remove_with_uses(house, table, key)) == ()
    if table != "visits":
        renamed = edits.rename(house, table, key, "fresh-id")
        assert problems(renamed) == ()
        assert edits.uses(renamed, table, key) == ()
        assert edits.rename(renamed, table, "fresh-id", key) == house
