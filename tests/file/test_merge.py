"""Two people's work on one house is put together, or the choice is put to somebody."""

from contextlib import suppress
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.errors import EditError
from housemap.file.merge import (
    SIDES,
    Change,
    Conflict,
    Merge,
    Side,
    described,
    diff,
    merge,
    merge_files,
    unsettled,
    value_text,
    without_marks,
)
from housemap.file.reader import HouseFile, parse_house
from housemap.file.writer import dump_house
from housemap.model import edits
from housemap.model.house import House, Lab, Notation, Scheme, Srgb
from housemap.model.text import is_hidden
from housemap.model.validation import problems, sentence
from tests.support.edited import edited
from tests.support.houses import paint, room, small_house
from tests.support.strategies import houses

BASE = small_house()


def told(merged: Merge) -> list[str]:
    return [_told(conflict) for conflict in merged.conflicts]


def _told(of: Conflict) -> str:
    sent, yours, theirs = (value_text(of.field, each) for each in (of.base, of.mine, of.theirs))
    return sentence(of.path, f"was {sent} as sent, yours is {yours}, theirs is {theirs}")


def test_what_each_changed_apart_is_put_together() -> None:
    mine = edits.assign(BASE, "kitchen", "walls", "oat")
    theirs = edits.change_entity(BASE, "rooms", "kitchen", height_m=2.6)
    theirs = edits.put(theirs, "paints", "tar", paint("#222222", "Tar Rope"))
    merged = merge(BASE, mine, theirs)
    assert merged.conflicts == ()
    assert merged.house.rooms["kitchen"].paints.walls == "oat"
    assert merged.house.rooms["kitchen"].height_m == 2.6
    assert "tar" in merged.house.paints


def test_what_both_changed_alike_is_no_conflict() -> None:
    both = edits.assign(BASE, "kitchen", "walls", "oat")
    assert merge(BASE, both, both) == Merge(both, ())


def test_one_value_changed_apart_is_a_conflict_with_all_three() -> None:
    mine = edits.assign(BASE, "kitchen", "walls", "oat")
    theirs = edits.assign(BASE, "kitchen", "walls", "chalk")
    merged = merge(BASE, mine, theirs)
    assert told(merged) == [
        'room "kitchen": paints.walls was "moss" as sent, yours is "oat", theirs is "chalk"'
    ]
    assert merged.house == mine
    assert merge(BASE, mine, theirs, {merged.conflicts[0].path: "theirs"}) == Merge(theirs, ())
    assert merge(BASE, mine, theirs, {merged.conflicts[0].path: "base"}) == Merge(BASE, ())


def test_a_colour_is_merged_whole() -> None:
    oat = BASE.paints["oat"]
    mine = edits.put(BASE, "paints", "oat", replace(oat, colour=Srgb("#ffffff")))
    theirs = edits.put(BASE, "paints", "oat", replace(oat, colour=Notation("5Y 8/2")))
    merged = merge(BASE, mine, theirs)
    (line,) = told(merged)
    assert line.startswith(
        'paint "oat": colour was srgb "#d9d0bf" as sent, yours is srgb "#ffffff"'
    )
    assert line.endswith(', theirs is notation "5Y 8/2"')


def test_lists_without_rank_take_what_either_added_and_lose_what_either_removed() -> None:
    mine = edits.change_entity(BASE, "paints", "oat", tins=(0.75, 2.5, 5.0, 10.0))
    theirs = edits.change_entity(BASE, "paints", "oat", tins=(2.5, 5.0, 20.0))
    merged = merge(BASE, mine, theirs)
    assert merged.conflicts == ()
    assert merged.house.paints["oat"].tins == (2.5, 5.0, 10.0, 20.0)


def test_a_paint_that_one_removed_and_the_other_used_is_a_conflict() -> None:
    base = edits.put(BASE, "paints", "tar", paint("#222222", "Tar Rope"))
    mine = edits.remove(base, "paints", "tar")
    theirs = edits.assign(base, "study", "trim", "tar")
    merged = merge(base, mine, theirs)
    assert told(merged) == [
        'paint "tar": was "Tar Rope" as sent, yours is nothing, theirs is "Tar Rope"',
        'room "study": paints.trim was nothing as sent, yours is nothing, theirs is "tar"',
    ]
    assert merged.house == mine
    of_paint, of_trim = (conflict.path for conflict in merged.conflicts)
    kept = merge(base, mine, theirs, {of_paint: "theirs", of_trim: "theirs"})
    assert kept == Merge(theirs, ())
    with pytest.raises(EditError, match=r'paints\.trim names the paint "tar", which is not'):
        merge(base, mine, theirs, {of_paint: "mine", of_trim: "theirs"})


def test_a_window_that_no_longer_fits_its_wall_is_a_conflict() -> None:
    mine = edits.change_entity(BASE, "rooms", "hall", size_m=(1.5, 5.2))
    window = replace(BASE.rooms["hall"].windows["front"], width_m=1.5)
    theirs = edits.put_part(BASE, "hall", "windows", "front", window)
    merged = merge(BASE, mine, theirs)
    assert {conflict.path for conflict in merged.conflicts} >= {
        ("room", "hall", "window", "front", "width")
    }
    assert problems(merged.house) == ()


def test_two_rooms_put_in_one_place_are_a_conflict() -> None:
    mine = edits.put(BASE, "rooms", "a", room("A", size_m=(3.0, 3.0), at_m=(20.0, 0.0)))
    theirs = edits.put(BASE, "rooms", "b", room("B", size_m=(3.0, 3.0), at_m=(21.0, 0.0)))
    merged = merge(BASE, mine, theirs)
    assert merged.conflicts
    assert problems(merged.house) == ()


def test_a_renamed_room_takes_the_other_ones_changes() -> None:
    mine = edits.rename(BASE, "rooms", "hall", "entry")
    theirs = edits.assign(BASE, "hall", "trim", "chalk")
    merged = merge(BASE, mine, theirs)
    assert merged.conflicts == ()
    assert merged.house == edits.assign(mine, "entry", "trim", "chalk")
    both = merge(BASE, mine, edits.rename(BASE, "rooms", "hall", "corridor"))
    assert (both.conflicts, set(both.house.rooms)) == ((), {"corridor", "kitchen", "study"})


def test_one_id_given_to_two_things_is_a_conflict() -> None:
    mine = edits.put(BASE, "paints", "new", paint("#111111", "Soot"))
    theirs = edits.put(BASE, "paints", "new", paint("#eeeeee", "Flour"))
    merged = merge(BASE, mine, theirs)
    assert told(merged) == ['paint "new": was nothing as sent, yours is "Soot", theirs is "Flour"']
    assert merged.house == mine


def check(base: House, mine: House, theirs: House) -> None:
    merged, turned = merge(base, mine, theirs), merge(base, theirs, mine)
    assert problems(merged.house) == ()
    assert [(c.path, c.base, c.mine, c.theirs) for c in merged.conflicts] == [
        (c.path, c.base, c.theirs, c.mine) for c in turned.conflicts
    ]
    if not merged.conflicts:
        assert merged.house == turned.house


courses = houses(max_rooms=3).flatmap(lambda h: st.tuples(st.just(h), edited(h), edited(h)))


@given(courses)
def test_any_two_courses_of_edits_merge_to_a_legal_house(drawn: tuple[House, House, House]) -> None:
    base, mine, theirs = drawn
    check(base, mine, theirs)
    assert merge(base, mine, base) == Merge(mine, ())
    assert merge(base, base, theirs) == Merge(theirs, ())
    assert merge(base, mine, mine) == Merge(mine, ())


@settings(max_examples=50)
@given(houses(max_rooms=2), houses(max_rooms=2), houses(max_rooms=2))
def test_any_three_houses_merge_to_a_legal_house(base: House, mine: House, theirs: House) -> None:
    check(base, mine, theirs)
    assert merge(base, mine, base) == Merge(mine, ())
    assert merge(base, base, theirs) == Merge(theirs, ())


@given(courses, st.sampled_from(SIDES))
def test_choices_settle_conflicts_or_are_refused(
    drawn: tuple[House, House, House], side: Side
) -> None:
    base, mine, theirs = drawn
    conflicts = merge(base, mine, theirs).conflicts
    choices: dict[tuple[str, ...], Side] = {}
    for conflict in conflicts:
        choices[conflict.path] = side
    with suppress(EditError):
        settled = merge(base, mine, theirs, choices)
        assert problems(settled.house) == ()
        assert not choices.keys() & {conflict.path for conflict in settled.conflicts}


# What differs is differences entity by entity and field by field.


def differences(before: House, after: House) -> list[str]:
    return [as_line(change) for change in diff(before, after)]


def as_line(change: Change) -> str:
    old, new = (value_text(change.field, each) for each in (change.before, change.after))
    if change.before is None:
        return sentence(change.path, f"is new: {new}")
    gone = change.after is None
    return sentence(change.path, f"is gone: {old}" if gone else f"was {old}, is {new}")


def test_a_changed_value_is_told_with_its_place() -> None:
    house = edits.assign(small_house(), "kitchen", "walls", "oat")
    house = edits.change_entity(house, "rooms", "hall", height_m=2.5)
    assert differences(small_house(), house) == [
        'room "hall": height was 2.4, is 2.5',
        'room "kitchen": paints.walls was "moss", is "oat"',
    ]


def test_what_a_scheme_leaves_unpainted_is_told_and_merged() -> None:
    house = edits.make_scheme(edits.assign(small_house(), "study", "walls", None), "Bare")
    mine, theirs = (
        edits.put(house, "schemes", "bare", in_scheme(house, "study", **{surface: "oat"}))
        for surface in ("walls", "doors")
    )
    assert differences(house, mine) == ['scheme "bare": paints.study.walls was unpainted, is "oat"']
    merged = merge(house, mine, theirs)
    study = merged.house.schemes["bare"].paints["study"]
    assert (study.walls, study.doors, merged.conflicts) == ("oat", "oat", ())


def in_scheme(house: House, room: str, **paints: Any) -> Scheme:
    held = house.schemes["bare"]
    return replace(held, paints={**held.paints, room: replace(held.paints[room], **paints)})


def test_what_came_and_what_went_is_told() -> None:
    house = edits.put(small_house(), "paints", "tar", paint("#222222", "Tar Rope"))
    house = edits.remove_part(house, "hall", "lamps", "pendant")
    house = edits.set_limit(house, "jar", "open", 18.0)
    assert differences(small_house(), house) == [
        "limits: jar is new: { open = 18 }",
        'paint "tar": is new: "Tar Rope"',
        'room "hall", lamp "pendant": is gone: { lumens = 1400, kelvin = 2700, aim = "down" }',
    ]


def test_a_colour_is_one_value_however_it_is_given() -> None:
    oat = replace(small_house().paints["oat"], colour=Lab((83.0, 0.0, 7.0), "D50/2"))
    house = edits.put(small_house(), "paints", "oat", oat)
    assert differences(small_house(), house) == [
        'paint "oat": colour was srgb "#d9d0bf", is lab [83, 0, 7], observed "D50/2"'
    ]


def test_values_are_told_on_one_line_and_short() -> None:
    house = edits.change(small_house(), notes="first\nsecond " + "x" * 500)
    (line,) = differences(small_house(), house)
    assert line.startswith(r'house: notes was "", is "first\nsecond xxx')
    assert len(line) < 120
    assert line.isprintable()


@given(houses(), houses())
def test_two_houses_differ_exactly_when_there_is_something_to_tell(a: House, b: House) -> None:
    assert diff(a, a) == ()
    assert bool(diff(a, b)) == (a != b)
    there, back = diff(a, b), diff(b, a)
    assert [(c.path, c.before, c.after) for c in there] == [
        (c.path, c.after, c.before) for c in back
    ]
    assert not any(is_hidden(letter) for change in there for letter in str(change))


def as_file(text: str) -> HouseFile:
    return HouseFile(parse_house(text), text.encode())


def test_files_are_merged_with_their_comments() -> None:
    text = '# one\nformat = 1\n[paint.oat] # sure\nname = "Oat"\nsrgb = "#d9d0bf"\n'
    mine = text.replace("# one", "# one\n# two").replace("# sure", "")
    theirs = text.replace('"Oat"', '"Oat Ladle" # renamed')
    merged, of = merge_files(as_file(text), as_file(mine), as_file(theirs))
    assert merged == (
        '# one\n# two\nformat = 1\n\n[house]\n\n[paint.oat]\nname = "Oat Ladle" # renamed\n'
        'srgb = "#d9d0bf"\n'
    )
    assert of.conflicts == ()


# A file in which both sides are shown


def file_of(house: House) -> HouseFile:
    return HouseFile(house, dump_house(house).encode())


@given(houses(), st.data())
def test_what_both_changed_can_be_chosen_later_from_the_file_alone(
    base: House, data: st.DataObject
) -> None:
    mine, theirs = data.draw(edited(base)), data.draw(edited(base))
    text, merged = merge_files(file_of(base), file_of(mine), file_of(theirs))
    assert parse_house(text) == merged.house
    later = unsettled(text.encode())
    assert (later is None) == (not merged.conflicts)
    if later is not None:
        again = merge(*later)
        assert {each.path for each in again.conflicts} == {each.path for each in merged.conflicts}
        assert again.house == merged.house
    assert parse_house(without_marks(text.encode()).decode()) == merged.house


def test_both_sides_stand_above_the_place_that_both_changed() -> None:
    mine = edits.change_entity(BASE, "rooms", "hall", height_m=2.5)
    theirs = edits.change_entity(BASE, "rooms", "hall", height_m=2.7)
    text, _ = merge_files(file_of(BASE), file_of(mine), file_of(theirs))
    mark = (
        '# Both changed it: { at = ["room", "hall", "height"], sent = { height = 2.4 },'
        " yours = { height = 2.5 }, theirs = { height = 2.7 } }"
    )
    assert f"{mark}\nheight = 2.5\n" in text
    assert unsettled(text.encode()) == (BASE, mine, theirs)
    assert without_marks(text.encode()).decode() == dump_house(mine)


@pytest.mark.parametrize(
    "mark",
    ["", "{", "{ at = 1 }", '{ at = ["room"] }', "[1]", '{ at = ["x"], sent = 1, yours = 2 }'],
)
def test_a_comment_that_is_not_ours_settles_nothing(mark: str) -> None:
    text = f"# Both changed it: {mark}\n{dump_house(BASE)}"
    assert unsettled(text.encode()) is None


def test_a_house_is_described_a_line_a_value() -> None:
    lines = described(BASE)
    assert 'room "hall": height 2.4' in lines
    assert 'room "kitchen": paints.walls "moss"' in lines
    assert described(House()) == ()
