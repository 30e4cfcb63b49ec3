"""What is typed of a paint becomes one: a name with a colour, an LRV, readings, or all of them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.facts import colour_facts
from housemap.deck.colours import GREY
from housemap.model.house import Finish, Lab, Notation, Paint, Srgb
from housemap.workbench.typed_paint import TypedPaint, contradiction, typed_paint


@pytest.mark.parametrize(
    ("text", "name", "colour", "lrv"),
    [
        ("Heron #c9ccc4", "Heron", Srgb("#c9ccc4"), None),
        ("#c9ccc4 Heron", "Heron", Srgb("#c9ccc4"), None),
        ("Heron grey: #cac", "Heron grey", Srgb("#ccaacc"), None),
        ("Heron\n#c9ccc4", "Heron", Srgb("#c9ccc4"), None),
        ("Stone 5Y 7/1 lrv 43", "Stone", Notation("5Y 7/1"), 43.0),
        ("Stone lrv 43,5\n5Y 7/1", "Stone", Notation("5Y 7/1"), 43.5),
        ("Chalk 9 N 9.3/", "Chalk 9", Notation("N 9.3/"), None),
        ("Bark L 32 a 4 b 9 D65/10", "Bark", Lab((32.0, 4.0, 9.0), "D65/10"), None),
        ("Bark Lab 32 4 9 D65/10", "Bark", Lab((32.0, 4.0, 9.0), "D65/10"), None),
        ("Bark\nD50/2\n32 4 9\n34 4 9", "Bark", Lab((33.0, 4.0, 9.0), "D50/2"), None),
    ],
)
def test_what_is_typed_is_a_paint(text: str, name: str, colour: object, lrv: float | None) -> None:
    made = typed_paint(text).paint
    assert made is not None
    assert (made.name, made.colour, made.lrv, made.derived) == (name, colour, lrv, "")


def test_a_name_of_its_own_field_goes_before_one_in_the_text() -> None:
    made = typed_paint("Heron #c9ccc4", "Wader").paint
    assert made == Paint("Wader", Srgb("#c9ccc4"))


@pytest.mark.parametrize("lrv", [0, 7.5, 62, 100])
def test_an_lrv_with_a_name_is_a_grey_and_marked_as_made_up(lrv: float) -> None:
    typed = typed_paint(f"Cloud lrv {lrv}")
    assert typed.paint is not None
    [facts] = colour_facts([typed.paint.colour])
    assert facts.lrv == pytest.approx(lrv, abs=0.01)
    assert (typed.paint.derived, typed.assumed) == (GREY, (GREY,))


def test_it_says_how_a_colour_was_measured() -> None:
    made = typed_paint("62 1 8 D50/2\n63 1 8 D50/2", "North wall").paint
    assert made is not None
    assert made.notes.startswith("mean of 2 readings under D50/2, at most 0.")
    assert typed_paint("62 1 8", "Tile").finish == Finish(
        "Tile", Lab((62.0, 1.0, 8.0)), notes="one reading under D65/10"
    )


@pytest.mark.parametrize(
    ("text", "says"),
    [("", "needs a colour or an LRV"), ("#c9ccc4", "needs a name"),
     ("Heron", "needs a colour or an LRV"), ("Heron lrv 120", "0 to 100"),
     ("Heron Lab 32", "three numbers"), ("Heron\n62 1 8\n62 1", "three numbers")],
)  # fmt: skip
def test_what_is_no_paint_yet_is_said_in_one_line(text: str, says: str) -> None:
    typed = typed_paint(text)
    assert typed.paint is None
    assert says in typed.fault
    assert "\n" not in typed.fault


@given(st.text(max_size=60))
def test_any_text_is_a_paint_or_one_clear_line(text: str) -> None:
    typed = typed_paint(text)
    assert isinstance(typed, TypedPaint)
    assert bool(typed.fault) == (typed.paint is None)


# A typed LRV that contradicts the typed colour is asked about; either answer ends it.

FOG = Srgb("#aeb1b0")
"""By IEC 61966-2-1 Y = 100 (0.2126 x 0.423 + 0.7152 x 0.440 + 0.0722 x 0.434) = 43.6."""


def test_an_lrv_that_fits_is_not_asked_about() -> None:
    assert contradiction(Paint("Fog", FOG)) is None
    assert contradiction(Paint("Fog", FOG, lrv=44.0)) is None


@pytest.mark.parametrize(
    ("text", "kind", "lrv"),
    [("Fog #aeb1b0 lrv 52", "hex", 43.6), ("Fog N 7/ lrv 52", "notation", 0.975 * 43.06)],
)
def test_the_question_names_both(text: str, kind: str, lrv: float) -> None:
    """N 7/ has 43.06 % of magnesium oxide's luminance, which has 97.5 % (ASTM D1535)."""
    made = typed_paint(text).paint
    assert made is not None
    found = contradiction(made)
    assert found is not None
    assert f"Fog: the {kind} gives LRV 4" in found.question
    assert "you typed 52. Which is right?" in found.question
    assert found.computed == pytest.approx(lrv, abs=0.3)  # 10 degrees in the place of 2


def test_the_colour_may_be_right() -> None:
    found = contradiction(Paint("Fog", FOG, lrv=52.0))
    assert found is not None
    assert found.by_colour() == Paint("Fog", FOG)


@pytest.mark.parametrize("lrv", [5.0, 52.0, 90.0])
def test_the_lrv_may_be_right_and_then_every_page_shows_it(lrv: float) -> None:
    found = contradiction(Paint("Fog", FOG, lrv=lrv))
    assert found is not None
    made = found.by_lrv()
    [facts] = colour_facts([made.colour])
    [before] = colour_facts([FOG])
    assert facts.lrv == pytest.approx(lrv, abs=0.01)
    assert facts.lab100[1:] == pytest.approx(before.lab100[1:], abs=0.01)
    assert isinstance(made, Paint)
    assert made.derived
    assert contradiction(made) is None


def test_a_notation_with_an_lrv_is_no_grey() -> None:
    typed = typed_paint("Sloe Jug\n5YR 8/1.5\nlrv 58")
    assert typed.colour == Notation("5YR 8/1.5")
    assert GREY not in typed.assumed
    assert typed_paint("Sloe Jug lrv 58").assumed == (GREY,)
