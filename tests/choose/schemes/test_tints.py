"""Tints of a paint are computed colours that say so."""

import pytest

from housemap.choose.chips import all_chips
from housemap.choose.schemes.computed import ASK, tints
from housemap.model.house import Notation, Paint
from housemap.study import Swatch


@pytest.mark.parametrize("text", ["5Y 6/4", "5PB 4/6", "10YR 7/1", "5G 3/2", "N 5/"])
def test_tints_go_where_their_names_say(text: str) -> None:
    own = Paint("Moss", Notation(text), code="A-1", price=20.0, lrv=30.0)
    [swatch] = all_chips({"moss": own}).swatches
    made = tints(swatch)
    chips = dict(zip(made, all_chips({key: made[key] for key in made}).swatches, strict=True))
    value = {key: one.colour.notation.value for key, one in chips.items()}
    before = swatch.colour.notation
    assert before.value < value["half strength"] < value["quarter strength"]
    assert value["a step lighter"] == pytest.approx(before.value + 0.5, abs=0.02)
    assert value["a step darker"] == pytest.approx(before.value - 0.5, abs=0.02)
    assert value["a step greyer"] == pytest.approx(before.value, abs=0.4)
    if before.chroma > 0.1:
        assert chips["a step greyer"].colour.notation.chroma < before.chroma - 0.3
        assert _hue_apart(chips["half strength"], swatch) < 8
    for what, paint in made.items():
        assert ASK in paint.derived
        assert what in paint.name
        assert "assumption" in paint.notes
        assert (paint.code, paint.price, paint.lrv) == ("", None, None)


def _hue_apart(one: Swatch, other: Swatch) -> float:
    """In hue numbers, 0..50."""
    apart = one.colour.notation.hue100 - other.colour.notation.hue100
    return abs((apart + 50) % 100 - 50)
