"""The part of the help that tells what the light is and where it comes from."""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from housemap.checks.finding import MOST_EXCESS, SEVERITY_COST
from housemap.light.explanation import LIGHT_HELP
from housemap.model.severity import SHOWN, letter_of
from housemap.tui.commands import COMMANDS, GROUPS, Command, Keymap
from housemap.tui.keys import keys_of
from housemap.tui.render.cells import Row, fit, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.terminal import Depth

if TYPE_CHECKING:
    from housemap.checks import Report


ENTRY, DEEPER = " " * 2, " " * 8
"""How a line of a table begins, and one that goes on with it."""
COLUMN = re.compile(r"(?<=\S) {2,}")


def light_help_rows(page: Page) -> Iterator[Row]:
    yield from page.heading("Light and colours as seen")
    for number, text in enumerate(LIGHT_HELP):
        if number:
            yield page.blank()
        for line in _paragraphs(text):
            indent = len(ENTRY) if line.startswith(ENTRY) else 0
            yield from page.text(COLUMN.sub(": ", line.strip()), indent=indent)


def _paragraphs(text: str) -> list[str]:
    """Each paragraph, and each entry of a table, as one line."""
    lines: list[str] = []
    for line in text.splitlines():
        if lines and _goes_on(lines[-1], line):
            lines[-1] = f"{lines[-1]} {line.strip()}"
        else:
            lines.append(line)
    return lines


def _goes_on(before: str, line: str) -> bool:
    if line.startswith(DEEPER):
        return True
    return not (line.startswith(ENTRY) or before.startswith(ENTRY) or before.endswith(":"))


# The help page: every command by task, the signs of the map, and what the colours are worth.

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
            (f"{glyphs.marks[s]}{letter_of(s)}2", f"2 findings, the gravest: {SHOWN[s]}")
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


# One page on what a choice of paints costs: the checks that make it up, and their shares.

INTRODUCTION = (
    "A suggestion for the house is the choice of wall paints with the fewest problems. What counts"
    " as a problem: what the checks find in each room and in each pair of rooms that see each"
    " other; what the client's brief asks for and does not get; and what does not fit the shape of"
    " a scheme. Nothing else decides, and no paint is left out unseen. Each different wall paint"
    " counts a little too, so that of two equal choices the one with fewer paints is suggested."
)
LIGHT = (
    "It is judged under the reference light and, once light is known, by day and in the evening:"
    " what is found in several lights counts once, where it costs most."
)
BOUND = (
    "Best of the paints compared means just that: no other choice of these paints has fewer"
    " problems under these rules. A search that was stopped early says how few there could be at"
    " best. From a deck, a shortlist is compared: the paints that suit each kind of room best by"
    " the rules alone."
)
RANK = (
    "The cost beside a paint in the chooser is of its room alone: all that would be found there,"
    " under each light that has been computed. House is the other cost, of the whole house."
)


def cost_rows(report: "Report | None", look: Look, width: int) -> list[Row]:
    page = Page(look, width)
    return [
        *page.text(INTRODUCTION),
        page.blank(),
        *page.text(_scale()),
        page.blank(),
        *page.text(LIGHT),
        *_shares(report, page),
        *page.heading("What counts only in the findings"),
        *page.text(", ".join(_titles(counted=False))),
        *page.heading("How good it is"),
        *page.text(BOUND),
        page.blank(),
        *page.text(RANK),
    ]


def _scale() -> str:
    from housemap.choose.house_problem import PAINT_COST  # noqa: PLC0415 - numpy, when the page is wanted

    severities = ", ".join(f"a {name} {cost:g}" for name, cost in SEVERITY_COST.items())
    return (
        f"Costs: {severities}, each raised up to {1 + MOST_EXCESS:g} times by how far the value"
        f" lies beyond its limit; near misses and undertones have a scale of their own, told by"
        f" how close and how strong. A distinct wall paint {PAINT_COST:g}. These numbers are our"
        " assumption."
    )


def _titles(*, counted: bool) -> Iterator[str]:
    from housemap.checks import CHECKS  # noqa: PLC0415 - as in _scale
    from housemap.choose.house_problem import counts  # noqa: PLC0415

    return (check.title for check in CHECKS if counts(check) == counted)


def _shares(report: "Report | None", page: Page) -> Iterator[Row]:
    """The checks that count, with what each costs in the house as it is, once light is known."""
    yield from page.heading("What counts")
    if report is None or report.deep is None:
        yield from page.text(", ".join(_titles(counted=True)))
        return
    from housemap.checks import CHECKS  # noqa: PLC0415 - as in _scale
    from housemap.choose.house_problem import PAINT_COST, counts, parts_of  # noqa: PLC0415
    from housemap.choose.schemes.house_rules import TITLES, rule_parts  # noqa: PLC0415

    parts, house = parts_of(report), report.house
    paints = len({room.paints.walls for room in house.rooms.values()} - {None})
    counted = [check for check in CHECKS if counts(check)]
    costs = [(check.title, parts.get(check.id, 0.0)) for check in counted]
    costs.append((f"{paints} distinct wall paints", PAINT_COST * paints))
    costs += [(TITLES[rule], cost) for rule, cost in rule_parts(report.study).items()]
    whole = sum(cost for _, cost in costs)
    for title, cost in sorted(costs, key=lambda each: -each[1]):
        share = f", {100 * cost / whole:.0f} %" if cost else ""
        yield from page.text(f"{cost:.1f}{share}: {title}")
    yield from page.text(f"{whole:.1f} in all: the house as it is decided now.")
