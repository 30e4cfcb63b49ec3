"""What is to be drawn again when one picture of a map follows another."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import partial
from itertools import product
from math import hypot
from operator import itemgetter
from typing import NamedTuple

from housemap.model.frozen import frozen
from housemap.model.geometry import middle
from housemap.model.house import House, Point
from housemap.plan.floor_plan import Plan
from housemap.plan.house_graph import HouseGraph, Pair
from housemap.tui.map.layout import (
    GROUND,
    Frame,
    Geometry,
    Place,
    Port,
    enlarged_frame,
    fitting_frame,
    follow,
    geometry_of,
    rooms_of_level,
    spans,
)
from housemap.tui.map.picture import Path, Picture, Selected, by_row, dot_stamps, way_arrow
from housemap.tui.render.cells import Ink, Row, Stamp, lay_over, runs_of
from housemap.tui.render.look import Look
from housemap.tui.render.shades import Block, Mark
from housemap.workbench.session import Standing

Part = tuple[int, int, int]
"""Of a picture: a row, its first column, and the column after its last."""


def changed_parts(first: Selected, second: Selected) -> list[Part]:
    """What to draw again when one selection follows another on a map of the same geometry."""
    parts: list[Part] = []
    for row in sorted(first.stamps.keys() | second.stamps.keys()):
        differing = set(first.stamps.get(row, ())) ^ set(second.stamps.get(row, ()))
        if differing:
            start = min(stamp.column for stamp in differing)
            parts.append((row, start, max(stamp.column + stamp.width for stamp in differing)))
    if first.picture is not second.picture:
        parts += _recoloured(first.picture, second.picture)
    return parts


def _recoloured(first: Picture, second: Picture) -> Iterator[Part]:
    port, other_eyes = second.geometry.port, first.look.eyes != second.look.eyes
    for row in range(port.rows):
        before, after = first.cells(row), second.cells(row)
        if other_eyes:
            yield row, 0, port.columns
        elif before is not after and before != after:
            differing = [n for n, (a, b) in enumerate(zip(before, after, strict=True)) if a != b]
            yield row, differing[0], differing[-1] + 1


def repainted(before: Picture, picture: Picture) -> Picture:
    """The picture, with the rows of one of the same geometry that hold no room that changed."""
    if (before.look, before.units) != (picture.look, picture.units):
        return picture
    geometry = picture.geometry
    changed = {r for r in geometry.rooms if before.blocks.get(r) != picture.blocks.get(r)}
    rows = {row for room in changed for _, row in geometry.cells.get(room, ())}
    for gap in geometry.gaps.values():
        if not changed.isdisjoint(gap.opening.between):
            rows |= {row for _, row in gap.cells}
    kept = {row: cells for row, cells in before.made.items() if row not in rows}
    picture.made.update(kept)
    return picture


# Lines of sight on the map: from the selected room through openings to the rooms it sees.


class Sight(NamedTuple):
    """A room that is seen from the selected one, and the openings on the way, in their order."""

    room: str
    through: tuple[str, ...] = ()


def paths_of(
    geometry: Geometry, plan: Plan, room: str | None, sights: Sequence[Sight]
) -> tuple[Path, ...]:
    """The lines to the seen rooms of this level, in cells of the port."""
    if room not in geometry.rooms:
        return ()
    start, paths = _middle(geometry, plan, str(room)), []
    for sight in sights:
        if sight.room in geometry.rooms:
            placed = (plan.openings[way] for way in sight.through if way in plan.openings)
            ways = [_in_port(geometry, middle(way.far_m[1], way.near_m[0])) for way in placed]
            paths.append((start, *ways, _middle(geometry, plan, sight.room)))
    return tuple(paths)


def _middle(geometry: Geometry, plan: Plan, room: str) -> tuple[float, float]:
    """The middle of the room's label where it has one on the screen, else of its outline."""
    box = geometry.boxes.get(room)
    if box:
        return box.column + box.columns / 2, box.row + box.rows / 2
    west, south, east, north = plan.rooms[room].box_m
    return _in_port(geometry, ((west + east) / 2, (south + north) / 2))


def _in_port(geometry: Geometry, point: Point) -> tuple[float, float]:
    column, row = geometry.frame.at(point)
    return column - geometry.port.column, row - geometry.port.row


# On a map: where one stands, which way one looks, and the floor that is seen from there.

NEAR = 4
"""Cells that the arrow may move out of the way of a label."""


def standing_stamps(picture: Picture, plan: Plan, standing: Standing | None) -> Iterator[Stamp]:
    """Dots over what is seen, and an arrow where one stands; nothing on another level."""
    geometry = picture.geometry
    if standing is None or standing.room not in geometry.rooms or standing.room not in plan.rooms:
        return
    look, port = picture.look, geometry.port
    # Every second dot inside any of the outlines.
    dots = (
        (x, y)
        for piece in standing.seen_m
        for y, start, end in spans(
            # In dots, two to a column and four to a row.
            [(x * 2, y * 4) for x, y in (_in_port(geometry, corner) for corner in piece)],
            port.columns * 2,
            port.rows * 4,
        )
        for x in range(start + (start + y) % 2, end, 2)
    )
    yield from dot_stamps(dots, partial(_free_ink, picture), look.glyphs.dots, look)
    here = _free_cell(picture, *_in_port(geometry, standing.at_m))
    if here and (ink := _free_ink(picture, here)):
        arrow = way_arrow(standing.toward_deg, look.glyphs.ways)
        yield Stamp(*here, arrow, Ink(ink.bg, ink.fg, bold=True, reverse=ink.bg is None))


def _free_cell(picture: Picture, column: float, row: float) -> Place | None:
    """The nearest cell of a room in which nothing is written, no further off than NEAR."""
    steps = product(range(-NEAR, NEAR + 1), repeat=2)
    around = ((int(column) + x, int(row) + y) for x, y in steps)
    free = (cell for cell in around if _free_ink(picture, cell))

    def far(cell: Place) -> float:
        return hypot(cell[0] + 0.5 - column, 2 * (cell[1] + 0.5 - row))

    return min(free, key=far, default=None)


def _free_ink(picture: Picture, cell: Place) -> Ink | None:
    """Of a cell of a room in which nothing is written; None elsewhere, also outside the port."""
    port, (column, row) = picture.geometry.port, cell
    inside = 0 <= column < port.columns and 0 <= row < port.rows
    if not inside or cell in picture.written:
        return None
    number = picture.geometry.grid.at(column, row)
    return None if number == GROUND else Ink(picture.inks[number].text, picture.inks[number].body)


# The map as it is drawn time after time: what has not changed since the last time is kept.


@frozen()
class Scene:
    """Everything that the map shows of a house."""

    house: House
    plan: Plan
    level: int
    blocks: Mapping[str, Block]
    look: Look
    graph: HouseGraph | None = None
    """Set where the house is shown as a graph instead of a plan."""
    between: Mapping[Pair, str] = field(default_factory=dict)
    """The severity of the gravest finding between two rooms, for the graph."""


class Looking(NamedTuple):
    """From which room lines of sight run, where to; and where one stands in it."""

    room: str | None = None
    sights: tuple[Sight, ...] = ()
    standing: Standing | None = None


class View(NamedTuple):
    scene: Scene
    room: str | None
    """The selected one."""
    looking: Looking
    size: tuple[int, int]
    """Columns and rows."""
    enlarged: float = 1.0


class Drawing:
    """Draws one view after another."""

    def __init__(self) -> None:
        self.selected: Selected | None = None
        """What is drawn; None where a level has no rooms."""
        self.view: View | None = None
        self._frame: Frame | None = None
        self._port: Port | None = None
        self._spare = 0
        """Rows at the foot that are kept free for names."""

    @property
    def geometry(self) -> Geometry | None:
        return self.selected.picture.geometry if self.selected else None

    def draw(self, view: View) -> list[Part] | None:
        """Draw a view, and return what differs from the one before; None: all of it may."""
        last, before = self.view, self.selected
        self.view = view
        if not rooms_of_level(view.scene.plan, view.scene.level) or not all(view.size):
            self.selected = None
            return None
        geometry = self._layout(view, last)
        kept = before if before and before.picture.geometry is geometry else None
        picture = _picture(view, geometry, kept.picture if kept else None)
        same = kept and picture is kept.picture and last and view.looking == last.looking
        lines = kept.lines if kept and same else _lines(view, picture)
        self.selected = Selected(picture, view.room, lines)
        return changed_parts(kept, self.selected) if kept else None

    def _layout(self, view: View, last: View | None) -> Geometry:
        """Where everything goes; made anew where rooms, the size or the port moved."""
        scene, size, known = view.scene, view.size, self.geometry
        if last is None or (size, view.enlarged) != (last.size, last.enlarged):
            self._frame = self._port = None
        same = last and scene.plan is last.scene.plan and scene.level == last.scene.level
        if self._frame is None or last is None or not same:
            known, self._spare = _fitting(view)
            self._frame = known.frame
        elif not _same_walls(scene.house, last.scene.house):
            known = None
        chosen = scene.plan.rooms.get(view.room or "")
        outline = chosen.outline_m if chosen and chosen.level == scene.level else None
        self._port = port = _port(self._frame, size, self._spare, outline, self._port)
        if known is not None and port == known.port:
            return known
        return geometry_of(scene.house, scene.plan, scene.level, self._frame, port)


NAME_ROWS = 3
"""The most that are kept free at the foot for names that rooms have no place for."""
MARKED = Mark("warn", 9)
"""No finding that comes later may take the place of a name."""


def _fitting(view: View) -> tuple[Geometry, int]:
    """The level as large as leaves a place for every name, and the rows that takes at the foot."""
    scene, (columns, rows) = view.scene, view.size
    house, plan, level = scene.house, scene.plan, scene.level
    blocks = {room: block._replace(mark=MARKED) for room, block in scene.blocks.items()}
    marked = view._replace(scene=replace(scene, blocks=blocks))
    outlines = [plan.rooms[room].outline_m for room in rooms_of_level(plan, level)]
    found, thickness_m = [], house.wall_thickness_m
    for spare in range(NAME_ROWS + 1 if view.enlarged == 1 else 1):
        frame = fitting_frame(outlines, columns - 2, max(rows - spare, 2) - 1, thickness_m)
        if view.enlarged != 1:
            frame = enlarged_frame(outlines, frame, view.enlarged, thickness_m)
        geometry = geometry_of(house, plan, level, frame, _port(frame, view.size, spare))
        nameless = _picture(marked, geometry).nameless
        found.append((nameless, spare, geometry))
        if not nameless:
            break
    _, spare, geometry = min(found, key=itemgetter(0))
    return geometry, spare


def _port(
    frame: Frame, size: tuple[int, int], spare: int,
    outline: Sequence[Point] | None = None, before: Port | None = None,
) -> Port:  # fmt: skip
    """What is on the screen of a frame, above so many rows that are kept free."""
    columns, rows = size
    return follow(frame, outline, before, columns, rows - spare)._replace(rows=rows)


def _same_walls(house: House, other: House) -> bool:
    """Whether windows and accent walls, which move no room, are where they were."""
    if house.rooms is other.rooms:
        return True
    pairs = ((room, other.rooms[key]) for key, room in house.rooms.items())
    return all(
        a is b or (a.windows == b.windows and a.accents.keys() == b.accents.keys())
        for a, b in pairs
    )


def _picture(view: View, geometry: Geometry, before: Picture | None = None) -> Picture:
    """The picture before where it still holds; else one that takes over the rows that do."""
    scene = view.scene
    if before is not None and before.blocks is scene.blocks and before.look is scene.look:
        return before
    rooms = scene.plan.rooms.values()
    to_scale = any(room.measured for room in rooms if room.level == scene.level)
    units = scene.house.units if to_scale else None
    picture = Picture(geometry, scene.blocks, scene.look, units, scene.house.north_deg)
    if before is None:
        return picture
    return before if picture == before else repainted(before, picture)


def _lines(view: View, picture: Picture) -> tuple[Stamp, ...]:
    looking, plan = view.looking, view.scene.plan
    paths = paths_of(picture.geometry, plan, looking.room, looking.sights)
    return *picture.lines(paths), *standing_stamps(picture, plan, looking.standing)


# The map beside the walk: one level in a few rows, without names, with where one stands.


def inset_geometry(house: House, plan: Plan, level: int, columns: int, rows: int) -> Geometry:
    """A level of at least one room, fitted into so many cells."""
    return replace(_fitted(house, plan, level, (columns, rows)), boxes={}, panes={})


def _fitted(house: House, plan: Plan, level: int, size: tuple[int, int]) -> Geometry:
    outlines = [plan.rooms[room].outline_m for room in rooms_of_level(plan, level)]
    frame = fitting_frame(outlines, *size, house.wall_thickness_m)
    return geometry_of(house, plan, level, frame, follow(frame, None, None, *size))


def inset_rows(picture: Picture, plan: Plan, standing: Standing) -> list[Row]:
    stamps = by_row(standing_stamps(picture, plan, standing))
    return [runs_of(lay_over(cells, stamps.get(y, ()))) for y, cells in enumerate(picture.rows)]
