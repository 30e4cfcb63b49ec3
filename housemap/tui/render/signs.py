"""The signs of openings, stamped into their gaps."""

from collections.abc import Iterator

from housemap.tui.render.canvas import Stamp
from housemap.tui.render.cells import RoomInks
from housemap.tui.render.look import Look
from housemap.tui.render.openings import Gap
from housemap.tui.render.runs import Hex, Ink
from housemap.tui.render.windows import Pane


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


def _along(cells: tuple[tuple[int, int], ...], char: str, ink: Ink) -> Iterator[Stamp]:
    for column, row in cells:
        yield Stamp(column, row, char, ink)


def pane_signs(pane: Pane, room: RoomInks, look: Look) -> Iterator[Stamp]:
    """A window: glass, as in an opening."""
    glass = look.glyphs.glazed[0 if pane.across else 1]
    yield from _along(pane.cells, glass, Ink(room.text, room.body))
