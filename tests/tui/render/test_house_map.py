"""The map as data: the cells of a few houses, without a running program."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from rich.cells import cell_len

from housemap.model.house import Accent, House, Opening, SurfacePaints
from housemap.plan.placing import place
from housemap.tui.map.drawing import changed_parts
from housemap.tui.map.layout import fitting_frame, follow, geometry_of, rooms_of_level
from housemap.tui.map.picture import Picture, Selected, label_of
from housemap.tui.render.cells import Cell, text_of, width_of
from housemap.tui.render.look import ASCII, DARK, NO_GREYS, UNICODE, Look
from housemap.tui.render.shades import Block, Mark, blocks_of, shades_of
from housemap.workbench.session import Session
from tests.support.houses import paint, room, small_house
from tests.support.strategies import houses

COLUMNS, ROWS = 48, 22
PLAIN = Look(NO_GREYS, UNICODE)
LOOKS = [Look(), Look(DARK, ASCII), PLAIN, Look(NO_GREYS, ASCII)]


def picture_of(house: House, level: int = 0, look: Look = PLAIN) -> Picture:
    plan = place(house)
    outlines = [plan.rooms[name].outline_m for name in rooms_of_level(plan, level)]
    frame = fitting_frame(outlines, COLUMNS - 2, ROWS - 1, house.wall_thickness_m)
    port = follow(frame, None, None, COLUMNS, ROWS)
    geometry = geometry_of(house, plan, level, frame, port)
    return Picture(geometry, blocks_of(shades_of(Session.of(house))), look)


def text_of_map(picture: Picture, chosen: str | None = None) -> str:
    selected = Selected(picture, chosen)
    return text_of(selected.row(row) for row in range(ROWS))


def beside(kind: str, **more: object) -> House:
    """Two rooms side by side with an opening of that kind between them."""
    rooms = {
        "a": room("Aa", "oat", size_m=(4.0, 4.0), at_m=(0.0, 0.0)),
        "b": room("Bb", "moss", size_m=(4.0, 4.0), at_m=(4.1, 0.0)),
    }
    opening = Opening(
        ("a", "b"), kind, wall="e", along_m=1.0, to_wall="w", to_along_m=1.0, width_m=2.0, **more  # type: ignore[arg-type]  # kinds and doors as in the model
    )  # fmt: skip
    paints = {"oat": paint("#d9d0bf"), "moss": paint("#7c8468"), "chalk": paint("#f3f0e8")}
    return House(rooms=rooms, paints=paints, openings={"o": opening})


def body_of(picture: Picture, name: str) -> Cell:
    """A cell of a room that stands clear of its walls and its label."""
    geometry = picture.geometry
    free = (
        (column, row)
        for column, row in sorted(geometry.cells[name])
        if not geometry.walls[row][column] and (column, row) not in picture.written
        and (column, row) not in geometry.accents
    )  # fmt: skip
    column, row = next(free)
    return picture.rows[row][column]


def test_a_room_is_filled_with_its_wall_colour() -> None:
    picture = picture_of(small_house(), look=Look())
    assert body_of(picture, "kitchen")[1].bg == "#7c8468"
    assert body_of(picture, "hall")[1].bg == "#d9d0bf"


def test_the_edge_of_a_room_shows_its_trim() -> None:
    picture = picture_of(small_house(), look=Look())
    kitchen = picture.geometry.cells["kitchen"]
    colours = {colour for c, r in kitchen for colour in picture.rows[r][c][1][:2]}
    assert {"#7c8468", "#f3f0e8"} <= colours


def test_an_accent_wall_shows_on_its_side_of_the_room() -> None:
    picture = picture_of(small_house(), look=Look())
    accents = {cell for cell, wall in picture.geometry.accents.items() if wall == "w"}
    left = min(column for column, _ in picture.geometry.cells["hall"])
    assert accents
    assert all(column - left < 2 for column, _ in accents)
    assert all("#7c8468" in picture.rows[row][column][1][:2] for column, row in accents)


@pytest.mark.parametrize(("wall", "edge"), [("n", min), ("s", max)])
def test_an_accent_wall_to_the_north_is_up(wall: str, edge: type) -> None:
    house = beside("cased")
    rooms = {**house.rooms, "a": replace(house.rooms["a"], accents={wall: Accent("moss")})}
    geometry = picture_of(replace(house, rooms=rooms)).geometry
    outermost = edge(row for _, row in geometry.cells["a"])
    assert {row for _, row in geometry.accents} == {outermost}


def test_name_and_lrv_stand_in_the_room() -> None:
    house = small_house()
    printed = replace(
        house, paints={**house.paints, "moss": paint("#7c8468", "Moss Bank", lrv=22.0)}
    )
    text = text_of_map(picture_of(printed))
    assert "Kitchen" in text
    assert "LRV 22" in text
    assert "Moss Bank" in text


def test_only_the_rooms_of_the_level_are_drawn() -> None:
    assert "Study" not in text_of_map(picture_of(small_house()))
    assert "Study" in text_of_map(picture_of(small_house(), level=1))


def test_a_room_without_paint_is_hatched() -> None:
    house = House(rooms={"a": room("Bare", size_m=(4.0, 3.0))})
    assert text_of_map(picture_of(house)).count(UNICODE.hatch) > 50


def test_a_paint_whose_colour_is_not_known_yet_is_dotted() -> None:
    house = small_house()
    finish = house.finishes["oak-floor"].colour
    paints = {**house.paints, "moss": replace(house.paints["moss"], colour=finish)}
    assert body_of(picture_of(replace(house, paints=paints), look=Look()), "kitchen")[0] == "·"


def signs_between(house: House) -> set[str]:
    """What stands in the gap, apart from the walls that are elsewhere."""
    picture = picture_of(house)
    (gap,) = picture.geometry.gaps.values()
    return {picture.rows[row][column][0] for column, row in gap.cells}


@pytest.mark.parametrize(
    ("kind", "door", "sign"),
    [
        ("cased", "open", " "),
        ("doorway", "open", UNICODE.leaf_line),
        ("doorway", "shut", UNICODE.shut[1]),
        ("open", "open", UNICODE.open_plan[1]),
        ("glazed", "open", UNICODE.glazed[1]),
        ("stairs", "open", UNICODE.stairs),
    ],
)
def test_every_kind_of_opening_has_a_sign_of_its_own(kind: str, door: str, sign: str) -> None:
    found = signs_between(beside(kind, door=door))
    assert sign in found
    assert found <= {sign, " "}


def test_an_opening_is_a_gap_in_the_walls_as_wide_as_it_is() -> None:
    geometry = picture_of(beside("cased")).geometry
    (gap,) = geometry.gaps.values()
    rows = {row for _, row in gap.near}
    of_room = {row for _, row in geometry.cells["a"]}
    assert len(rows) / len(of_room) == pytest.approx(0.5, abs=0.1)
    assert all(geometry.walls[row][column] == 0 for column, row in gap.cells)


def test_the_selected_room_has_a_frame_and_a_reversed_name() -> None:
    picture = picture_of(small_house(), look=Look())
    selected = Selected(picture, "kitchen")
    text = text_of(selected.row(row) for row in range(ROWS))
    assert all(corner in text for corner in "┏┓┗┛")
    names = [run for r in range(ROWS) for run in selected.row(r) if "Kitchen" in run.text]
    assert names[0].ink.bg == picture.inks[picture.numbers["kitchen"]].text


def test_a_frame_never_reaches_over_its_own_room() -> None:
    picture = picture_of(small_house())
    for name in picture.geometry.rooms:
        own = picture.geometry.cells[name]
        for stamp in picture.frame(name):
            assert {(stamp.column + k, stamp.row) for k in range(stamp.width)} <= own


def test_moving_the_selection_changes_only_the_two_rooms() -> None:
    picture = picture_of(small_house())
    parts = changed_parts(Selected(picture, "hall"), Selected(picture, "kitchen"))
    touched = picture.geometry.cells["hall"] | picture.geometry.cells["kitchen"]
    for row, start, end in parts:
        assert (start, row) in touched
        assert (end - 1, row) in touched


def test_a_line_of_sight_goes_under_labels_and_walls() -> None:
    picture = picture_of(small_house())
    lines = picture.lines([((0.0, 0.0), (COLUMNS - 0.5, ROWS - 0.5))])
    assert lines
    for stamp in lines:
        assert (stamp.column, stamp.row) not in picture.written
        assert picture.geometry.walls[stamp.row][stamp.column] == 0


@settings(max_examples=40, deadline=None)
@given(houses(max_rooms=4))
def test_any_house_is_drawn_in_any_look(house: House) -> None:
    for level in {each.level for each in house.rooms.values()}:
        for look in LOOKS:
            picture = picture_of(house, level, look)
            chosen = picture.geometry.rooms[0]
            for row in range(ROWS):
                assert width_of(Selected(picture, chosen).row(row)) == COLUMNS


@pytest.mark.parametrize(
    "name", ["[/]", "[red]Study", "\x1b]0;title\x07", "a\u202eb", "台所", "\t"]
)
def test_no_name_can_do_anything_but_be_read(name: str) -> None:
    house = House(rooms={"a": room(name, "p", size_m=(6.0, 4.0))}, paints={"p": paint(name=name)})
    for look in LOOKS:
        picture = picture_of(house, look=look)
        for row in range(ROWS):
            drawn = Selected(picture, "a").row(row)
            assert "".join(run.text for run in drawn).isprintable()
            assert width_of(drawn) == COLUMNS


def test_without_colour_no_cell_has_one() -> None:
    picture = picture_of(small_house(), look=PLAIN)
    selected = Selected(picture, "hall")
    inks = {run.ink for row in range(ROWS) for run in selected.row(row)}
    assert all(ink.fg is None and ink.bg is None for ink in inks)


def test_a_long_name_is_cut_or_broken_within_its_room() -> None:
    house = House(
        rooms={"a": room("Conservatory and boot room", "p", size_m=(3.0, 3.0))},
        paints={"p": paint()},
    )
    picture = picture_of(house)
    box = picture.geometry.boxes["a"]
    for stamp in picture.label("a", chosen=False):
        assert cell_len(stamp.text) <= box.columns


def test_surfaces_that_are_not_chosen_are_bare() -> None:
    house = small_house()
    hall = replace(house.rooms["hall"], paints=SurfacePaints())
    bare = replace(house, rooms={**house.rooms, "hall": hall})
    block = blocks_of(shades_of(Session.of(bare)))["hall"]
    assert block.coat("walls").state == "bare"
    assert block.lrv is None


def test_a_name_of_wide_characters_leaves_no_half_of_one() -> None:
    house = House(rooms={"a": room("台所と食堂", "p", size_m=(3.0, 3.0))}, paints={"p": paint()})
    picture = picture_of(house)
    for row in range(ROWS):
        assert width_of(Selected(picture, "a").row(row)) == COLUMNS


def test_the_ascii_map_is_ascii() -> None:
    for look in LOOKS:
        if look.glyphs.ascii:
            assert text_of_map(picture_of(small_house(), look=look), "hall").isascii()


def test_a_name_without_place_is_a_number_in_the_room_and_stands_at_the_foot() -> None:
    rooms = {
        "a": room("Antechamber", size_m=(0.8, 2.0), at_m=(0.0, 0.0)),
        "b": room("Ballroom", size_m=(8.0, 4.0), at_m=(1.0, 0.0)),
    }
    shown = text_of_map(picture_of(House(rooms=rooms)))
    assert "1 Antechamber" in shown
    assert "Ballroom" in shown
    assert "2 Ballroom" not in shown


@pytest.mark.parametrize(("north", "arrow"), [(0.0, "↑"), (90.0, "→"), (-45.0, "↖")])
def test_an_arrow_points_to_the_north(north: float, arrow: str) -> None:
    picture = replace(picture_of(beside("open")), north_deg=north)
    assert f"N {arrow}" in text_of_map(picture)


def test_no_line_of_sight_touches_a_word() -> None:
    picture = picture_of(beside("open"))
    middle = {row for _, row in picture.written}
    row = min(middle)
    path = ((0.0, row + 0.5), (COLUMNS - 1.0, row + 0.5))
    assert not {(stamp.column, stamp.row) for stamp in picture.lines([path])} & picture.written


@pytest.mark.parametrize(
    ("columns", "rows", "lines"),
    [
        (12, 1, ["Hall 64 ▲L2"]),
        (9, 1, ["Hall 64▲"]),
        (7, 1, ["Hall 64"]),
        (5, 1, ["Hall▲"]),
        (12, 2, ["Hall", "LRV 64 ▲L2"]),
        (6, 2, ["Hall", "64 ▲L2"]),
        (4, 2, ["Hall", "64 ▲"]),
        (3, 2, ["Ha…", "64"]),
    ],
)
def test_a_name_goes_before_an_lrv_and_that_before_a_mark(
    columns: int, rows: int, lines: list[str]
) -> None:
    block = Block("Hall", {}, {}, lrv=64.0, mark=Mark("warn", 2))
    names, below = label_of(block, columns, rows, PLAIN)
    assert [*names, *below] == lines
