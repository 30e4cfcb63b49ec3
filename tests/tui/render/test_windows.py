"""Windows on the map: where they stand, and how they are drawn."""

from dataclasses import replace

import pytest

from housemap.model.house import House, Room, Window
from housemap.plan.placing import place
from housemap.tui.map.drawing import Drawing, Looking, Scene, View
from housemap.tui.render.cells import text_of
from housemap.tui.render.look import ASCII, DARK, Look
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Shades, blocks_of
from housemap.tui.tasks.help import help_rows
from housemap.tui.terminal import Depth
from tests.support.houses import room

COLUMNS, ROWS = 60, 24


def window(wall: str, along_m: float, width_m: float = 1.0) -> Window:
    return Window(wall, along_m, width_m, 1.2, 0.9)


def house_with(*windows: Window, **of_room: object) -> House:
    named = {f"w{i}": each for i, each in enumerate(windows)}
    only: Room = replace(room("Study", size_m=(4.0, 4.0)), windows=named, **of_room)  # type: ignore[arg-type]  # as named
    return House(name="One room", rooms={"study": only})


def drawn(house: House, look: Look = Look()) -> Drawing:  # noqa: B008 - frozen
    drawing, plan = Drawing(), place(house)
    scene = Scene(house, plan, 0, blocks_of(Shades("reference", house, None)), look)
    drawing.draw(View(scene, None, Looking(), (COLUMNS, ROWS)))
    return drawing


def panes(house: House) -> list[tuple[tuple[int, int], ...]]:
    geometry = drawn(house).geometry
    assert geometry
    return [pane.cells for pane in geometry.panes.get("study", ())]


def box(house: House) -> tuple[int, int, int, int]:
    """First and last column and row of the room."""
    geometry = drawn(house).geometry
    assert geometry
    columns = [column for column, _ in geometry.cells["study"]]
    rows = [row for _, row in geometry.cells["study"]]
    return min(columns), max(columns), min(rows), max(rows)


@pytest.mark.parametrize(
    ("wall", "near_start"),
    [("n", "west"), ("s", "west"), ("e", "south"), ("w", "south")],
)
def test_a_window_stands_in_its_wall_counted_from_the_walls_start(
    wall: str, near_start: str
) -> None:
    house = house_with(window(wall, 0.5))
    left, right, top, bottom = box(house)
    ((cells),) = panes(house)
    columns, rows = {column for column, _ in cells}, {row for _, row in cells}
    match wall:
        case "n":
            assert rows == {top}
        case "s":
            assert rows == {bottom}
        case "e":
            assert columns == {right}
        case _:
            assert columns == {left}
    if near_start == "west":
        assert max(columns) < (left + right) / 2
    else:
        assert min(rows) > (top + bottom) / 2


def test_a_window_is_as_long_on_the_map_as_in_its_wall() -> None:
    house = house_with(window("s", 1.0, 2.0))
    left, right, _, _ = box(house)
    ((cells),) = panes(house)
    assert len(cells) == pytest.approx((right - left + 1) / 2, abs=1)


def test_no_window_takes_a_corner() -> None:
    house = house_with(*(window(wall, 0.0, 4.0) for wall in "nesw"))
    left, right, top, bottom = box(house)
    corners = {(x, y) for x in (left, right) for y in (top, bottom)}
    assert all(corners.isdisjoint(cells) for cells in panes(house))
    assert len(panes(house)) == 4


def test_an_edge_of_an_outline_has_its_windows_too() -> None:
    outline = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    house = house_with(window("2", 0.5), size_m=None, outline_m=outline)
    left, right, top, _ = box(house)
    ((cells),) = panes(house)
    assert {row for _, row in cells} == {top}
    assert min(column for column, _ in cells) > (left + right) / 2  # edge 2 runs from the east


def test_glass_is_drawn_as_the_help_tells() -> None:
    house = house_with(window("s", 1.0), window("e", 1.0))
    for look in (Look(), Look(DARK, ASCII)):
        selected = drawn(house, look).selected
        assert selected
        shown = text_of(selected.row(row) for row in range(ROWS))
        assert all(sign in shown for sign in look.glyphs.glazed)
        told = text_of(help_rows({}, Depth("truecolor", "a test"), Page(look, 80)))
        assert "glass: a window" in told
