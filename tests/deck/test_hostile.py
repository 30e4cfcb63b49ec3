"""Damaged and hostile sources: a clear message or a sound reading, never anything else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.deck.reading import DeckReading
from housemap.deck.sources import read_bytes
from housemap.errors import InputError
from tests.support.decks import (
    SOURCES,
    cgats_lab,
    csv_source,
    cxf_lab,
    cxf_object,
    cxf_source,
    read_or_refused,
)

SMALL = {
    "csv": csv_source(),
    "semicolons": b'Name;Notes;LCh\n"Oat; pale";"two\ncoats";84,1 9,8 82\n',
    "utf-16": csv_source().decode().encode("utf-16"),
    "cgats": cgats_lab(['WEIGHTING_FUNCTION "ILLUMINANT, D65"'], ['"Oat" 84 1 9']).encode(),
    "json": b'[{"name": "Oat", "hex": "#d9d0bf"}, {"name": "Moss", "rgb": [64, 80, 48]}]',
    "list": b"#d9d0bf Oat\n#405030 Moss\n",
    "palette": b"Our Palette\n217 208 191 Oat\n64 80 48 Moss\n",
    "cxf": cxf_source(cxf_object("Oat", "o1", cxf_lab(84, 1, 9))),
}


BY_LINE = {"list", "palette"}
"""A line of these may be cut within its colour or its name and still be one."""


@pytest.mark.parametrize("kind", SMALL)
def test_a_file_cut_off_anywhere_is_refused_or_read_as_far_as_it_makes_sense(kind: str) -> None:
    whole = read_bytes(SMALL[kind], kind)
    for length in range(len(SMALL[kind])):
        found = read_or_refused(SMALL[kind][:length], kind)
        if isinstance(found, DeckReading) and kind not in BY_LINE:
            assert found.paints.keys() <= whole.paints.keys()


@pytest.mark.parametrize("kind", ["cgats", "cxf"])
def test_a_meter_file_cut_off_before_its_end_gives_nothing(kind: str) -> None:
    data = SOURCES[kind].rstrip()
    ending = {"cgats": b"END_DATA", "cxf": b"</cc:CxF>"}[kind]
    for length in range(len(data) - len(ending) + 1):
        with pytest.raises(InputError):
            read_bytes(data[:length], kind)


@given(st.binary(max_size=400))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    read_or_refused(data, "any")


kinds = st.sampled_from(sorted(SMALL))
edits = st.lists(
    st.tuples(st.floats(0, 1), st.integers(0, 6), st.binary(max_size=6)), min_size=1, max_size=5
)


@given(kinds, edits)
def test_a_damaged_file_is_read_or_refused(
    kind: str, damage: list[tuple[float, int, bytes]]
) -> None:
    data = SMALL[kind]
    for at, removed, added in damage:
        place = round(at * len(data))
        data = data[:place] + added + data[place + removed :]
    read_or_refused(data, kind)


cells = st.one_of(
    st.text(max_size=10),
    st.floats().map(str),
    st.sampled_from(
        ["Name", "Hex", "L*", "a*", "b*", "400", "R_700", "#d9d0bf", "5Y 7/1", "64%", "1,5",
         "D50/2", '"', "10 l", "12 m2/l", "1 2 3", "--", "\x00", "\x1b[31m", "\u202e", "sep=;"]
    ),
)  # fmt: skip
tables = st.lists(st.lists(cells, max_size=6), max_size=8)


@given(tables, st.sampled_from(",;\t|"))
def test_any_table_is_read_or_refused(table: list[list[str]], delimiter: str) -> None:
    text = "\n".join(delimiter.join(row) for row in table)
    read_or_refused(text.encode("utf-8", "replace"), "table")


words = st.one_of(
    st.text(max_size=6),
    st.sampled_from(
        ["BEGIN_DATA_FORMAT", "END_DATA_FORMAT", "BEGIN_DATA", "END_DATA", "SAMPLE_ID", "LAB_L",
         "LAB_A", "LAB_B", "nm400", "SPECTRAL_NM", "SPECTRAL_PCT", "84.1", "1", "\n", "\n", '"',
         "#", "NUMBER_OF_SETS", "ILLUMINANT", "D65", "M3", "SPECTRAL_NORM"]
    ),
)  # fmt: skip


@given(st.lists(words, max_size=40).map(" ".join))
def test_any_words_of_the_cgats_grammar_are_read_or_refused(text: str) -> None:
    data = ("CGATS.17\n" + text).encode("utf-8", "replace")
    read_or_refused(data, "words")


elements = st.sampled_from(
    ["Object", "ColorValues", "ReflectanceSpectrum", "ColorCIELab", "ColorSRGB", "CustomSpectrum",
     "SpectralPoint", "TagCollection", "Tag", "ColorSpecification", "L", "A", "B", "R", "MaxRange"]
)  # fmt: skip
attributes = st.dictionaries(
    st.sampled_from(["Name", "Id", "ColorSpecification", "StartWL", "WL", "Value", "Increment"]),
    st.sampled_from(["S1", "400", "-1", "1e9", "Code", "LRV", "", "9" * 30]),
    max_size=3,
)
contents = st.sampled_from(["", "84.1", "0.5 " * 31, "x", "&lt;", "1e400", "-0", "NaN"])


def element(parts: tuple[str, dict[str, str], str, list[str]]) -> str:
    tag, told, text, inner = parts
    words = "".join(f' {name}="{value}"' for name, value in told.items())
    return f"<cc:{tag}{words}>{text}{''.join(inner)}</cc:{tag}>"


trees = st.recursive(
    st.tuples(elements, attributes, contents, st.just([])).map(element),
    lambda inner: st.tuples(elements, attributes, contents, st.lists(inner, max_size=4)).map(
        element
    ),
    max_leaves=12,
)


@given(trees)
def test_any_elements_of_cxf_are_read_or_refused(tree: str) -> None:
    read_or_refused(cxf_source(tree), "tree")


@pytest.mark.parametrize("sign", ["(", "[", "1", "1 ", ",", '"', "R", "-", " ", "(1)", "per l "])
def test_a_cell_of_one_sign_over_and_over_takes_no_time_to_speak_of(sign: str) -> None:
    """A pattern that backtracks would hang here."""
    cell = sign * (90_000 // len(sign))
    read_or_refused(f"{cell}|Hex|Lab\n{cell[:1900]}|#d9d0bf|{cell[:1900]}\n".encode(), "deck")
    read_or_refused(cgats_lab([f"X {cell}"], [f"{cell} 84 1 9"]).encode(), "meter")


@pytest.mark.parametrize(
    "text",
    ["=cmd|' /C calc'!A0", "[bold]x[/bold]", "\x1b]0;x\x07", "../../etc/passwd", "{name}", "%s%n"],
)
def test_names_are_kept_as_text_or_cleaned(text: str) -> None:
    data = f'Name,Hex\n"{text}",#d9d0bf\n'.encode()
    reading = read_or_refused(data, "deck")
    assert isinstance(reading, DeckReading)
    (paint,) = reading.paints.values()
    assert paint.name == "".join(c for c in text if c.isprintable())
