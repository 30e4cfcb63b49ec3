"""What differs is told entity by entity and field by field."""

from dataclasses import replace

from hypothesis import given

from housemap.file.diff import diff
from housemap.model import edits
from housemap.model.colour import Lab
from housemap.model.house import House
from housemap.model.text import is_hidden
from tests.support.houses import paint, small_house
from tests.support.strategies import houses


def told(before: House, after: House) -> list[str]:
    return [str(change) for change in diff(before, after)]


def test_a_changed_value_is_told_with_its_place() -> None:
    house = edits.assign(small_house(), "kitchen", "walls", "oat")
    house = edits.change_entity(house, "rooms", "hall", height_m=2.5)
    assert told(small_house(), house) == [
        'room "hall": height was 2.4, is 2.5',
        'room "kitchen": paints.walls was "moss", is "oat"',
    ]


def test_what_came_and_what_went_is_told() -> None:
    house = edits.put(small_house(), "paints", "tar", paint("#222222", "Tar Rope"))
    house = edits.remove_part(house, "hall", "lamps", "pendant")
    house = edits.set_limit(house, "jar", "open", 18.0)
    assert told(small_house(), house) == [
        "limits: jar is new: { open = 18 }",
        'paint "tar": is new: "Tar Rope"',
        'room "hall", lamp "pendant": is gone: { lumens = 1400, kelvin = 2700, aim = "down" }',
    ]


def test_a_colour_is_one_value_however_it_is_given() -> None:
    oat = replace(small_house().paints["oat"], colour=Lab((83.0, 0.0, 7.0), "D50/2"))
    house = edits.put(small_house(), "paints", "oat", oat)
    assert told(small_house(), house) == [
        'paint "oat": colour was srgb "#d9d0bf", is lab [83, 0, 7], observed "D50/2"'
    ]


def test_values_are_told_on_one_line_and_short() -> None:
    house = edits.change(small_house(), notes="first\nsecond " + "x" * 500)
    (line,) = told(small_house(), house)
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
