"""Colours that no surface can have are told one by one, and cost the others nothing."""

import pytest

from housemap.colorimetry.facts import ColourFacts, colour_facts, facts_or_errors
from housemap.errors import ColourError
from housemap.model.house import ColourSource, Lab, Notation, Reflectance, Srgb, Xyz

POSSIBLE: tuple[ColourSource, ...] = (Srgb("#d9d0bf"), Lab((70.0, 2.0, 9.0)), Notation("5Y 7/1"))
IMPOSSIBLE: tuple[ColourSource, ...] = (
    Lab((99.0, 0.0, 120.0)), Xyz((10.0, 90.0, 10.0)), Lab((50.0, 0.0, 0.0), "X9/10"),
    Notation("5Y 70/1"), Reflectance(400.0, 10.0, (1.5,) * 31),
    Reflectance(500.0, 10.0, (0.5,) * 9),
)  # fmt: skip


def test_each_impossible_colour_has_its_own_error_among_the_possible_ones() -> None:
    mixed = [source for pair in zip(POSSIBLE * 2, IMPOSSIBLE, strict=True) for source in pair]
    made = facts_or_errors(mixed)
    assert [type(each) for each in made] == [ColourFacts, ColourError] * len(IMPOSSIBLE)
    assert made[::2] == colour_facts(POSSIBLE * 2)


@pytest.mark.parametrize("source", IMPOSSIBLE, ids=str)
def test_facts_of_an_impossible_colour_raise_its_error(source: ColourSource) -> None:
    [error] = facts_or_errors([source])
    with pytest.raises(ColourError) as raised:
        colour_facts([*POSSIBLE, source])
    assert str(raised.value) == str(error)


def test_a_notation_that_is_too_strong_is_told_how_strong_it_may_be() -> None:
    [error] = facts_or_errors([Notation("10YR 6/40")])
    most = int(str(error).split()[-2])
    assert str(error).endswith(f"chroma is at most {most} there")
    possible, too_strong = facts_or_errors([Notation(f"10YR 6/{n}") for n in (most, most + 1)])
    assert isinstance(possible, ColourFacts)
    assert isinstance(too_strong, ColourError)
