"""House files are read whole, or every problem is told with its line."""

import json
import tomllib
from pathlib import Path
from random import Random

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from housemap.errors import HouseFileError
from housemap.file.reader import (
    MOST_BYTES,
    decode,
    has_comments,
    load_house,
    parse_house,
    read_house,
    scan,
)
from housemap.file.writer import dump_house
from housemap.model.house import House, Lab, Notation, Reflectance, Room, SpectralPower, Srgb, Xyz
from tests.support.houses import grid_house

DATA = Path(__file__).parent / "data"
VALID = sorted((DATA / "valid").glob("*.toml"))
INVALID = sorted((DATA / "invalid").glob("*.toml"))


def told(text: str) -> list[str]:
    with pytest.raises(HouseFileError) as caught:
        parse_house(text, "house.toml")
    return [str(problem) for problem in caught.value.problems]


def test_the_folders_of_example_files_are_not_empty() -> None:
    assert len(VALID) >= 4
    assert len(INVALID) >= 12


@pytest.mark.parametrize("path", VALID, ids=lambda path: path.stem)
def test_a_valid_file_is_read_and_written_back_equal(path: Path) -> None:
    house = read_house(path)
    assert parse_house(dump_house(house)) == house


@pytest.mark.parametrize("path", INVALID, ids=lambda path: path.stem)
def test_an_invalid_file_is_told_line_by_line(path: Path) -> None:
    with pytest.raises(HouseFileError) as caught:
        parse_house(decode(path.read_bytes(), "house.toml"), "house.toml")
    assert str(caught.value) == path.with_suffix(".txt").read_text().rstrip("\n")
    assert all(problem.line for problem in caught.value.problems)


def test_every_key_of_the_format_is_understood() -> None:
    house = read_house(DATA / "valid" / "everything.toml")
    assert house.paints["oat"].colour == Srgb("#d9d0bf")
    assert house.paints["chalk"].colour == Lab((95.0, -0.5, 2.5), "D50/2")
    assert house.paints["pebble"].colour == Xyz((60.1, 63.2, 66.0))
    assert house.paints["moss"].colour == Notation("7.5GY 4/2")
    spectrum = Reflectance(400.0, 50.0, (0.2, 0.3, 0.4, 0.35, 0.3, 0.25, 0.2))
    assert house.paints["tide"].colour == spectrum
    assert house.limits == {"jar": {"open": 18.0, "cased": 25.0}, "near-miss": {"low": 1.5}}
    assert house.notes == "Two storeys.\nClient is at home after six."
    assert (house.units, house.low_vision, house.wall_thickness_m) == ("ft", True, 0.0)
    assert house.rooms["lounge"].windows["garden"].wall == "1"
    assert house.rooms["hall"].sheens.trim == "satin"
    assert house.openings["hall-lounge"].to_wall == "5"


def test_wishes_schemes_and_papers_are_understood() -> None:
    house = read_house(DATA / "valid" / "brief-schemes-and-papers.toml")
    assert (house.brief.strength, house.brief.like) == ("greyish", ("blue", "yellow green"))
    assert house.brief.rooms["study"].keep
    assert house.schemes["quiet"].paints["hall"].accents == {"n": "ink"}
    assert house.accepted["jar-hall-study"].rooms == ("hall", "study")
    assert house.paints["oat"].product("trim", "satin") == "Water-based satin"
    hall = house.rooms["hall"]
    assert hall.states["walls"].colour == Notation("5Y 7/1")
    assert hall.pieces["sofa"].finish == "linen"
    assert hall.lamps["a"].power == SpectralPower(400.0, 100.0, (1.0, 2.0, 3.0, 2.0))
    assert house.openings["hall-study"].into == "study"
    assert house.client.rates == (("walls", 12.0), ("skirting", 4.0))
    assert house.issues["1"].said["hall"] == {"walls": "Stubble Row, matt"}


def test_a_byte_order_mark_and_windows_newlines_are_taken() -> None:
    house = read_house(DATA / "valid" / "byte-order-mark-and-crlf.toml")
    assert (house.name, house.notes) == ("Mill Yard 3", "two\nlines")


def test_a_decomposed_name_is_read_in_its_composed_form() -> None:
    text = 'format = 1\n[room.a]\nname = "Cafe\u0301"\n'
    assert parse_house(text).rooms == {"a": Room("Caf\u00e9")}


def test_defaults_are_those_of_the_format() -> None:
    assert parse_house("format = 1\n") == House()


@pytest.mark.parametrize(
    ("text", "told_as"),
    [
        ("format = '1'", 'house.toml:1: format must be 1, found "1"'),
        ("\n\nformat = true", "house.toml:3: format must be 1, found true"),
        ("format = 1.0", "house.toml:1: format must be 1, found 1.0"),
        ("format = 0", "house.toml:1: format must be 1, found 0"),
        (f"x = {'[' * 5000}", "house.toml: values are nested too deeply"),
        (f"{'a.' * 40}b = 1", "house.toml:1: a key has more than 6 parts"),
        (f"[{'a . ' * 40}b]", "house.toml:1: a key has more than 6 parts"),
        ("a = [", "house.toml:1: not TOML: Invalid value, at the end of the file"),
    ],
)
def test_what_cannot_be_read_at_all_is_one_line(text: str, told_as: str) -> None:
    assert told(text) == [told_as]


def test_a_number_too_long_to_read_is_one_line() -> None:
    assert len(told("format = 1\n[house]\nbuilt = " + "9" * 5000)) == 1
    lines = told("format = 1\n[house]\nnorth = 0x" + "f" * 5000)
    assert lines == ["house.toml:3: house: north must be a finite number, found inf"]


def test_many_dots_in_a_note_or_a_spectrum_are_no_long_key() -> None:
    dots = ".a" * 100
    values = ", ".join(["0.5"] * 80)
    text = f'format = 1\n[house]\nnotes = "{dots}"\n[paint.p]\nname = "P"\n'
    text += f"reflectance = {{ start = 380, step = 5, values = [{values}] }}\n"
    assert parse_house(text).notes == dots


def test_no_more_than_200_problems_are_told() -> None:
    lines = told("format = 1\n" + "".join(f"[room.r{i}]\n" for i in range(500)))
    assert len(lines) == 201
    assert lines[0] == 'house.toml:2: room "r0": name is missing'
    assert lines[-1] == "house.toml: and 300 more problems"


def test_more_problems_than_anybody_reads_are_not_counted() -> None:
    lines = told("format = 1\n" + "".join(f"k{i} = 1\n" for i in range(50_000)))
    assert len(lines) == 201
    assert lines[-1] == "house.toml: and many more problems"


def test_a_table_with_too_many_entries_is_one_line() -> None:
    text = "format = 1\n[paint]\n" + "".join(f"p{i}.x=1\n" for i in range(10_001))
    assert told(text) == ["house.toml:2: paint must have at most 10000 entries, found 10001"]


def test_rooms_are_not_blamed_for_paints_that_were_too_many_to_read() -> None:
    paints = "".join(f'[paint.p{n}]\nname = "P"\nsrgb = "#cccccc"\n' for n in range(10_001))
    text = f'format = 1\n{paints}[room.hall]\nname = "Hall"\npaints = {{ walls = "p7" }}\n'
    assert told(text) == ["house.toml:2: paint must have at most 10000 entries, found 10001"]


def test_what_is_no_readable_file_is_one_line(tmp_path: Path) -> None:
    for name, text in [
        ("none.toml", "cannot be read: No such file or directory"),
        ("", "cannot be read: Is a directory"),
        ("nul\0.toml", "cannot be read: its name cannot be used"),
    ]:
        with pytest.raises(HouseFileError, match=text) as caught:
            read_house(f"{tmp_path}/{name}")
        assert len(caught.value.problems) == 1
        assert str(caught.value).isprintable()


def test_a_file_above_the_limit_is_refused_by_its_size_alone(tmp_path: Path) -> None:
    large = tmp_path / "large.toml"
    large.write_bytes(b"# padding\n" * (10 * 2**20 // 10))
    with pytest.raises(HouseFileError, match="is too large: a house file is at most 2 MiB"):
        read_house(large)
    assert len(dump_house(grid_house(2000)).encode()) < MOST_BYTES / 2


def test_the_bytes_of_the_file_are_kept_for_the_save(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_text("format = 1 # by hand\n")
    loaded = load_house(path)
    assert (loaded.text, loaded.data) == ("format = 1 # by hand\n", b"format = 1 # by hand\n")
    path.write_text("format = 1\n")
    assert load_house(path).fingerprint != loaded.fingerprint


def outcome(data: bytes) -> list[str]:
    """Return the lines told of a file, none if it is a house."""
    try:
        parse_house(decode(data, "house.toml"), "house.toml")
    except HouseFileError as error:
        return [str(problem) for problem in error.problems]
    return []


KEYS = (
    "house", "paint", "finish", "room", "opening", "sightline", "sample", "visit", "limits",
    "name", "size", "outline", "at", "height", "paints", "walls", "fixed", "accent", "window",
    "lamp", "wall", "along", "lab", "xyz", "srgb", "reflectance", "values", "observed", "notation",
    "between", "kind", "stop", "door", "when", "level", "0", "n", "a", "", "\u202e", "a b",
)  # fmt: skip
ATOMS = (
    "0", "-1", "1e308", "nan", "-inf", "true", '""', '"n"', '"a"', '"#ffffff"', '"5Y 7/1"',
    '"\\u0000"', "2026-05-02", "10:00:00", "2026-05-02T10:00:00Z", "9" * 30, "0x" + "f" * 300,
    "[]", "{}", "[[]]", "[1, 2]", "[[0, 0], [1, 0], [1, 1]]", '["a", "a"]', '[1, "a", {}]',
)  # fmt: skip


def any_value(random: Random, depth: int) -> str:
    if depth and random.random() < 0.8:
        keys = random.sample(KEYS, random.randint(0, 6))
        pairs = (f"{json.dumps(key)} = {any_value(random, depth - 1)}" for key in keys)
        return f"{{ {', '.join(pairs)} }}"
    return random.choice(ATOMS)


@given(st.integers(0, 2**32))
def test_any_toml_is_a_house_or_lines(seed: int) -> None:
    random = Random(seed)
    lines = [f"{json.dumps(key)} = {any_value(random, 3)}" for key in random.sample(KEYS, 6)]
    told_of = outcome("\n".join(["format = 1", *lines]).encode())
    assert all(line.startswith("house.toml:") and line.isprintable() for line in told_of)


@given(st.binary(max_size=200), st.integers(0, 2000), st.integers(0, 40))
def test_a_damaged_file_is_a_house_or_lines(junk: bytes, at: int, cut: int) -> None:
    whole = (DATA / "valid" / "everything.toml").read_bytes()
    damaged = whole[:at] + junk + whole[at + cut :]
    assert all(line.startswith("house.toml:") for line in outcome(damaged))


# Keys are found where they stand, in every spelling that TOML knows.

TRICKY = '''\
format = 1 # first
"a b".'c.d' = "= # no comment"
many = """
[not.a.table]
k = 1 # no comment \\"""
""" # a comment
list = [ # one
  1, 2, # two
  [3, {x = 1, "y.z".w = 2}],
]
[room.hall] # hall
size = [1.8,
        5.2]
literal = \'\'\'it's "quoted" # no\'\'\'
[[wing]]
n = 1
[[wing]]
n = 2
[wing.part]
when = 2026-05-02 10:00:00
'''


def test_each_key_has_its_line_in_every_spelling() -> None:
    lines = scan(TRICKY).lines
    assert lines["format",] == 1
    assert lines["a b", "c.d"] == 2
    assert lines["many",] == 3
    assert lines["list", "1"] == 8
    assert lines["list", "2", "1", "y.z", "w"] == 9
    assert lines["room",] == lines["room", "hall"] == 11
    assert lines["room", "hall", "size", "1"] == 13
    assert lines["room", "hall", "literal"] == 14
    assert lines["wing", "0", "n"] == 16
    assert lines["wing", "1", "n"] == 18
    assert lines["wing", "1", "part", "when"] == 20


def test_what_has_no_line_of_its_own_stands_at_what_is_around_it() -> None:
    places = scan(TRICKY)
    assert places.line_of(("room", "hall", "height")) == 11
    assert places.line_of(("room", "hall", "size", "7")) == 12
    assert places.line_of(("nowhere",)) is None


def test_comments_are_found_and_hashes_in_text_are_none() -> None:
    assert scan(TRICKY).comments == [
        (1, "# first"), (6, "# a comment"), (7, "# one"), (8, "# two"), (11, "# hall"),
    ]  # fmt: skip
    assert has_comments(TRICKY)
    assert not has_comments('name = "# one"\n')
    assert not has_comments("x = 1\n")


def test_entries_take_the_lines_of_their_values() -> None:
    taken = {entry.path: (entry.first, entry.last) for entry in scan(TRICKY).entries}
    assert taken["many",] == (3, 6)
    assert taken["list",] == (7, 10)
    assert taken["room", "hall"] == (11, 11)
    assert taken["room", "hall", "size"] == (12, 13)


def test_deep_nesting_is_passed_over() -> None:
    text = "a = " + "[" * 200 + "]" * 200 + "\nb = {c = 1}\n"
    assert tomllib.loads(text)
    assert scan(text).lines["b", "c"] == 2


scalars = st.integers() | st.booleans() | st.text() | st.floats(allow_nan=False) | st.dates()
values = st.recursive(
    scalars, lambda v: st.lists(v, max_size=3) | st.dictionaries(st.text(), v, max_size=3)
)
documents = st.dictionaries(st.text(), values, max_size=4)


def paths(value: object, at: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    if isinstance(value, dict):
        inner = value.items()
    elif isinstance(value, list):
        inner = {str(i): each for i, each in enumerate(value)}.items()
    else:
        return set()
    return {p for key, each in inner for p in ((*at, key), *paths(each, (*at, key)))}


@given(documents, st.booleans())
def test_the_keys_found_are_those_of_tomllib(document: dict[str, object], several: bool) -> None:  # noqa: FBT001 - drawn
    text = tomli_w.dumps(document, multiline_strings=several)
    places = scan(text)
    assert set(places.lines) == paths(tomllib.loads(text))
    assert places.comments == []


@given(documents)
def test_a_key_stands_on_the_line_found_for_it(document: dict[str, object]) -> None:
    text = tomli_w.dumps(document)
    rows = text.split("\n")
    for entry in scan(text).entries:
        row = "\n".join(rows[entry.first - 1 : entry.last])
        assert tomllib.loads(row) is not None
