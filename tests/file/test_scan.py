"""Keys are found where they stand, in every spelling that TOML knows."""

import tomllib

import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from housemap.file.scan import has_comments, scan

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
