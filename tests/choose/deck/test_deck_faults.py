"""What looks wrong in a deck is found by its colours too."""

import numpy as np

from housemap.choose.deck.chips import all_chips
from housemap.choose.deck.deck_faults import NEAR_EQUAL, deck_faults, near_equals
from housemap.model.house import Lab, Paint, Srgb
from tests.support.chips import random_paints, reference_de00


def test_near_equals_are_all_pairs_below_the_limit() -> None:
    """By scikit-image's CIEDE2000 over every pair."""
    chips = all_chips(random_paints(300, seed=3))
    apart = reference_de00(chips.lab100[:, None], chips.lab100)
    pairs = np.argwhere((apart > 0) & (apart < NEAR_EQUAL)).tolist()
    expected = {frozenset((chips.swatches[i].id, chips.swatches[j].id)) for i, j in pairs}
    assert expected
    assert {frozenset(oddity.paints) for oddity in near_equals(chips)} == expected


def test_a_contradicted_label_an_impossible_colour_and_a_double_are_told() -> None:
    deck = {
        "oat": Paint("Oat", Srgb("#d9d0bf"), lrv=20.0),
        "straw": Paint("Ladle", Srgb("#d9d0bf"), lrv=63.0),
        "glow": Paint("Glow", Lab((90.0, 80.0, 0.0))),
    }
    told = {oddity.kind: oddity.paints for oddity in deck_faults(deck)}
    assert told == {"same colour": ("oat", "straw"), "impossible": ("glow",), "label": ("oat",)}


def test_nothing_is_told_of_a_sound_deck() -> None:
    deck = {"oat": Paint("Oat", Srgb("#d9d0bf")), "moss": Paint("Moss", Srgb("#5b6b4a"))}
    assert deck_faults(deck) == ()
    assert deck_faults({}) == ()
