"""A palette is drawn in proportion of its wall area, and nothing of it is lost."""

from hypothesis import given
from hypothesis import strategies as st

from housemap.tui.tasks.choose_drawing import proportions


@given(st.lists(st.floats(0.0, 1.0), min_size=1, max_size=24), st.integers(24, 200))
def test_every_paint_has_a_column_and_the_strip_is_full(shares: list[float], columns: int) -> None:
    sizes = proportions(shares, columns)
    assert min(sizes) >= 1
    assert sum(sizes) == columns or not any(shares)
    for first, one in zip(shares, sizes, strict=True):
        assert all(one >= other - 1 for s, other in zip(shares, sizes, strict=True) if s <= first)
