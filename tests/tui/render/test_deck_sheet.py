"""A page of chips is laid out without loss: every chip has its place, and keys reach each."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.tui.render.cells import text_of, width_of
from housemap.tui.render.look import ASCII, DARK, NO_GREYS, UNICODE, Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Coat
from housemap.tui.tasks.deck_drawing import (
    LABELS,
    Sheet,
    above,
    beside,
    chart_row,
    chip_at,
    column_row,
    sheet_of,
    strip_of_pages,
)
from housemap.workbench.deck_browser import Page as ChartPage

LOOKS = [Look(), Look(DARK, ASCII), Look(NO_GREYS, UNICODE)]


def coat_of(chip: int) -> Coat:
    return Coat("known", f"#{chip % 256:02x}8080")


@st.composite
def pages(draw: st.DrawFn) -> ChartPage:
    rows, columns = draw(st.integers(1, 12)), draw(st.integers(1, 22))
    places = draw(
        st.lists(st.tuples(st.integers(0, rows - 1), st.integers(0, columns - 1)), max_size=40)
    )
    counts = draw(st.lists(st.integers(1, 30), min_size=len(places), max_size=len(places)))
    cells: dict[tuple[int, int], list[int]] = {}
    chip = 0
    for place, count in zip(places, counts, strict=True):
        cells.setdefault(place, []).extend(range(chip, chip + count))
        chip += count
    return ChartPage(
        tuple(f"{i}" for i in range(rows)), tuple(f"c{i}" for i in range(columns)), cells
    )


def chips_of(page: ChartPage) -> set[int]:
    return {chip for cell in page.cells.values() for chip in cell}


@settings(max_examples=80)
@given(pages(), st.integers(50, 150), st.integers(5, 50))
def test_every_chip_has_a_place_of_its_own(page: ChartPage, width: int, height: int) -> None:
    sheet = sheet_of(page, width, height)
    assert set(sheet.tiles) == chips_of(page)
    taken: set[tuple[int, int]] = set()
    for tile in sheet.tiles.values():
        assert tile.width > 0
        assert tile.height > 0
        spots = {(x, y) for x in range(tile.x, tile.x + tile.width)
                 for y in range(tile.y, tile.y + tile.height)}  # fmt: skip
        assert not spots & taken
        taken |= spots
        assert tile.x >= LABELS
        assert chip_at(sheet, tile.x, tile.y) == tile.chip
    assert all(y < sheet.height for _, y in taken)


@settings(max_examples=60)
@given(pages(), st.integers(60, 150), st.integers(5, 50))
def test_the_keys_reach_every_chip(page: ChartPage, width: int, height: int) -> None:
    sheet = sheet_of(page, width, height)
    if not sheet.tiles:
        return
    first = next(iter(sheet.tiles))
    reached, waiting = {first}, [first]
    while waiting:
        chip = waiting.pop()
        steps = [beside(sheet, chip, 1), beside(sheet, chip, -1)]
        steps += [above(sheet, chip, 1), above(sheet, chip, -1)]
        for other in steps:
            if other not in reached:
                reached.add(other)
                waiting.append(other)
    assert reached == set(sheet.tiles)


@pytest.mark.parametrize("look", LOOKS)
@settings(max_examples=30)
@given(page=pages(), width=st.integers(75, 150))
def test_every_line_is_as_wide_as_the_chart(look: Look, page: ChartPage, width: int) -> None:
    sheet = sheet_of(page, width, 20)
    on = Page(look, width)
    for y in range(sheet.height):
        assert width_of(chart_row(sheet, y, on, coat_of, {0: "1"})) == width
    assert width_of(column_row(sheet, on)) == width


def test_the_chosen_chip_is_marked_without_colour_too() -> None:
    sheet = sheet_of(ChartPage(("8", "7"), ("1", "2"), {(0, 0): [0], (1, 1): [1]}), 60, 10)
    page = Page(LOOKS[2], 60)
    rows = (chart_row(sheet, y, page, coat_of, {1: "▸2"}) for y in range(sheet.height))
    text = text_of(rows)
    assert "▸2" in text
    assert "  8 " in text


def test_a_single_chip_fills_its_cell() -> None:
    sheet = sheet_of(ChartPage(("8",), ("1",), {(0, 0): [0]}), 80, 30)
    assert sheet.tiles[0].height == 3
    assert sheet.tiles[0].width > 3


def test_a_crowded_cell_makes_its_row_grow() -> None:
    page = ChartPage(("8", "7"), ("1", "2"), {(0, 0): [*range(200)], (1, 1): [200]})
    sheet = sheet_of(page, 40, 30)
    assert sheet.height > 8
    assert sheet.tiles[200].y > sheet.tiles[199].y


def test_an_empty_page_is_an_empty_sheet() -> None:
    assert sheet_of(ChartPage((), (), {}), 80, 20) == Sheet()


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("pages_", [1, 2, 11, 21, 41])
@pytest.mark.parametrize("width", [45, 50, 114])
def test_the_strip_of_pages_names_the_page_and_fits(look: Look, pages_: int, width: int) -> None:
    labels = [f"{i}Y" for i in range(pages_)]
    page = Page(look, width)
    for chosen in {0, pages_ // 2, pages_ - 1}:
        row = strip_of_pages(labels, [Coat("known", "#aabbcc")] * pages_, chosen, "across", page)
        assert width_of(row) == width
        assert (labels[chosen] in text_of([row])) == (pages_ > 1)
