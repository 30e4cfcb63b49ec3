"""The map of one level as rows of runs."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from housemap.model.house import Units
from housemap.tui.render.canvas import Cell, Stamp, lay_over, runs_of
from housemap.tui.render.cells import (
    SMALL_COLUMNS,
    SMALL_ROWS,
    RoomInks,
    accent_inks,
    block_inks,
    cell_of,
)
from housemap.tui.render.geometry import Geometry
from housemap.tui.render.grid import GROUND
from housemap.tui.render.labels import label_stamps
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.runs import Ink, Row
from housemap.tui.render.scale_bar import scale_stamps
from housemap.tui.render.scene import Block
from housemap.tui.render.selection import Path, Place, frame_stamps, line_stamps
from housemap.tui.render.signs import pane_signs, signs_of

Stamps = dict[int, list[Stamp]]
"""By row."""


@dataclass(frozen=True)
class Picture:
    """The map of a level without a selection; each part is made once, when first asked for."""

    geometry: Geometry
    blocks: Mapping[str, Block]
    look: Look
    units: Units | None = None
    """Of the scale bar; None: none is drawn."""
    made: dict[int, list[Cell]] = field(default_factory=dict, repr=False, compare=False)
    """By row, the cells that have been drawn."""

    @cached_property
    def inks(self) -> tuple[RoomInks, ...]:
        """By number of the room."""
        return tuple(block_inks(self._block(room), self.look) for room in self.geometry.rooms)

    def cells(self, row: int) -> list[Cell]:
        """A row: rooms, their walls, the signs of openings, and labels."""
        cells = self.made.get(row)
        if cells is None:
            cells = lay_over(self._bare_row(row), self._stamps.get(row, ()))
            self.made[row] = cells
        return cells

    @property
    def rows(self) -> list[list[Cell]]:
        """The cells of every row."""
        return [self.cells(row) for row in range(self.geometry.port.rows)]

    @cached_property
    def _stamps(self) -> Stamps:
        bar = scale_stamps(self.geometry, self.units, self.look) if self.units else ()
        return by_row([*self._panes(), *self._signs(), *self._labels, *bar])

    @cached_property
    def numbers(self) -> Mapping[str, int]:
        return {room: number for number, room in enumerate(self.geometry.rooms)}

    def _block(self, room: str) -> Block:
        return self.blocks.get(room) or Block(room, room, {}, {})

    def _bare_row(self, row: int) -> list[Cell]:
        geometry = self.geometry
        line = geometry.grid.owner[row + 1]
        cells = []
        for column, sides in enumerate(geometry.walls[row]):
            number = line[column + 1]
            wall = geometry.accents.get((column, row))
            cells.append(self._cell(number, sides, wall))
        return cells

    def _cell(self, number: int, sides: int, accent: str | None) -> Cell:
        key = (number, sides, accent)
        cell = self._cells.get(key)
        if cell is None:
            cell = self._cells[key] = self._new_cell(number, sides, accent)
        return cell

    @cached_property
    def _cells(self) -> dict[tuple[int, int, str | None], Cell]:
        return {}

    def _new_cell(self, number: int, sides: int, accent: str | None) -> Cell:
        if number == GROUND:
            return " ", Ink(None, self.look.greys.ground)
        room = self.geometry.rooms[number]
        block, small = self._block(room), room in self._small
        if accent is not None and accent in block.accents:
            return cell_of(accent_inks(block, accent, self.look), sides, self.look, small=small)
        return cell_of(self.inks[number], sides, self.look, small=small)

    @cached_property
    def _small(self) -> frozenset[str]:
        """The rooms that are drawn small."""
        return frozenset(room for room, cells in self.geometry.cells.items() if _is_small(cells))

    def _panes(self) -> Iterator[Stamp]:
        for room, panes in self.geometry.panes.items():
            block, inks = self._block(room), self.inks[self.numbers[room]]
            for pane in panes:
                wall = self.geometry.accents.get(pane.cells[0])
                on_accent = wall is not None and wall in block.accents
                own = accent_inks(block, wall, self.look) if wall and on_accent else inks
                yield from pane_signs(pane, own, self.look)

    def _signs(self) -> Iterator[Stamp]:
        for gap in self.geometry.gaps.values():
            near, far = (self.numbers[room] for room in gap.opening.between)
            doors = [self._block(room).coat("doors").colour for room in gap.opening.between]
            yield from signs_of(
                gap, self.inks[near], self.inks[far], doors[0] or doors[1], self.look
            )

    @cached_property
    def _labels(self) -> list[Stamp]:
        return [stamp for room in self.geometry.boxes for stamp in self.label(room, chosen=False)]

    @cached_property
    def written(self) -> frozenset[Place]:
        """The cells that a label takes."""
        return frozenset((s.column + k, s.row) for s in self._labels for k in range(s.width))

    def label(self, room: str, *, chosen: bool) -> Iterator[Stamp]:
        box = self.geometry.boxes.get(room)
        if box:
            inks = self.inks[self.numbers[room]]
            yield from label_stamps(self._block(room), box, inks, self.look, chosen=chosen)

    def frame(self, room: str) -> list[Stamp]:
        """The frame of a chosen room; made once."""
        if room not in self._frames:
            cells = self.geometry.cells.get(room, frozenset())
            inks = self.inks[self.numbers[room]]
            self._frames[room] = list(frame_stamps(cells, inks, self.look))
        return self._frames[room]

    @cached_property
    def _frames(self) -> dict[str, list[Stamp]]:
        return {}

    def line_ink(self, cell: Place) -> Ink | None:
        """The ink of a line of sight in a cell; None where it passes under a wall or a label."""
        column, row = cell
        port = self.geometry.port
        if not (0 <= column < port.columns and 0 <= row < port.rows) or cell in self.written:
            return None
        if self.geometry.walls[row][column]:
            return None
        ground = self.cells(row)[column][1].bg
        return Ink(text_on(ground) if ground else None, ground)

    def lines(self, paths: Iterable[Path]) -> tuple[Stamp, ...]:
        """Lines of sight."""
        return tuple(line_stamps(paths, self.line_ink, self.look))


@dataclass(frozen=True)
class Selected:
    """What a selection adds to a picture."""

    picture: Picture
    room: str | None
    lines: tuple[Stamp, ...] = ()

    @cached_property
    def stamps(self) -> Stamps:
        """Lines of sight, the frame over them, and the chosen name over both; by row."""
        picture, room = self.picture, self.room
        if room not in picture.geometry.rooms:
            return by_row(self.lines)
        return by_row([*self.lines, *picture.frame(room), *picture.label(room, chosen=True)])

    def row(self, row: int) -> Row:
        return runs_of(lay_over(self.picture.cells(row), self.stamps.get(row, ())))


def _is_small(cells: frozenset[Place]) -> bool:
    columns = {column for column, _ in cells}
    rows = {row for _, row in cells}
    return len(columns) < SMALL_COLUMNS or len(rows) < SMALL_ROWS


def by_row(stamps: Iterable[Stamp]) -> Stamps:
    rows: Stamps = {}
    for stamp in stamps:
        rows.setdefault(stamp.row, []).append(stamp)
    return rows
