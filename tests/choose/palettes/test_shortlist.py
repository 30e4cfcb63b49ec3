"""What is spread over the colours of a deck reaches from end to end."""

from housemap.choose.deck.chips import all_chips
from housemap.choose.palettes.shortlist import spread_rows
from housemap.deck.notation_deck import notation_deck


def test_what_is_spread_reaches_from_end_to_end() -> None:
    chips = all_chips(notation_deck())
    lightness = chips.lab100[:, 0]
    rows = spread_rows(chips.lab100, 48)
    assert len(set(rows)) == 48
    assert lightness[rows].max() - lightness[rows].min() > 0.9 * (lightness.max() - lightness.min())
