"""Choosing a paint for a surface: moving through the list shows it, enter puts it on."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from math import dist

from housemap.checks import check_of
from housemap.choose.house_problem import Reach
from housemap.choose.paint_query import PaintQuery, parse_paint_query
from housemap.errors import InputError
from housemap.model.edits import set_sheen
from housemap.model.geometry import COMPASS, walls
from housemap.model.house import LIGHT_WORDS, SHEENS, House, Sheen
from housemap.model.samples import tried_in
from housemap.model.severity import LEAST_CHANGE, Tally, change_text, findings_text
from housemap.model.text import counted
from housemap.plan.floor_plan import wall_letters, wall_name
from housemap.tui.background import Dropped, steps_beside
from housemap.tui.house_screen import ASK_FOR_A_SAMPLE, Task
from housemap.tui.questions import Choice
from housemap.tui.render.cells import Row, cut, plain, wrap
from housemap.tui.render.page import Page, columns_of
from housemap.tui.render.shades import Coat, Shades
from housemap.tui.text_fields import SearchPanel
from housemap.workbench.choosing import (
    HERE,
    NO_PAINT,
    WISHES,
    Option,
    Ranks,
    Scope,
    SearchedOptions,
    Target,
    approved_before,
    best_first,
    left_out,
    nearest_first,
    options_of,
    painted,
    ranks_of,
    scopes_of,
    where_painted,
)

EXAMPLES = "warm white, 5y 7/1, lrv 55-70"
"""What an empty search line says."""
WIDE = 44
"""Columns from which on a paint's code is in the list."""

TALL = 30
"""Rows from which on there is place for what the rest of the house can be."""


LEAST_SHARE = 1e-6
"""So that a paint with no share has a column too."""


def strip_row(parts: Sequence[tuple[Coat, float]], width: int, page: Page) -> Row:
    """Colours that touch, each as wide as its share, and at least one column."""
    sizes = columns_of([max(share, LEAST_SHARE) for _, share in parts], max(width, len(parts)))
    return tuple(page.patch(coat, size) for (coat, _), size in zip(parts, sizes, strict=True))


REASON_ROWS = 2


def reach_text(reach: Reach, paint: str | None) -> str:
    """Whether a paint leaves the unpainted rooms their best; empty where that is not known."""
    if paint is None or paint not in reach.at_most:
        return ""
    rooms = "the unpainted room" if reach.rooms == 1 else f"the {reach.rooms} unpainted rooms"
    if reach.at_least[paint] > min(reach.at_most.values()) + LEAST_CHANGE:
        return f"Another paint here leaves better choices for {rooms}."
    if reach.at_most[paint] <= min(reach.at_least.values()) + LEAST_CHANGE:
        return f"With this here, {rooms} can still have the best choices."
    return ""


def raised_text(checks: Iterable[str], unkept: str, left: int = 0) -> str:
    """The titles of checks that would find something; of the last ones only how many `left`."""
    titles = [unkept if check == WISHES else check_of(check).title for check in checks]
    if not titles:
        return "Nothing speaks against it."
    named = titles[: len(titles) - left]
    more = [counted(left, "more reason")] if left else []
    return f"{'; '.join([*named[:1], *(title.lower() for title in named[1:]), *more])}."


def count_text(shown: int, count: int, order: str) -> str:
    """How many are listed, and in which order."""
    return f"{f'{shown} of {count}' if shown != count else counted(count, 'paint')}{order}"


# The panel


class ChoosingPanel(SearchPanel[Option]):
    """Every paint of the house as a list, for one surface and whatever the choice applies to."""

    owner: "ChooseTask"
    CONTEXT = "choosing"
    BAR = ("open", "search", "scope", "light", "new", "decks", "back")

    def __init__(self, owner: "ChooseTask", target: Target, scope: Scope = HERE) -> None:
        super().__init__(owner)
        session = owner.session
        self.target, self.scope = target, scope
        self._selected = session.selection.room, session.selection.surface
        self._house: House | None = None
        self._source: tuple[object, object] = (None, None)
        self._with_light = False
        self._shades = Shades(session.selection.light, session.house, session.base)
        self._coats: dict[str | None, Coat] = {}
        self._coats_from: object = None
        self._options: tuple[Option, ...] = ()
        self._by_paint: dict[str | None, Option] = {}
        self.ranks = Ranks()
        self._query, self._fault = PaintQuery(), ""
        self._before_search: object = None
        """What was chosen when the search began."""
        self._waits = False
        """Whether the paint that is chosen in the list is about to be shown."""
        self._order: Mapping[str | None, tuple[object, ...]] = {}
        """Of the ranks; an older one once the user `_moved` in the list: its rows then stay."""
        self._moved = False

    @property
    def decides(self) -> bool:
        return bool(self.items)

    def follow(self) -> None:
        """Show another surface where another one was selected, and the house as it is decided."""
        session = self.session
        room, surface = selected = session.selection.room, session.selection.surface
        if selected != self._selected and room is not None:
            self.target, self._house, self.scope = Target(room, surface), None, HERE
        self._selected = selected
        if self.target.room not in session.house.rooms:
            self.call_next(self.owner.desk.close_panel)
            return
        self._know_shades()
        added = self._know_paints()
        if session.house is not self._house:
            self._start(session.house)
        elif self._light_came():
            self._rank()
        if added is not None:
            self._list(added)
            self.moved()
        self.redraw_head()

    def _know_shades(self) -> None:
        """Show the swatches anew where the light, the house or what is known of it changed."""
        report = self.session.base or self.session.report
        self._shades = Shades(self.session.selection.light, self.session.house, report)
        looked_at = self._shades.paints_on_walls(self.target.room) is not None
        source = self._shades.light, report, self.target, looked_at
        if source != self._coats_from:
            self._coats_from = source
            self._coats.clear()
            self.redraw()

    def _know_paints(self) -> str | None:
        """Make the options again where paints, or what is known of them, changed.

        Returns the paint that was added, if one was.
        """
        report = self.session.base or self.session.report
        source = self.session.house.paints, report.study.swatches if report else None
        if all(a is b for a, b in zip(source, self._source, strict=True)):
            return None
        self._source = source
        self._options = options_of(self.session.house, report)
        known = self._by_paint.keys()
        self._by_paint = {option.paint: option for option in self._options}
        self._list(self.chosen)
        added = [*(self._by_paint.keys() - known)] if known else []
        return added[0] if len(added) == 1 else None

    def _start(self, house: House) -> None:
        """Begin anew: the paint on the surface is chosen, and all are to be ranked.

        A paint that was replaced everywhere is replaced by the one that is there now.
        """
        self._house, self.ranks, self._order, self._moved = house, Ranks(), {}, False
        self._with_light = False
        if self.scope.old not in {None, self.target.paint_in(house)}:
            self.scope = [*scopes_of(house, self.target)][1]
        self._light_came()
        self._list(self.target.paint_in(house))
        self._rank()

    def _light_came(self) -> bool:
        base, before = self.session.base, self._with_light
        lit = base is not None and base.deep is not None and self.session.base_is_current
        self._with_light = before or lit
        return self._with_light and not before

    def _rank(self) -> None:
        """Have the paints ranked, and nothing else any more."""
        house, target, scope = self.session.house, self.target, self.scope
        asked = house, self.session.base

        def show(ranks: Ranks) -> None:
            now = self.session.house, self.target, self.scope
            if self.is_attached and now == (house, target, scope):
                self.show_ranks(ranks)

        steps_beside(
            self.owner.desk, "ranks", lambda: ranks_of(*asked, target, scope, Dropped()), show
        )

    def _list(self, chosen: object) -> None:
        """In the order of a search for the nearest; else by how near, or how good, they are."""
        shown, old = self._found(), self._by_paint.get(self.scope.old or "")
        if self._query.near is None and old:
            shown = nearest_first(shown, old)
        elif self._query.near is None and self._order:
            shown = best_first(shown, self._order)
        self.show_entries(shown, chosen, [option.paint for option in shown])

    def _found(self) -> Sequence[Option]:
        if len(self._options) <= 1:
            return ()  # "no paint" alone is no choice
        if self._query == PaintQuery():
            return self._options
        options = SearchedOptions(self._options)
        if not self._fault:
            self._fault = self._query.why_none(options)
        return [self._options[row] for row in self._query.rows(options)]

    def entry(self, item: Option, page: Page) -> Sequence[Row]:
        """Swatch, name, code and the verdict; then LRV, undertone, and what it changes."""
        house, swatch, gap = self.session.house, page.swatch(self._coat(item.paint)), page.run(" ")
        change = change_text(self._now, self._findings_with(item))
        is_now = item.paint and item.paint == self.target.paint_in(house)
        if is_now and (self.scope == HERE or self.scope.old):
            change = "as it is now"
        tried = page.look.glyphs.tried[tried_in(house, item.paint or "", *self.target)]
        lrv = f"LRV {item.lrv:.0f} " if item.lrv is not None else ""
        code = item.code if page.width >= WIDE and item.code != item.name else ""
        name, verdict = f"{item.name} {code}".strip(), self.ranks.verdicts.get(item.paint, "")
        about, right = f"{lrv}{item.undertone}", f"{tried} {change}".strip()
        return (
            page.row((page.mark(), swatch, gap), name, verdict, strong=page.chosen),
            page.whole((gap, swatch, gap), about, right, quiet=True),
        )

    @property
    def _order_text(self) -> str:
        """By what the paints do to the findings, once all are counted, or how near they come."""
        if self.scope.old is not None:
            return ", nearest first"
        if self.ranks.counted:
            return " by findings" if self._order == self.ranks.order else ", compared"
        return ", comparing" if self._order else " by name"

    def _coat(self, paint: str | None) -> Coat:
        """How a paint looks on the surface; worked out when it comes into view."""
        coat = self._coats.get(paint)
        if coat is None:
            coat = self._coats[paint] = self._shades.on(*self.target, paint)
        return coat

    def nothing(self, page: Page) -> Sequence[Row]:
        if len(self._options) <= 1:
            text = "No paints yet: d opens a deck, n adds one."
            return [page.blank(), *page.text(text)]
        return [
            page.blank(),
            *page.text(f'None of the {len(self._options) - 1} paints fits "{self.search}".'),
            *page.text("enter, then n adds it as a new paint; esc clears the search.", quiet=True),
        ]

    def head(self, page: Page) -> Sequence[Row]:
        """Title and order, search, the old paint beside the new one, and what the new one does."""
        house, reach = self.session.house, self.ranks.reach
        if self.target.room not in house.rooms:
            return ()
        if not house.paints:
            return [*page.title(self.target.name_in(house))]
        before = self._by_paint.get(self.target.paint_in(house), NO_PAINT)
        after = self.item or before
        listed = sum(option.paint is not None for option in self.items)
        count = count_text(listed, len(self._options) - 1, self._order_text)
        hint = page.run(cut(self.search or EXAMPLES, page.width - 4), quiet=not self.search,
                        strong=bool(self.search))  # fmt: skip
        colours = page.side_by_side([self._coat(each.paint) for each in (before, after)])
        rows = [
            page.title_row(self.scope.words or self.target.name_in(house), count),
            (page.run(" / ", strong=True), hint),
            colours,
            colours,
            page.names_below((before.name, after.name)),
            *self._does(before, after, page),
        ]
        if self.size.height >= TALL:
            outlook = reach_text(reach, after.paint) if reach else ""
            rows.append(page.blank())
            rows += [*page.text(outlook, quiet=True), page.blank()] if outlook else []
        return rows

    def _does(self, before: Option, after: Option, page: Page) -> list[Row]:
        """What the new paint does, or what is wrong with the search.

        Always as many rows, so the list keeps its place.
        """
        margin, raised = (page.run(" "),), self.ranks.raised.get(after.paint)
        weight, texts = "comparing what it does", list[str]()
        if (findings := self._findings_with(after)) is not None:
            weight = findings_text(self._now, findings)
        if raised is not None:
            unkept = self.ranks.unkept.get(after.paint, "")
            texts = [raised_text(raised, unkept, left) for left in range(len(raised) + 1)]
        if approved := approved_before(self.session.house, self.target, self.scope, after.paint):
            texts = [*(f"{approved} {text}" for text in texts if raised), approved]
        reasons = (wrap(text, page.inner) for text in texts)
        reason = next((lines for lines in reasons if len(lines) <= REASON_ROWS), [])
        does = [
            page.row(margin, self._apart(before, after), quiet=True),
            page.whole(margin, weight, "", quiet=True),
            *(page.line(text) for text in [*reason, "", ""][:REASON_ROWS]),
        ]
        fault = [page.line(line, strong=True) for line in wrap(self._fault, page.inner)]
        return [*fault, *[page.blank()] * len(does)][: len(does)] if self._fault else does

    @property
    def _now(self) -> Tally | None:
        """The findings that the decided house has."""
        base = self.ranks.base or (self.session.base if self.session.base_is_current else None)
        return base.tally if base else None

    def _findings_with(self, option: Option) -> Tally | None:
        """Those that the house has with a paint; of the one on the map as soon as the head says."""
        report = self.session.report
        on_map = option == self.item and self.session.tried is not None
        if on_map and report is not None and self.session.report_is_current:
            return report.tally
        return self.ranks.tallies.get(option.paint)

    def _apart(self, before: Option, after: Option) -> str:
        """How the new paint looks under the light that is shown, else how it differs."""
        light, report = self._shades.light, self.session.base or self.session.report
        seen = self._shades.undertone(*self.target, after.paint) if after.paint else ""
        if light != "reference" and seen:
            return f"{LIGHT_WORDS[light]} it looks {seen}"
        if before.paint == after.paint:
            return "as it is now" if before.paint else "no paint yet"
        swatches = report.study.swatches if report else {}
        first, second = (swatches.get(("Paint", each.paint or "")) for each in (before, after))
        if not (report and first and second):
            return "nothing to compare"
        return f"difference {dist(first.colour.ucs, second.colour.ucs):.1f} (CAM16-UCS)"

    def show_ranks(self, ranks: Ranks) -> None:
        """The entries keep the order that the user sees without a new one, or once they move."""
        self.ranks = replace(ranks, order=ranks.order or self.ranks.order)
        if not self._moved:
            self._order = self.ranks.order
        self._list(self.chosen)

    def step(self, by: int) -> None:
        self._moved = True
        super().step(by)

    def action_end(self, end: int) -> None:
        """In the newest order."""
        self._order, self._moved = self.ranks.order, False
        self._list(self.chosen)
        super().action_end(end)

    def moved(self) -> None:
        """Show the paint once the list has been drawn: of keys held down, the last one counts."""
        if not self._waits:
            self._waits = True
            self.owner.desk.call_after_refresh(self._show)

    def _show(self) -> None:
        """Show the house with the paint, as it is where none is listed; its findings follow."""
        self._waits = False
        if self.owner.desk.panel is self:
            house = self._painted(self.item) if self.item else self.session.house
            self.owner.desk.try_out(None if house == self.session.house else house)

    def _painted(self, option: Option) -> House:
        """The house with the paint: the very one on show, which may have been reported on."""
        house = painted(self.session.house, self.target, self.scope, option.paint)
        shown = self.session.shown
        return shown if shown == house else house

    def action_search(self) -> None:
        if self.items and not self.search:
            self._before_search = self.chosen
        self.open_search()
        self.owner.say("Type to search. Enter goes to the list, esc clears the search.")

    def action_scope(self) -> None:
        """Put the paint on this surface alone, or wherever the next scope says."""
        house = self.session.house
        scopes = [*scopes_of(house, self.target)]
        self.scope = scopes[(scopes.index(self.scope) + 1) % len(scopes)]
        self.ranks, self._moved = Ranks(order=self.ranks.order), False
        self._list(self.chosen)
        self._rank()
        self.moved()
        if left := left_out(house, self.scope):
            self.owner.say(f"Paints {plain(self.scope.words)}. {plain(left)}")

    def picked(self) -> None:
        option, desk = self.item, self.owner.desk
        if option is None:
            return
        before, house = self.session.house, self._painted(option)
        label = f"{where_painted(before, self.target, self.scope)}: {option.name}"
        left = plain(left_out(before, self.scope))
        desk.close_panel()
        if desk.paint(house, label) and option.paint:
            desk.say(f"{left} {label}; {ASK_FOR_A_SAMPLE}.".lstrip())

    def action_back(self) -> None:
        if not self.leave_search():
            self.owner.desk.close_panel()

    @property
    def bar(self) -> Sequence[str]:
        """In the search field enter does not put a paint on, nor where there is none."""
        if not self.session.house.paints:
            return ("decks", "new", "back")
        return [key for key in self.BAR if key not in {"open", "search"} or not self.is_searching]

    def searched(self, text: str) -> None:
        """List what is searched for, the first chosen; what was before where it is not readable."""
        self._order = self.ranks.order
        before = self.chosen if self.items else self._before_search
        now = self._by_paint.get(self.scope.old or self.target.paint_in(self.session.house))
        facts = now.facts if now else None
        try:
            self._query = parse_paint_query(text, facts.lab100 if facts else None)
            self._fault = ""
        except InputError as error:
            self._fault = str(error)
        self._list(before if self._fault or not text else None)
        if not self.items or self.chosen != before or not text:
            self.moved()


# Choosing paints and sheens for the surfaces of the selected room.

SHEEN_KEYS = dict(zip("fmesoh", SHEENS, strict=True))
"""g opens the question: pressed twice it must choose nothing."""
MOST_CHOICES = 10
"""Walls that have a key of their own."""


class ChooseTask(Task):
    """Opens the choice of paints, and asks for sheens."""

    def open(self) -> None:
        """Choose for the chosen surface of the selected room."""
        self.choose_for(Target(self.room, self.session.selection.surface))

    def choose_for(self, target: Target, scope: Scope = HERE) -> None:
        self.desk.open_list(ChoosingPanel(self, target, scope))

    def replace_everywhere(self) -> None:
        self._open_scope(1, "No paint is here to replace. Select a painted surface (1 to 4).")

    def paint_woodwork(self) -> None:
        self._open_scope(-1, "", "trim")

    def _open_scope(self, number: int, nothing: str, surface: str = "") -> None:
        target = Target(self.room, surface or self.session.selection.surface)
        if nothing and target.paint_in(self.session.house) is None:
            self.say(nothing)
            return
        scope = [*scopes_of(self.session.house, target)][number]
        self.choose_for(target, scope)
        left = left_out(self.session.house, scope)
        deck = " d: paints of a deck." if scope.old and not left else ""
        self.say(f"Choose a paint for: {plain(scope.words)}. {plain(left)}".rstrip() + deck)

    def open_accent(self) -> None:
        house, room_id = self.session.house, self.room
        room = house.rooms[room_id]
        keys = tuple(wall.key for wall in walls(room)) or COMPASS

        def named(key: str) -> None:
            if key in keys:
                self.choose_for(Target(room_id, f"accent {key}"))
            else:
                self.say(f"{room.name} has no wall {key}; its walls are {', '.join(keys)}")

        text = f"Which wall of {room.name}?"
        if len(keys) > MOST_CHOICES:
            self.desk.ask_line(f"{text} (0 to {keys[-1]})", "", named)
            return
        choices, letters = [], wall_letters(house, room_id)
        for key in keys:
            words = wall_name(house, room_id, key) + (" (accent)" if key in room.accents else "")
            if key.isdigit():  # as the paper's plan marks it
                words = f"{letters[key]}, {words}"
            choices.append(Choice(key, words, partial(named, key)))
        self.desk.ask(text, choices, "leave it")

    def ask_sheen(self) -> None:
        room_id, surface = self.room, self.session.selection.surface
        room = self.session.house.rooms[room_id]
        what = f"{room.name} {surface}"
        now = room.sheens.of(surface) or "not chosen"

        def chosen(sheen: Sheen | None) -> None:
            label = f"{what}: {sheen} sheen" if sheen else f"{what}: no sheen"
            self.desk.apply(lambda house: set_sheen(house, room_id, surface, sheen), label)

        choices = [Choice(key, each, partial(chosen, each)) for key, each in SHEEN_KEYS.items()]
        choices.append(Choice("n", "none", partial(chosen, None)))
        self.desk.ask(f"Sheen of {what}, now {now}?", choices, "leave")
