"""What looks wrong in a deck is found by its colours too."""

import numpy as np

from housemap.choose.chips import all_chips
from housemap.choose.deck_faults import (
    NEAR_EQUAL,
    WINDOW,
    deck_faults,
    labs_of,
    near_equals,
    plainly_possible,
    reach,
)
from housemap.colorimetry.facts import reflectances
from housemap.model.house import Lab, Paint, Srgb
from tests.support.chips import random_paints, reference_de00


def test_near_equals_are_all_pairs_below_the_limit() -> None:
    """By scikit-image's CIEDE2000 over every pair."""
    labs = labs_of(random_paints(300, seed=3))
    apart = reference_de00(labs.lab100[:, None], labs.lab100)
    pairs = np.argwhere((apart > 0) & (apart < NEAR_EQUAL)).tolist()
    expected = {frozenset((labs.ids[i], labs.ids[j])) for i, j in pairs}
    assert expected
    assert {frozenset(oddity.paints) for oddity in near_equals(labs)} == expected


def test_no_pair_below_the_limit_lies_beyond_the_reach() -> None:
    """By scikit-image's CIEDE2000, of pairs near each other anywhere."""
    rng = np.random.default_rng(5)
    one = np.column_stack([rng.uniform(5, 95, 40_000), rng.uniform(-120, 120, (40_000, 2))])
    other = one + rng.normal(0, 3, one.shape)
    near = reference_de00(one, other) < NEAR_EQUAL
    assert near.sum() > 100
    apart = np.abs(other - one)[near]
    assert (apart[:, 1:].max(axis=1) <= reach(one[near])).all()
    assert (apart[:, 0] <= WINDOW).all()


def test_what_is_plainly_possible_has_a_spectrum() -> None:
    levels, angles = np.meshgrid(np.arange(1, 100, 3.0), np.arange(0, 2 * np.pi, 0.3))
    chroma = np.minimum(np.minimum(0.8 * levels, 1.5 * (100 - levels)), 30.0) * 0.999
    labs = np.stack([levels, chroma * np.cos(angles), chroma * np.sin(angles)], -1).reshape(-1, 3)
    assert plainly_possible(labs).all()
    _, errors = reflectances([Lab((x, y, z), "D65/10") for x, y, z in labs.tolist()])
    assert not errors


def test_every_screen_colour_has_a_spectrum() -> None:
    steps = [0, 64, 128, 192, 255]
    sources = [Srgb(f"#{r:02x}{g:02x}{b:02x}") for r in steps for g in steps for b in steps]
    _, errors = reflectances(sources)
    assert not errors


def test_faults_are_the_same_with_and_without_chips() -> None:
    paints = random_paints(200, seed=4)
    kinds = [
        {(odd.kind, odd.paints) for odd in found if odd.kind != "near-equal"}
        for found in (deck_faults(paints), deck_faults(paints, all_chips(paints)))
    ]
    assert kinds[0] == kinds[1]


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
