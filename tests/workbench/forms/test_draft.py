"""Forms and the file format agree; what was not typed stays as it is; what was makes one edit."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.model.fieldtypes import Record
from housemap.model.house import (
    Brief,
    ColourSource,
    House,
    Notation,
    Opening,
    Room,
    RoomBrief,
    Srgb,
    Units,
    Use,
    Window,
)
from housemap.model.schema import ATTR_OF, BRIEF, HOUSE, RECORD_OF, ROOM_BRIEF, ColourField
from housemap.model.validation import problems
from housemap.workbench.forms.draft import Draft, Form, Made
from housemap.workbench.forms.fields import ELSEWHERE, HINTS, LABELS, fields_of
from housemap.workbench.forms.targets import (
    PART_ATTRS,
    WHOLE,
    WISHES,
    Target,
    parts_of_house,
    parts_of_room,
)
from housemap.workbench.survey.vocabulary import COLOURS
from tests.support.houses import small_house
from tests.support.strategies import houses

SMALL = small_house()
RECORDS: dict[str, Record] = {WHOLE: HOUSE, WISHES: BRIEF, **RECORD_OF}


def targets(house: House) -> list[Target]:
    """Everything in a house that has a form."""
    found = [Target(WHOLE), Target(WISHES), *(Target(WISHES, None, room) for room in house.rooms)]
    found += [Target(kind, key) for kind, attr in ATTR_OF.items() for key in getattr(house, attr)]
    for key, room in house.rooms.items():
        for kind, attr in PART_ATTRS.items():
            found += [Target(kind, part, key) for part in getattr(room, attr)]
    return found


def draft_of(target: Target, house: House = SMALL, given: Any = None, **typed: str) -> Draft:
    """A form with texts typed into fields by their keys (a dot written as __)."""
    draft = Draft(Form(target, house, given or {}))
    fields = {of.key: of for of in draft.form.fields}
    for key, text in typed.items():
        draft = draft.with_text(fields[key.replace("__", ".")], text)
    return draft


def made(target: Target, house: House = SMALL, given: Any = None, **typed: str) -> House:
    found = draft_of(target, house, given, **typed).made
    assert found.fits, (dict(found.faults), found.others)
    assert found.house is not None
    assert problems(found.house) == ()
    return found.house


def faults(target: Target, house: House = SMALL, given: Any = None, **typed: str) -> Made:
    found = draft_of(target, house, given, **typed).made
    assert not found.fits
    return found


# Forms and the format


@pytest.mark.parametrize("kind", RECORDS)
def test_every_key_of_the_format_has_a_field_or_is_edited_elsewhere(kind: str) -> None:
    fields = [*fields_of(RECORDS[kind], kind, SMALL, SMALL.rooms["hall"])]
    asked = {of.path[0] for of in fields if of.attr != "colour"}
    for each in RECORDS[kind].fields:
        if isinstance(each, ColourField):
            assert any(of.attr == each.attr for of in fields)
        else:
            elsewhere = f"{kind}.{each.key}" in ELSEWHERE
            assert (each.key in asked) != elsewhere, each.key


def test_labels_and_hints_are_for_fields_that_there_are() -> None:
    known = {f"{kind}.id" for kind in RECORDS} | {"wishes.keep"}
    for kind, record in RECORDS.items():
        for each in record.fields:
            keys = [] if isinstance(each, ColourField) else [each.key]
            known |= {f"{kind}.{key}" for key in keys}
            known |= {f"{kind}.{key}.{place}" for key in keys for place in (0, 1)}
    assert {*LABELS, *HINTS, *ELSEWHERE} <= known


@given(houses())
def test_a_form_into_which_nothing_is_typed_changes_nothing(house: House) -> None:
    for target in targets(house):
        found = Draft(Form(target, house)).made
        assert found.fits, (target, dict(found.faults))
        assert found.house == house


@given(houses())
def test_the_texts_of_all_fields_can_be_typed_again(house: House) -> None:
    """Each field by itself: whatever a field shows, it takes."""
    for target in targets(house):
        form = Form(target, house)
        for of in form.fields:
            text = form.text(of)
            if text and not text.startswith("spectrum"):
                of.entry.value(text)


@given(houses(), st.data())
def test_whatever_is_typed_makes_a_legal_house_or_is_told(
    house: House, data: st.DataObject
) -> None:
    target = data.draw(st.sampled_from(targets(house)))
    form = Form(target, house)
    draft = Draft(form)
    for of in data.draw(st.lists(st.sampled_from(form.fields), max_size=4)):
        texts = st.sampled_from(("", "0", "1", "9 m", "n", "3 x 2", "-1", "moss", "a-b", "yes"))
        draft = draft.with_text(of, data.draw(texts | st.text(max_size=8)))
    found = draft.made
    if found.fits:
        assert found.house is not None
        assert problems(found.house) == ()
    else:
        assert found.faults or found.others
        assert all(found.faults.values())


# What is typed


def test_only_the_field_that_was_edited_gets_another_value() -> None:
    odd = replace(SMALL.rooms["kitchen"], size_m=(4.00049, 3.0), height_m=2.41)
    house = replace(SMALL, units="ft", rooms={**SMALL.rooms, "kitchen": odd}, openings={})
    kitchen = made(Target("room", "kitchen"), house, height_m="8'").rooms["kitchen"]
    assert kitchen == replace(odd, height_m=2.4384)


def test_a_text_typed_back_as_it_was_is_no_edit() -> None:
    draft = draft_of(Target("room", "hall"), height_m="2.5")
    field = next(of for of in draft.form.fields if of.key == "height_m")
    assert not draft.with_text(field, draft.form.text(field)).typed


def test_every_kind_of_entity_can_be_added() -> None:
    house = made(Target("paint"), name="Reed", colour="5Y 7/1", lrv="48")
    house = made(Target("finish"), house, name="Slate", colour="N 4/")
    house = made(Target("room"), house, name="Bath", size_m="2 x 2,2", use="bath", floor="slate")
    house = made(
        Target("opening"), house, {"between": ("hall", None)}, between__1="bath", kind="doo",
        wall="e", along_m="3.6", width_m="80 cm",
    )  # fmt: skip
    house = made(Target("window", None, "bath"), house, wall="e", along_m="0.5", width_m="60 cm",
                 height_m="0.6", sill_m="1.4")  # fmt: skip
    house = made(Target("lamp", None, "bath"), house, lumens="900", kelvin="2700 K")
    house = made(Target("accent", None, "bath"), house, id="north", paint="reed")
    house = made(Target("sightline"), house, {"between": ("kitchen", None)}, between__1="bath")
    house = made(Target("sample"), house, paint="reed", room="bath", when="2026-05-02")
    house = made(Target("visit"), house, id="bath", notes="damp")
    assert house.openings["hall-bath"] == Opening(
        ("hall", "bath"), "doorway", wall="e", along_m=3.6, width_m=0.8
    )
    bath = house.rooms["bath"]
    assert bath.windows == {"window-e": Window("e", 0.5, 0.6, 0.6, 1.4)}
    assert (bath.use, bath.floor, bath.size_m) == ("bathroom", "slate", (2.0, 2.2))
    assert [*bath.lamps, *bath.accents] == ["lamp", "n"]
    assert {"kitchen-bath"} <= set(house.sightlines)
    assert {"reed-bath"} <= set(house.samples)
    assert house.visits["bath"].notes == "damp"


def test_values_of_the_house_itself_can_be_changed() -> None:
    house = made(
        Target(WHOLE), name="Elm", north_deg="-20", low_vision="y", wall_thickness_m="4 in",
        units="ft", built="",
    )  # fmt: skip
    assert (house.name, house.north_deg, house.low_vision, house.units) == ("Elm", -20, True, "ft")
    assert house.wall_thickness_m == pytest.approx(0.1016)
    assert house.built is None
    assert house.rooms == SMALL.rooms


def test_the_clients_wishes_are_typed_for_the_house_and_for_a_room() -> None:
    house = made(
        Target(WISHES), strength="greyish", accent_strength="vivid", like="blue, yellow green",
        avoid="pink", colours="4", lrv="40 75", share="0.4", white_trim="no", notes="calm",
    )  # fmt: skip
    assert house.brief == Brief(
        "greyish", "vivid", ("blue", "yellow green"), ("pink",), 4, (40.0, 75.0), 0.4,
        white_trim=False, notes="calm",
    )  # fmt: skip
    kept = made(Target(WISHES, None, "study"), house, keep="yes", like="blue")
    assert kept.brief.rooms == {"study": RoomBrief(like=("blue",), keep=True)}
    assert replace(kept.brief, rooms={}) == house.brief
    assert made(Target(WISHES, None, "study"), kept, keep="", like="") == house
    asked = {of.attr for of in fields_of(ROOM_BRIEF, WISHES, SMALL, None)}
    assert asked == {each.attr for each in ROOM_BRIEF.fields}
    assert "beige" in faults(Target(WISHES), like="beige").faults["like"]


def test_an_emptied_field_goes_back_to_its_default() -> None:
    hall = made(Target("room", "hall"), role="", floor="", level="", sheens__walls="").rooms["hall"]
    assert (hall.role, hall.floor, hall.level, hall.sheens.walls) == (None, None, 0, None)


def test_sheens_are_set_one_by_one() -> None:
    kitchen = made(Target("room", "kitchen"), sheens__trim="sat").rooms["kitchen"]
    assert (kitchen.sheens.walls, kitchen.sheens.trim) == ("satin", "satin")


def test_an_id_can_be_changed_and_all_that_uses_it_follows() -> None:
    house = made(Target("room", "hall"), id="entry", height_m="2.5")
    assert "hall" not in house.rooms
    assert house.rooms["entry"].height_m == 2.5
    assert house.openings["hall-kitchen"].between == ("entry", "kitchen")
    assert "entry" in house.visits
    assert "porch" in made(Target("window", "front", "hall"), id="porch").rooms["hall"].windows
    assert list(made(Target("accent", "w", "hall"), id="e").rooms["hall"].accents) == ["e"]
    assert list(made(Target("visit", "hall"), id="kitchen").visits) == ["kitchen"]


# What is wrong


@pytest.mark.parametrize(
    ("target", "typed", "key", "says"),
    [
        (Target("room", "hall"), {"height_m": "-2.4"}, "height_m", "above 0"),
        (Target("room", "hall"), {"height_m": "tall"}, "height_m", "must be a length"),
        (Target("room", "hall"), {"name": " "}, "name", "is needed"),
        (Target("room", "hall"), {"id": "kitchen"}, "id", "already"),
        (Target("room", "hall"), {"id": "The Hall"}, "id", "a-z, 0-9 and -"),
        (Target("room", "hall"), {"outline_m": "e 1 n 1 w 1"}, "outline_m", "beside size"),
        (Target("room", "hall"), {"fixed": "Oak, oaken"}, "fixed", "none of these: Oak boards"),
        (Target("paint"), {"name": "Reed"}, "colour", "is needed"),
        (Target("paint", "oat"), {"lrv": "120"}, "lrv", "at most 100"),
        (Target("window", "front", "hall"), {"along_m": "1.2"}, "along_m", "width reach 2.4"),
        (Target("window", "front", "hall"), {"wall": "5"}, "wall", "none of these: n, e, s, w"),
        (Target("opening", "hall-kitchen"), {"wall": "7"}, "wall", "must be a wall"),
        (Target("opening", "hall-kitchen"), {"between.1": "Hall"}, "between.0", "two different"),
        (Target("lamp", "pendant", "hall"), {"at_m": "9 1 2"}, "at_m", "must lie in the room"),
        (Target("visit"), {"id": "hall"}, "id", "already"),
    ],
)
def test_what_is_wrong_is_told_at_its_field(
    target: Target, typed: dict[str, str], key: str, says: str
) -> None:
    texts: Any = {name.replace(".", "__"): text for name, text in typed.items()}
    found = faults(target, **texts)
    assert says in found.faults[key]


def test_what_no_longer_fits_elsewhere_is_told_as_well() -> None:
    found = faults(Target("room", "hall"), size_m="1 x 1")
    assert any("window" in text or "opening" in text for text in found.others)


def test_rules_speak_of_metres_where_the_screen_shows_feet() -> None:
    feet = replace(SMALL, units="ft")
    found = faults(Target("window", "front", "hall"), feet, along_m="4'")
    assert found.faults["along_m"].endswith("(in metres)")


# In words


def test_an_edit_is_labelled_by_what_was_typed() -> None:
    assert draft_of(Target("room", "hall"), height_m="2.5", use="o").label == "Hall: use, height"
    assert draft_of(Target("paint"), name="Reed", colour="5Y 7/1").label == "New paint: Reed"
    assert draft_of(Target("opening", "hall-kitchen"), width_m="1").label == (
        "Hall to Kitchen: width"
    )


def test_choices_are_written_out_when_their_field_is_left() -> None:
    draft = draft_of(Target("room", "hall"), use="off")
    field = next(of for of in draft.form.fields if of.key == "use")
    assert draft.tidied(field).text(field) == "office"
    vague = draft.with_text(field, "o")
    assert vague.tidied(field).text(field) == "o"


def test_what_was_typed_is_laid_over_a_house_that_changed_meanwhile() -> None:
    draft = draft_of(Target("room", "hall"), height_m="2.5")
    changed = made(Target("room", "hall"), use="living")
    again = draft.over(Form(Target("room", "hall"), changed)).made
    assert again.house is not None
    assert (again.house.rooms["hall"].use, again.house.rooms["hall"].height_m) == ("living", 2.5)


# What there is


def test_a_room_lists_what_belongs_to_it_and_what_can_be_added() -> None:
    parts = parts_of_room(SMALL, "hall")
    titles = {part.title for part in parts}
    assert {"Hall", "to Kitchen", "front", "pendant", "w", "to Study"} <= titles
    assert {f"+ add {each}" for each in ("an opening", "a window", "a lamp", "an accent")} <= titles
    assert sum(part.group == "opening" for part in parts) == 1


def test_a_house_lists_every_entity() -> None:
    listed = {part.target for part in parts_of_house(SMALL, 0)}
    expected = {Target(kind, key) for kind, attr in ATTR_OF.items() for key in getattr(SMALL, attr)}
    assert expected | {Target(WHOLE)} <= listed


@given(houses())
def test_any_house_can_be_listed(house: House) -> None:
    for part in parts_of_house(house, 0):
        assert part.title
    for room in house.rooms:
        parts = parts_of_room(house, room)
        assert all(part.title for part in parts)
        assert len({part.target for part in parts}) == len(parts)


def test_deleting_asks_nothing_of_what_nothing_uses() -> None:
    lone = replace(SMALL, rooms={**SMALL.rooms, "attic": Room("Attic")})
    assert "attic" not in Target("room", "attic").without(lone).rooms
    assert "front" not in Target("window", "front", "hall").without(SMALL).rooms["hall"].windows
    without = Target("room", "hall").without(SMALL, uses=True)
    assert problems(without) == ()
    assert not without.openings


@pytest.mark.parametrize(
    ("units", "key", "typed", "asked"),
    [
        ("m", "height_m", "9", "9 m, or 9 ft? Write the unit"),
        ("m", "height_m", "99", "99 m, or 99 ft? Write the unit"),
        ("ft", "height_m", "96", "96 ft, or 96 in? Write the unit"),
        ("m", "size_m", "30 x 4", "30 m, or 30 ft? Write the unit"),
    ],
)
def test_a_length_beyond_the_usual_is_asked_about(
    units: Units, key: str, typed: str, asked: str
) -> None:
    house = replace(SMALL, units=units)
    assert faults(Target("room", "hall"), house, **{key: typed}).faults == {key: asked}


def test_with_its_unit_it_is_taken() -> None:
    assert made(Target("room", "hall"), height_m="9 ft").rooms["hall"].height_m == 2.7432
    assert made(Target("room", "hall"), height_m="6.5 m").rooms["hall"].height_m == 6.5


@pytest.mark.parametrize(("typed", "use"), [({}, "bathroom"), ({"use": "office"}, "office")])
def test_a_new_room_has_the_use_of_its_name_until_another_is_typed(
    typed: dict[str, str], use: str
) -> None:
    draft = Draft(Form(Target("room"), small_house()), {"name": "Loo", **typed})
    for each in draft.form.fields:
        draft = draft.tidied(each)
    assert draft.made.house is not None
    assert draft.made.house.rooms["loo"].use == use


@pytest.mark.parametrize(
    ("level", "use", "typed", "kind", "door"),
    [
        (0, "office", {}, "doorway", "open"),
        (0, "outdoor", {}, "doorway", "shut"),
        (0, "outdoor", {"kind": "glazed"}, "glazed", "open"),
        (1, "office", {}, "stairs", "open"),
        (1, "office", {"kind": "cased"}, "cased", "open"),
    ],
)
def test_a_new_opening_is_what_its_rooms_make_usual_until_it_is_typed(
    level: int, use: Use, typed: dict[str, str], kind: str, door: str
) -> None:
    house = small_house()
    study = replace(house.rooms["study"], level=level, use=use)
    house = replace(house, rooms={**house.rooms, "study": study})
    typed = {"between.0": "Kitchen", "between.1": "Study", "kind": "doorway"} | typed
    if kind == "stairs":
        del typed["kind"]
    draft = Draft(Form(Target("opening"), house), typed)
    for each in draft.form.fields:
        draft = draft.tidied(each)
    texts = {of.key: draft.text(of) for of in draft.form.fields}
    assert (texts["kind"], texts["door"]) == (kind, door)


def test_a_new_floor_is_typed_by_its_name_and_colour_into_the_form_of_its_room() -> None:
    house = made(Target("room", "hall"), floor="Ash boards 10YR 6/4", fixed="black worktop")
    floor = str(house.rooms["hall"].floor)
    assert (house.finishes[floor].name, house.finishes[floor].colour) == (
        "Ash boards", Notation("10YR 6/4")
    )  # fmt: skip
    assert [house.finishes[key].name for key in house.rooms["hall"].fixed] == ["Black worktop"]
    draft = draft_of(Target("room", "hall"), floor="Ash boards 10YR 6/4")
    assert draft.label == "Hall: floor; new finish Ash boards"
    again = made(Target("room", "kitchen"), house, floor="ash boards")
    assert again.finishes == house.finishes
    assert again.rooms["kitchen"].floor == floor
    found = faults(Target("room", "hall"), floor="slate").faults["floor"]
    assert found.startswith('"slate" is none of these: ')
    assert found.endswith(f"; a new one with its colour, as in {COLOURS}")


@pytest.mark.parametrize(
    ("text", "colour"),
    [("#dbaacb", Srgb("#dbaacb")), ("light brown", Notation("5.5YR 5.5/4.5"))],
)
def test_a_colour_is_typed_as_a_hex_of_letters_alone_or_as_a_name(
    text: str, colour: ColourSource
) -> None:
    house = made(Target("state", None, "hall"), id="walls", colour=text)
    assert house.rooms["hall"].states["walls"].colour == colour


def test_a_colour_that_is_none_says_what_would_be_one() -> None:
    found = faults(Target("state", None, "hall"), id="walls", colour="brown-ish").faults
    assert found["colour"] == f'"brown-ish" is no colour: write it as {COLOURS}'


def test_what_is_on_the_walls_now_is_noted_in_a_form_and_is_no_plan() -> None:
    new = Target("state", None, "hall")
    house = made(new, id="walls", colour="pale yellow", condition="worn")
    state = house.rooms["hall"].states["walls"]
    assert (state.colour, state.condition) == (Notation("2.5Y 8.8/3.5"), "worn")
    assert house.rooms["hall"].paints == SMALL.rooms["hall"].paints
    assert "old coat" in [part.group for part in parts_of_room(SMALL, "hall")]
    listed = next(p for p in parts_of_room(house, "hall") if p.target.key == "walls")
    assert listed.words == "2.5Y 8.8/3.5, worn"
    other = made(Target("state", "walls", "hall"), house, colour="", paint="oat")
    assert other.rooms["hall"].states["walls"].paint
