"""Suggesting paints for the house: what is asked for and what came of it, in one list.

The search runs in a process of its own; the map shows the suggestion looked at.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import ClassVar, Literal, NamedTuple

from rich.cells import cell_len

from housemap.checks import Report
from housemap.choose.chips import all_chips
from housemap.choose.house_problem import approved_rooms, rooms_to_fill
from housemap.choose.optimiser.problem import Progress
from housemap.choose.schemes.shortlist import PaletteRequest, usual_paints
from housemap.deck.notation_deck import NAME
from housemap.file.deck_file import DeckFile, deck_files
from housemap.model.edits import make_scheme, remove
from housemap.model.house import House
from housemap.model.samples import tried_in
from housemap.model.severity import findings_text
from housemap.model.text import counted
from housemap.study import Swatch
from housemap.tui.background import drop_work, steps_beside, work_beside
from housemap.tui.house_screen import ASK_FOR_A_SAMPLE, Task
from housemap.tui.panels import ListPanel
from housemap.tui.render.cells import Row, cut, fit, plain, width_of, wrap
from housemap.tui.render.page import Page
from housemap.tui.render.shades import Coat, Shades
from housemap.tui.tasks.choose import strip_row
from housemap.tui.tasks.decks import DecksTask
from housemap.workbench import suggesting
from housemap.workbench.choosing import Target
from housemap.workbench.folders import data_folder
from housemap.workbench.reporting import lit_report
from housemap.workbench.session import today

HALF = 3
"""Columns of each of the two swatches of a room, where its name and paint leave so many."""
OPTION_WORDS = 9
LEAST_STRIP = 6
"""Columns that a name leaves for its colours."""
MOST_NAME = 16
LEAST_LINE = 20
"""Columns of a line while the width of the list is not known yet."""
MOST_PAINTS = 24


Kind = Literal["option", "way", "colour", "missed", "unusual", "beside", "room", "rules"]


class Entry(NamedTuple):
    kind: Kind
    key: str
    text: str = ""
    """What its line says, where that is not drawn of its colours."""
    about: str = ""
    """What is said of it above the list while it is chosen."""


RULES = Entry(
    "rules", "", "what counts, and how much",
    "What counts when paints are suggested: enter shows it.",
)  # fmt: skip
UNUSUAL = "These are usual rules, no wishes of the client. To keep them costs more elsewhere."


def goodness(progress: Progress, compared: int) -> str:
    """How it compares with what else was looked at."""
    if progress.gap == 0.0:
        return f"Best of the {compared} paints compared, under these rules."
    return (
        f"Best found so far among {compared} paints."
        f" Its penalty is {progress.cost:.0f};"
        f" no choice can have less than {max(progress.bound, 0.0):.0f}."
    )


def colour_row(
    colour: suggesting.SuggestedColour, page: Page, *, kept: bool, columns: int, longest: int
) -> Row:
    """Its use, a share or a part in the scheme, takes so many `columns`.

    LRV is named where the longest name of the list leaves room for it, so in all rows or in none.
    """
    lead = (page.mark(), page.swatch(_coat(colour)), page.run(" "))
    use = f"{colour.use:<{columns}}" if colour.use.isalpha() else f"{colour.use:>{columns}}"
    before = page._replace(width=page.width - columns - 1)
    name, state = plain(colour.swatch.name), "kept " if kept else ""
    figure = f"{colour.swatch.lrv:.0f}"
    room = before.width - width_of(lead) - len(f"{state}LRV {figure}") - 2
    right = f"{state}{'LRV ' if longest <= room else ''}{figure}"
    row = before.row(lead, name, right, strong=page.chosen)
    return *row, page.run(f"{use} ", strong=page.chosen)


def _coat(colour: suggesting.SuggestedColour) -> Coat:
    return Coat("known", colour.swatch.colour.srgb_hex)


def room_row(room: str, before: Shades, after: Shades, page: Page, *, kept: bool) -> Row:
    """A room with its wall colour before and after, touching, and what it becomes."""
    old, new = (each.house.rooms[room].paints.walls for each in (before, after))
    state = plain(after.house.paints[new].name) if new else "no paint"
    if new == old:
        approved = old is not None and tried_in(before.house, old, room, "walls") == "kept"
        state = "kept: sample approved" if approved else "kept" if kept else "as it is"
    name = plain(before.house.rooms[room].name)
    states = [state, state.removeprefix("kept: sample ")]
    swatches = [(half, words) for half in range(HALF, 0, -1) for words in states]
    half, state = next(
        (s for s in swatches if 2 * s[0] + cell_len(f"{name} {s[1]}") + 3 <= page.width),
        swatches[-1],
    )
    lead = (
        page.mark(), page.patch(before.on(room, "walls", old), half),
        page.patch(after.on(room, "walls", new), half), page.run(" "),
    )  # fmt: skip
    return page.row(lead, name, state, strong=page.chosen)


class ProposalPanel(ListPanel[Entry]):
    """Ways to paint the house, and of the one that is shown its colours and what it changes.

    A subclass may put options above them.
    """

    owner: "SuggestTask"
    CONTEXT = "proposal"
    DECIDES = True
    BAR: ClassVar[tuple[str, ...]] = ("open", "view", "light", "back")
    ENTRY_ROWS = 1

    def __init__(self, owner: "SuggestTask", title: str, *, detailed: bool = True) -> None:
        super().__init__(owner)
        self.title, self.detailed = title, detailed
        self.found, self.number = suggesting.Suggestions(), 0
        self.before = False
        """Whether the map shows the house as it is."""
        self._moved = False
        self._list()

    @property
    def shown(self) -> suggesting.Suggestion | None:
        return self.found.found[self.number] if self.found.found else None

    @property
    def entry_chosen(self) -> Entry:
        return self.item or Entry("way", "0")

    @property
    def colour(self) -> suggesting.SuggestedColour | None:
        entry = self.entry_chosen
        return self._colours[int(entry.key)] if entry.kind == "colour" else None

    @property
    def _colours(self) -> Sequence[suggesting.SuggestedColour]:
        return self.shown.colours if self.shown else ()

    def show_found(self, found: suggesting.Suggestions) -> None:
        self.found = found
        self.number = min(self.number, max(len(found.found) - 1, 0))
        self._list()
        self.owner.show(self)

    @property
    def options(self) -> Sequence[Entry]:
        """What can be asked for, and what is asked for now."""
        return ()

    def rooms(self) -> Iterable[str]:
        """Those that are listed: whose walls change."""
        return suggesting.painted_rooms(self.session.house, self.shown.house) if self.shown else ()

    def keeps(self, entry: Entry) -> bool:
        """Whether a colour is in every suggestion, or a room keeps its paint."""
        del entry
        return False

    def _list(self) -> None:
        """The way that is shown is chosen until the user has moved; its details stand below it."""
        self._follow_light()
        ways = [Entry("way", str(number)) for number in range(len(self.found.found))]
        ways[self.number + 1 : self.number + 1] = self._details() if self.detailed else ()
        entries = [*self.options, *ways]
        if not ways:
            entries += (Entry("room", key) for key in self.rooms())
        at_way = not self._moved or self.entry_chosen.kind == "way"
        chosen = ("way", str(self.number)) if at_way else self.chosen
        self.show_entries(entries, chosen, [entry[:2] for entry in entries])
        self.redraw()

    def _details(self) -> Iterator[Entry]:
        shown = self.shown
        for place, colour in enumerate(self._colours):
            yield Entry("colour", str(place), about=colour.reason)
        for words in shown.missed if shown else ():
            about = f"Not kept in this suggestion: {words}."
            yield from self._lines("missed", f"not kept: {words}", about)
        if shown and shown.unusual:
            yield from self._lines("unusual", f"not as usual: {shown.unusual}", UNUSUAL)
        if shown and shown.progress:
            yield RULES
        for words in suggesting.beside_walls(self.session.house, shown.house) if shown else ():
            yield from self._lines("beside", words)
        yield from (Entry("room", key) for key in self.rooms())

    def _lines(self, kind: Kind, words: str, about: str = "") -> Iterator[Entry]:
        """What takes more than one line, line by line."""
        lines = wrap(words, max(self.size.width - 3, LEAST_LINE))
        return (Entry(kind, f"{n} {words}", line, about) for n, line in enumerate(lines))

    def follow(self) -> None:
        super().follow()
        self._follow_light()

    def _follow_light(self) -> None:
        """Take the colours of the house as it is and as suggested, in the light of the moment."""
        session, shown = self.session, self.shown
        light = session.selection.light
        self._shades = self._shades_after = Shades(light, session.house, session.base)
        if shown:
            self._shades_after = Shades(light, shown.house, shown.report)

    def head(self, page: Page) -> Sequence[Row]:
        found = self.found
        return [
            page.title_row(self.title, "searching" if found.running else ""),
            *page.text(found.note),
            *page.text(self._summary()),
            *page.text(self.shown.summary if self.shown else "", quiet=True),
            *page.text(self.entry_chosen.about, quiet=True),
            *([] if page.narrow else [page.blank()]),
        ]

    def _summary(self) -> str:
        """What is known of the one that is shown: what it does, and how good it is."""
        shown, report = self.shown, self.session.report
        if shown is None:
            return self.found.fault or ("Looking for a first choice." if self.found.running else "")
        good = goodness(shown.progress, shown.compared) if shown.progress else ""
        if report is None or report.house is not shown.house:
            return good
        now = self.session.base.tally if self.session.base else None
        so_far = " so far" if self.found.running else ""
        return f"{findings_text(now, report.tally)}{so_far}. {good}"

    def entry(self, item: Entry, page: Page) -> Sequence[Row]:
        match item.kind:
            case "way":
                return [self._way(int(item.key), page)]
            case "colour":
                colour, kept = self._colours[int(item.key)], self.keeps(item)
                columns = max(len(each.use) for each in self._colours)
                longest = max(cell_len(plain(each.swatch.name)) for each in self._colours)
                return [colour_row(colour, page, kept=kept, columns=columns, longest=longest)]
            case "room":
                rooms = item.key, self._shades, self._shades_after
                return [room_row(*rooms, page, kept=self.keeps(item))]
            case "option":
                lead = (page.mark(), page.run(fit(item.key, OPTION_WORDS), quiet=True))
                return [page.row(lead, item.text, strong=page.chosen)]
        return [page.row((page.mark(),), item.text)]

    def _way(self, number: int, page: Page) -> Row:
        """Its name, its colours in proportion, each once, and its state."""
        one = self.found.found[number]
        longest = max(len(plain(each.name)) for each in self.found.found)
        state = f" {one.state} " if one.state else " "
        longest = max(min(longest, MOST_NAME, page.width - len(state) - LEAST_STRIP), 1)
        name = f"{fit(cut(plain(one.name), longest, page.more), longest)} "
        shares: dict[Coat, float] = {}
        for colour in one.colours:
            shares[_coat(colour)] = shares.get(_coat(colour), 0.0) + colour.share
        room = page.width - len(name) - len(state) - 1
        strip = strip_row([*shares.items()], room, page) if shares else (page.run(" " * room),)
        return page.mark(), page.run(name, strong=number == self.number), *strip, page.run(state)

    def nothing(self, page: Page) -> Sequence[Row]:
        words = "" if self.found.running or self.found.fault else "There is nothing to take here."
        return [*page.text(words)]

    @property
    def bar_words(self) -> Mapping[str, str]:
        return {"open": "show it"} if self.entry_chosen == RULES else {}

    def moved(self) -> None:
        self._moved = True
        entry = self.entry_chosen
        if entry.kind == "room":
            self.owner.desk.select(entry.key)
        elif entry.kind == "way":
            self.show_way(int(entry.key))
        self.owner.desk.draw_keys()

    def show_way(self, number: int) -> None:
        self.number = number
        self.show_found(self.found)

    def picked(self) -> None:
        if self.entry_chosen == RULES:
            self.app.call_later(self.app.run_action, "open_page('costs')")
        else:
            self.owner.take(self.shown)

    def action_back(self) -> None:
        self.owner.desk.close_panel()

    def action_view(self) -> None:
        self.before = not self.before
        self.owner.show(self)

    def action_page(self, by: int) -> None:
        """Through what is shown, and not on to another way, which would repaint the house."""
        ways = [at for at, each in enumerate(self.items) if each.kind == "way"]
        later = [at for at in ways if int(self.items[at].key) > self.number]
        at, last = self.chosen_number or 0, min(later, default=len(self.items)) - 1
        first = ways[self.number] if ways and at >= ways[self.number] else 0
        to = min(max(at + by * max(self.fitting - 1, 1), first), last)
        self.step(to - at)

    def action_next(self, by: int) -> None:
        if self.found.found:
            self.show_way((self.number + by) % len(self.found.found))


class SchemesPanel(ProposalPanel):
    """The house as it is, then its schemes."""

    CONTEXT = "schemes"
    BAR = ("open", "new", "view", "delete", "light", "back")

    @property
    def bar_words(self) -> Mapping[str, str]:
        return {"open": "paint this room so"} if self.entry_chosen.kind == "room" else {}

    def picked(self) -> None:
        """On a room's line that room alone, else the whole house."""
        entry, shown = self.entry_chosen, self.shown
        if entry.kind == "room" and shown is not None:
            self.owner.take_room(shown, entry.key)
        else:
            super().picked()

    def action_new(self) -> None:
        self.owner.keep_scheme()

    def action_delete(self) -> None:
        if self.shown is not None:
            self.owner.delete_scheme(self.shown)


def deck_text(name: str) -> str:
    """The name of a deck; of the built-in one also that its colours are no paints that one buys."""
    return f"{NAME}, to be matched by a supplier" if name == NAME else plain(name)


OPTIONS = {
    "rooms": "The unpainted rooms only, or all but those that you keep: arrows, or h.",
    "colours": "Up to so many wall colours, kept ones counted: arrows, or + and -.",
    "from": "The house's own paints, or a deck: arrows, or d.",
    "trim": "Suggest a trim too, or leave the trim as it is: arrows, or 3.",
}


ONLY_UNPAINTED = "Only unpainted rooms are filled. Press h for all rooms."


class SuggestPanel(ProposalPanel):
    CONTEXT = "suggesting"
    BAR = ("open", "next", "decks", "view", "mark", "more", "scope", "back")

    def __init__(
        self, owner: "SuggestTask", sources: Sequence[suggesting.PaintSource], asked: PaletteRequest
    ) -> None:
        self.sources, self.source, self.asked = sources, sources[0], asked
        super().__init__(owner, "Suggested")

    def head(self, page: Page) -> Sequence[Row]:
        title, *rest = super().head(page)
        short = "Unpainted rooms only; h: all." if page.narrow else ONLY_UNPAINTED
        return [title, *(page.text(short) if self.asked.keep is None else ()), *rest]

    @property
    def options(self) -> Sequence[Entry]:
        asked = self.asked
        kept = f" but {len(asked.keep)} kept" if asked.keep else ""
        pinned = len(asked.own) + len(asked.chips)
        now = {
            "rooms": "the unpainted ones" if asked.keep is None else f"all{kept}",
            "colours": f"up to {asked.paints}" + (f", {pinned} of them kept" if pinned else ""),
            "from": deck_text(self.source.name) or "the house's own paints",
            "trim": "too" if asked.trim else "as it is",
        }
        return [Entry("option", key, now[key], about) for key, about in OPTIONS.items()]

    def rooms(self) -> Iterator[str]:
        house = self.session.house
        return (key for key, room in house.rooms.items() if room.use != "outdoor")

    def keeps(self, entry: Entry) -> bool:
        if entry.kind == "room":
            return entry.key in (self.asked.keep or ())
        colour = self._colours[int(entry.key)]
        return colour.paint in self.asked.own or colour.chip in self.asked.chips

    def step_aside(self, by: int) -> None:
        entry = self.entry_chosen
        match entry.key if entry.kind == "option" else "":
            case "rooms":
                self.action_scope()
            case "colours":
                self.action_more(by)
            case "from":
                self.action_source(by)
            case "trim":
                self.action_surface("trim")
            case _:
                self.action_next(by)

    def action_more(self, by: int) -> None:
        paints = max((self.asked.paints or MOST_PAINTS) + by, 1)
        self._ask(replace(self.asked, paints=min(paints, MOST_PAINTS)))

    def action_scope(self) -> None:
        keep = approved_rooms(self.session.house) if self.asked.keep is None else None
        paints = usual_paints(self.session.house, keep)
        self._ask(replace(self.asked, keep=keep, paints=paints))

    def action_surface(self, surface: str) -> None:
        assert surface == "trim"
        self._ask(replace(self.asked, trim=not self.asked.trim))

    def action_source(self, by: int = 1) -> None:
        at = self.sources.index(self.source) + by
        self.source = self.sources[at % len(self.sources)]
        self._ask(replace(self.asked, chips=frozenset()))

    def action_mark(self) -> None:
        """Keep the paint of a room, or a colour in every suggestion; or no longer."""
        entry, asked, colour = self.entry_chosen, self.asked, self.colour
        rooms = self.session.house.rooms
        if colour is not None and colour.paint in self.session.house.paints:
            self._ask(replace(asked, own=asked.own ^ {colour.paint}))
        elif colour is not None and colour.chip is not None and colour.use != "trim":
            self._ask(replace(asked, chips=asked.chips ^ {colour.chip}))
        elif entry.kind == "room" and asked.keep is not None and rooms[entry.key].paints.walls:
            self._ask(replace(asked, keep=asked.keep ^ {entry.key}))

    def _ask(self, asked: PaletteRequest) -> None:
        self.asked = asked
        self.owner.search(self)


class AroundPanel(ProposalPanel):
    """Sets around one paint; the arrows across swap the chosen colour for another."""

    CONTEXT = "around"
    BAR = ("open", "right", "next", "more", "light", "back")
    builder: suggesting.SchemeBuilder | None = None
    asked_of: object = None
    """What makes the builder whose sets are waited for."""

    def show_found(self, found: suggesting.Suggestions) -> None:
        self.number = self.builder.number if self.builder else 0
        super().show_found(found)

    def build(self, change: Callable[[suggesting.SchemeBuilder], suggesting.SchemeBuilder]) -> None:
        """Show the sets of the builder as changed."""
        if self.builder is not None:
            self.builder = builder = change(self.builder)
            self.owner.show_sets(self, lambda: builder)

    def moved(self) -> None:
        super().moved()
        if self.builder is not None and self.entry_chosen.kind == "colour":
            self.builder = self.builder.choose(int(self.entry_chosen.key))

    def show_way(self, number: int) -> None:
        self.build(lambda builder: builder.look_at(number))

    def step_aside(self, by: int) -> None:
        if self.entry_chosen.kind == "colour":
            self.build(lambda builder: builder.swap(by))

    def action_more(self, _by: int) -> None:
        self.build(suggesting.SchemeBuilder.more_like_this)

    def action_surface(self, surface: str) -> None:
        assert surface == "doors"
        self.build(lambda builder: replace(builder, dark_doors=not builder.dark_doors))


SEARCH = "suggest"
"""The group of its work."""
SECONDS = 8.0
"""For the searches of each suggestion; then the best so far is kept, with its bound."""


def schemes_today(base: Report) -> Iterator[suggesting.Suggestion]:
    return suggesting.schemes_of(base, today())


class SuggestTask(Task):
    _search: suggesting.Searching | None = None

    def open(self) -> None:
        """Suggest for the unpainted rooms, or for all where none is; of the house's own paints."""
        bare = bool(rooms_to_fill(self.session.house))
        own = [suggesting.PaintSource()]
        sources = [*own, *self._decks()] if self.session.house.paints else [*self._decks(), *own]
        keep = None if bare else approved_rooms(self.session.house)
        self._open(sources, keep, frozenset(), trim=not bare)

    def open_from(self, source: suggesting.PaintSource, pinned: frozenset[str]) -> None:
        """Suggest for all rooms out of a deck; the paints picked there are kept."""
        keep = approved_rooms(self.session.house)
        self._open([source, suggesting.PaintSource(), *self._decks()], keep, pinned, trim=True)

    def _decks(self) -> Sequence[suggesting.PaintSource]:
        """The deck that was open last, then the others."""
        browser = self.desk.find_task(DecksTask).browser
        others = deck_files(data_folder(), NAME)
        if browser is None:
            return [suggesting.PaintSource(deck.name, deck) for deck in others]
        return [
            suggesting.PaintSource(browser.deck.name, browser.deck, browser.chips),
            *(suggesting.PaintSource(deck.name, deck) for deck in others if deck != browser.deck),
        ]

    def _open(
        self, sources: Sequence[suggesting.PaintSource], keep: frozenset[str] | None,
        pinned: frozenset[str], *, trim: bool,
    ) -> None:  # fmt: skip
        paints = usual_paints(self.session.house, keep)
        panel = SuggestPanel(self, sources, PaletteRequest(paints, keep, chips=pinned, trim=trim))
        self.desk.open_panel(panel)
        self.search(panel)

    def search(self, panel: SuggestPanel) -> None:
        """Begin anew with what is asked for now."""
        self._end()
        search = self._search = suggesting.Searching(SECONDS)
        house, base = self.session.house, self.session.base
        source, asked = panel.source, panel.asked
        panel.show_found(suggesting.Suggestions())

        def steps() -> Iterator[suggesting.Suggestions]:
            return suggesting.suggest(lit_report(house, base), source, asked, search)

        def show(found: suggesting.Suggestions) -> None:
            if panel is self.desk.panel and search is self._search:
                panel.show_found(found)

        steps_beside(self.desk, SEARCH, steps, show)

    def around(self) -> None:
        """Build around the paint on the selected surface, of the deck that was open last."""
        session = self.session
        room = session.shown.rooms.get(session.selection.room or "")
        paint = getattr(room.paints, session.selection.surface) if room else None
        if isinstance(self.desk.panel, ProposalPanel):  # which it would take the place of
            self.say("Take what is shown (enter) or leave it (esc), then press b.")
        elif paint is None:
            self.say("Choose a paint here first (enter): a set is built around it.")
        else:
            chips = all_chips({paint: session.shown.paints[paint]})
            for swatch in chips.swatches:
                self.build(swatch)
            for fault in chips.faults.values():
                self.say(f"No set: {fault}. Press e to correct the colour.")

    def build(self, neutral: Swatch) -> None:
        """Build around any paint; without a deck the built-in one has the colours."""
        house, browser = self.session.house, self.desk.find_task(DecksTask).browser
        known = browser.chips if browser and browser.done else None
        deck = browser.deck if browser else DeckFile(NAME, None)

        def made() -> suggesting.SchemeBuilder:
            return suggesting.SchemeBuilder.around(
                neutral, house, known or suggesting.chips_of(deck), deck_text(deck.name)
            )

        panel = AroundPanel(self, f"Around {plain(neutral.name)}")
        self.desk.open_panel(panel)
        self.show_sets(panel, made)

    def show_sets(self, panel: AroundPanel, made: Callable[[], suggesting.SchemeBuilder]) -> None:
        """Show the house in the sets of a builder, once it has been reported on."""
        house, base = self.session.house, self.session.base
        known = [one.report for one in panel.found.found]
        panel.asked_of = made

        def build() -> tuple[suggesting.SchemeBuilder, suggesting.Suggestions]:
            report = lit_report(house, base)
            if panel.builder is None:
                return suggesting.best_set_first(made(), report)
            builder = suggesting.sets_that_differ(made(), report)
            return builder, suggesting.suggested_sets(builder, report, known)

        def show(built: tuple[suggesting.SchemeBuilder, suggesting.Suggestions]) -> None:
            if panel is self.desk.panel and made is panel.asked_of:
                panel.builder, found = built
                panel.show_found(found)

        work_beside(self.desk, SEARCH, build, show)

    def schemes(self) -> None:
        self._compare(SchemesPanel(self, "Schemes"), schemes_today)

    def same_as(self) -> None:
        """Choose the room whose paints the selected room is to have."""
        title = f"{self.session.house.rooms[self.room].name}, the same as"
        panel = ProposalPanel(self, title, detailed=False)
        self._compare(panel, partial(suggesting.rooms_like, room=self.room))

    def tints(self) -> None:
        house, target = self.session.house, Target(self.room, self.session.selection.surface)
        paint = target.paint_in(house)
        if paint is None:
            self.say("No paint is here to mix. Select a painted surface (1 to 4).")
            return
        title = f"Tints of {plain(house.paints[paint].name)}"
        panel = ProposalPanel(self, title, detailed=False)
        self._compare(panel, partial(suggesting.tints_on, target=target))

    def _compare(
        self, panel: ProposalPanel, ways: Callable[[Report], Iterator[suggesting.Suggestion]]
    ) -> None:
        """Show ways to paint the house in a panel, which is opened if it is not."""
        house, base = self.session.house, self.session.base
        if panel is not self.desk.panel:
            self.desk.open_panel(panel)

        def show(found: tuple[suggesting.Suggestion, ...]) -> None:
            if panel is self.desk.panel:
                panel.show_found(suggesting.Suggestions(found, running=False))

        work_beside(self.desk, SEARCH, lambda: tuple(ways(lit_report(house, base))), show)

    def keep_scheme(self) -> None:
        def named(name: str) -> None:
            if self.desk.apply(partial(make_scheme, name=name), f"Keep {name}"):
                self._compare_again()

        name = f"Scheme {chr(ord('A') + len(self.session.house.schemes) % 26)}"
        question = "Keep the house as it is now as a scheme called:"
        self.desk.ask_line(question, name, named, replaces=True)

    def delete_scheme(self, one: suggesting.Suggestion) -> None:
        change = partial(remove, table="schemes", key=one.key)
        if not one.key:
            self.say("The house as it is: n keeps it as a scheme.")
        elif self.desk.apply(change, f"Delete {plain(one.name)}"):
            self._compare_again()

    def _compare_again(self) -> None:
        if isinstance(self.desk.panel, SchemesPanel):
            self._compare(self.desk.panel, schemes_today)

    def show(self, panel: ProposalPanel) -> None:
        """Show the house so painted on the map, unless that shows the present."""
        shown = panel.shown
        if shown is None or panel.before or shown.house == self.session.house:
            self.desk.try_out(None)
        else:
            self.desk.try_out(shown.house, shown.report)

    def take(self, shown: suggesting.Suggestion | None) -> None:
        before = self.session.house
        if shown is None or shown.house == before:
            self.say("That is the house as it is." if shown else "Nothing is chosen yet.")
            return
        count = sum(room != before.rooms[key] for key, room in shown.house.rooms.items())
        label = shown.label or f"Paint {counted(count, 'room')} as suggested"
        self._paint(shown.house, label, shown.report)

    def take_room(self, shown: suggesting.Suggestion, room: str) -> None:
        """Paint one room as in a scheme, and the rest of the house not at all."""
        house = self.session.house
        painted = replace(house, rooms={**house.rooms, room: shown.house.rooms[room]})
        label = f"Paint {house.rooms[room].name} as in {shown.name}"
        self._paint(painted, label)

    def _paint(self, house: House, label: str, report: Report | None = None) -> None:
        self.desk.close_panel()
        if self.desk.paint(house, label, report):
            self.say(f"{plain(label)}; {ASK_FOR_A_SAMPLE}.")

    def closing(self) -> None:
        if isinstance(self.desk.panel, ProposalPanel):
            self._end()

    def _end(self) -> None:
        drop_work(self.desk, SEARCH)
        if self._search is not None:
            self._search.close()
            self._search = None
