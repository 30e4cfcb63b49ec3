"""A palette is drawn in proportion of its wall area, and nothing of it is lost."""

from hypothesis import given
from hypothesis import strategies as st

from housemap.choose.schemes.shortlist import PaletteRequest
from housemap.tui.tasks.suggest import asked_text, proportions


@given(st.lists(st.floats(0.0, 1.0), min_size=1, max_size=24), st.integers(24, 200))
def test_every_paint_has_a_column_and_the_strip_is_full(shares: list[float], columns: int) -> None:
    sizes = proportions(shares, columns)
    assert min(sizes) >= 1
    assert sum(sizes) == columns or not any(shares)
    for first, one in zip(shares, sizes, strict=True):
        assert all(one >= other - 1 for s, other in zip(shares, sizes, strict=True) if s <= first)


def test_what_is_asked_for_is_told() -> None:
    assert (
        asked_text(PaletteRequest(1, None, trim=False))
        == "at most 1 wall paint, the unpainted rooms"
    )
    asked = PaletteRequest(4, frozenset({"hall"}), frozenset({"oat"}), frozenset({"a-1"}))
    assert asked_text(asked) == ("at most 4 wall paints and a trim, 2 pinned, all rooms but 1 kept")
