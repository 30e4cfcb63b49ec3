"""The help page: every command by task, the signs of the map, and what the colours are worth."""

from collections.abc import Iterator

from housemap.tui.commands import COMMANDS, GROUPS, Command, Keymap
from housemap.tui.keys import keys_of
from housemap.tui.render.light_help import light_help_rows
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row
from housemap.tui.render.text import fit, wrap
from housemap.tui.terminal import Depth

STRIPS = "in colour, under a name: the ceiling, then the doors, where they differ from the trim"

KEY_COLUMNS = 16


def help_rows(keymap: Keymap, depth: Depth, look: Look, width: int) -> list[Row]:
    page = Page(look, width)
    rows: list[Row] = []
    for group in GROUPS:
        commands = [command for command in COMMANDS if command.group == group]
        if commands:
            rows += [*page.heading(group)]
            rows += [row for command in commands for row in _command_rows(command, keymap, page)]
    return [*rows, *_signs(page, look), *light_help_rows(page), *_colours(page, depth)]


def _command_rows(command: Command, keymap: Keymap, page: Page) -> Iterator[Row]:
    keys = keys_of(command, keymap) or "(by name)"
    text = f"{command.title}. {command.help}" if command.help else command.title
    room = max(page.inner - KEY_COLUMNS, 10)
    for i, line in enumerate(wrap(text, room)):
        lead = fit(keys if i == 0 else "", KEY_COLUMNS - 1)
        yield page.run(f" {lead} ", strong=True), page.run(line)


def _signs(page: Page, look: Look) -> Iterator[Row]:
    glyphs = look.glyphs
    leaf = "".join(glyphs.leaf) if look.blocks else glyphs.leaf_line
    signs = (
        (leaf, "a doorway whose door stands open: its leaf"),
        (glyphs.shut[0] + glyphs.shut[1], "a doorway whose door stands shut"),
        ("", "a bare gap: a cased opening, without a door"),
        (glyphs.open_plan[0] + glyphs.open_plan[1], "open plan"),
        (glyphs.glazed[0] + glyphs.glazed[1], "glass: a window, or a glazed opening between rooms"),
        (glyphs.stairs * 2, "stairs"),
        ("▂▂" if look.blocks else "", STRIPS),
        (glyphs.hatch * 2, "a room whose walls have no paint yet"),
        (glyphs.dots * 2, "a paint whose colour is still being computed"),
        *(
            (f"{glyphs.marks[s]}{s[0].upper()}2", f"2 findings, the worst a {s}")
            for s in glyphs.marks
        ),
    )
    yield from page.heading("Signs on the map")
    for sign, meaning in signs:
        yield page.run(f" {fit(sign, KEY_COLUMNS - 1)} ", strong=True), page.run(meaning)


def _colours(page: Page, depth: Depth) -> Iterator[Row]:
    yield from page.heading("What the colours are worth")
    yield from page.text(f"This terminal: {depth.words}; {depth.why}.")
    if not depth.exact:
        yield from page.text(
            "For exact colours: COLORTERM=truecolor in a terminal that can; over ssh,"
            ' SendEnv COLORTERM; in tmux, set -as terminal-features ",xterm*:RGB";'
            " or start with --color truecolor."
        )
    yield from page.text(
        "A screen is no paint: it lights up by itself, and two screens differ. The name, code and"
        " numbers of a paint are the record; a sample on the wall, by day and by lamp, decides."
    )
