"""ISO 28178 / CGATS.17 text files as meters write them."""

import pytest

from housemap.deck.cgats import read_cgats
from housemap.deck.reading import DeckReading, Given
from housemap.errors import InputError
from housemap.model.house import ColourSource, Lab, Reflectance, Xyz
from tests.support.decks import BANDS_NM, MOSS, OAT, SPECTRA, cgats_lab, cgats_source, numbers

SPECTRAL = {
    "Oat Ladle": Reflectance(400.0, 10.0, OAT),
    "Moss": Reflectance(400.0, 10.0, MOSS),
}


def read(source: str | bytes, observed: str | None = None) -> DeckReading:
    text = source if isinstance(source, str) else source.decode()
    return read_cgats(text, "meter.txt", Given(observed=observed))


def colours(reading: DeckReading) -> dict[str, ColourSource]:
    return {paint.name: paint.colour for paint in reading.paints.values()}


@pytest.mark.parametrize(
    "prefix", ["nm", "NM_", "SPECTRAL_NM_", "SPECTRAL_NM", "SPECTRAL_", "R_", "SPEC_"]
)
def test_spectra_are_read_under_every_usual_field_name(prefix: str) -> None:
    reading = read(cgats_source(prefix=prefix))
    assert colours(reading) == SPECTRAL
    assert reading.format == "cgats"
    assert reading.rejected == ()


def test_spectra_may_stand_in_pairs_of_wavelength_and_percent() -> None:
    """SPECTRAL_NM and SPECTRAL_PCT, the standard's own fields."""
    pairs = " ".join(["SPECTRAL_NM SPECTRAL_PCT"] * len(BANDS_NM))
    values = " ".join(f"{nm} {100 * v:g}" for nm, v in zip(BANDS_NM, OAT, strict=True))
    shifted = " ".join(f"{nm + 5} {100 * v:g}" for nm, v in zip(BANDS_NM, OAT, strict=True))
    text = (
        f"CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_NAME {pairs}\nEND_DATA_FORMAT\nBEGIN_DATA\n"
        f'"Oat Ladle" {values}\nMoss {shifted}\nEND_DATA\n'
    )
    reading = read(text)
    (colour,) = colours(reading).values()
    assert isinstance(colour, Reflectance)
    assert colour.values == pytest.approx(OAT, abs=1e-6)
    assert "reflectance is read as percent" in reading.notes
    assert [row.line for row in reading.rejected] == [7]


def test_a_format_may_run_over_lines_and_so_may_a_set() -> None:
    text = (
        "IT8.7/2\n# a comment\nBEGIN_DATA_FORMAT\nSAMPLE_ID\nLAB_L LAB_A\nLAB_B\nEND_DATA_FORMAT\n"
        "BEGIN_DATA\nA1 84.1\n1.2 9.8\nA2 44 -8.5 12 # mossy\nEND_DATA\n"
    )
    assert colours(read(text)) == {
        "A1": Lab((84.1, 1.2, 9.8), "D50/2"),
        "A2": Lab((44.0, -8.5, 12.0), "D50/2"),
    }


def test_a_later_table_keeps_the_format_and_conditions_of_the_one_before() -> None:
    first = cgats_lab(['ILLUMINANT "D65"', 'OBSERVER "10"'], ["A1 84.1 1.2 9.8"])
    reading = read(first + "\nBEGIN_DATA\nB1 44 -8.5 12\nEND_DATA\n")
    assert colours(reading) == {
        "A1": Lab((84.1, 1.2, 9.8), "D65/10"),
        "B1": Lab((44.0, -8.5, 12.0), "D65/10"),
    }


@pytest.mark.parametrize(
    ("keywords", "observed"),
    [
        (('WEIGHTING_FUNCTION "ILLUMINANT, D50"', 'WEIGHTING_FUNCTION "OBSERVER, 2 degree"'),
         "D50/2"),
        (('MEASUREMENT_SOURCE "Illumination=D65 ObserverAngle=10 WhiteBase=Abs Filter=No"',),
         "D65/10"),
        (('ILLUMINATION_NAME "A"', 'OBSERVER_ANGLE "2"'), "A/2"),
        (('COMPUTATIONAL_PARAMETER "D65/10"',), "D65/10"),
        (('ILLUMINANT "F11"', 'OBSERVER "10 degree"'), "FL11/10"),
        (('OBSERVER "10"',), "D50/10"),
        ((), "D50/2"),
    ],
)  # fmt: skip
def test_illuminant_and_observer_are_found_in_the_keywords(
    keywords: tuple[str, ...], observed: str
) -> None:
    reading = read(cgats_lab(keywords, ["A1 84.1 1.2 9.8"]))
    assert colours(reading) == {"A1": Lab((84.1, 1.2, 9.8), observed)}
    words = "measured under" if keywords else "nothing says under which light: taken as"
    assert f"{words} {observed}" in reading.notes


def test_an_unknown_illuminant_is_refused_unless_the_caller_says_what_it_is() -> None:
    text = cgats_lab(['ILLUMINANT "shop lamp"'], ["A1 84.1 1.2 9.8"])
    with pytest.raises(InputError, match='"shop lamp", which is no CIE illuminant'):
        read(text)
    assert colours(read(text, "FL11/10")) == {"A1": Lab((84.1, 1.2, 9.8), "FL11/10")}


def test_an_unknown_illuminant_does_not_matter_to_spectra() -> None:
    assert colours(read(cgats_source(keywords=['ILLUMINANT "shop lamp"']))) == SPECTRAL


@pytest.mark.parametrize("m", ["M0", "M1", "M2", "M3"])
def test_measurement_conditions_are_told(m: str) -> None:
    reading = read(cgats_source(keywords=[f'MEASUREMENT_SOURCE "MeasurementCondition={m}"']))
    assert any(note.startswith(f"measured under {m} ") for note in reading.notes)


def test_of_the_same_samples_under_several_conditions_daylight_is_taken() -> None:
    other = {name: [v / 2 for v in values] for name, values in SPECTRA.items()}
    m2 = cgats_source(other, ['MEASUREMENT_SOURCE "M2"']).decode()
    m1 = cgats_source(keywords=['MEASUREMENT_SOURCE "M1"']).decode()
    for text in (m1 + m2, m2 + m1):
        reading = read(text)
        assert colours(reading) == SPECTRAL
        assert "the same samples under M2 left out" in reading.notes


def test_repeated_measurements_stay() -> None:
    text = cgats_lab([], ["A1 84 1 9"]) + cgats_lab([], ["A1 84.2 1 9"])
    assert list(read(text).paints) == ["a1", "a1-2"]


def test_xyz_and_chromaticity_are_read() -> None:
    fields = "SAMPLE_ID XYZ_X XYZ_Y XYZ_Z"
    text = cgats_lab([], ["A1 60.5 64.25 58"]).replace("SAMPLE_ID LAB_L LAB_A LAB_B", fields)
    assert colours(read(text)) == {"A1": Xyz((60.5, 64.25, 58.0), "D50/2")}
    fields = "SAMPLE_ID XYY_X XYY_Y XYY_CAPY"
    text = cgats_lab([], ["A1 0.25 0.5 50"]).replace("SAMPLE_ID LAB_L LAB_A LAB_B", fields)
    assert colours(read(text)) == {"A1": Xyz((25.0, 50.0, 25.0), "D50/2")}


def test_sample_numbers_are_no_codes_where_names_stand_beside_them() -> None:
    assert [(p.name, p.code) for p in read(cgats_source()).paints.values()] == [
        ("Oat Ladle", ""),
        ("Moss", ""),
    ]


def test_quotation_marks_in_names_are_doubled() -> None:
    reading = read(cgats_lab([], ['"A ""1""" 84 1 9']))
    assert list(colours(reading)) == ['A "1"']


def test_names_with_spaces_may_stand_between_tabs_without_quotes() -> None:
    assert list(colours(read(cgats_lab([], ["Oat Ladle\t84\t1\t9"])))) == ["Oat Ladle"]


def test_decimal_commas_are_read_and_told() -> None:
    reading = read(cgats_lab([], ["A1 84,1 1,2 9,8"]))
    assert colours(reading) == {"A1": Lab((84.1, 1.2, 9.8), "D50/2")}
    assert "decimals are marked by a comma" in reading.notes


def test_sets_of_the_wrong_width_are_rejected_one_by_one() -> None:
    reading = read(cgats_lab([], ["A1 84 1", "A2 84 1 9", "A3 84 1 9 7", "A4 44 1 9", "A5 1"]))
    assert list(colours(reading)) == ["A2", "A4"]
    assert [(row.line, row.reason) for row in reading.rejected] == [
        (6, "3 values where there are 4 fields"),
        (8, "5 values where there are 4 fields"),
        (10, "2 values where there are 4 fields"),
    ]


def test_a_count_of_sets_that_does_not_fit_is_told() -> None:
    text = cgats_lab(["NUMBER_OF_SETS 3"], ["A1 84 1 9"])
    assert "the file announces 3 sets and holds 1" in read(text).notes


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("CGATS.17\n", "there is no BEGIN_DATA"),
        ("CGATS.17\nBEGIN_DATA\nA1 84 1 9\nEND_DATA\n", "2: data without BEGIN_DATA_FORMAT"),
        ("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L\n", "2: the file ends before END_DATA_F"),
        (cgats_lab([], ["A1 84 1 9"])[:-10], "5: the file ends before END_DATA"),
        (cgats_lab(['DESCRIPTOR "open'], ["A1 84 1 9"]), "2: a quotation mark is never closed"),
        (cgats_lab(['MEASUREMENT_SOURCE "Illumination=Emission"'], ["A1 84 1 9"]),
         "light or a transparency was measured"),
        (cgats_lab([], ["A1 9 9 9"]).replace("LAB_", "RGB_"), "neither a spectrum nor Lab"),
        (cgats_lab([], ["A1 x y z"]), "it holds no paint"),
        (cgats_lab([], []), "it holds no paint"),
        ("CGATS.17\nBEGIN_DATA_FORMAT\nEND_DATA_FORMAT\nBEGIN_DATA\nEND_DATA\n", "2: 0 fields"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_used_says_why(text: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        read(text)


def test_wrong_units_are_told_by_row() -> None:
    rows = {"Oat Ladle": OAT, "Lamp": [v * 1.9 for v in OAT]}
    reading = read(cgats_source(rows))
    assert list(colours(reading)) == ["Oat Ladle"]
    assert "outside 0..1" in reading.rejected[0].reason


def test_the_fields_are_shown_with_what_they_mean() -> None:
    shown = {column.header: column.meaning for column in read(cgats_source()).mapping}
    assert shown["SAMPLE_ID"] == ""
    assert shown["SAMPLE_NAME"] == "name"
    assert shown["nm400"] == "400 nm"
    assert len(shown) == len(BANDS_NM) + 2


def test_numbers_of_the_helper_are_what_the_tests_compare_with() -> None:
    assert numbers(OAT[:3]) == "0.45 0.46 0.47"


def test_no_control_character_of_a_keyword_reaches_a_message() -> None:
    text = cgats_lab(['MEASUREMENT\x1b[2J "Emission"'], ["1 84 1 9"])
    with pytest.raises(InputError) as error:
        read_cgats(text, "meter")
    assert "\x1b" not in str(error.value)
