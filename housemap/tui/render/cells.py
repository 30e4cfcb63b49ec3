"""How one cell of a room is drawn, from the room's colours and the walls round the cell.

In colour an edge is a strip of trim beside the wall colour, cut out by block characters; without
colour, or in ASCII, it is a line.
"""

from collections.abc import Mapping
from typing import NamedTuple

from housemap.tui.render.canvas import Cell
from housemap.tui.render.grid import NE, NW, SE, SW, E, N, S, W
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.runs import Hex, Ink
from housemap.tui.render.scene import Block, Coat

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


def edge_of(sides: int, *, small: bool = False) -> tuple[str, str] | None:
    """The character of an edge; None where the cell shows the wall alone."""
    if small and sides in SMALL_EDGES:
        return SMALL_EDGES[sides]
    if sides in EDGES:
        return EDGES[sides]
    if sides & N and sides & S:
        return EDGES.get(sides & (E | W))
    if sides & E and sides & W:
        return EDGES.get(sides & (N | S))
    corner = next((c for c in (NW, NE, SW, SE) if sides & c), 0)
    return EDGES.get(corner)


LINES = {
    N: 2 | 8, S: 2 | 8, E: 1 | 4, W: 1 | 4,
    N | W: 2 | 4, N | E: 4 | 8, S | W: 1 | 2, S | E: 1 | 8,
    NW: 1 | 8, NE: 1 | 2, SW: 4 | 8, SE: 2 | 4,
}  # fmt: skip
"""Sides with a wall, and what a line in the cell joins: 1 north, 2 east, 4 south, 8 west."""


def line_of(sides: int) -> int:
    if sides in LINES:
        return LINES[sides]
    if sides & N and sides & S:
        return 2 | 8
    if sides & E and sides & W:
        return 1 | 4
    corner = next((c for c in (NW, NE, SW, SE) if sides & c), 0)
    return LINES.get(corner, 0)


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
    """One cell of a room."""
    if look.blocks:
        edge = edge_of(sides, small=small)
        if edge is None:
            return _body(inks, look)
        char, own = edge
        return char, Ink(inks.body, inks.trim) if own == BODY else Ink(inks.trim, inks.body)
    joins = line_of(sides)
    if joins == 0:
        return _body(inks, look)
    return look.glyphs.lines[joins], Ink(inks.trim, inks.body)


def _body(inks: RoomInks, look: Look) -> Cell:
    return inks.filler, Ink(look.greys.quiet if look.colour else None, inks.body)


def block_inks(block: Block, look: Look) -> RoomInks:
    return inks_of(block.coat("walls"), block.coat("trim"), look)


def accent_inks(block: Block, wall: str, look: Look) -> RoomInks:
    return inks_of(block.accents[wall], block.coat("trim"), look)
