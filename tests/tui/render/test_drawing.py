"""The map drawn time after time: what is kept must be what would be drawn anew."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from housemap.file.reader import read_house
from housemap.model.edits import assign
from housemap.model.house import SURFACES, Accent, House, Window
from housemap.plan.placing import place
from housemap.tui.map.drawing import Drawing, Looking, Scene, View
from housemap.tui.render.cells import Ink, Row, text_of
from housemap.tui.render.look import LIGHT, NO_GREYS, UNICODE, Look
from housemap.tui.render.shades import Mark, Shades, blocks_of
from tests.support.houses import small_house
from tests.support.project import DEMO

COLUMNS, ROWS = 60, 20
HOUSE = small_house()
PLAN = place(HOUSE)
DARK_ROWS = Look()


def view_of(
    house: House, room: str | None = "hall", look: Look = DARK_ROWS, enlarged: float = 1.0
) -> View:
    scene = Scene(house, PLAN, 0, blocks_of(Shades("reference", house, None)), look)
    return View(scene, room, Looking(room), (COLUMNS, ROWS), enlarged)


def drawn_rows(drawing: Drawing) -> list[Row]:
    assert drawing.selected
    return [drawing.selected.row(row) for row in range(ROWS)]


def anew(view: View) -> list[Row]:
    drawing = Drawing()
    drawing.draw(view)
    return drawn_rows(drawing)


def cells(row: Row) -> list[tuple[str, Ink]]:
    return [(char, run.ink) for run in row for char in run.text]


def differing(before: Sequence[Row], after: Sequence[Row]) -> set[tuple[int, int]]:
    return {
        (y, x)
        for y, (old, new) in enumerate(zip(before, after, strict=True))
        for x, (a, b) in enumerate(zip(cells(old), cells(new), strict=True))
        if a != b
    }


DEMO_HOUSE = read_house(DEMO)


@pytest.mark.parametrize("level", [0, 1])
@pytest.mark.parametrize("size", [(47, 21), (45, 21), (44, 19), (100, 44)])
@pytest.mark.parametrize("mark", [None, Mark("warn", 3)])
def test_the_whole_name_of_every_room_is_on_the_map_or_beside_it(
    level: int, size: tuple[int, int], mark: Mark | None
) -> None:
    blocks = blocks_of(Shades("reference", DEMO_HOUSE, None))
    blocks = {room: block._replace(mark=mark) for room, block in blocks.items()}
    scene = Scene(DEMO_HOUSE, place(DEMO_HOUSE), level, blocks, Look(NO_GREYS, UNICODE))
    drawing = Drawing()
    drawing.draw(View(scene, None, Looking(), size))
    assert drawing.selected
    text = text_of(drawing.selected.row(row) for row in range(size[1]))
    names = [room.name for room in DEMO_HOUSE.rooms.values() if room.level == level]
    assert [word for name in names for word in name.split() if word not in text] == []


steps = st.one_of(
    st.tuples(
        st.just("paint"), st.sampled_from(list(HOUSE.rooms)), st.sampled_from(SURFACES),
        st.sampled_from([None, *HOUSE.paints]),
    ),
    st.tuples(st.just("select"), st.sampled_from([None, *HOUSE.rooms])),
    st.tuples(st.just("look"), st.sampled_from([Look(), Look(LIGHT)])),
    st.tuples(st.just("zoom"), st.sampled_from([1.0, 1.69])),
)  # fmt: skip


@settings(max_examples=60)
@given(st.lists(steps, min_size=1, max_size=6))
def test_a_drawing_after_any_steps_is_the_drawing_made_anew(taken: list[tuple[str, ...]]) -> None:
    view, drawing = view_of(HOUSE), Drawing()
    drawing.draw(view)
    for kind, *values in taken:
        view = stepped(view, kind, values)
        before = drawn_rows(drawing)
        parts = drawing.draw(view)
        after = drawn_rows(drawing)
        if view.enlarged == 1:  # else the port moves as little as it has to
            assert after == anew(view)
        if parts is not None:
            told = {(row, x) for row, start, end in parts for x in range(start, end)}
            assert differing(before, after) <= told


def stepped(view: View, kind: str, values: Sequence[object]) -> View:
    scene = view.scene
    match kind:
        case "paint":
            room, surface, paint = values
            house = assign(scene.house, room, surface, paint)  # type: ignore[arg-type]  # drawn
            return view_of(house, view.room, scene.look, view.enlarged)
        case "select":
            return view._replace(room=values[0], looking=Looking(values[0]))  # type: ignore[arg-type]  # drawn
        case "look":
            return view._replace(scene=replace(scene, look=values[0]))  # type: ignore[arg-type]  # drawn
        case _:
            return view._replace(enlarged=values[0])  # type: ignore[arg-type]  # drawn


def test_trying_a_paint_draws_only_the_rows_of_its_room_again() -> None:
    drawing = Drawing()
    drawing.draw(view_of(HOUSE, None))
    painted = assign(HOUSE, "kitchen", "walls", next(iter(HOUSE.paints)))
    house = assign(painted, "kitchen", "walls", None)
    first = view_of(painted, None)
    drawing.draw(first)
    parts = drawing.draw(view_of(house, None))
    assert drawing.geometry
    assert parts
    own = {row for _, row in drawing.geometry.cells["kitchen"]}
    assert {row for row, _, _ in parts} <= own
    assert len(own) < ROWS


@pytest.mark.parametrize(
    "added",
    [
        {"accents": {"n": Accent("oat")}},
        {"windows": {"street": Window("n", 0.5, 1.0, 1.2, 0.9)}},
    ],
    ids=["accent", "window"],
)
def test_what_is_added_to_a_wall_is_drawn(added: dict[str, Any]) -> None:
    rooms = {**HOUSE.rooms, "kitchen": replace(HOUSE.rooms["kitchen"], **added)}
    with_it, drawing = replace(HOUSE, rooms=rooms), Drawing()
    drawing.draw(view_of(HOUSE))
    before = drawn_rows(drawing)
    drawing.draw(view_of(with_it))
    assert drawn_rows(drawing) == anew(view_of(with_it)) != before


def test_the_same_again_changes_nothing() -> None:
    drawing = Drawing()
    drawing.draw(view_of(HOUSE))
    assert drawing.draw(view_of(HOUSE)) == []
