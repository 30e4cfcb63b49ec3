"""The first picture of an open house, before anything has been computed of it.

It is drawn without Textual while that is imported, and looks as the main screen will.
"""

from collections.abc import Iterable, Sequence

from housemap.tui import describe
from housemap.tui.keys import ALWAYS, bar_items, read_keymap
from housemap.tui.map.card_drawing import session_card
from housemap.tui.map.drawing import Drawing, Looking, Scene, View
from housemap.tui.render.cells import Ink, Row, Run, width_of
from housemap.tui.render.look import look_for, read_settings
from housemap.tui.render.page import (
    SCREEN_IS_NOT_PAINT,
    head_line,
    key_bar,
    row_on_show,
    status_line,
)
from housemap.tui.render.shades import blocks_of, shades_of
from housemap.tui.terminal import Depth
from housemap.workbench.folders import config_folder
from housemap.workbench.session import Session

CHROME = 3
"""Rows above and below the map: the head, the status line, the key bar."""


def first_rows(
    session: Session, drawing: Drawing, depth: Depth, columns: int, lines: int, *, ascii_only: bool
) -> Sequence[Row]:
    """Every row of the screen, from its top; the map is drawn with `drawing`."""
    look = look_for(depth, ascii_only=ascii_only, light=read_settings().light)
    rows = max(lines - CHROME, 0)
    beside = 48 if columns >= 100 else 34  # noqa: PLR2004 - the card, as `housemap.tcss` has it
    chosen, blocks = session.selection, blocks_of(shades_of(session))
    scene = Scene(session.shown, session.plan, chosen.level, blocks, look)
    drawing.draw(View(scene, chosen.room, Looking(), (max(columns - beside, 0), rows)))
    drawn = drawing.selected
    card = session_card(session, look, beside)
    ground, panel = look.greys.ground, look.greys.panel
    joined = (
        (
            *_filled(drawn.row(y) if drawn else (), columns - beside, Ink(None, ground)),
            *_filled(row_on_show(card, 0, y, rows, look), beside, Ink(look.greys.text, panel)),
        )
        for y in range(rows)
    )
    keymap, _ = read_keymap(config_folder())
    hints = describe.steps_of(session, keymap) if read_settings().steps else [SCREEN_IS_NOT_PAINT]

    def items(commands: Iterable[str]) -> list[tuple[str, str]]:
        return [*bar_items(commands, ("map", "house"), keymap, session)]

    return (
        head_line(*describe.head_of(session), columns, look),
        *joined,
        status_line(hints, depth.words, columns, look),
        key_bar(items(describe.map_offers(session)), columns, look, items(ALWAYS)),
    )


def _filled(row: Row, columns: int, fill: Ink) -> Row:
    return *row, Run(" " * (columns - width_of(row)), fill)
