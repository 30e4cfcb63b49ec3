"""A deck grows block by block, and what cannot be in it is told by its paint."""

from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.chips import BLOCK, all_chips, growing_chips
from housemap.deck.notation_deck import notation_deck
from housemap.model.house import Lab, Srgb
from tests.support.chips import paints_of, random_paints
from tests.support.strategies import ids, paints


def test_every_block_adds_to_the_one_before() -> None:
    deck = random_paints(BLOCK + 20)
    first, last = growing_chips(deck)
    assert len(first) == BLOCK
    assert last.swatches[:BLOCK] == first.swatches
    assert [swatch.id for swatch in last.swatches] == list(deck)


def test_a_deck_without_paints_is_known_at_once() -> None:
    [chips] = growing_chips({})
    assert len(chips) == 0
    assert chips.lab100.shape == (0, 3)
    assert chips.hvc.shape == (0, 3)


def test_an_impossible_colour_is_told_and_the_others_are_there() -> None:
    chips = all_chips(
        paints_of(oat=Srgb("#d9d0bf"), glow=Lab((90.0, 80.0, 0.0)), moss=Lab((44, -8, 12)))
    )
    assert [swatch.id for swatch in chips.swatches] == ["oat", "moss"]
    assert list(chips.faults) == ["glow"]
    assert "no surface is so light" in chips.faults["glow"]


@settings(max_examples=25)
@given(st.dictionaries(ids, paints, max_size=6))
def test_every_paint_is_a_chip_or_a_fault(deck: dict[str, object]) -> None:
    chips = all_chips(deck)  # type: ignore[arg-type]  # the strategy gives paints
    assert {*chips.rows, *chips.faults} == set(deck)
    assert not {*chips.rows} & {*chips.faults}


def test_the_notation_deck_has_the_notations_that_it_is_named_by() -> None:
    chips = all_chips(notation_deck())
    assert not chips.faults
    wrong = [s.name for s in chips.swatches[::7] if s.colour.notation.text != s.name]
    assert not wrong
