"""A line that was typed becomes a paint: a name with a colour, an LRV, or both."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from housemap.colorimetry.facts import colour_facts
from housemap.deck.colours import GREY
from housemap.errors import InputError
from housemap.model.house import Lab, Notation, Srgb
from housemap.workbench.typed_paint import TypedPaint, typed_paint


@pytest.mark.parametrize(
    ("text", "name", "colour", "lrv"),
    [
        ("Heron #c9ccc4", "Heron", Srgb("#c9ccc4"), None),
        ("#c9ccc4 Heron", "Heron", Srgb("#c9ccc4"), None),
        ("Heron grey: #cac", "Heron grey", Srgb("#ccaacc"), None),
        ("Stone 5Y 7/1 lrv 43", "Stone", Notation("5Y 7/1"), 43.0),
        ("Chalk 9 N 9.3/", "Chalk 9", Notation("N 9.3/"), None),
        ("Bark L 32 a 4 b 9 D65/10", "Bark", Lab((32.0, 4.0, 9.0), "D65/10"), None),
        ("Bark Lab 32 4 9 D65/10", "Bark", Lab((32.0, 4.0, 9.0), "D65/10"), None),
    ],
)
def test_a_line_is_a_paint(text: str, name: str, colour: object, lrv: float | None) -> None:
    made = typed_paint(text).paint
    assert (made.name, made.colour, made.lrv, made.derived) == (name, colour, lrv, "")


@pytest.mark.parametrize("lrv", [0, 7.5, 62, 100])
def test_an_lrv_with_a_name_is_a_grey_and_marked_as_made_up(lrv: float) -> None:
    made = typed_paint(f"Cloud lrv {lrv}")
    [facts] = colour_facts([made.paint.colour])
    assert facts.lrv == pytest.approx(lrv, abs=0.01)
    assert (made.paint.derived, made.notes) == (GREY, (GREY,))


def test_an_lrv_that_contradicts_the_colour_is_asked_about() -> None:
    found = typed_paint("Heron #c9ccc4 lrv 20").question
    assert found is not None
    assert "which is right?" in found.question
    assert typed_paint("Heron #c9ccc4").question is None


@pytest.mark.parametrize(
    ("text", "says"),
    [("", "needs a name"), ("#c9ccc4", "needs a name"), ("Heron", "needs a colour or an LRV"),
     ("Heron lrv 120", "0 to 100"), ("Heron Lab 32", "three numbers")],
)  # fmt: skip
def test_what_is_no_paint_is_said_in_one_line(text: str, says: str) -> None:
    with pytest.raises(InputError, match=says) as error:
        typed_paint(text)
    assert "\n" not in str(error.value)


@given(st.text(max_size=60))
def test_any_text_is_a_paint_or_one_clear_line(text: str) -> None:
    with suppress(InputError):
        assert isinstance(typed_paint(text), TypedPaint)
