"""A reading typed in or a spectrum pasted: forgiving in form, exact in what is wrong."""

import coloraide
import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.deck.typed import Reading, parse_reading
from housemap.errors import InputError
from housemap.model.house import Lab, Notation, Reflectance, Srgb, Xyz
from tests.support.decks import BANDS_NM, OAT, is_one_line, numbers

SPECTRUM = Reflectance(400.0, 10.0, OAT)


@pytest.mark.parametrize(
    "text",
    [
        "L 62.1 a -1.2 b 8.3 D50/2",
        "L*=62.1, a*=-1.2, b*=8.3 (D50/2)",
        "L: 62.1 a: \N{MINUS SIGN}1.2 b: 8.3 D50 2°",
        "L62.1 a-1.2 b8.3 D50/2",
        "Lab 62,1 -1,2 8,3 D50/2",
        "CIE L*a*b* 62.1; -1.2; 8.3 d50/2",
        "D50/2 Lab(62.1, -1.2, 8.3)",
        "62.1 -1.2 8.3 D50/2 degrees",
    ],
)
def test_lab_may_be_typed_in_many_ways(text: str) -> None:
    assert parse_reading(text).source == Lab((62.1, -1.2, 8.3), "D50/2")


def test_xyz_and_conditions_may_be_typed() -> None:
    found = parse_reading("XYZ 30,1 31,2 25,0 (D65/10) M1")
    assert found.source == Xyz((30.1, 31.2, 25.0), "D65/10")
    assert found.notes == ("measured under M1 (D50 with its ultraviolet)",)
    assert parse_reading("X 30.1 Y 31.2 Z 25 A/2").source == Xyz((30.1, 31.2, 25.0), "A/2")


@pytest.mark.parametrize("text", ["LCh 62 8.4 82 D65/10", "L* 62 C*ab 8.4 hab 82 D65/10"])
def test_lch_becomes_lab(text: str) -> None:
    """Against coloraide."""
    source = parse_reading(text).source
    assert isinstance(source, Lab)
    expected = coloraide.Color("lch-d65", [62, 8.4, 82]).convert("lab-d65").coords()
    assert source.lab100 == pytest.approx(tuple(expected), abs=1e-5)


@pytest.mark.parametrize(
    ("text", "values"), [("L 62 a 2 b 10", (62, 2, 10)), ("62, 10, 2", (62, 10, 2))]
)
def test_a_and_b_are_not_taken_for_illuminants(
    text: str, values: tuple[float, float, float]
) -> None:
    assert parse_reading(text).source == Lab(values, "D65/10")


def test_what_is_taken_for_granted_is_told() -> None:
    assert parse_reading("62.1 1.2 8.3").notes == (
        "three numbers without a name: taken as L*, a*, b*",
        "nothing says under which light: taken as D65/10",
    )
    assert parse_reading("Lab 62.1 1.2 8.3", observed="D50/2") == Reading(
        Lab((62.1, 1.2, 8.3), "D50/2")
    )


def test_the_text_goes_before_the_light_that_is_given() -> None:
    found = parse_reading("XYZ 30 31 25 A/2", observed="D50/2")
    assert found.source == Xyz((30.0, 31.0, 25.0), "A/2")


def test_notations_and_screen_colours_may_be_typed() -> None:
    assert parse_reading(" 5y 7/1 ").source == Notation("5Y 7/1")
    assert parse_reading("N8").source == Notation("N 8/")
    assert parse_reading("#D9D0BF").source == Srgb("#d9d0bf")


PAIRS = list(zip(BANDS_NM, OAT, strict=True))


@pytest.mark.parametrize(
    "text",
    [
        "\n".join(f"{nm} {v}" for nm, v in PAIRS),
        "\n".join(f"{nm} nm: {v}" for nm, v in PAIRS),
        "\n".join(f"{nm},{v}" for nm, v in PAIRS),
        "\n".join(f"{nm}\t{str(v).replace('.', ',')}" for nm, v in PAIRS),
        "\n".join(f"{nm} {v * 100:.2f} %" for nm, v in PAIRS),
        numbers(BANDS_NM) + "\n" + numbers(OAT),
        numbers(OAT),
        numbers((v * 100 for v in OAT), ", "),
        "from 400 to 700 step 10: " + numbers(OAT),
        "{ start = 400, step = 10, values = [" + numbers(OAT, ", ") + "] }",
    ],
)
def test_a_spectrum_may_be_pasted_in_many_ways(text: str) -> None:
    found = parse_reading(text).source
    assert isinstance(found, Reflectance)
    assert (found.start_nm, found.step_nm) == (400, 10)
    assert found.values == pytest.approx(OAT, abs=1e-4)


def test_the_grid_and_scale_of_bare_readings_are_told() -> None:
    assert parse_reading(numbers(OAT)).notes == (
        "taken as 400 to 700 nm by 10",
        "reflectance is read as 0..1",
    )
    found = parse_reading(numbers([50] * 36) + " M2")
    assert found.source == Reflectance(380.0, 10.0, (0.5,) * 36)
    assert found.notes[0].startswith("measured under M2")
    assert found.notes[1:] == ("taken as 380 to 730 nm by 10", "reflectance is read as percent")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "three numbers are needed, such as L 62.1 a 1.2 b 8.3 D50/2; found 0"),
        ("L 62.1 a 1.2", "found 2"),
        ("62 1 8 9", "found 4"),
        ("rather green", '"rather" is not a number'),
        ("L 162 a 1 b 8", "L\\* 162 is not between 0 and 100"),
        ("XYZ 30 131 25", "Y 131 is above 100"),
        ("62 1 8 D99/2", '"D99/2" is no CIE illuminant and observer'),
        (numbers([0.5] * 33), "33 readings without wavelengths"),
        (numbers([5] * 30 + [140]), "reflectance 1.4 at 700 nm is outside 0..1"),
        ("from 500 step 10: " + numbers([0.5] * 31), "must span at least 410 to 680 nm, found 500"),
        ("1 " * 30_000, "more than 40,000 characters"),
    ],
)
def test_what_is_wrong_is_said_in_one_line(text: str, message: str) -> None:
    with pytest.raises(InputError, match=message) as error:
        parse_reading(text)
    assert len(error.value.problems) == 1


def outcome(text: str) -> str:
    try:
        return repr(parse_reading(text))
    except InputError as error:
        (problem,) = error.problems
        return str(problem)


@given(st.text(max_size=60))
def test_whatever_is_typed_gives_a_colour_or_one_clear_line(text: str) -> None:
    assert is_one_line(outcome(text))


parts = st.sampled_from(
    ["L", "a", "b*", "C", "h", "XYZ", "Lab", "D50/2", "A/10", "M1", "400", "62.1", "-1,2", ";", ",",
     "nm", "%", "from", "step", "10", "=", "(", ")", "\n", "5Y 7/1", "[", "0.5 " * 16]
)  # fmt: skip


@given(st.lists(parts, max_size=12).map(" ".join))
def test_words_of_readings_in_any_order_give_a_colour_or_one_clear_line(text: str) -> None:
    assert is_one_line(outcome(text))
