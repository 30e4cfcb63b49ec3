"""Edits give legal houses or say what does not fit."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.errors import EditError
from housemap.model import edits
from housemap.model.edits import History
from housemap.model.house import (
    SURFACES,
    Accent,
    Accepted,
    House,
    Part,
    Room,
    Scheme,
    SchemePaints,
    SurfacePaints,
    Window,
)
from housemap.model.schema import ATTR_OF
from housemap.model.validation import problems
from tests.support.chance import wall_lengths
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


def painted_parts() -> House:
    rail = {"rail": Part("panelling", paint="oat")}
    return edits.change_entity(small_house(), "rooms", "hall", parts=rail)


def test_a_paint_is_replaced_everywhere_on_a_level_or_on_some_surfaces() -> None:
    everywhere = edits.replace_paint(painted_parts(), "oat", "chalk")
    assert {key: room.paints.walls for key, room in everywhere.rooms.items()} == {
        "hall": "chalk", "kitchen": "moss", "study": "chalk",
    }  # fmt: skip
    assert everywhere.rooms["hall"].parts["rail"].paint == "chalk"
    assert everywhere.samples["oat-hall"].paint == "oat"
    above = edits.replace_paint(painted_parts(), "oat", "chalk", level=1)
    assert (above.rooms["hall"].paints.walls, above.rooms["study"].paints.walls) == ("oat", "chalk")
    trim = edits.replace_paint(painted_parts(), "chalk", "oat", surfaces=("trim",))
    assert trim.rooms["kitchen"].paints == SurfacePaints("moss", "chalk", "oat", "chalk")
    accents = edits.replace_paint(small_house(), "moss", "oat", surfaces=("walls",))
    assert accents.rooms["hall"].accents == {"w": Accent("oat")}
    with pytest.raises(EditError, match='there is no paint "tar"'):
        edits.replace_paint(small_house(), "oat", "tar")


JAR = Accepted("jar", ("hall", "study"), ("walls",), ("oat", "moss"), why="a dark box")


def test_a_finding_is_accepted_once_a_place_and_can_count_again() -> None:
    house = edits.accept(small_house(), [JAR])
    assert house.accepted == {"jar-hall-study": JAR}
    turned = replace(JAR, rooms=("study", "hall"), why="asked for")
    assert edits.accept(house, [turned]).accepted == {"jar-hall-study": turned}
    for other in (replace(JAR, surfaces=("trim",)), replace(JAR, paints=("oat", "chalk"))):
        both = edits.accept(house, [other])
        assert both.accepted == {"jar-hall-study": JAR, "jar-hall-study-2": other}
        assert edits.withdraw(both, other) == house
    assert edits.withdraw(house, turned) == small_house()
    with pytest.raises(EditError, match='the finding "jar" was not accepted there'):
        edits.withdraw(small_house(), JAR)


def test_what_was_accepted_goes_with_its_rooms_and_paints() -> None:
    house = edits.accept(small_house(), [JAR])
    assert edits.remove_with_uses(house, "rooms", "study").accepted == {}
    assert edits.remove_with_uses(house, "paints", "moss").accepted == {}
    renamed = edits.rename(house, "paints", "moss", "fern")
    assert renamed.accepted["jar-hall-study"].paints == ("oat", "fern")


def test_a_scheme_is_made_of_the_house_and_painted_again_later() -> None:
    house = edits.make_scheme(small_house(), "As it was")
    hall = house.schemes["as-it-was"].paints["hall"]
    assert hall == SchemePaints("oat", "", "", "", accents={"w": "moss"})
    other = edits.remove_part(edits.assign(house, "hall", "walls", "moss"), "hall", "accents", "w")
    assert edits.take_scheme(other, "as-it-was") == house
    some = edits.put(house, "schemes", "some", Scheme("B", paints={"study": SchemePaints("chalk")}))
    after = edits.take_scheme(some, "some")
    assert after.rooms["study"].paints.walls == "chalk"
    assert after.rooms["hall"] == house.rooms["hall"]
    with pytest.raises(EditError, match='there is no scheme "c"'):
        edits.take_scheme(house, "c")


@given(houses(), st.data())
def test_a_scheme_holds_every_coat_unpainted_surfaces_included(house: House, data: Any) -> None:
    kept = edits.make_scheme(house, "Kept")
    [key] = kept.schemes.keys() - house.schemes.keys()
    other = replace(kept, rooms={k: data.draw(repainted(house, k)) for k in house.rooms})
    assert edits.take_scheme(other, key).rooms == house.rooms


@st.composite
def repainted(draw: st.DrawFn, house: House, key: str) -> Room:
    held, paints = house.rooms[key], st.sampled_from((None, *house.paints))
    walls = wall_lengths({"size_m": held.size_m, "outline_m": held.outline_m})
    accents = {wall: draw(paints) for wall in walls}
    return replace(
        held,
        paints=SurfacePaints(*(draw(paints) for _ in SURFACES)),
        accents={wall: Accent(each) for wall, each in accents.items() if each},
        parts={k: replace(part, paint=draw(paints)) for k, part in held.parts.items()},
    )


def test_schemes_follow_their_rooms_and_paints() -> None:
    house = edits.make_scheme(small_house(), "A")
    renamed = edits.rename(edits.rename(house, "rooms", "hall", "entry"), "paints", "moss", "fern")
    entry = renamed.schemes["a"].paints["entry"]
    assert entry == SchemePaints("oat", "", "", "", accents={"w": "fern"})
    assert "hall" not in edits.remove_with_uses(house, "rooms", "hall").schemes["a"].paints


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
    tables = [table for table in ATTR_OF.values() if getattr(house, table)]
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


# Undo and redo.

moves = st.lists(st.integers(0, 5) | st.sampled_from(("undo", "redo")))


def test_undo_gives_back_the_house_and_names_the_edit() -> None:
    before, after = House("one"), House("two")
    history = History(before).do(after, "Renamed")
    assert (history.undo_label, history.redo_label) == ("Renamed", None)
    undone = history.undo()
    assert (undone.present, undone.undo_label, undone.redo_label) == (before, None, "Renamed")
    assert undone.redo() == history


def test_an_edit_that_changes_nothing_is_no_step() -> None:
    history = History(House("one"))
    assert history.do(House("one"), "Nothing") is history
    assert history.undo() is history
    assert history.redo() is history


@given(moves)
def test_any_walk_agrees_with_a_list_and_a_place_in_it(walk: list[int | str]) -> None:
    history, houses, place = History(House("start")), [House("start")], 0
    for move in walk:
        if move == "undo":
            history, place = history.undo(), max(0, place - 1)
        elif move == "redo":
            history, place = history.redo(), min(len(houses) - 1, place + 1)
        elif (house := House(str(move))) != houses[place]:
            history, houses, place = (
                history.do(house, "edit"),
                [*houses[: place + 1], house],
                place + 1,
            )
        assert history.present == houses[place]
        assert len(history.past) == place
        assert len(history.future) == len(houses) - 1 - place
