"""Sets built around a paint: their shape, what is claimed of them, their alternatives."""

import itertools
import random

import numpy as np
import pytest

from housemap.choose.chips import Chips, all_chips
from housemap.choose.schemes.card import card, reason
from housemap.choose.schemes.computed import computed_chips
from housemap.choose.schemes.kinds import KINDS, hue_words
from housemap.choose.schemes.sets import (
    Basis,
    alternatives,
    build,
    distinct_colours,
    more_like,
    sets_around,
)
from housemap.colorimetry.difference import ucs_parts
from housemap.colorimetry.undertone import names, strengths
from housemap.deck.notation_deck import notation_deck
from housemap.model.house import Brief, Notation, Paint
from housemap.study import Swatch

NEUTRALS = ("10YR 7/1", "5Y 8/1", "2.5Y 7.5/1.5", "5YR 6.5/1", "10R 7/1", "5PB 7/1", "5B 7.5/1",
            "10G 6.5/1", "N 7/", "5RP 8.5/1")  # fmt: skip
GREYISH, MODERATE = 1, 2


def swatch_of(text: str) -> Swatch:
    return all_chips({text: Paint(text, Notation(text))}).swatches[0]


def basis_of(text: str, brief: Brief | None = None) -> Basis:
    neutral = swatch_of(text)
    return Basis(neutral, computed_chips(neutral), brief or Brief())


def strength(swatch: Swatch) -> int:
    notation = swatch.colour.notation
    hvc = np.array([[notation.hue100, notation.value, notation.chroma]])
    return int(strengths(hvc, names(hvc))[0])


@pytest.mark.parametrize("text", NEUTRALS)
def test_every_set_has_the_shape_of_a_scheme(text: str) -> None:
    sets = sets_around(basis_of(text))
    assert {found.kind for found in sets} == set(KINDS)
    for found in sets:
        parts = {part: [one.swatch for one in found.colours if one.part == part]
                 for part in ("neutral", "backbone", "room", "trim", "dark", "accent")}  # fmt: skip
        assert all(55 <= one.lrv <= 75 for one in parts["backbone"])
        assert all(40 <= one.lrv <= 55 for one in parts["room"])
        [trim], [dark] = parts["trim"], parts["dark"]
        assert trim.lrv >= 80
        assert trim.colour.notation.chroma <= 1.5
        assert trim.lrv - max(one.lrv for one in parts["backbone"]) >= 15
        assert dark.lrv <= 12
        assert all(strength(one) <= MODERATE for one in parts["accent"])
        assert all(strength(one) <= GREYISH for one in (*parts["backbone"], *parts["room"]))
        walls = [one.swatch for one in found.colours if one.part not in {"trim", "dark"}]
        assert distinct_colours(walls) >= 5
        assert not found.broken
        assert found.solution.proven


@pytest.mark.parametrize("colours", [2, 3, 4, 6, 7])
def test_a_set_has_as_many_wall_colours_as_asked_for(colours: int) -> None:
    for found in sets_around(basis_of("10YR 7/1", Brief(colours=colours))):
        walls = [one.swatch for one in found.colours if one.part not in {"trim", "dark"}]
        assert distinct_colours(walls) == colours or found.broken


ONE_HUE, OPPOSITE = (0, 20), (150, 180)
HUES = {"tonal": [ONE_HUE] * 3, "neighbouring": [(20, 90), (20, 90), ONE_HUE],
        "counter": [OPPOSITE, ONE_HUE, ONE_HUE]}  # fmt: skip
"""Hue angles of the accents of each kind from the neutral's; all else has the neutral's hue."""


@pytest.mark.parametrize("deck", [None, all_chips(notation_deck())], ids=["computed", "deck"])
@pytest.mark.parametrize("text", NEUTRALS)
def test_hues_are_those_that_the_name_of_the_kind_says(text: str, deck: Chips | None) -> None:
    neutral = swatch_of(text)
    for found in sets_around(Basis(neutral, deck or computed_chips(neutral))):
        accents = iter(HUES[found.kind])
        for one in found.colours:
            hue, chroma = one.swatch.colour.notation.hue100, one.swatch.colour.notation.chroma
            low, high = next(accents) if one.part == "accent" else ONE_HUE
            around = neutral.colour.notation
            start = around.hue100 if around.chroma >= 0.3 else 22.5
            turned = abs((hue - start + 50) % 100 - 50) * 3.6
            assert chroma < 0.3 or low - 1e-6 <= turned <= high + 1e-6, (found.kind, one)
        assert not any("hue" in words for words in found.broken)


def test_a_trim_that_is_hardly_lighter_than_the_paint_is_named() -> None:
    """Of a white no trim can be: the set is the best there is, and says what is wrong with it."""
    for found in sets_around(basis_of("7.5Y 9/1")):
        [line] = (words for words in found.broken if words.startswith("trim: "))
        assert line.endswith(" LRV points lighter than the lightest walls, 15 are usual")


def test_a_set_whose_name_says_more_than_is_in_it_says_so() -> None:
    texts = ("10YR 8.5/0.5", "7.5GY 6/2", "7.5GY 4/2", "10YR 9.5/0.5", "10YR 2/0.5")
    chips = all_chips({f"p{n}": Paint(text, Notation(text)) for n, text in enumerate(texts)})
    said = {
        found.kind: found.broken for found in sets_around(Basis(swatch_of("10YR 7.5/1"), chips))
    }
    assert "accent: not the neutral's hue" in said["tonal"]
    assert "accent: not the opposite hue" in said["counter"]
    assert not any("neighbouring" in words for words in said["neighbouring"])


def test_no_other_choice_of_what_was_compared_is_better() -> None:
    """By trying all of a small deck, from outside the optimiser."""
    dice = random.Random(3)
    neutral = swatch_of("10YR 7/1")
    every = computed_chips(neutral)
    for _ in range(3):
        chips = every.taken(dice.sample(range(len(every)), 5))
        found = build(Basis(neutral, chips, Brief(colours=4)), "counter")
        assert found is not None
        problem = found.problem
        choices = itertools.product(*(problem.candidates[room] for room in problem.rooms))
        least = min(problem.cost(dict(zip(problem.rooms, choice, strict=True)))
                    for choice in choices)  # fmt: skip
        assert found.score == pytest.approx(least)


def test_what_a_deck_cannot_give_is_named() -> None:
    texts = ("10YR 6/6", "5G 5/8", "5R 4/10")
    chips = all_chips({f"p{n}": Paint(text, Notation(text)) for n, text in enumerate(texts)})
    found = build(Basis(swatch_of("10YR 7/1"), chips), "tonal")
    assert found is not None
    assert any(line.startswith("trim: LRV") for line in found.broken)
    assert any("greyish at most" in line for line in found.broken)
    assert any("are usual" in line for line in found.broken)


def test_an_empty_deck_gives_no_set() -> None:
    assert sets_around(Basis(swatch_of("5Y 8/1"), Chips())) == ()


def test_alternatives_change_one_colour_and_are_sorted() -> None:
    [found] = sets_around(basis_of("10YR 7/1"), ("counter",), 1)
    place = next(n for n, one in enumerate(found.colours) if one.part == "accent")
    others = alternatives(found, place)
    assert len(others) > 5
    assert [one.score for one in others] == sorted(one.score for one in others)
    for other in others:
        changed = [n for n, (a, b) in enumerate(zip(found.colours, other.colours, strict=True))
                   if a.row != b.row]  # fmt: skip
        assert changed == [place]
        assert other.score >= found.score - 1e-9
    assert alternatives(found, 0) == ()


def test_more_like_this_truly_differs() -> None:
    [found] = sets_around(basis_of("10YR 7/1"), ("neighbouring",), 1)
    mine = [one.swatch.colour.ucs for one in found.colours if one.part == "accent"]
    others = more_like(found, 2)
    assert len(others) == 2
    for other in others:
        for one in (each for each in other.colours if each.part == "accent"):
            apart = [float(ucs_parts(np.array(one.swatch.colour.ucs), np.array(ucs))[0])
                     for ucs in mine]  # fmt: skip
            assert min(apart) >= 8


def test_each_colour_has_a_reason_of_one_sentence() -> None:
    for text in NEUTRALS:
        for found in sets_around(basis_of(text)):
            for one in found.colours:
                words = reason(one, found)
                assert words.endswith(".")
                assert words.count(". ") == 0


def test_the_card_shows_every_set_and_no_markup_of_a_name() -> None:
    neutral = swatch_of("5Y 8/1")
    chips = computed_chips(neutral)
    page = card(sets_around(Basis(neutral, chips)), "<b>Oat</b>")
    assert page.count("<section>") == 3
    assert "<b>" not in page
    assert "&lt;b&gt;Oat" in page
    assert "samples" in page


@pytest.mark.parametrize(
    ("walls", "words"),
    [
        (["10YR 8/1", "2.5Y 5/2"], "one hue in steps of depth and strength"),
        (["10YR 8/1", "7.5GY 5/2", "N 5"], "accents of neighbouring hues"),
        (["10YR 8/1", "5PB 4/2"], "accents of the opposite hue"),
        (["10YR 8/1", "7.5GY 5/2", "5PB 4/2"], "colours of several hues"),
    ],
)
def test_walls_are_named_by_their_hues_beside_the_neutral(walls: list[str], words: str) -> None:
    chips = all_chips({text: Paint(text, Notation(text)) for text in walls})
    assert hue_words(chips, swatch_of("10YR 7/1")) == words
