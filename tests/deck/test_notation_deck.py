"""The built-in deck: what the renotation allows, as finely as promised, by notation alone."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from housemap.colorimetry.munsell import value_to_y
from housemap.deck.notation_deck import limits, notation_deck
from housemap.model.edits import free_id
from housemap.model.house import Notation
from housemap.model.notation import tidy_notation
from tests.support import notation_limits as source
from tests.support.decks import faults_of
from tests.support.science import SCIENCE

DATA = Path(__file__).parent.parent / "data"
CHIPS = [p.name for p in notation_deck().values()]


def parts(text: str) -> tuple[str, float, float]:
    hue, rest = text.split()
    value, _, chroma = rest.partition("/")
    return hue, float(value), float(chroma or 0)


def test_every_chip_is_a_legal_paint_named_by_its_notation() -> None:
    for id_, paint in notation_deck().items():
        assert paint.colour == Notation(paint.name)
        assert tidy_notation(paint.name) == paint.name
        assert id_ == free_id(paint.name, (), "")
    assert [p.name for p in notation_deck().values() if faults_of(p)] == []


def test_there_are_thousands_of_chips_and_no_two_the_same() -> None:
    assert len(set(CHIPS)) == len(CHIPS) > 1500


def test_near_neutrals_come_in_steps_of_half_a_chroma_at_every_hue_and_half_value() -> None:
    found = set(CHIPS)
    assert len(limits()) == 40
    for hue, by_value in limits().items():
        assert tuple(by_value) == source.VALUES
        for value, largest in by_value.items():
            fine = [c / 2 for c in range(1, 7) if c / 2 <= largest]
            assert {f"{hue} {value:g}/{c:g}" for c in fine} <= found
    assert {f"N {value:g}/" for value in source.VALUES} <= found
    assert all(high - low == 0.5 for low, high in pairwise(source.VALUES))


def test_chips_lie_within_the_renotation() -> None:
    """Newhall, Nickerson & Judd 1943, as colour-science carries them."""
    for hue, value, chroma in map(parts, CHIPS):
        if hue != "N":
            assert chroma <= source.renotation_limit(hue, value)


CELLS = [(hue, value) for hue in source.HUES for value in source.VALUES]


@pytest.mark.parametrize(("hue", "value"), CELLS[::23])
def test_the_table_of_limits_is_what_its_sources_give(hue: str, value: float) -> None:
    """Pointer 1980 and the renotation; every 23rd cell, as the whole takes a quarter minute."""
    assert limits()[hue][value] == source.limit(hue, value)


def luminance(value: float) -> float:
    return float(value_to_y(np.array(value)))


def test_every_chip_can_be_placed_by_colour_science() -> None:
    """Its conversion knows each notation, and gives the luminance that ASTM D1535 gives."""
    for text in CHIPS[20::97]:
        hue, value, _ = parts(text)
        assert hue != "N"
        xyy = SCIENCE.munsell_colour_to_xyY(text)
        assert 100 * xyy[2] == pytest.approx(luminance(value), abs=0.05)


def test_light_and_dark_ends_are_where_paints_end() -> None:
    values = {value for _, value, _ in map(parts, CHIPS)}
    assert (min(values), max(values)) == (2.0, 9.5)
    assert 2.5 < luminance(2.0) < 3.5
    assert 87 < luminance(9.5) < 89
