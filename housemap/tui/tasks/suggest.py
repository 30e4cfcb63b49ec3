"""Suggesting paints for the house: what is asked for and what came of it, in one list.

The search runs in a process of its own; the map shows the suggestion looked at.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar, Literal, NamedTuple

from textual.binding import BindingType
from textual.message import Message

from housemap.choose.optimiser.problem import Progress
from housemap.choose.schemes.shortlist import PaletteRequest, usual_paints
from housemap.deck.notation_deck import NAME
from housemap.file.deck_file import DeckFile, deck_files
from housemap.study import Swatch
from housemap.tui.background import drop_work, work_beside
from housemap.tui.commands import AROUND, SUGGESTING
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Row, fit, plain
from housemap.tui.render.page import SWATCH, Line, Page, patch
from housemap.tui.render.shades import Coat, Shades, shades_under
from housemap.tui.task import Desk, Task, TaskMessage
from housemap.tui.tasks.choose import ASK_FOR_A_SAMPLE
from housemap.tui.tasks.choose_drawing import findings_text, strip_row, title_row
from housemap.tui.tasks.decks import DecksTask
from housemap.workbench.folders import data_folder
from housemap.workbench.reporting import lit_report, next_report
from housemap.workbench.session import Session
from housemap.workbench.suggesting import (
    PaintSource,
    SchemeBuilder,
    Searching,
    SuggestedColour,
    Suggestion,
    Suggestions,
    chips_of,
    suggest,
    suggested_sets,
)

TALL = 30
"""Rows from which on strips are two rows high."""
HALF = 3
"""Columns of each of the two swatches of a room."""
OPTION_WORDS = 9
MOST_PAINTS = 24


class Entry(NamedTuple):
    """A line of the list."""

    kind: Literal["option", "colour", "missed", "room", "rules"]
    key: str


RULES = Entry("rules", "")


def state_of(found: Suggestions) -> str:
    return "searching, esc stops" if found.running and found.found else (
        "searching" if found.running else ""
    )  # fmt: skip


def goodness(shown: Suggestion) -> str:
    """How it compares with what else was looked at."""
    progress: Progress = shown.progress
    if progress.gap == 0.0:
        return f"Best of the {shown.compared} paints compared, under these rules."
    return (
        f"Best found in {progress.seconds:.0f} s among {shown.compared} paints."
        f" It scores {progress.cost:.0f} against the rules; no choice scores below"
        f" {max(progress.bound, 0.0):.0f}."
    )


def colour_row(colour: SuggestedColour, line: Line, *, kept: bool) -> Row:
    lead = (line.mark(), patch(_coat(colour), SWATCH, line.look), line.run(" "))
    state = "kept " if kept else ""
    right = f"{state}LRV {colour.swatch.lrv:.0f} {colour.use}"
    return line.row(lead, plain(colour.swatch.name), right, strong=line.chosen)


def _coat(colour: SuggestedColour) -> Coat:
    return Coat("known", colour.swatch.colour.srgb_hex)


def room_row(room: str, before: Shades, after: Shades, line: Line, *, kept: bool) -> Row:
    """A room with its wall colour before and after, touching, and what it becomes."""
    old, new = (each.house.rooms[room].paints.walls for each in (before, after))
    lead = (
        line.mark(), patch(before.on(room, "walls", old), HALF, line.look),
        patch(after.on(room, "walls", new), HALF, line.look), line.run(" "),
    )  # fmt: skip
    name = plain(after.house.paints[new].name) if new else "no paint"
    state = "kept" if kept else name if new != old else "as it is"
    return line.row(lead, plain(before.house.rooms[room].name), state, strong=line.chosen)


class ProposalPanel(ListPanel):
    """Suggestions as strips of colours; of one its colours, what it missed, and every room.

    A subclass may put options above them.
    """

    ENTRY_ROWS: ClassVar[int] = 1

    def __init__(self, suggesting: "SuggestTask", title: str) -> None:
        super().__init__(suggesting.session, suggesting.look)
        self.suggesting, self.title = suggesting, title
        self.found, self.number = Suggestions(), 0
        self.asked_of: object = None
        """The search, or the builder, whose suggestions are shown."""
        self.before = False
        """Whether the map shows the house as it is."""
        self._moved = False
        self._list()

    @property
    def shown(self) -> Suggestion | None:
        """The suggestion looked at."""
        return self.found.found[self.number] if self.found.found else None

    @property
    def entry_chosen(self) -> Entry:
        chosen = self.chosen
        assert isinstance(chosen, Entry)
        return chosen

    @property
    def colour(self) -> SuggestedColour | None:
        """The one that is chosen."""
        entry = self.entry_chosen
        return self._colours[int(entry.key)] if entry.kind == "colour" else None

    @property
    def _colours(self) -> Sequence[SuggestedColour]:
        return self.shown.colours if self.shown else ()

    def show_found(self, found: Suggestions) -> None:
        self.found = found
        self.number = min(self.number, max(len(found.found) - 1, 0))
        self._list()
        self.suggesting.show(self)

    def options(self) -> Mapping[str, str]:
        """What can be asked for, each with how it is changed."""
        return {}

    def option(self, key: str) -> str:
        """What is asked for now."""
        raise NotImplementedError

    def keeps(self, entry: Entry) -> bool:
        """Whether a colour is in every suggestion, or a room keeps its paint."""
        del entry
        return False

    def _list(self) -> None:
        """The first colour is chosen until the user has moved."""
        self._follow_light()
        house, options = self.session.house, self.options()
        entries = [
            *(Entry("option", key) for key in options),
            *(Entry("colour", str(place)) for place in range(len(self._colours))),
            *(Entry("missed", words) for words in (self.shown.missed if self.shown else ())),
            RULES,
            *(Entry("room", key) for key, room in house.rooms.items() if room.use != "outdoor"),
        ]
        first = entries[len(options) if self._colours else 0]
        self.show_entries(entries, self.chosen if self._moved else first)
        self.redraw()

    def follow(self, session: Session) -> None:
        self.session = session
        self._follow_light()
        self.redraw()

    def _follow_light(self) -> None:
        """Take the colours of the house as it is and as suggested, in the light of the moment."""
        session, shown = self.session, self.shown
        light = session.selection.light
        self._shades = self._shades_after = shades_under(light, session.house, session.base)
        if shown:
            self._shades_after = shades_under(light, shown.house, shown.report)

    # Drawing

    def head(self, width: int, height: int) -> Sequence[Row]:
        page, line, tall = Page(self.look, width), Line(self.look, width), height >= TALL
        gap = [] if page.narrow else [page.blank()]
        return [
            title_row(self.title, state_of(self.found), line),
            *(row for number in range(len(self.found.found)) for row in self._strip(number, tall)),
            *page.text(self._told()),
            *(page.text(self.shown.told, quiet=True) if self.shown else ()),
            *gap,
            *page.text(self._about(), quiet=True),
            *gap,
        ]

    def _told(self) -> str:
        """What is known of the suggestion looked at: what it does, and how good it is."""
        shown, report = self.shown, self.session.report
        if shown is None:
            return self.found.fault or "Looking for a first choice."
        if report is None or report.house is not shown.house:
            return goodness(shown)
        now = len(self.session.base.causes) if self.session.base else None
        return f"{findings_text(now, len(report.causes))}. {goodness(shown)}"

    def _strip(self, number: int, tall: bool) -> Sequence[Row]:  # noqa: FBT001 - of this panel
        """The colours in proportion, each once."""
        line, chosen = Line(self.look, self.size.width), number == self.number
        shares: dict[Coat, float] = {}
        for colour in self.found.found[number].colours:
            shares[_coat(colour)] = shares.get(_coat(colour), 0.0) + colour.share
        mark = f"{self.look.glyphs.here if chosen else ' '}{number + 1} "
        row = strip_row([*shares.items()], line.width - 4, self.look)
        first = line.run(mark, strong=chosen), *row, line.run(" ")
        return [first, (line.run("   "), *row, line.run(" "))] if tall else [first]

    def _about(self) -> str:
        """The line that is chosen, in a sentence."""
        entry = self.entry_chosen
        if self.colour is not None:
            return self.colour.reason
        return {
            "option": self.options().get(entry.key, ""), "missed": f"Not kept: {entry.key}.",
            "rules": "What counts when paints are suggested: enter shows it.",
        }.get(entry.kind, "")  # fmt: skip

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        entry, line = self._keys[number], Line(self.look, width, chosen)
        assert isinstance(entry, Entry)
        match entry.kind:
            case "colour":
                return [colour_row(self._colours[int(entry.key)], line, kept=self.keeps(entry))]
            case "room":
                rooms = entry.key, self._shades, self._shades_after
                return [room_row(*rooms, line, kept=self.keeps(entry))]
            case "option":
                lead = (line.mark(), line.run(fit(entry.key, OPTION_WORDS), quiet=True))
                return [line.row(lead, self.option(entry.key), strong=chosen)]
            case "missed":
                return [line.row((line.mark(),), f"not kept: {entry.key}")]
        return [line.row((line.mark(),), "what counts, and how much")]

    # What the user does

    def moved(self) -> None:
        self._moved = bool(self._colours)
        entry = self.entry_chosen
        if entry.kind == "room":
            self.suggesting.desk.select(entry.key)

    def picked(self) -> None:
        if self.entry_chosen == RULES:
            self.app.call_later(self.app.run_action, "costs")
        else:
            self.suggesting.take(self.shown)

    def action_back(self) -> None:
        self.suggesting.leave(self)

    def action_view(self) -> None:
        self.before = not self.before
        self.suggesting.show(self)

    def action_next(self, by: int) -> None:
        if self.found.found:
            self.number = (self.number + by) % len(self.found.found)
            self.show_found(self.found)


OPTIONS = {
    "rooms": "The unpainted rooms only, or all but those that you keep: arrows, or h.",
    "colours": "At most so many wall colours: arrows, or + and -.",
    "from": "The house's own paints, or a deck: arrows, or d.",
    "trim": "Suggest a trim too, or leave the trim as it is: arrows, or 3.",
}


class SuggestPanel(ProposalPanel):
    """Suggestions of a search, and what is asked of it."""

    CONTEXT: ClassVar[str] = SUGGESTING
    BAR: ClassVar[tuple[str, ...]] = ("open", "next", "view", "mark", "more", "scope", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SUGGESTING)]

    def __init__(
        self, suggesting: "SuggestTask", sources: Sequence[PaintSource], asked: PaletteRequest
    ) -> None:
        self.sources, self.source, self.asked = sources, sources[0], asked
        super().__init__(suggesting, "Suggested")

    def options(self) -> Mapping[str, str]:
        return OPTIONS

    def option(self, key: str) -> str:
        asked = self.asked
        match key:
            case "rooms":
                kept = f" but {len(asked.keep)} kept" if asked.keep else ""
                return "the unpainted ones" if asked.keep is None else f"all{kept}"
            case "colours":
                pinned = len(asked.own) + len(asked.chips)
                return f"at most {asked.paints}" + (f", {pinned} of them kept" if pinned else "")
            case "from":
                return plain(self.source.name) or "the house's own paints"
        return "too" if asked.trim else "as it is"

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
                self._take_source(by)
            case "trim":
                self.action_surface("trim")
            case _:
                self.action_next(by)

    def action_more(self, by: int) -> None:
        paints = max((self.asked.paints or MOST_PAINTS) + by, 1)
        self._ask(replace(self.asked, paints=min(paints, MOST_PAINTS)))

    def action_scope(self) -> None:
        keep = frozenset[str]() if self.asked.keep is None else None
        paints = usual_paints(self.session.house, keep)
        self._ask(replace(self.asked, keep=keep, paints=paints))

    def action_surface(self, surface: str) -> None:
        """Suggest the trim too, or leave it."""
        assert surface == "trim"
        self._ask(replace(self.asked, trim=not self.asked.trim))

    def action_source(self) -> None:
        self._take_source(1)

    def _take_source(self, by: int) -> None:
        at = self.sources.index(self.source) + by
        self.source = self.sources[at % len(self.sources)]
        self._ask(replace(self.asked, chips=frozenset()))

    def action_mark(self) -> None:
        """Keep the paint of a room, or a colour in every suggestion; or no longer."""
        entry, asked, colour = self.entry_chosen, self.asked, self.colour
        if colour is not None and colour.paint in self.session.house.paints:
            self._ask(replace(asked, own=asked.own ^ {colour.paint}))
        elif colour is not None and colour.chip is not None and colour.use != "trim":
            self._ask(replace(asked, chips=asked.chips ^ {colour.chip}))
        elif entry.kind == "room" and asked.keep is not None and self._walls(entry.key):
            self._ask(replace(asked, keep=asked.keep ^ {entry.key}))

    def _walls(self, room: str) -> str | None:
        return self.session.house.rooms[room].paints.walls

    def _ask(self, asked: PaletteRequest) -> None:
        self.asked = asked
        self.suggesting.search(self)


class AroundPanel(ProposalPanel):
    """Sets around one paint; the arrows across swap the chosen colour for another."""

    CONTEXT: ClassVar[str] = AROUND
    BAR: ClassVar[tuple[str, ...]] = ("open", "right", "next", "more", "light", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(AROUND)]
    builder: SchemeBuilder | None = None

    def show_found(self, found: Suggestions) -> None:
        self.number = self.builder.number if self.builder else 0
        super().show_found(found)

    def show_builder(self, builder: SchemeBuilder) -> None:
        self.builder = builder
        self.suggesting.show_sets(self, builder)

    def moved(self) -> None:
        super().moved()
        if self.builder is not None and self.entry_chosen.kind == "colour":
            self.builder = self.builder.choose(int(self.entry_chosen.key))

    def step_aside(self, by: int) -> None:
        if self.builder is not None and self.entry_chosen.kind == "colour":
            self.show_builder(self.builder.swap(by))

    def action_next(self, by: int) -> None:
        if self.builder is not None:
            self.show_builder(self.builder.look_at(self.builder.number + by))

    def action_more(self, _by: int) -> None:
        if self.builder is not None:
            self.show_builder(self.builder.more_like_this())


SEARCH = "suggest"
"""The group of its work."""
SECONDS = 20.0
"""For each suggestion; then the best so far is kept, with its bound."""


@dataclass
class Suggested(TaskMessage):
    """A search, or building sets, came further."""

    panel: ProposalPanel
    asked: object
    """What it was asked of."""
    found: Suggestions


@dataclass
class Built(TaskMessage):
    """Sets around a paint are there."""

    panel: AroundPanel
    builder: SchemeBuilder


class SuggestTask(Task):
    """Looks for paints for the whole house."""

    NAME: ClassVar[str] = "suggest"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._search: Searching | None = None

    # By a search

    def open(self) -> None:
        """Suggest for the unpainted rooms, or for all where none is; of the house's own paints."""
        rooms = self.session.house.rooms.values()
        bare = any(room.use != "outdoor" and room.paints.walls is None for room in rooms)
        own = [PaintSource()]
        sources = [*own, *self._decks()] if self.session.house.paints else [*self._decks(), *own]
        self._open(sources, None if bare else frozenset(), frozenset(), trim=not bare)

    def open_from(self, source: PaintSource, pinned: frozenset[str]) -> None:
        """Suggest for all rooms out of a deck; the paints picked there are kept."""
        self._open([source, PaintSource(), *self._decks()], frozenset(), pinned, trim=True)

    def _decks(self) -> Sequence[PaintSource]:
        """The deck that was open last, then the others."""
        browser = self.desk.find_task(DecksTask).browser
        others = deck_files(data_folder(), NAME)
        if browser is None:
            return [PaintSource(deck.name, deck) for deck in others]
        return [
            PaintSource(browser.deck.name, browser.deck, browser.chips),
            *(PaintSource(deck.name, deck) for deck in others if deck != browser.deck),
        ]

    def _open(
        self, sources: Sequence[PaintSource], keep: frozenset[str] | None,
        pinned: frozenset[str], *, trim: bool,
    ) -> None:  # fmt: skip
        paints = usual_paints(self.session.house, keep)
        panel = SuggestPanel(self, sources, PaletteRequest(paints, keep, chips=pinned, trim=trim))
        self.desk.open_panel(panel)
        self.search(panel)

    def search(self, panel: SuggestPanel) -> None:
        """Begin anew with what is asked for now."""
        self._end()
        search = self._search = panel.asked_of = Searching(SECONDS)
        house, base, source, asked = (
            self.session.house, self.session.base, panel.source, panel.asked
        )  # fmt: skip
        panel.show_found(Suggestions())

        def steps() -> Iterator[Message]:
            for found in suggest(lit_report(house, base), source, asked, search):
                yield Suggested(panel, search, found)

        work_beside(self.desk.screen, SEARCH, steps)

    def on_suggested(self, message: Suggested) -> None:
        panel = message.panel
        if panel is self.desk.panel and message.asked is panel.asked_of:
            panel.show_found(message.found)

    # Around a paint

    def around(self) -> None:
        """Build around the paint on the selected surface, of the deck that was open last."""
        session = self.session
        room = session.shown.rooms.get(session.selection.room or "")
        paint = getattr(room.paints, session.selection.surface) if room else None
        report = session.report
        if paint is None:
            self.say("Choose a paint here first (enter): a set is built around it.")
        elif report is None or paint not in report.house.paints:
            self.say("The paints are still being computed. Press b again in a moment.")
        else:
            self.build(report.study.paint(paint))

    def build(self, neutral: Swatch) -> None:
        """Build around any paint; without a deck the built-in one has the colours."""
        house, browser = self.session.house, self.desk.find_task(DecksTask).browser
        panel = AroundPanel(self, f"Around {plain(neutral.name)}")
        self.desk.open_panel(panel)
        known = browser.chips if browser and browser.done else None
        deck = browser.deck if browser else DeckFile(NAME, None)

        def steps() -> Iterator[Message]:
            yield Built(panel, SchemeBuilder.around(neutral, house, known or chips_of(deck)))

        work_beside(self.desk.screen, SEARCH, steps)

    def on_built(self, message: Built) -> None:
        if message.panel is self.desk.panel:
            message.panel.show_builder(message.builder)

    def show_sets(self, panel: AroundPanel, builder: SchemeBuilder) -> None:
        """Show the house in the sets of a builder, once it has been reported on."""
        house, base = self.session.house, self.session.base
        panel.asked_of = builder

        def steps() -> Iterator[Message]:
            report = base if base and base.house is house else next_report(house, base)
            yield Suggested(panel, builder, suggested_sets(builder, report))

        work_beside(self.desk.screen, SEARCH, steps)

    # Both

    def show(self, panel: ProposalPanel) -> None:
        """Show the suggestion on the map with its findings, unless that shows the present."""
        shown = None if panel.before else panel.shown
        self.desk.try_out(shown.house if shown else None, shown.report if shown else None)

    def take(self, shown: Suggestion | None) -> None:
        if shown is None:
            self.say("Nothing is chosen yet.")
            return
        before = self.session.house.rooms
        count = sum(room != before[key] for key, room in shown.house.rooms.items())
        label = f"Paint {count} room{'' if count == 1 else 's'} as suggested"
        self.desk.close_panel()
        if self.desk.apply(shown.house, label, shown.report):
            self.say(f"{label}; {ASK_FOR_A_SAMPLE}.")

    def leave(self, panel: ProposalPanel) -> None:
        """Stop a search that has found something; else close the panel."""
        search = self._search
        if panel.shown and panel.found.running and search and not search.stopped:
            search.stop()
        else:
            self.desk.close_panel()

    def closing(self) -> None:
        if isinstance(self.desk.panel, ProposalPanel):
            self._end()

    def _end(self) -> None:
        drop_work(self.desk.screen, SEARCH)
        if self._search is not None:
            self._search.close()
            self._search = None
