"""Tables of paints: any delimiter, mark and order of columns, and nothing done unsaid."""

import coloraide
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.deck.reading import DeckReading
from housemap.errors import InputError
from housemap.model.house import Lab, Notation, Paint, Reflectance, Srgb, Xyz
from tests.support.decks import BANDS_NM, MOSS, OAT, numbers, read_table
from tests.support.science import SCIENCE


def only(reading: DeckReading) -> Paint:
    (paint,) = reading.paints.values()
    return paint


WHOLE = Paint(
    name="Oat Ladle",
    colour=Srgb("#d9d0bf"),
    code="A-102",
    lrv=64.5,
    deck="Fan 3",
    coverage=12.0,
    tins=(0.75, 2.5, 5.0),
    price=18.5,
    notes="two coats",
)
CELLS = {
    "Name": "Oat Ladle",
    "Code": "A-102",
    "Hex": "#D9D0BF",
    "LRV": "64.5",
    "Range": "Fan 3",
    "Coverage (m2/l)": "12",
    "Tins": "0.75; 2.5; 5",
    "Price per litre": "18.5",
    "Notes": "two coats",
}


@given(st.permutations(list(CELLS)), st.sampled_from(",\t|"))
def test_columns_may_stand_in_any_order(order: list[str], delimiter: str) -> None:
    reading = read_table(delimiter.join(order), delimiter.join(CELLS[header] for header in order))
    assert reading.paints == {"a-102": WHOLE}
    assert reading.format == ("tsv" if delimiter == "\t" else "csv")
    assert [column.header for column in reading.mapping] == order


@pytest.mark.parametrize(
    ("header", "row"),
    [
        ("Name;L*;a*;b*", "Oat;84,1;-1,25;9,8"),
        ("Name\tL*\ta*\tb*", "Oat\t84,1\t-1,25\t9,8"),
        ("Name,L*,a*,b*", 'Oat,"84,1","-1,25","9,8"'),
        ("Name,L*,a*,b*", "Oat,84.1,-1.25,9.8"),
        ("Name;Lab", "Oat;84,1 -1,25 9,8"),
    ],
)
def test_the_decimal_mark_is_found(header: str, row: str) -> None:
    assert only(read_table(header, row)).colour == Lab((84.1, -1.25, 9.8))


def test_a_decimal_comma_is_told() -> None:
    reading = read_table("Name;L*;a*;b*", "Oat;84,1;1,2;9,8")
    assert "decimals are marked by a comma" in reading.notes


def test_a_cell_with_the_other_mark_is_rejected() -> None:
    reading = read_table("Name;L*;a*;b*", "Oat;84,1;1,2;9,8", "Moss;44.5;1,2;9,8")
    assert [row.line for row in reading.rejected] == [3]
    assert "decimal comma" in reading.rejected[0].reason


def test_a_decimal_comma_that_is_also_the_delimiter_is_rejected_by_its_width() -> None:
    with pytest.raises(InputError, match="7 cells where there are 4 columns"):
        read_table("Name,L*,a*,b*", "Oat,84,1,1,2,9,8")


@pytest.mark.parametrize(
    ("header", "row", "colour"),
    [
        ("Name,Hex", "Oat,#D9D0BF", Srgb("#d9d0bf")),
        ("Name,Hex", "Oat,d9d0bf", Srgb("#d9d0bf")),
        ("Name,Hex", "Oat,#abc", Srgb("#aabbcc")),
        ("Name,R,G,B", "Oat,217,208,191", Srgb("#d9d0bf")),
        ("Name|RGB", "Oat|rgb(217, 208, 191)", Srgb("#d9d0bf")),
        ("Name,X,Y,Z", "Oat,60.5,64.25,58", Xyz((60.5, 64.25, 58.0))),
        ("Name,Munsell", "Oat,5y7/1", Notation("5Y 7/1")),
        ("Name,Hue,Value,Chroma", "Oat,2.5YR,6.5,2", Notation("2.5YR 6.5/2")),
    ],
)
def test_a_colour_may_be_given_in_many_ways(
    header: str, row: str, colour: Srgb | Xyz | Notation
) -> None:
    assert only(read_table(header, row)).colour == colour


def test_lch_is_lab_in_polar_form() -> None:
    """Against coloraide's CIE LCh."""
    found = only(read_table("Name,L,C,h", "Oat,84.1,12.5,83.25")).colour
    expected = coloraide.Color("lch-d65", [84.1, 12.5, 83.25]).convert("lab-d65").coords()
    assert isinstance(found, Lab)
    assert found.lab100 == pytest.approx(tuple(expected), abs=1e-5)


def test_chromaticity_and_y_are_xyz() -> None:
    """Against colour-science (CIE 15)."""
    found = only(read_table("Name,x,y,Y", "Oat,0.3384,0.3512,64.25")).colour
    expected = SCIENCE.xyY_to_XYZ([0.3384, 0.3512, 64.25])
    assert isinstance(found, Xyz)
    assert found.xyz100 == pytest.approx(tuple(expected), abs=1e-5)


SPECTRAL = "Name," + ",".join(f"R_{nm}" for nm in BANDS_NM)


@pytest.mark.parametrize("factor", [1, 100])
def test_a_spectrum_is_read_as_percent_or_fraction_and_told(factor: int) -> None:
    reading = read_table(SPECTRAL, "Oat," + numbers((v * factor for v in OAT), ","))
    found = only(reading).colour
    assert isinstance(found, Reflectance)
    assert (found.start_nm, found.step_nm) == (400, 10)
    assert found.values == pytest.approx(OAT, abs=1e-6)
    scale = "percent" if factor == 100 else "0..1"
    assert f"reflectance is read as {scale}" in reading.notes


def test_a_percent_sign_in_the_headers_makes_dark_spectra_percent() -> None:
    header = "Name," + ",".join(f"{nm} (%)" for nm in BANDS_NM)
    found = only(read_table(header, "Soot," + ",".join(["1.5"] * 31))).colour
    assert isinstance(found, Reflectance)
    assert found.values == (0.015,) * 31


def test_wavelengths_may_run_down() -> None:
    rows = [f"{nm},{oat},{moss}" for nm, oat, moss in zip(BANDS_NM, OAT, MOSS, strict=True)]
    reading = read_table("wavelength (nm),Oat Ladle,Moss", *rows)
    assert {p.name: p.colour for p in reading.paints.values()} == {
        "Oat Ladle": Reflectance(400.0, 10.0, OAT),
        "Moss": Reflectance(400.0, 10.0, MOSS),
    }


def test_the_most_exact_colour_is_taken_and_told() -> None:
    reading = read_table("Name,Hex,L*,a*,b*", "Oat,#000000,84,1,9", "Moss,#405030,,,")
    assert [p.colour for p in reading.paints.values()] == [Lab((84.0, 1.0, 9.0)), Srgb("#405030")]
    assert "1 paint: colour from CIELAB" in reading.notes
    assert any("colour from hex, a screen value" in note for note in reading.notes)


def test_a_wrong_value_is_never_passed_over_for_a_worse_one() -> None:
    reading = read_table("Name,Hex,L*,a*,b*", "Oat,#000000,840,1,9", "Moss,#405030,44,1,9")
    assert list(reading.paints) == ["moss"]
    assert reading.rejected[0].reason == "L* 840 is not between 0 and 100"


@pytest.mark.parametrize(
    ("header", "row", "reason"),
    [
        ("Name,Hex", "Oat,#d9d0b", '"#d9d0b" is not a colour such as #d9d0bf'),
        ("Name,R,G,B", "Oat,217,208,256", "rgb 217 208 256: each must be a whole number"),
        ("Name,L*,a*,b*", "Oat,84,,9", "no colour: without a*"),
        ("Name,L*,a*,b*", "Oat,84,1,390", "no surface is that colourful"),
        ("Name,X,Y,Z", "Oat,60,640,58", "each must be between 0 and 150"),
        ("Name,Munsell", "Oat,5Q 7/1", "is not a notation"),
        ("Name,Hex,LRV", "Oat,#d9d0bf,640", 'LRV "640" is not between 0 and 100'),
        ("Name,Hex,Coverage", "Oat,#d9d0bf,1200", 'coverage "1200" is not between'),
        ("Name,Hex,Price", "Oat,#d9d0bf,cheap", '"cheap" should hold one number'),
        ("Name,Hex,Illuminant", "Oat,#d9d0bf,moonlight", "is no CIE illuminant"),
        ("Name,Hex", "Oat", "1 cells where there are 2 columns"),
        ("Name,L*,a*,b*", ",84,1,9", "neither a name nor a code"),
        (SPECTRAL, "Oat," + ",".join(["0.5"] * 30 + [""]), "the spectrum has gaps"),
        (SPECTRAL, "Oat," + ",".join(["0.5"] * 30 + ["1.3"]), "outside 0..1"),
    ],
)
def test_a_row_that_gives_no_paint_is_told_with_its_line(
    header: str, row: str, reason: str
) -> None:
    filler = "Good," + ",".join("0.5" if "R_" in h else "" for h in header.split(",")[1:])
    hexed = header if "Hex" in header or header == SPECTRAL else header + ",Hex"
    fields = hexed.split(",")
    good = ["Good" if h == "Name" else "#405030" if h == "Hex" else "" for h in fields]
    good_row = filler if header == SPECTRAL else ",".join(good)
    bad_row = row if hexed == header or row.count(",") == 0 else row + ","
    reading = read_table(hexed, good_row, "", bad_row)
    assert [p.name for p in reading.paints.values()] == ["Good"]
    assert [r.line for r in reading.rejected] == [4]
    assert reason in reading.rejected[0].reason
    assert reading.rejected[0].text.startswith(row[:5])


def test_line_numbers_are_those_of_the_file_even_after_a_note_of_many_lines() -> None:
    reading = read_table("Name,Hex,Notes", 'Oat,#d9d0bf,"by the', 'door"', "Moss,green,")
    assert reading.paints["oat"].notes == "by the\ndoor"
    assert [row.line for row in reading.rejected] == [4]


def test_conditions_are_taken_from_columns_headers_or_the_caller_else_told() -> None:
    by_row = read_table("Name,L*,a*,b*,Illuminant,Observer", "Oat,84,1,9,D50,2°")
    assert only(by_row).colour == Lab((84.0, 1.0, 9.0), "D50/2")
    by_header = read_table("Name,L* (A/10),a*,b*", "Oat,84,1,9")
    assert only(by_header).colour == Lab((84.0, 1.0, 9.0), "A/10")
    by_caller = read_table("Name,L*,a*,b*", "Oat,84,1,9", observed="D50/10")
    assert only(by_caller).colour == Lab((84.0, 1.0, 9.0), "D50/10")
    silent = read_table("Name,L*,a*,b*", "Oat,84,1,9")
    assert only(silent).colour == Lab((84.0, 1.0, 9.0), "D65/10")
    assert "nothing says under which light: taken as D65/10" in silent.notes


def test_fractions_are_scaled_and_told() -> None:
    reading = read_table("Name,X,Y,Z,LRV", "Oat,.605,.6425,.58,.64", "Moss,.1,.11,.05,0.11")
    assert reading.paints["oat"].colour == Xyz((60.5, 64.25, 58.0))
    assert reading.paints["oat"].lrv == 64
    assert {"XYZ is given 0..1: taken times 100", "LRV is given 0..1: taken times 100"} <= set(
        reading.notes
    )


def test_a_first_line_may_name_the_delimiter() -> None:
    reading = read_table("sep=;", "Name;Hex", "Oat;#d9d0bf", "Moss;x")
    assert list(reading.paints) == ["oat"]
    assert [row.line for row in reading.rejected] == [4]


def test_hidden_characters_are_dropped_from_names_and_told() -> None:
    reading = read_table("Name,Hex", "Oat\u200b \u202eLadle,#d9d0bf")
    assert only(reading).name == "Oat Ladle"
    assert "1 paint: hidden characters are dropped from its text" in reading.notes


def test_a_table_without_a_colour_says_what_is_needed() -> None:
    with pytest.raises(InputError, match=r"no column gives a colour.*found Name, Price"):
        read_table("Name,Price", "Oat,64", "Moss,14")


def test_a_reason_for_many_rows_is_said_once_with_their_number() -> None:
    with pytest.raises(InputError) as error:
        read_table("Name,Hex", *["Oat,x"] * 144)
    _, reason = str(error.value).splitlines()
    assert reason.endswith('"x" is not a colour such as #d9d0bf (144 rows)')


def test_a_table_of_which_no_row_gives_a_paint_says_why() -> None:
    with pytest.raises(InputError) as error:
        read_table("Name,Hex", "Oat,x", "Moss,y")
    assert str(error.value).splitlines() == [
        "deck.csv: it holds no paint",
        'deck.csv:2: "x" is not a colour such as #d9d0bf',
        'deck.csv:3: "y" is not a colour such as #d9d0bf',
    ]


def test_an_open_quotation_mark_is_found_where_it_opens() -> None:
    with pytest.raises(InputError, match=r"deck\.csv:3: a quotation mark opens"):
        read_table("Name,Hex", "Oat,#d9d0bf", 'Moss,"#405030', "Chalk,#f0eee6")


def test_a_quotation_mark_within_a_cell_spoils_only_its_row() -> None:
    reading = read_table("Name\tHex", '"Oat"x\t#d9d0bf', "Moss\t#405030")
    assert list(reading.paints) == ["moss"]
    assert str(reading.rejected[0]) == "line 2: a quotation mark is in the middle of a cell"


def test_a_cell_beyond_all_measure_spoils_only_its_row() -> None:
    reading = read_table(
        "Name,Hex", f'"{"x" * 200_000}",#d9d0bf', "Moss,#405030", "y" * 2001 + ",#405030"
    )
    assert list(reading.paints) == ["moss"]
    assert {row.line for row in reading.rejected} == {2, 4}


names = st.text(st.characters(categories=("L", "N", "P", "S", "Zs")), max_size=12).map(
    lambda text: " ".join(text.split())
)


@given(st.lists(st.tuples(names, st.integers(0, 0xFFFFFF)), min_size=1, max_size=20))
def test_every_row_is_a_paint_or_rejected(rows: list[tuple[str, int]]) -> None:
    quoted = [f'"{name.replace(chr(34), chr(34) * 2)}",#{value:06x}' for name, value in rows]
    reading = read_table("Name,Hex", *quoted)
    assert len(reading.paints) + len(reading.rejected) == len(rows)
    assert [p.colour for p in reading.paints.values()] == [Srgb(f"#{v:06x}") for _, v in rows]
