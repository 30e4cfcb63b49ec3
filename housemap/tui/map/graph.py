"""The house as the graph it is: rooms as discs in their wall colour, joined by lines.

A full line is an opening, a dotted one is seen without one; the more of the view it takes, the
closer its dots. Findings between two rooms are marked on their line. Rooms keep the directions
that they have in the plan, each level in a band of its own, so nothing needs to be measured.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice
from math import ceil
from typing import NamedTuple

import numpy as np
from rich.cells import cell_len

from housemap.colorimetry.arrays import Floats
from housemap.plan.house_graph import HouseGraph, Pair, sorted_pair
from housemap.tui.map.drawing import Scene
from housemap.tui.map.picture import block_inks, by_row, dot_stamps, mark_text
from housemap.tui.render.cells import Cell, Ink, Row, Stamp, cut, lay_over, plain, runs_of
from housemap.tui.render.look import Greys, Look

LARGE, SMALL = 3, 1
"""Rows of a disc: with the LRV or the findings under the name, or the name alone."""
LEAST_COLUMNS = 7
ROOMY = 0.4
"""Of the screen that large discs may take, with what is kept free around them."""
APART = (2.0, 1.0)
"""Columns and rows that are kept free between discs where there is room."""
EDGE = (1.0, 0.5)
"""The same between a disc and the edge of the screen."""
ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Where on a line a mark may be, the best first."""
ROUNDS = 200
"""After so many steps discs that still overlap stay so: there is no room for them."""
STRONG_SHARE = 0.1
"""Of the full circle: seen by as much or more, a line has all its dots."""


class Disc(NamedTuple):
    """Where a room is drawn: its middle, and how wide it is."""

    column: float
    row: float
    columns: int
    rows: int

    @property
    def corner(self) -> tuple[int, int]:
        """The column and row of its first cell."""
        return int(self.column - self.columns / 2), int(self.row - self.rows / 2)

    def holds(self, column: int, row: int) -> bool:
        left, top = self.corner
        return 0 <= column - left < self.columns and 0 <= row - top < self.rows


class Edge(NamedTuple):
    rooms: Pair
    joined: bool
    """By an opening; else one only sees the other."""
    share: float | None
    severity: str
    """Of the gravest finding between the two; empty where there is none."""


def edges_of(graph: HouseGraph, between: Mapping[Pair, str]) -> Iterator[Edge]:
    """The openings first, then what is only seen."""
    joined = {sorted_pair(*opening.between): None for opening in graph.openings.values()}
    seen = {sorted_pair(*line.between): None for line in graph.sightlines.values()}
    for pair in {**joined, **seen, **dict.fromkeys(graph.sightings)}:
        sighting = graph.sightings.get(pair)
        share = sighting.share if sighting else None
        yield Edge(pair, pair in joined, share, between.get(pair, ""))


def discs_of(scene: Scene, size: tuple[int, int]) -> dict[str, Disc]:
    """A place for each room: as in the plan, levels in bands from the highest down, none hidden."""
    rooms_shown, widths = scene.plan.rooms, {r: _width(scene, r) for r in scene.plan.rooms}
    taken = sum((width + APART[0]) * (LARGE + APART[1]) for width in widths.values())
    high = LARGE if taken <= ROOMY * size[0] * size[1] else SMALL
    discs: dict[str, Disc] = {}
    top = 0.0
    for level in reversed(scene.plan.levels()):
        rooms = [room for room, placed in rooms_shown.items() if placed.level == level]
        rows = (size[1] - 1) * len(rooms) / len(rooms_shown)
        across = [widths[room] for room in rooms]
        at = _spread(_middles(scene, rooms), across, high, (size[0], rows))
        for room, (column, row) in zip(rooms, at, strict=True):
            discs[room] = Disc(float(column), float(row) + top, widths[room], high)
        top += rows
    return discs


def _width(scene: Scene, room: str) -> int:
    block = scene.blocks.get(room)
    return max(LEAST_COLUMNS, cell_len(plain(block.name)) + 4) if block else LEAST_COLUMNS


def _middles(scene: Scene, rooms: Sequence[str]) -> Floats:
    """Of the rooms in the plan, 0..1 from the west and from the north: (n, 2)."""
    boxes = np.array([scene.plan.rooms[room].box_m for room in rooms])
    middles = np.stack([(boxes[:, 0] + boxes[:, 2]) / 2, -(boxes[:, 1] + boxes[:, 3]) / 2], axis=1)
    low, high = middles.min(axis=0), middles.max(axis=0)
    extent = np.where(high > low, high - low, 1.0)
    return np.asarray(np.where(high > low, (middles - low) / extent, 0.5))


def _spread(
    middles01: Floats, columns: Sequence[int], rows: int, size: tuple[float, float]
) -> Floats:
    """Columns and rows of discs that are pushed apart until none overlap, where there is room."""
    half = np.stack([np.array(columns) / 2, np.full(len(columns), rows / 2)], axis=1)
    low = half + np.array(EDGE)
    high = np.maximum(np.array(size) - half - np.array(EDGE), low)
    at = low + middles01 * (high - low)
    need = half[:, None] + half[None] + np.array(APART)
    order = np.arange(len(at))
    later = np.sign(order[:, None] - order)[..., None]
    for _ in range(ROUNDS):
        gap = at[:, None] - at[None]
        short = np.maximum(need - np.abs(gap), 0.0)
        short[order, order] = 0.0
        short *= (short.min(axis=2) > 0.0)[..., None]
        if not short.any():
            break
        # Along the side on which less is missing; a row counts for two columns.
        across = (short * (1.0, 2.0)).argmin(axis=2)[..., None] == (0, 1)
        away = np.where(gap == 0.0, later, np.sign(gap))
        at = np.clip(at + (short * across * away * 0.35).sum(axis=1), low, high)
    return np.asarray(at)


@dataclass(frozen=True)
class GraphPicture:
    """The graph of a house in so many columns and rows."""

    scene: Scene
    graph: HouseGraph
    between: Mapping[Pair, str]
    """The severity of the gravest finding between two rooms."""
    room: str | None
    """The selected one."""
    size: tuple[int, int]

    @cached_property
    def discs(self) -> Mapping[str, Disc]:
        return discs_of(self.scene, self.size) if self.scene.plan.rooms else {}

    @cached_property
    def rows(self) -> Sequence[Row]:
        ground = Ink(self._greys.quiet, self._greys.ground)
        cells: list[list[Cell]] = [[(" ", ground)] * self.size[0] for _ in range(self.size[1])]
        stamps = by_row(self._stamps())
        return [runs_of(lay_over(row, stamps.get(y, ()))) for y, row in enumerate(cells)]

    def room_at(self, column: int, row: int) -> str | None:
        return next((room for room, disc in self.discs.items() if disc.holds(column, row)), None)

    @property
    def _look(self) -> Look:
        return self.scene.look

    @property
    def _greys(self) -> Greys:
        return self._look.greys

    def _stamps(self) -> Iterator[Stamp]:
        edges = [*edges_of(self.graph, self.between)]
        # What belongs to the selected room is drawn over the rest.
        edges.sort(key=lambda edge: (self.room in edge.rooms, edge.joined))
        for edge in edges:
            yield from self._line(edge)
        for room, disc in self.discs.items():
            yield from self._disc(room, disc)
        for edge in edges:
            if edge.severity:
                yield from self._mark(edge)
        words = cut("Line: an opening. Dots: seen from there.", max(self.size[0] - 2, 0))
        yield Stamp(1, self.size[1] - 1, words, Ink(self._greys.quiet, self._greys.ground))

    def _ends(self, edge: Edge) -> tuple[Disc, Disc] | None:
        first, second = (self.discs.get(room) for room in edge.rooms)
        return (first, second) if first and second else None

    def _line(self, edge: Edge) -> Iterator[Stamp]:
        if ends := self._ends(edge):
            greys, look, mine = self._greys, self._look, self.room in edge.rooms
            line = greys.strong if mine else greys.quiet if edge.joined else greys.faint
            ink = Ink(line, greys.ground)
            yield from dot_stamps(_dots(ends, edge), lambda _: ink, look.glyphs.dot, look)

    def _mark(self, edge: Edge) -> Iterator[Stamp]:
        """Halfway, or nearer to one end where a disc is in the way; none over a name."""
        ends = self._ends(edge)
        if ends is None:
            return
        (x0, y0, *_), (x1, y1, *_) = ends
        places = [(int(x0 + (x1 - x0) * part), int(y0 + (y1 - y0) * part)) for part in ALONG]
        free = (at for at in places if not any(self.room_at(at[0] + x, at[1]) for x in (-1, 0, 1)))
        ink = Ink(self._greys.strong, self._greys.ground, bold=True)
        for column, row in islice(free, 1):
            yield Stamp(column - 1, row, f" {self._look.glyphs.marks[edge.severity]} ", ink)

    def _disc(self, room: str, disc: Disc) -> Iterator[Stamp]:
        block = self.scene.blocks.get(room)
        if block is None:
            return
        inks = block_inks(block, self._look)
        chosen = room == self.room
        left, top = disc.corner
        body = Ink(inks.text, inks.body, bold=chosen, reverse=chosen and inks.body is None)
        rim = Ink(inks.body, self._greys.ground)
        yield from self._rim(disc, left, top, rim, body)
        here = self._look.glyphs.here if chosen else ""
        lines = [here + cut(block.name, disc.columns - 3)]
        if disc.rows == LARGE:
            lrv = "" if block.lrv is None else f"LRV {block.lrv:.0f}"
            lines.append(mark_text(block, self._look) or lrv)
        for y, text in enumerate(lines, start=top + disc.rows // 2):
            yield Stamp(left + ceil((disc.columns - cell_len(text)) / 2), y, text, body)

    def _rim(self, disc: Disc, left: int, top: int, rim: Ink, body: Ink) -> Iterator[Stamp]:
        """A block with round corners."""
        middle = " " * (disc.columns - 2)
        if not self._look.blocks:
            for y in range(disc.rows):
                yield Stamp(left, top + y, f"({middle})", body)
            return
        yield Stamp(left, top + disc.rows // 2, f" {middle} ", body)
        if disc.rows == LARGE:
            for y, corner in ((top, "▄"), (top + LARGE - 1, "▀")):
                yield Stamp(left, y, corner, rim)
                yield Stamp(left + 1, y, middle, body)
                yield Stamp(left + disc.columns - 1, y, corner, rim)


def _dots(ends: tuple[Disc, Disc], edge: Edge) -> Iterator[tuple[int, int]]:
    (x0, y0, *_), (x1, y1, *_) = ends
    across, down = (x1 - x0) * 2, (y1 - y0) * 4
    length = max(int(max(abs(across), abs(down))), 1)
    beside = (0, 1) if abs(across) > abs(down) else (1, 0)
    # Of a line of sight every third dot is drawn, or every sixth.
    step = 1 if edge.joined else 3 if edge.share is None or edge.share >= STRONG_SHARE else 6
    for k in range(0, length + 1, step):
        x, y = int(x0 * 2 + across * k / length), int(y0 * 4 + down * k / length)
        yield x, y
        if edge.joined:  # twice as thick
            yield x + beside[0], y + beside[1]
