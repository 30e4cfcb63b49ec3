"""Chips are charted by hue, value and chroma: every one once, where its notation says."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.choose.chips import all_chips
from housemap.colorimetry.arrays import Floats
from housemap.deck.notation_deck import notation_deck
from housemap.workbench.deck_browser import (
    CHARTS,
    ChartName,
    chart_of,
    hue_bins,
    used_pages,
)

NOTATION = all_chips(notation_deck())
ROWS = np.arange(len(NOTATION))
HVC = st.lists(
    st.tuples(st.floats(0, 99.999), st.floats(0, 10), st.one_of(st.just(0.0), st.floats(0, 38))),
    min_size=1,
    max_size=30,
).map(np.array)


@pytest.mark.parametrize("name", CHARTS)
@settings(max_examples=40)
@given(hvc=HVC, narrow=st.booleans(), paints=st.sampled_from([10, 2000, 9000]))
def test_every_chip_stands_once_in_each_chart(
    name: ChartName,
    hvc: Floats,
    narrow: bool,  # noqa: FBT001 - hypothesis names it
    paints: int,
) -> None:
    chart = chart_of(name, hvc, paints, narrow=narrow)
    rows = np.arange(len(hvc))
    shown = [
        chip
        for page in used_pages(chart.counts(rows))
        for cell in chart.page(page, rows).cells.values()
        for chip in cell
    ]
    expected = [row for row in rows.tolist() if name != "near-neutral" or hvc[row, 2] <= 3.000001]
    assert sorted(shown) == expected


def test_the_notation_deck_stands_where_its_notations_say() -> None:
    chart = chart_of("hue", NOTATION.hvc, len(NOTATION))
    page = chart.page(chart.pages.labels.index("near 5Y"), ROWS)
    at = page.rows.index("7"), page.columns.index("2")
    names = [NOTATION.swatches[chip].name for chip in page.cells[at]]
    assert names == ["2.5Y 7/2", "5Y 7/2"]
    assert page.rows[:3] == ("9.5", "9", "8.5")


def test_pages_of_value_run_from_light_to_dark_with_hues_down() -> None:
    chart = chart_of("value", NOTATION.hvc, len(NOTATION))
    used = used_pages(chart.counts(ROWS))
    labels = [chart.pages.labels[page] for page in used]
    assert labels == [f"{value / 2:g}" for value in range(19, 3, -1)]
    page = chart.page(chart.pages.labels.index("8"), ROWS)
    assert page.rows[:3] == ("N", "5R", "10R")
    assert [NOTATION.swatches[chip].name for chip in page.cells[0, 0]] == ["N 8/"]


def test_greys_of_a_page_of_value_are_spread_over_its_columns() -> None:
    greys = [[0.0, 8.0, 0.0]] * 30
    colours = [[hue, 8.0, chroma] for hue in (5.0, 25.0) for chroma in (0.5, 1.0, 1.5)]
    chart = chart_of("value", np.array([*greys, *colours]), 36)
    page = chart.page(chart.pages.labels.index("8"), np.arange(36))
    assert page.columns == (".5", "1", "1.5")
    assert [len(page.cells[0, column]) for column in range(3)] == [10, 10, 10]


def test_near_neutrals_stand_in_their_cell_by_chroma() -> None:
    chart = chart_of("near-neutral", NOTATION.hvc, len(NOTATION))
    page = chart.page(0, ROWS)
    cell = page.cells[page.rows.index("7"), page.columns.index("5Y")]
    chromas = [NOTATION.swatches[chip].colour.notation.chroma for chip in cell]
    assert chromas == sorted(chromas)
    assert max(chromas) == pytest.approx(3)


def test_greys_have_a_page_of_their_own() -> None:
    chart = chart_of("hue", NOTATION.hvc, len(NOTATION))
    assert {NOTATION.swatches[c].name[0] for cell in chart.page(0, ROWS).cells.values()
            for c in cell} == {"N"}  # fmt: skip


@pytest.mark.parametrize(
    ("step", "hue100", "label"),
    [
        (10.0, 5.0, "R"), (10.0, 10.0, "R"), (10.0, 10.1, "YR"), (10.0, 0.0, "RP"),
        (5.0, 2.5, "5R"), (5.0, 7.4, "5R"), (5.0, 7.5, "10R"), (5.0, 99.0, "10RP"),
        (5.0, 1.0, "10RP"), (2.5, 2.5, "2.5R"), (2.5, 99.9, "10RP"), (2.5, 22.0, "2.5Y"),
    ],
)  # fmt: skip
def test_hues_stand_at_the_nearest_step(step: float, hue100: float, label: str) -> None:
    """ASTM D1535: 10R follows 7.5R, 2.5YR follows 10R; hue number 100 is 10RP."""
    bins = hue_bins(np.array([[hue100, 5.0, 4.0]]), step)
    assert bins.labels[bins.of[0]] == label


def test_the_more_paints_the_finer_the_pages() -> None:
    counts = [len(chart_of("hue", NOTATION.hvc, n).pages.labels) for n in (100, 3000, 9000)]
    assert counts == [11, 21, 41]


def test_a_filter_leaves_its_chips_alone_on_the_pages() -> None:
    chart = chart_of("hue", NOTATION.hvc, len(NOTATION))
    wanted = np.array([3, 700, 1500])
    assert sum(chart.counts(wanted)) == 3
    assert chart.page(5, np.array([], dtype=np.intp)).cells == {}
