"""Which part of some rows is on show."""

from collections.abc import Sequence

from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink, Row, Run


def row_on_show(rows: Sequence[Row], top: int, y: int, height: int, look: Look) -> Row:
    """Line `y` of `height` lines that show the rows from `top` on; the last tells of more."""
    at = y + top
    if y == height - 1 and at < len(rows) - 1:
        words = f" {look.glyphs.down} {len(rows) - at} more lines"
        return (Run(words, Ink(look.greys.quiet, look.greys.panel)),)
    return rows[at] if at < len(rows) else ()
