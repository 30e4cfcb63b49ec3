"""How one cell of a room is drawn, from the room's colours and the walls round the cell.

In colour an edge is a strip of trim beside the wall colour, cut out by block characters; without
colour, or in ASCII, it is a line.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from functools import cached_property
from itertools import chain, pairwise
from typing import NamedTuple

from rich.cells import cell_len

from housemap.model.frozen import frozen
from housemap.model.house import Units
from housemap.model.lengths import METRES_OF
from housemap.tui.map.layout import (
    CELL_ASPECT,
    GROUND,
    NE,
    NW,
    SE,
    SW,
    Box,
    E,
    Gap,
    Geometry,
    N,
    Place,
    S,
    W,
)
from housemap.tui.render.cells import (
    Cell,
    Hex,
    Ink,
    Row,
    Stamp,
    cut,
    lay_over,
    plain,
    runs_of,
    wrap,
)
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.shades import Block, Coat

BODY, TRIM = "body", "trim"

EDGES: Mapping[int, tuple[str, str]] = {
    # sides: the character, and what its own part of the cell shows (the rest shows the other)
    N: ("▆", BODY), S: ("▂", TRIM), W: ("▌", TRIM), E: ("▐", TRIM),
    N | W: ("▛", TRIM), N | E: ("▜", TRIM), S | W: ("▙", TRIM), S | E: ("▟", TRIM),
    NW: ("▘", TRIM), NE: ("▝", TRIM), SW: ("▖", TRIM), SE: ("▗", TRIM),
}  # fmt: skip
"""Edges on opposite sides of one cell leave no place for the wall: only those beside are drawn."""


SMALL_EDGES: Mapping[int, tuple[str, str]] = {N: ("▀", TRIM), S: ("▄", TRIM)}
"""In a small room: as high as the corners are, which would look round beside thinner ones."""

SMALL_COLUMNS, SMALL_ROWS = 14, 8
"""A room that is less wide or less high than this is small."""


LINES = {
    N: 2 | 8, S: 2 | 8, E: 1 | 4, W: 1 | 4,
    N | W: 2 | 4, N | E: 4 | 8, S | W: 1 | 2, S | E: 1 | 8,
    NW: 1 | 8, NE: 1 | 2, SW: 4 | 8, SE: 2 | 4,
}  # fmt: skip
"""Sides with a wall, and what a line in the cell joins: 1 north, 2 east, 4 south, 8 west."""


def drawn_sides(sides: int, opposite: Mapping[int, int]) -> int:
    """Those that a cell has place for: of several corners the first.

    `opposite` says which there are in place of walls on opposite sides.
    """
    for both, drawn in opposite.items():
        if sides & both == both:
            return sides & drawn
    if sides & (N | E | S | W):
        return sides
    return next((corner for corner in (NW, NE, SW, SE) if sides & corner), 0)


class RoomInks(NamedTuple):
    """The colours of a room's cells, ready to be drawn."""

    body: Hex | None
    trim: Hex | None
    text: Hex | None
    """Stands out from the body."""
    filler: str
    """Fills the body where there is no colour to show."""


def inks_of(walls: Coat, trim: Coat, look: Look) -> RoomInks:
    greys, glyphs = look.greys, look.glyphs
    if walls.state == "sketched":
        return RoomInks(
            greys.ground, greys.strong, greys.strong, " " if look.colour else glyphs.dots
        )
    filler = {"bare": glyphs.hatch, "awaited": glyphs.dots, "known": " "}[walls.state]
    if not look.colour:
        return RoomInks(None, None, None, glyphs.hatch if walls.state == "bare" else " ")
    body = walls.colour or greys.bare
    assert body is not None
    edge = trim.colour or (greys.quiet if walls.state == "known" else greys.faint)
    return RoomInks(body, edge, text_on(body), filler)


def cell_of(inks: RoomInks, sides: int, look: Look, *, small: bool = False) -> Cell:
    if look.blocks:
        edge = EDGES.get(drawn_sides(sides, {N | S: E | W, E | W: N | S}))
        edge = SMALL_EDGES.get(sides, edge) if small else edge
        if edge is not None:
            char, own = edge
            return char, Ink(inks.body, inks.trim) if own == BODY else Ink(inks.trim, inks.body)
    elif joins := LINES.get(drawn_sides(sides, {N | S: N, E | W: E}), 0):
        return look.glyphs.lines[joins], Ink(inks.trim, inks.body)
    return inks.filler, Ink(look.greys.quiet if look.colour else None, inks.body)


def block_inks(block: Block, look: Look) -> RoomInks:
    return inks_of(block.coat("walls"), block.coat("trim"), look)


def accent_inks(block: Block, wall: str, look: Look) -> RoomInks:
    return inks_of(block.accents[wall], block.coat("trim"), look)


# What the selected room adds to the map: its frame, and the lines to the rooms that it sees.

Path = Sequence[tuple[float, float]]
"""Columns and rows in the port, from the selected room to one that it sees."""


def frame_stamps(cells: frozenset[Place], inks: RoomInks, look: Look) -> Iterator[Stamp]:
    """A frame round the cells of a room: inside its walls, or on them where it is narrow."""
    edge = {cell for cell in cells if any(n not in cells for n in _around(cell))}
    core = cells - edge
    inner = {cell for cell in core if any(n in edge for n in _around(cell))}
    heart = core - inner
    roomy = heart and all(any(n in heart for n in _around(cell)) for cell in inner)
    ring = inner if roomy else edge
    ink = Ink(inks.text, inks.body, bold=not look.colour)
    for column, row in sorted(ring):
        beside = ((column, row - 1), (column + 1, row), (column, row + 1), (column - 1, row))
        joins = sum(1 << side for side, cell in enumerate(beside) if cell in ring)
        yield Stamp(column, row, look.glyphs.frame[joins or 2 | 8], ink)


def _around(cell: Place) -> Iterator[Place]:
    column, row = cell
    return ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1) if i or j)


BRAILLE = 0x2800
BRAILLE_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Bits of the dots of a braille character, by row and column (Unicode, Braille Patterns)."""


def dot_stamps(
    dots: Iterable[Place], ink_of: Callable[[Place], Ink | None], sign: str, look: Look
) -> Iterator[Stamp]:
    """Dots, two to a column and four to a row; in ASCII a `sign` in each cell that has some.

    `ink_of` has the ink of a cell, None where no dot may go.
    """
    cells: dict[Place, int] = {}
    for x, y in dots:
        cell = x // 2, y // 4
        cells[cell] = cells.get(cell, 0) | BRAILLE_DOTS[y % 4][x % 2]
    for cell, bits in cells.items():
        if ink := ink_of(cell):
            yield Stamp(*cell, sign if look.glyphs.ascii else chr(BRAILLE + bits), ink)


def _dots(path: Path) -> Iterator[Place]:
    """Every second dot along the lines."""
    for (x0, y0), (x1, y1) in pairwise(path):
        across, down = (x1 - x0) * 2, (y1 - y0) * 4
        steps = max(int(max(abs(across), abs(down))) // 2, 1)
        for k in range(steps + 1):
            yield int(x0 * 2 + across * k / steps), int(y0 * 4 + down * k / steps)


# The signs of openings, stamped into their gaps.


def signs_of(
    gap: Gap, near: RoomInks, far: RoomInks, doors: Hex | None, look: Look
) -> Iterator[Stamp]:
    """The sign of an opening; `near` and `far` are its two rooms, `doors` the leaf's colour."""
    way = 0 if gap.across else 1
    glyphs = look.glyphs
    match gap.opening.kind:
        case "doorway" if gap.opening.door == "shut":
            yield from _along(gap.near, glyphs.shut[way], _leaf(near, doors))
        case "doorway":
            leaf = glyphs.leaf[way] if look.blocks else glyphs.leaf_line
            yield from _along(gap.far[:1] or gap.near[:1], leaf, _leaf(far, doors))
        case "open":
            yield from _along(gap.near, glyphs.open_plan[way], Ink(near.text, near.body))
        case "glazed":
            yield from _along(gap.near, glyphs.glazed[way], Ink(near.text, near.body))
        case "stairs":
            yield from _along(gap.cells, glyphs.stairs, Ink(near.text, near.body))
        case "cased":
            return


def _leaf(room: RoomInks, doors: Hex | None) -> Ink:
    return Ink(doors if room.body and doors else room.text, room.body)


def _along(cells: Iterable[Place], char: str, ink: Ink) -> Iterator[Stamp]:
    for column, row in cells:
        yield Stamp(column, row, char, ink)


# What stands written in a room on the map: its name, LRV, findings and paint, as room allows.

LEAST_NAME = 3
"""Columns below which a cut name says nothing."""


Label = tuple[list[str], list[str]]
"""The lines of the name, and those below it."""


def label_of(block: Block, columns: int, rows: int, look: Look) -> Label:
    """What is most needed of a label, each line within `columns`."""
    if rows == 1:
        return [_one_line(block, columns, look)], []
    names = _name_lines(block, columns, rows - 1, look)
    below = [facts] if (facts := _facts(block, columns, look)) else []
    last = plain(block.lacks or block.paint_name)
    if rows > len(names) + len(below) and 0 < cell_len(last) <= columns:
        below.append(last)
    return names, below


def _name_lines(block: Block, columns: int, rows: int, look: Look) -> list[str]:
    """The name on one line, or on two where that saves it from being cut; signs where they fit."""
    name = block.name
    for sign in signs_text(block, look).split():
        if len(wrap(f"{name} {sign}", columns)) <= min(rows, 2):
            name = f"{name} {sign}"
    lines = wrap(name, columns)
    if len(lines) == 2 and rows >= 2 and max(map(cell_len, name.split())) <= columns:  # noqa: PLR2004 - two
        return lines
    return [cut(name, columns, look.glyphs.more)]


def _facts(block: Block, columns: int, look: Look) -> str:
    """LRV, findings and what samples came to, as far as they fit whole; the LRV goes first."""
    mark, tried = mark_text(block, look), look.glyphs.tried[block.tried]
    sign = mark[:1]
    lrvs, both = (lrv_text(block, columns), lrv_text(block, 0)), f"{mark} {tried}".strip()
    wordings = [f"{lrv} {rest}".strip() for rest in (both, mark, sign, "") for lrv in lrvs]
    return next((t for t in (*wordings, mark) if t and cell_len(t) <= columns), "")


def _one_line(block: Block, columns: int, look: Look) -> str:
    """Name, LRV and mark; where that is too long the mark's sign alone, then none.

    With its signs where all of it fits. Of a name that is cut the mark is not left out.
    """
    name, signs, mark = plain(block.name), signs_text(block, look), mark_text(block, look)
    sign, lrv = mark[:1], lrv_text(block, 0)
    figure = f"{name} {lrv}".strip()
    whole = " ".join(filter(None, (name, signs, lrv, mark)))
    for line in (whole, f"{figure} {mark}".strip(), f"{figure}{sign}", figure):
        if cell_len(line) <= columns:
            return line
    for end in (f" {mark}", sign) if mark else ("",):
        left = columns - cell_len(end)
        if left >= min(LEAST_NAME, cell_len(name)) or not mark:
            return f"{cut(name, left, look.glyphs.more)}{end}"
    return sign


def signs_text(block: Block, look: Look) -> str:
    """That the sun shines in, and that it was walked through, with a note or without."""
    glyphs = look.glyphs
    visit = glyphs.note if block.noted else glyphs.visited
    return " ".join([glyphs.sun] * block.in_sun + [visit] * block.ticked)


def mark_text(block: Block, look: Look) -> str:
    """A sign, a letter and a number, as in "▲W2"; empty where nothing was found."""
    mark = block.mark
    if mark is None:
        return ""
    return f"{look.glyphs.marks[mark.severity]}{mark.letter}{mark.count}"


def lrv_text(block: Block, columns: int) -> str:
    if block.lrv is None:
        return ""
    wide = f"LRV {block.lrv:.0f}"
    return wide if columns >= cell_len(wide) else f"{block.lrv:.0f}"


STRIP = "▂▂▂▂"


def _strips(block: Block, box: Box, row: int, inks: RoomInks) -> Iterator[Stamp]:
    """Under the label: the ceiling, then the doors, where they differ from the trim."""
    others = (block.coat(surface).colour for surface in block.unlike_trim)
    colours = [colour for colour in others if colour]
    left = box.column + (box.columns - len(colours) * len(STRIP)) // 2
    if left >= box.column:
        for i, colour in enumerate(colours):
            yield Stamp(left + i * len(STRIP), row, STRIP, Ink(colour, inks.body))


# Beside the rooms, where the ground leaves place: a scale bar, the north, names that found none.

LENGTHS: Mapping[Units, Sequence[int]] = {"m": (1, 2, 5, 10, 20, 50), "ft": (3, 5, 10, 20, 50, 100)}
MOST_COLUMNS = 16
EAST_WEST, FIRST, LAST = 2 | 8, 1 | 2 | 4, 1 | 4 | 8
"""What the characters of the bar join; see `Glyphs.lines`."""


def free_ground(geometry: Geometry) -> list[bytearray]:
    """By row of the port, a blank for each cell that no room takes."""
    return [
        bytearray(b" x"[number != GROUND] for number in line[1:-1])
        for line in geometry.grid.owner[1:-1]
    ]


def ground_stamps(
    free: Sequence[bytearray], text: str, places: Iterable[Place], look: Look
) -> Iterator[Stamp]:
    """Text at the first of some places where it and a cell beside each end are free; taken then."""
    blank = _blank(text)
    for column, row in places:
        cells = slice(column - 1, column - 1 + len(blank))
        if column > 0 and free[row][cells] == blank:
            free[row][cells] = b"x" * len(blank)
            yield Stamp(column, row, text, Ink(look.greys.text, look.greys.ground))
            return


def _blank(text: str) -> bytes:
    """The free ground that a text takes."""
    return b" " * (cell_len(text) + 2)


def scale_stamps(
    geometry: Geometry, free: Sequence[bytearray], units: Units, look: Look
) -> Iterator[Stamp]:
    """The bar at the foot of the port, at the left or the right; nothing where rooms are there."""
    text = bar_text(geometry.frame.scale, units, look)
    row, last = geometry.port.rows - 1, geometry.port.columns - len(text) - 1
    yield from ground_stamps(free, text, ((1, row), (last, row)), look)


def way_arrow(toward_deg: float, ways: str) -> str:
    """The arrow nearest to a bearing."""
    return ways[round(toward_deg / 360 * len(ways)) % len(ways)]


def _is_cut(block: Block, box: Box, look: Look) -> bool:
    """Whether its name has no place; where only the mark has, nothing is to be done about it."""
    names, _ = label_of(block, box.columns, box.rows, look)
    only_mark = box.columns == 1 and block.mark is not None
    return not only_mark and plain(block.name) not in " ".join(names)


def bar_text(scale: float, units: Units, look: Look) -> str:
    """The longest round length within MOST_COLUMNS, at `scale` rows a metre."""
    columns = {
        length: round(length * METRES_OF[units] * scale * CELL_ASPECT) for length in LENGTHS[units]
    }
    fitting = [length for length, wide in columns.items() if wide <= MOST_COLUMNS]
    length = max(fitting, default=LENGTHS[units][0])
    lines = look.glyphs.lines
    inner = lines[EAST_WEST] * max(columns[length] - 2, 0)
    return f"{lines[FIRST]}{inner}{lines[LAST]} {length} {units}"


# The map of one level as rows of runs.

Stamps = dict[int, list[Stamp]]
"""By row."""


@frozen()
class Picture:
    """The map of a level without a selection; each part is made once, when first asked for."""

    geometry: Geometry
    blocks: Mapping[str, Block]
    look: Look
    units: Units | None = None
    """Of the scale bar; None: none is drawn."""
    north_deg: float | None = None
    """Clockwise from the top of the map; None: no arrow is drawn."""
    made: dict[int, list[Cell]] = field(default_factory=dict, repr=False, compare=False)
    """By row, the cells that have been drawn."""
    _kinds: dict[tuple[int, int, str | None], Cell] = field(
        default_factory=dict, repr=False, compare=False
    )
    """By room, sides with a wall and accent wall: what such a cell shows."""
    _frames: dict[str, list[Stamp]] = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def inks(self) -> tuple[RoomInks, ...]:
        """By number of the room."""
        return tuple(block_inks(self._block(room), self.look) for room in self.geometry.rooms)

    def cells(self, row: int) -> list[Cell]:
        """A row: rooms, their walls, the signs of openings, and labels."""
        cells = self.made.get(row)
        if cells is None:
            line, accents = self.geometry.grid.owner[row + 1], self.geometry.accents
            bare = [
                self._cell(line[column + 1], sides, accents.get((column, row)))
                for column, sides in enumerate(self.geometry.walls[row])
            ]
            cells = self.made[row] = lay_over(bare, self._stamps.get(row, ()))
        return cells

    @property
    def rows(self) -> list[list[Cell]]:
        return [self.cells(row) for row in range(self.geometry.port.rows)]

    @cached_property
    def _stamps(self) -> Stamps:
        return by_row([*self._panes(), *self._signs(), *self.words])

    @property
    def words(self) -> tuple[Stamp, ...]:
        """Labels, the scale bar, the arrow to the north and names beside the map."""
        margin, names = self._on_ground
        return *self._labels, *margin, *names.values()

    @cached_property
    def _on_ground(self) -> tuple[Sequence[Stamp], Mapping[str, Stamp]]:
        """The scale bar and the arrow to the north; by room, the names beside the map."""
        free = free_ground(self.geometry)
        margin = [*self._margin(free)]
        return margin, self._names(free)

    def _margin(self, free: Sequence[bytearray]) -> Iterator[Stamp]:
        if self.units:
            yield from scale_stamps(self.geometry, free, self.units, self.look)
        if self.north_deg is not None:
            text = f"N {way_arrow(self.north_deg, self.look.glyphs.ways)}"
            port = self.geometry.port
            last, foot = port.columns - len(text) - 1, port.rows - 1
            corners = ((last, foot), (last, 0), (1, 0), (1, foot))
            yield from ground_stamps(free, text, corners, self.look)

    def _names(self, free: Sequence[bytearray]) -> Mapping[str, Stamp]:
        """Names that their rooms have no place for, by room: at the foot of the map, numbered."""
        found: dict[str, Stamp] = {}
        for room, box in self.geometry.boxes.items():
            block = self.blocks.get(room)
            if block is None or not _is_cut(block, box, self.look):
                continue
            text = f"{len(found) + 1} {plain(block.name)}"
            blank = _blank(text)
            places = ((free[row].find(blank) + 1, row) for row in reversed(range(len(free))))
            for stamp in ground_stamps(free, text, places, self.look):
                found[room] = stamp
        return found

    @property
    def nameless(self) -> int:
        """How many rooms have their whole name neither in the map nor beside it."""
        boxes, (_, names) = self.geometry.boxes, self._on_ground
        return sum(
            room not in names and (room not in boxes or _is_cut(block, boxes[room], self.look))
            for room in self.geometry.rooms if (block := self.blocks.get(room))
        )  # fmt: skip

    @cached_property
    def numbers(self) -> Mapping[str, int]:
        return {room: number for number, room in enumerate(self.geometry.rooms)}

    def _block(self, room: str) -> Block:
        return self.blocks.get(room) or Block(room, {}, {})

    def _cell(self, number: int, sides: int, accent: str | None) -> Cell:
        key = number, sides, accent
        if key in self._kinds:
            return self._kinds[key]
        cell: Cell = " ", Ink(None, self.look.greys.ground)
        if number != GROUND:
            room, inks = self.geometry.rooms[number], self.inks[number]
            block = self._block(room)
            if accent is not None and accent in block.accents:
                inks = accent_inks(block, accent, self.look)
            cell = cell_of(inks, sides, self.look, small=room in self._small)
        return self._kinds.setdefault(key, cell)

    @cached_property
    def _small(self) -> frozenset[str]:
        return frozenset(
            room
            for room, cells in self.geometry.cells.items()
            if len({column for column, _ in cells}) < SMALL_COLUMNS
            or len({row for _, row in cells}) < SMALL_ROWS
        )

    def _panes(self) -> Iterator[Stamp]:
        for room, panes in self.geometry.panes.items():
            block, inks = self._block(room), self.inks[self.numbers[room]]
            for pane in panes:
                wall = self.geometry.accents.get(pane.cells[0])
                on_accent = wall is not None and wall in block.accents
                own = accent_inks(block, wall, self.look) if wall and on_accent else inks
                glass = self.look.glyphs.glazed[0 if pane.across else 1]
                yield from _along(pane.cells, glass, Ink(own.text, own.body))

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
        """The cells that a label takes, and one beside each end: no line touches a word."""
        return frozenset(
            (s.column + k, s.row) for s in self._labels for k in range(-1, s.width + 1)
        )

    def label(self, room: str, *, chosen: bool) -> Iterator[Stamp]:
        """In the middle of its box; a chosen room's name stands in reversed colours."""
        box, look = self.geometry.boxes.get(room), self.look
        if box is None:
            return
        inks, block, (_, keyed) = self.inks[self.numbers[room]], self._block(room), self._on_ground
        if room in keyed:
            block = block._replace(name=keyed[room].text.partition(" ")[0])
        names, below = label_of(block, box.columns, box.rows, look)
        count = len(names) + len(below)
        top = box.row + (box.rows - count) // 2
        plain_ink = Ink(inks.text, inks.body)
        name_ink = plain_ink._replace(bold=True)
        if chosen:
            name_ink = Ink(inks.body, inks.text, bold=True, reverse=inks.body is None)
        for i, line in enumerate((*names, *below)):
            named = i < len(names)
            text = f" {line} " if named and chosen and cell_len(line) + 2 <= box.columns else line
            left = box.column + (box.columns - cell_len(text)) // 2
            yield Stamp(left, top + i, text, name_ink if named else plain_ink)
        if look.blocks and box.rows > count:
            yield from _strips(block, box, top + count, inks)

    def frame(self, room: str) -> list[Stamp]:
        """The frame of a chosen room; made once."""
        if room not in self._frames:
            cells = self.geometry.cells.get(room, frozenset())
            inks = self.inks[self.numbers[room]]
            self._frames[room] = list(frame_stamps(cells, inks, self.look))
        return self._frames[room]

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
        dots = chain.from_iterable(map(_dots, paths))
        return tuple(dot_stamps(dots, self.line_ink, self.look.glyphs.dot, self.look))


@frozen()
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

    def words(self) -> Iterator[Stamp]:
        """Whatever is to be read, and the arrow where one stands."""
        picture, room = self.picture, self.room
        yield from picture.words
        yield from (stamp for stamp in self.lines if stamp.ink.bold)
        if room in picture.geometry.rooms:
            yield from picture.label(room, chosen=True)

    def row(self, row: int) -> Row:
        return runs_of(lay_over(self.picture.cells(row), self.stamps.get(row, ())))


def by_row(stamps: Iterable[Stamp]) -> Stamps:
    rows: Stamps = {}
    for stamp in stamps:
        rows.setdefault(stamp.row, []).append(stamp)
    return rows
