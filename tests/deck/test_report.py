"""A deck report names what looks like a mistake, and nothing else."""

from dataclasses import replace

import pytest

from housemap.deck.notation_deck import notation_deck
from housemap.deck.report import deck_report
from housemap.model.house import Lab, Notation, Paint, Reflectance, Srgb

OAT = Paint("Oat Ladle", Srgb("#d9d0bf"), code="A-102", coverage=12.0, tins=(2.5,), price=18.5)
MOSS = Paint("Moss", Notation("7.5GY 4/2"), code="A-7", lrv=13.9)


def test_a_sound_deck_has_nothing_odd() -> None:
    assert deck_report({"oat": OAT, "moss": MOSS}) == ()


def test_the_notation_deck_has_nothing_odd() -> None:
    assert deck_report(notation_deck()) == ()


@pytest.mark.parametrize(
    ("second", "kind", "text"),
    [
        (replace(MOSS, code="a-102"), "same code", '2 paints share the code "a-102"'),
        (replace(MOSS, name="OAT LADLE"), "same name", '2 paints share the name "oat ladle"'),
        (replace(MOSS, colour=OAT.colour), "same colour", "have exactly the same colour data"),
    ],
)
def test_doubles_are_found(second: Paint, kind: str, text: str) -> None:
    (oddity,) = deck_report({"oat": OAT, "moss": second})
    assert oddity.kind == kind
    assert oddity.paints == ("oat", "moss")
    assert text in oddity.text


def test_missing_codes_are_no_doubles() -> None:
    assert deck_report({"oat": replace(OAT, code=""), "moss": replace(MOSS, code="")}) == ()


@pytest.mark.parametrize(
    ("paint", "text"),
    [
        (replace(OAT, name="1024"), "looks like a value"),
        (replace(OAT, name="#d9d0be"), "looks like a value"),
        (replace(OAT, colour=Srgb("#000000")), "often write its colour"),
        (replace(OAT, colour=Lab((0.0, 0.0, 0.0))), "often write its colour"),
        (replace(OAT, colour=Reflectance(400.0, 10.0, (0.0,) * 31)), "often write its colour"),
        (replace(OAT, lrv=100.0), "LRV of 100 belongs to no paint"),
        (replace(OAT, coverage=40.0), "40 m2 per litre is unusual"),
        (replace(OAT, tins=(2.5, 200.0)), "tins of 2.5, 200 litres are unusual"),
        (replace(OAT, price=0.0), "a price of 0"),
    ],
)
def test_odd_fields_are_found(paint: Paint, text: str) -> None:
    (oddity,) = deck_report({"oat": paint, "moss": MOSS})
    assert (oddity.kind, oddity.paints) == ("field", ("oat",))
    assert text in oddity.text


def test_equal_faults_are_one_with_all_their_paints() -> None:
    deck = {f"p{i}": Paint(str(i), Lab((50.0 + i, 1.0, 2.0))) for i in range(4)}
    (oddity,) = deck_report(deck)
    assert oddity.paints == ("p0", "p1", "p2", "p3")


def test_a_paint_called_by_its_own_screen_colour_is_not_odd() -> None:
    assert deck_report({"oat": Paint("#d9d0bf", Srgb("#d9d0bf"))}) == ()


def test_paints_measured_under_other_conditions_than_most_are_found() -> None:
    deck = {f"p{i}": Paint(f"P {i}", Lab((50.0 + i, 1.0, 2.0), "D50/2")) for i in range(4)}
    deck["p3"] = Paint("P 3", Lab((53.0, 1.0, 2.0), "D65/10"))
    (oddity,) = deck_report(deck)
    assert (oddity.kind, oddity.paints) == ("conditions", ("p3",))
    assert oddity.text == "1 paint is given under D65/10, most under D50/2"
