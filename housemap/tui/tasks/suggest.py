"""Suggesting paints for the house: what is asked for and what came of it, in one list.

The search runs in a process of its own; the map shows the suggestion looked at.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar, Literal, NamedTuple

from textual.binding import BindingType
from textual.message import Message

from housemap.choose.optimiser.problem import Progress
from housemap.choose.schemes.shortlist import PaletteRequest, usual_paints
from housemap.deck.notation_deck import NAME
from housemap.file.deck_file import deck_files
from housemap.tui.background import drop_work, work_beside
from housemap.tui.commands import SUGGESTING
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
from housemap.workbench.reporting import lit_report
from housemap.workbench.session import Session
from housemap.workbench.suggesting import (
    PaintSource,
    Searching,
    SuggestedColour,
    Suggestion,
    Suggestions,
    suggest,
)

TALL = 30
"""Rows from which on strips are two rows high."""
HALF = 3
"""Columns of each of the two swatches of a room."""
OPTION_WORDS = 9
FEW_ROOMS = 3
"""Rooms that are named where a colour is explained."""
MOST_PAINTS = 24


class Entry(NamedTuple):
    """A line of the list."""

    kind: Literal["option", "colour", "missed", "room", "rules"]
    key: str


OPTIONS = {
    "rooms": "The unpainted rooms only, or all but those that you keep: arrows, or h.",
    "colours": "At most so many wall colours: arrows, or + and -.",
    "from": "The house's own paints, or a deck: arrows, or d.",
    "trim": "Suggest a trim too, or leave the trim as it is: arrows, or 3.",
}
"""What can be asked for, and how it is changed."""
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
    lead = (line.mark(), patch(Coat("known", colour.swatch.colour.srgb_hex), SWATCH, line.look))
    use = "trim" if colour.part == "trim" else f"{100 * colour.share:.0f} %"
    state = "kept " if kept else ""
    right = f"{state}LRV {colour.swatch.lrv:.0f} {use:>5}"
    return line.row((*lead, line.run(" ")), plain(colour.swatch.name), right, strong=line.chosen)


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


class SuggestPanel(ListPanel):
    """Options, then the colours of one suggestion, what it could not keep to, and the rooms."""

    CONTEXT: ClassVar[str] = SUGGESTING
    BAR: ClassVar[tuple[str, ...]] = ("open", "next", "view", "mark", "more", "scope", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(SUGGESTING)]
    ENTRY_ROWS: ClassVar[int] = 1

    def __init__(
        self, task: "SuggestTask", sources: Sequence[PaintSource], asked: PaletteRequest
    ) -> None:
        super().__init__(task.session, task.look)
        self._suggesting, self.sources, self.asked = task, sources, asked
        self.found, self.number = Suggestions(), 0
        self.source = sources[0]
        self.before = False
        """Whether the map shows the house as it is."""
        self._moved = False
        self._list()

    def _follow_light(self) -> None:
        """Take the colours of the house as it is and as suggested, in the light of the moment."""
        session, shown = self.session, self.shown
        light, base = session.selection.light, session.base
        self._shades = shades_under(light, session.house, base)
        self._shades_after = (
            shades_under(light, shown.house, shown.report) if shown else self._shades
        )

    @property
    def shown(self) -> Suggestion | None:
        """The suggestion looked at."""
        return self.found.found[self.number] if self.found.found else None

    @property
    def entry_chosen(self) -> Entry:
        chosen = self.chosen
        assert isinstance(chosen, Entry)
        return chosen

    def show_found(self, found: Suggestions) -> None:
        self.found = found
        self.number = min(self.number, max(len(found.found) - 1, 0))
        self._list()

    def _list(self) -> None:
        """The first colour is chosen until the user has moved."""
        self._follow_light()
        colours = self.shown.colours if self.shown else ()
        rooms = [key for key, room in self.session.house.rooms.items() if room.use != "outdoor"]
        entries = [
            *(Entry("option", key) for key in OPTIONS),
            *(Entry("colour", colour.paint) for colour in colours),
            *(Entry("missed", words) for words in (self.shown.missed if self.shown else ())),
            RULES,
            *(Entry("room", room) for room in rooms),
        ]
        first = entries[len(OPTIONS)] if colours else entries[0]
        self.show_entries(entries, self.chosen if self._moved else first)
        self.redraw()

    def follow(self, session: Session) -> None:
        self.session = session
        self._follow_light()
        self.redraw()

    # Drawing

    def head(self, width: int, height: int) -> Sequence[Row]:
        page, line, tall = Page(self.look, width), Line(self.look, width), height >= TALL
        return [
            title_row("Suggested", state_of(self.found), line),
            *(row for number in range(len(self.found.found)) for row in self._strip(number, tall)),
            *page.text(self._told()),
            *(page.text(self.shown.told, quiet=True) if tall and self.shown else ()),
            *([] if page.narrow else [page.blank()]),
            *page.text(self._about(), quiet=True),
            *([] if page.narrow else [page.blank()]),
        ]  # fmt: skip

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
        """The colours in proportion of wall area, the trim at the end."""
        line, chosen = Line(self.look, self.size.width), number == self.number
        colours = self.found.found[number].colours
        parts = [
            (Coat("known", one.swatch.colour.srgb_hex), one.share or TRIM_SHARE) for one in colours
        ]
        mark = f"{self.look.glyphs.here if chosen else ' '}{number + 1} "
        row = strip_row(parts, line.width - 4, self.look)
        first = line.run(mark, strong=chosen), *row, line.run(" ")
        return [first, (line.run("   "), *row, line.run(" "))] if tall else [first]

    def _about(self) -> str:
        """The line that is chosen, in a sentence."""
        entry = self.entry_chosen
        colour = self._colour(entry)
        if colour is not None:
            count = len(colour.rooms)
            rooms = ", ".join(colour.rooms) if count <= FEW_ROOMS else f"{count} rooms"
            return f"{colour.reason} {rooms}{'.' if rooms else ''}".strip()
        return {
            "option": OPTIONS.get(entry.key, ""), "missed": f"Not kept: {entry.key}.",
            "rules": "What counts when paints are suggested: enter shows it.",
            "room": "x keeps the paint of this room, or lets it change.",
        }.get(entry.kind, "")  # fmt: skip

    def _colour(self, entry: Entry) -> SuggestedColour | None:
        colours = self.shown.colours if self.shown and entry.kind == "colour" else ()
        return next((one for one in colours if one.paint == entry.key), None)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        entry, line = self._keys[number], Line(self.look, width, chosen)
        assert isinstance(entry, Entry)
        colour = self._colour(entry)
        if colour is not None:
            return [colour_row(colour, line, kept=self._is_kept(colour))]
        match entry.kind:
            case "room":
                kept = entry.key in (self.asked.keep or ())
                return [room_row(entry.key, self._shades, self._shades_after, line, kept=kept)]
            case "option":
                lead = (line.mark(), line.run(fit(entry.key, OPTION_WORDS), quiet=True))
                return [line.row(lead, self._option(entry.key), strong=chosen)]
            case "missed":
                return [line.row((line.mark(),), f"not kept: {entry.key}")]
        return [line.row((line.mark(),), "what counts, and how much")]

    def _option(self, key: str) -> str:
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

    def nothing(self, width: int) -> Sequence[Row]:
        del width
        return []

    # What the user does

    def moved(self) -> None:
        self._moved = True
        entry = self.entry_chosen
        if entry.kind == "room":
            self._suggesting.desk.select(entry.key)

    def picked(self) -> None:
        if self.entry_chosen == RULES:
            self.app.call_later(self.app.run_action, "costs")
        else:
            self._suggesting.take(self.shown)

    def action_back(self) -> None:
        self._suggesting.leave()

    def action_view(self) -> None:
        self.before = not self.before
        self._suggesting.show(self)

    def action_next(self, by: int) -> None:
        if self.found.found:
            self.number = (self.number + by) % len(self.found.found)
            self._list()
            self._suggesting.show(self)

    def step_aside(self, by: int) -> None:
        entry = self.entry_chosen
        if entry.kind != "option":
            self.action_next(by)
            return
        match entry.key:
            case "rooms":
                self.action_scope()
            case "colours":
                self.action_more(by)
            case "from":
                self._take_source(by)
            case "trim":
                self.action_surface("trim")

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
        entry, asked = self.entry_chosen, self.asked
        colour = self._colour(entry)
        if colour is not None and colour.part != "trim":
            if colour.paint in self.session.house.paints:
                self._ask(replace(asked, own=asked.own ^ {colour.paint}))
            elif colour.chip is not None:
                self._ask(replace(asked, chips=asked.chips ^ {colour.chip}))
        elif entry.kind == "room" and asked.keep is not None and self._walls(entry.key):
            self._ask(replace(asked, keep=asked.keep ^ {entry.key}))

    def _walls(self, room: str) -> str | None:
        return self.session.house.rooms[room].paints.walls

    def _is_kept(self, colour: SuggestedColour) -> bool:
        return colour.paint in self.asked.own or colour.chip in self.asked.chips

    def _ask(self, asked: PaletteRequest) -> None:
        self.asked, self.found = asked, Suggestions()
        self._list()
        self._suggesting.search(self)


TRIM_SHARE = 0.06
"""Of a strip: what a trim takes, which is on no wall."""
SEARCH = "suggest"
"""The group of its work."""
SECONDS = 20.0
"""For each suggestion; then the best so far is kept, with its bound."""


@dataclass
class Suggested(TaskMessage):
    """The search came further."""

    search: Searching
    found: Suggestions


class SuggestTask(Task):
    """Looks for paints for the whole house."""

    NAME: ClassVar[str] = "suggest"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._search: Searching | None = None

    def open(self) -> None:
        """Suggest for the unpainted rooms, or for all where none is; of the house's own paints."""
        rooms = self.session.house.rooms.values()
        bare = any(room.use != "outdoor" and room.paints.walls is None for room in rooms)
        keep = None if bare else frozenset[str]()
        first = [] if self.session.house.paints else [*self._decks()[:1]]
        self._open([*first, PaintSource(), *self._decks()], keep, frozenset(), trim=not bare)

    def open_from(self, source: PaintSource, pinned: frozenset[str]) -> None:
        """Suggest for all rooms out of a deck; the paints picked there are kept."""
        self._open([source, PaintSource(), *self._decks()], frozenset(), pinned, trim=True)

    def _decks(self) -> Sequence[PaintSource]:
        """The deck that was open last, then the others."""
        browser = self.desk.find_task(DecksTask).browser
        decks = deck_files(data_folder(), NAME)
        if browser is None:
            return [PaintSource(deck.name, deck) for deck in decks]
        others = [PaintSource(deck.name, deck) for deck in decks if deck != browser.deck]
        return [PaintSource(browser.deck.name, browser.deck, browser.chips), *others]

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
        search = self._search = Searching(SECONDS)
        house, base, source, asked = (
            self.session.house, self.session.base, panel.source, panel.asked
        )  # fmt: skip
        self.show(panel)

        def steps() -> Iterator[Message]:
            for found in suggest(lit_report(house, base), source, asked, search):
                yield Suggested(search, found)

        work_beside(self.desk.screen, SEARCH, steps)

    def on_suggested(self, message: Suggested) -> None:
        panel = self._panel
        if panel is not None and message.search is self._search:
            panel.show_found(message.found)
            self.show(panel)

    def show(self, panel: SuggestPanel) -> None:
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

    def leave(self) -> None:
        """Stop a search that has found something; else close the panel."""
        panel, search = self._panel, self._search
        if panel and panel.shown and panel.found.running and search and not search.stopped:
            search.stop()
        else:
            self.desk.close_panel()

    def closing(self) -> None:
        if self._panel is not None:
            self._end()

    def _end(self) -> None:
        drop_work(self.desk.screen, SEARCH)
        if self._search is not None:
            self._search.close()
            self._search = None

    @property
    def _panel(self) -> SuggestPanel | None:
        return self.desk.panel if isinstance(self.desk.panel, SuggestPanel) else None
