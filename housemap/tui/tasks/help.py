"""The help: the keys of the moment on one page, everything behind it, and the marks of the map."""

from collections.abc import Iterable, Iterator, Sequence
from functools import partial

from housemap.checks import CHECKS, Report
from housemap.checks.finding import MOST_EXCESS, SEVERITY_COST
from housemap.choose.house_problem import PAINT_COST, counts, parts_of
from housemap.choose.schemes.house_rules import TITLES, rule_parts
from housemap.guide import TOPICS
from housemap.guide import page as guide_page
from housemap.model.severity import SHOWN, letter_of
from housemap.tui.commands import COMMANDS, GROUPS, PLACES, Keymap, commands_of, uses_by_place
from housemap.tui.keys import keys_of, shown_key, writes
from housemap.tui.program_screen import PageScreen, ProgramScreen
from housemap.tui.render.cells import Row, fit, text_of, wrap
from housemap.tui.render.page import Page
from housemap.tui.terminal import Depth
from housemap.workbench.session import Session

# The keys of the moment: what the screen below offers first, then what a normal day needs.

GROUP_COLUMNS, KEY_COLUMNS = 18, 12
FOLDED: tuple[tuple[frozenset[str], str, str], ...] = (
    (frozenset({"left", "right", "up", "down"}), "arrows", "Go to the room there"),
    (frozenset({"walls", "ceiling", "trim", "doors"}), "1 to 4",
     "Select walls, ceiling, trim or doors"),
)  # fmt: skip
"""Commands that are one line where they all do the like: their keys, and what they do."""


def moment_rows(
    contexts: Sequence[str], keymap: Keymap, page: Page, session: Session | None,
    *, typing: bool = False,
) -> Iterator[Row]:  # fmt: skip
    """One line a command, grouped by what one wants to do; what belongs to the screen first.

    While the user is `typing` into a field, keys that write a character there are left out.
    """
    if typing:
        keymap = {
            command.id: tuple(key for key in command.keys_in(keymap) if not writes(key))
            for command in COMMANDS
        }
    columns = 0 if page.width < GROUP_COLUMNS + KEY_COLUMNS + 30 else GROUP_COLUMNS
    before = ""
    for group, keys, title in _moment(contexts, keymap, session):
        shown, lead, before = group if group != before else "", keys, group
        for line in wrap(title, max(page.inner - columns - KEY_COLUMNS, 10)):
            yield (  # narrow pages leave the group out
                page.run(f" {fit(shown, columns - 1)} " if columns else " ", quiet=True),
                page.run(f"{fit(lead, KEY_COLUMNS - 1)} ", strong=True),
                page.run(line),
            )
            shown = lead = ""


def _moment(
    contexts: Sequence[str], keymap: Keymap, session: Session | None
) -> Iterator[tuple[str, str, str]]:
    nearest = {context for context in contexts if context not in {"house", "map"}}
    found = [
        (nearest.isdisjoint(use.contexts), command, use)
        for command, use in commands_of(contexts)
        if command.keys_in(keymap)
        and (command.daily or not nearest.isdisjoint(use.contexts))
        and use.can_run(session)
    ]
    found.sort(key=lambda each: (each[0], GROUPS.index(each[1].group)))
    ids = [command.id for _, command, use in found if {"house", "map"} & {*use.contexts}]
    folded = {id_: fold for fold in FOLDED if fold[0] <= {*ids} for id_ in fold[0]}
    for _, command, use in found:
        fold = folded.get(command.id)
        if fold is None:
            keys = keys_of(command, keymap)
            first = shown_key(command.keys_in(keymap)[0])
            yield command.group, keys if len(keys) < KEY_COLUMNS else first, use.title
        elif command.id == min(fold[0], key=ids.index):
            yield command.group, fold[1], fold[2]


# Everything: all commands by where they work, the marks, and the pages of the guide.


def help_rows(keymap: Keymap, depth: Depth, page: Page) -> list[Row]:
    rows: list[Row] = []
    for place, uses in uses_by_place():
        name, way = PLACES[place]
        rows += page.heading(name.capitalize() + (f": {way}" if way else ""))
        for command, use in uses:
            rows += _entry(keys_of(command, keymap) or "by name", use.title, page)
    return [
        *rows, *sign_rows(page), *_colours(page, depth),
        *page.heading("Pages of the guide: ctrl+p and a name opens one"),
        *(row for topic, about in TOPICS.items() for row in _entry(topic, about, page)),
    ]  # fmt: skip


def _entry(name: str, text: str, page: Page) -> Iterator[Row]:
    return page.hanging(f" {name}", text, KEY_COLUMNS + 1)


def guide_rows(topic: str, page: Page) -> list[Row]:
    """A page of the guide, without the marks of its tables."""
    rows: list[Row] = []
    for line in guide_page(topic).splitlines():
        text = line.strip().strip("#").strip()
        if line.startswith("#"):
            rows += page.heading(text)
        elif text and not text.startswith("<!--") and set(text) - set("|-: "):
            rows += page.text(text.strip("|").replace(" | ", "   ").replace("`", ""))
    return rows


EXAMPLE_COLUMNS = 37


def line_rows(page: Page) -> Iterator[Row]:
    """What a survey line may say, by example: the table of the guide's page, in two columns."""
    yield from page.heading("A line may say")
    for line in guide_page("survey").splitlines():
        example, _, meaning = line.strip("| ").partition(" | ")
        if line.startswith("| `"):
            for each in example.replace("`", "").split(" · "):
                yield from page.hanging(f" {each}", meaning, min(EXAMPLE_COLUMNS, page.width // 2))
                meaning = ""
    yield from page.heading("Keys")


def guide_screen(topic: str) -> PageScreen:
    return PageScreen(TOPICS[topic], partial(guide_rows, topic))


class HelpScreen(PageScreen):
    """The keys of the screen below; asked again, everything there is to know."""

    CONTEXT = "help"
    BAR = ("search", "back")
    HINT = "Press ? again for everything, / to search it, esc to go back."

    def __init__(self, below: ProgramScreen) -> None:
        super().__init__("", self._draw)
        self._contexts_below, self._session_below = below.contexts(), below.session
        self._typing_below = below.is_typing
        self._everything, self._query = False, ""

    def draw_head(self) -> None:
        name = "Everything" if self._everything else "Keys of this moment"
        self.show_head(name, [f'with "{self._query}"'] if self._query else [])

    def _draw(self, page: Page) -> Iterable[Row]:
        keymap = self.program.keymap
        if not self._everything:
            rows = [*moment_rows(
                self._contexts_below, keymap, page, self._session_below, typing=self._typing_below
            )]  # fmt: skip
            return [*line_rows(page), *rows] if "survey" in self._contexts_below else rows
        rows = help_rows(keymap, self.program.depth, page)
        if not self._query:
            return rows
        rows += [row for topic in TOPICS for row in guide_rows(topic, page)]
        query = self._query.casefold()
        found = [row for row in rows if query in text_of([row]).casefold()]
        return found or [*page.text("Nothing here has that word. Press / for another one.")]

    def _show(self, *, everything: bool, query: str = "") -> None:
        self._everything, self._query = everything, query
        self.draw_head()
        self.rows.go_to_end(-1)
        self.rows.redraw()

    def action_everything(self) -> None:
        self._show(everything=not self._everything)

    def action_search(self) -> None:
        def searched(text: str) -> None:
            self._show(everything=True, query=text)

        self.ask_line("Search the help for which word?", "", searched, empty=True)


# What the marks on the map mean, and what the colours are worth.

MARKED = {
    "fault": "2 things to look at, at least one serious",
    "warn": "2 things to look at again, none serious",
    "note": "2 notes",
}
TRIED = {
    "kept": "the sample of the walls was approved",
    "rejected": "the sample was rejected",
    "unsure": "a sample to look at again",
    "put up": "a sample is up, nothing is written down yet",
}
STRIPS = "in colour, under a name: the ceiling, then the doors, where they differ from the trim"


def sign_rows(page: Page) -> Iterator[Row]:
    look, glyphs = page.look, page.look.glyphs
    leaf = "".join(glyphs.leaf) if look.blocks else glyphs.leaf_line
    signs = (
        (leaf, "a doorway whose door stands open: its leaf"),
        (glyphs.shut[0] + glyphs.shut[1], "a doorway whose door stands shut"),
        ("", "a gap: a cased opening, without a door"),
        (glyphs.open_plan[0] + glyphs.open_plan[1], "open plan"),
        (glyphs.glazed[0] + glyphs.glazed[1], "glass: a window, or a glazed opening between rooms"),
        (glyphs.stairs * 2, "stairs"),
        ("▂▂" if look.blocks else "", STRIPS),
        (glyphs.hatch * 2, "a room whose walls have no paint yet"),
        (glyphs.sun, "a room into which the sun shines, at the hour that [ and ] show"),
        (glyphs.visited, "a room that was ticked off on the walk: no word on its colours"),
        (glyphs.note, "the same, with a note of the visit"),
        (glyphs.dots * 2, "a paint whose colour is still being computed"),
        *((f"{glyphs.marks[s]}{letter_of(s)}2", MARKED[s]) for s in glyphs.marks),
        *((glyphs.tried[tried], meaning) for tried, meaning in TRIED.items()),
    )
    yield from page.heading("Signs on the map")
    for sign, meaning in signs:
        yield from page.hanging(f" {sign}", meaning, KEY_COLUMNS + 1)


def legend_screen(_below: ProgramScreen) -> PageScreen:
    return PageScreen("What the marks mean", sign_rows)


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
        "A screen emits light; it cannot match paint, and two screens differ. The name, code and"
        " numbers of a paint are the record. A sample decides, on the wall, by day and lamplight."
    )


# One page on what a choice of paints costs: the checks that make it up, and their shares.

INTRODUCTION = (
    "A suggestion for the house is the choice of wall paints with the lowest penalty. What the"
    " checks find in a room, or in two rooms that see each other, adds to it. A wish of the brief"
    " that is not met does too. So does what does not fit the shape of a scheme. Nothing else"
    " decides, and no paint is left out unseen. Each different wall paint adds a little too. So"
    " of two equal choices the one with fewer paints is suggested."
)
LIGHT = (
    "It is judged under the reference light and, once light is known, by day and in the evening:"
    " what is found in several lights counts once, where it costs most."
)
BOUND = (
    "Best of the paints compared means just that: no other choice of these paints has a"
    " lower penalty. A search that was stopped early says how low it could be at best."
    " From a deck, a shortlist is compared: the paints that suit each kind of room best by the"
    " rules alone."
)
RANK = (
    "Penalty here, beside a paint in the chooser, is of its room alone, under each light that"
    " has been computed. House is of the whole house. Less is better."
)


def costs_screen(below: ProgramScreen) -> PageScreen:
    report = below.session.base if below.session else None
    return PageScreen("What counts when paints are suggested", partial(cost_rows, report))


def cost_rows(report: Report | None, page: Page) -> list[Row]:
    return [
        *page.text(INTRODUCTION),
        page.blank(),
        *page.text(_scale()),
        page.blank(),
        *page.text(LIGHT),
        *_shares(report, page),
        *page.heading("What counts only in the findings"),
        *page.text(", ".join(check.title for check in CHECKS if not counts(check))),
        *page.heading("How good it is"),
        *page.text(BOUND),
        page.blank(),
        *page.text(RANK),
    ]


def _scale() -> str:
    severities = ", ".join(f"{SHOWN[name]} {cost:g}" for name, cost in SEVERITY_COST.items())
    return (
        f"The penalty: {severities}. The further beyond its limit, the more: up to"
        f" {1 + MOST_EXCESS:g} times. Near misses and undertones count by how close and how strong"
        f" they are. Each different wall paint adds {PAINT_COST:g}. These numbers are our"
        " assumption."
    )


def _shares(report: Report | None, page: Page) -> Iterator[Row]:
    """The checks that count, with what each costs in the house as it is, once light is known."""
    yield from page.heading("What counts")
    counted = [check for check in CHECKS if counts(check)]
    if report is None or report.deep is None:
        yield from page.text(", ".join(check.title for check in counted))
        return
    parts, house = parts_of(report), report.house
    paints = len({room.paints.walls for room in house.rooms.values()} - {None})
    costs = [(check.title, parts.get(check.id, 0.0)) for check in counted]
    costs.append((f"{paints} distinct wall paints", PAINT_COST * paints))
    costs += [(TITLES[rule], cost) for rule, cost in rule_parts(report.study).items()]
    whole = sum(cost for _, cost in costs)
    for title, cost in sorted(costs, key=lambda each: -each[1]):
        share = f", {100 * cost / whole:.0f} %" if cost else ""
        yield from page.text(f"{cost:.1f}{share}: {title}")
    yield from page.text(f"{whole:.1f} in all: the house as it is decided now.")
