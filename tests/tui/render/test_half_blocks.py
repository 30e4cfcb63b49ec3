"""Two pixels a cell: the cells hold exactly the picture, in as few runs as there are changes."""

from itertools import pairwise

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from housemap.plan.pixels import Pixels
from housemap.plan.raster import Face, View
from housemap.tui.render.cells import Row, text_of
from housemap.tui.render.look import ASCII, DARK, NO_GREYS, UNICODE, Look
from housemap.tui.tasks.walk_drawing import outline_rows, picture_rows

PLAIN = Look(NO_GREYS, UNICODE)


def random_pixels(seed: int, width: int, rows: int) -> Pixels:
    random = np.random.default_rng(seed)
    palette = random.integers(0, 256, (3, 3), dtype=np.uint8)
    return np.asarray(palette[random.integers(0, 3, (2 * rows, width))])


pictures = st.builds(random_pixels, st.integers(0, 2**32), st.integers(1, 30), st.integers(1, 10))


def pixels_of(rows: list[Row]) -> list[list[str]]:
    """What a terminal shows: for each cell row its upper and its lower pixels."""
    found = []
    for row in rows:
        upper, lower = [], []
        for run in row:
            above = run.ink.bg if run.text[0] == " " else run.ink.fg
            upper += [str(above)] * len(run.text)
            lower += [str(run.ink.bg)] * len(run.text)
        found += [upper, lower]
    return found


def hexes(pixels: Pixels) -> list[list[str]]:
    return [["#" + bytes(pixel).hex() for pixel in row] for row in pixels]


@given(pictures)
def test_the_cells_show_every_pixel(pixels: Pixels) -> None:
    rows = picture_rows(pixels, Look())
    assert pixels_of(rows) == hexes(pixels)
    assert {len("".join(run.text for run in row)) for row in rows} == {pixels.shape[1]}


@given(pictures)
def test_no_two_runs_side_by_side_look_alike(pixels: Pixels) -> None:
    for row in picture_rows(pixels, Look()):
        looks = [(run.text[0], run.ink) for run in row]
        assert all(a != b for a, b in pairwise(looks))


@given(pictures)
def test_equal_pixels_are_a_background_colour_alone(pixels: Pixels) -> None:
    for row in picture_rows(pixels, Look()):
        for run in row:
            assert (set(run.text) == {" "}) == (run.ink.fg is None)


@given(pictures)
def test_in_ascii_a_cell_is_one_pixel(pixels: Pixels) -> None:
    rows = picture_rows(pixels, Look(DARK, ASCII))
    assert text_of(rows).strip() == ""
    assert pixels_of(rows)[::2] == hexes(pixels)[::2]


def test_without_colour_lines_run_where_surfaces_meet() -> None:
    faces = (Face("a", "walls", "n"), Face("a", "walls", "e"), Face("a", "floor", None))
    face = np.zeros((8, 6), dtype=np.int16)
    face[:4, 3:] = 1
    face[4:] = 2
    blank = np.ones((8, 6), dtype=np.float32)
    rows = outline_rows(View(faces, face, blank, blank), PLAIN)
    assert [text_of([row]) for row in rows] == ["  │", "──┴───", "", ""]
    assert all(sum(cell_len(run.text) for run in row) == 6 for row in rows)


@given(st.integers(0, 2**32), st.integers(1, 20), st.integers(1, 12))
def test_lines_never_end_in_the_middle_of_the_picture(seed: int, width: int, rows: int) -> None:
    """What a line joins in one cell is joined in the next one too."""
    face = np.random.default_rng(seed).integers(0, 3, (2 * rows, width)).astype(np.int16)
    faces = tuple(Face("a", name, None) for name in ("walls", "floor", "trim"))
    blank = np.ones(face.shape, dtype=np.float32)
    lines = PLAIN.glyphs.lines
    drawn = outline_rows(View(faces, face, blank, blank), PLAIN)
    joins = [[lines.index(char) for char in row[0].text] for row in drawn]
    for y, row in enumerate(joins):
        for x, join in enumerate(row):
            if x + 1 < width:
                assert bool(join & 2) == bool(row[x + 1] & 8)
            if y + 1 < rows:
                assert bool(join & 4) == bool(joins[y + 1][x] & 1)
