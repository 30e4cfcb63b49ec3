"""Palettes out of a deck side by side: each a strip in proportion of wall area, with its cost."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.tui.background import drop_work, work_beside
from housemap.tui.commands import PROPOSING
from housemap.tui.keys import bindings_of
from housemap.tui.list_panel import ListPanel
from housemap.tui.render.cells import Ink, Row, Run
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, patch
from housemap.tui.render.shades import Coat
from housemap.tui.task import Desk, Task, TaskMessage
from housemap.tui.tasks.choose import ASK_FOR_A_SAMPLE
from housemap.tui.tasks.choose_drawing import findings_text, title_row
from housemap.tui.tasks.fill import progress_text
from housemap.workbench.reporting import lit_report
from housemap.workbench.searching import Searching
from housemap.workbench.session import Session
from housemap.workbench.suggesting import Offer, Offers, Part, offers_of

if TYPE_CHECKING:
    from housemap.choose.chips import Chips
    from housemap.choose.schemes.shortlist import PaletteRequest
    from housemap.file.deck_file import DeckFile
    from housemap.workbench.suggesting import Offer, Offers


TALL = 30
"""Rows from which on there is place for a caution and for strips of two rows."""
_TRIM = 3
"""Columns of the trim at the end of a strip, behind one of the panel."""


def offers_head(
    asked: "PaletteRequest", offers: Offers, number: int, line: Line, height: int
) -> list[Row]:
    """What is asked for, each palette as a strip, and what is known of the shown one."""
    page, tall = Page(line.look, line.width), height >= TALL
    return [
        title_row(f"Palette from {offers.deck}", "searching" if offers.running else "", line),
        *page.text(asked_text(asked), quiet=True),
        *([page.blank()] if tall else []),
        *_strips(offers, number, line, tall=tall),
        *page.text(_told(offers, number)),
        *(page.text(offers.told, quiet=True) if tall and offers.told else ()),
        *(page.text(CAUTION, quiet=True) if tall else ()),
        page.blank(),
    ]


CAUTION = "A screen is a poor judge of paint: put samples up before you buy."


def asked_text(asked: "PaletteRequest") -> str:
    """As in "at most 4 wall paints and a trim, 1 pinned, all rooms but 2 kept"."""
    count = "any number of" if asked.paints is None else f"at most {asked.paints}"
    walls = f"{count} wall paint{'' if asked.paints == 1 else 's'}"
    pins = len(asked.own) + len(asked.chips)
    kept = "" if not asked.keep else f" but {len(asked.keep)} kept"
    rooms = "the unpainted rooms" if asked.keep is None else f"all rooms{kept}"
    pinned = f", {pins} pinned" if pins else ""
    return f"{walls}{' and a trim' if asked.trim else ''}{pinned}, {rooms}"


def _strips(offers: Offers, number: int, line: Line, *, tall: bool) -> Iterator[Row]:
    for place, offer in enumerate(offers.offers):
        shown = place == number
        lead = line.look.glyphs.here if shown else " "
        strip = strip_of_parts(offer.parts, line.width - 4, line.look)
        for row in range(2 if tall else 1):
            mark = f"{lead}{place + 1} " if row == 0 else "   "
            yield line.run(mark, strong=shown), *strip, line.run(" ")
        if tall:
            yield (line.run(" " * line.width),)


def strip_of_parts(parts: Sequence[Part], width: int, look: Look) -> Row:
    """Wall paints that touch, in proportion of their area; a trim stands apart at the end."""
    walls, trims = [p for p in parts if not p.trim], [p for p in parts if p.trim]
    end = (_TRIM + 1) * len(trims)
    sizes = proportions([part.share for part in walls], max(width - end, len(walls)))
    row = [_patch(part, size, look) for part, size in zip(walls, sizes, strict=True)]
    for part in trims:
        row += [Run(" ", Ink(None, look.greys.panel)), _patch(part, _TRIM, look)]
    return tuple(row)


def _patch(part: Part, columns: int, look: Look) -> Run:
    return patch(Coat("known", part.hex), columns, look)


def proportions(shares: Sequence[float], columns: int) -> list[int]:
    """Whole columns for shares, at least one each, that add up; at least one for each is there."""
    spare = columns - len(shares)
    whole = sum(shares) or 1.0
    exact = [spare * share / whole for share in shares]
    sizes = [int(size) for size in exact]
    order = sorted(range(len(exact)), key=lambda i: sizes[i] - exact[i])
    for place in order[: spare - sum(sizes)]:
        sizes[place] += 1
    return [size + 1 for size in sizes]


def _told(offers: Offers, number: int) -> str:
    if offers.fault:
        return offers.fault
    offer = offers.shown(number)
    if offer is None:
        return "looking for a first choice"
    findings = ""
    if offer.findings is not None:
        findings = f"; {findings_text(*offer.findings)}"
    return f"{progress_text(offer.progress)}{findings}"


def part_rows(part: Part, line: Line, *, pinned: bool) -> Sequence[Row]:
    """A paint of the shown palette: its name, then where it goes and how light it is."""
    swatch = patch(Coat("known", part.hex), SWATCH, line.look)
    gap = line.run(" ")
    rooms = f"{part.rooms} room{'' if part.rooms == 1 else 's'}"
    where = f"{100 * part.share:.0f} % of the walls, {rooms}" if part.rooms else "not used"
    use = "trim" if part.trim else where
    state = "pinned" if pinned else ""
    return (
        line.row((line.mark(), swatch, gap), part.name, state, strong=line.chosen),
        line.row((gap, swatch, gap), use, f"LRV {part.lrv:.0f}", quiet=True),
    )


# The palettes found in a deck as strips, and the paints of one of them as a list.

MOST_PAINTS = 24


class ProposePanel(ListPanel):
    """Reports what is asked for; searches and decides nothing by itself."""

    CONTEXT: ClassVar[str] = PROPOSING
    BAR: ClassVar[tuple[str, ...]] = ("open", "right", "view", "mark", "more", "scope", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PROPOSING)]

    @dataclass
    class Wished(TaskMessage):
        """Something else is asked for."""

        asked: "PaletteRequest"

    @dataclass
    class Asking(TaskMessage):
        """take, leave, stop, before, or show (another palette)."""

        what: str

    def __init__(self, session: Session, look: Look, asked: "PaletteRequest") -> None:
        super().__init__(session, look)
        self.asked, self.offers, self.number = asked, Offers(), 0

    @property
    def offer(self) -> Offer | None:
        """The palette that is shown."""
        return self.offers.shown(self.number)

    @property
    def _parts(self) -> tuple[Part, ...]:
        return self.offer.parts if self.offer else ()

    def show_offers(self, asked: "PaletteRequest", offers: Offers) -> None:
        self.asked, self.offers = asked, offers
        self.number = min(self.number, max(len(offers.offers) - 1, 0))
        self._list()

    def _list(self) -> None:
        self.show_entries([part.paint for part in self._parts], self.chosen)
        self.redraw()

    def follow(self, session: Session) -> None:
        self.session = session
        self.redraw()

    def head(self, width: int, height: int) -> Sequence[Row]:
        return offers_head(self.asked, self.offers, self.number, Line(self.look, width), height)

    def entry(self, number: int, width: int, *, chosen: bool) -> Sequence[Row]:
        part = self._parts[number]
        return part_rows(part, Line(self.look, width, chosen), pinned=self._is_pinned(part))

    def nothing(self, width: int) -> Sequence[Row]:
        return [*Page(self.look, width).text("")]

    # What the user asks

    def picked(self) -> None:
        self.post_message(self.Asking("take"))

    def action_back(self) -> None:
        self.post_message(self.Asking("leave"))

    def action_stop(self) -> None:
        self.post_message(self.Asking("stop"))

    def action_view(self) -> None:
        self.post_message(self.Asking("before"))

    def step_aside(self, by: int) -> None:
        if self.offers.offers:
            self.number = (self.number + by) % len(self.offers.offers)
            self._list()
            self.post_message(self.Asking("show"))

    def action_more(self, by: int) -> None:
        limit = max((self.asked.paints or MOST_PAINTS) + by, 1)
        self._wish(replace(self.asked, paints=min(limit, MOST_PAINTS)))

    def action_mark(self) -> None:
        """A paint of the deck is pinned by its id there, any other by its id in the house."""
        number = self.chosen_number
        part = self._parts[number] if number is not None else None
        if part is None or part.trim:
            return
        if part.chip is None:
            self._wish(replace(self.asked, own=self.asked.own ^ {part.paint}))
        else:
            self._wish(replace(self.asked, chips=self.asked.chips ^ {part.chip}))

    def action_scope(self) -> None:
        from housemap.choose.schemes.shortlist import usual_paints  # noqa: PLC0415 - it is there by now

        keep = frozenset[str]() if self.asked.keep is None else None
        paints = usual_paints(self.session.house, keep)
        self._wish(replace(self.asked, keep=keep, paints=paints))

    def action_surface(self, surface: str) -> None:
        """Suggest the trim too, or leave it."""
        assert surface == "trim"
        self._wish(replace(self.asked, trim=not self.asked.trim))

    def _is_pinned(self, part: Part) -> bool:
        return part.paint in self.asked.own or part.chip in self.asked.chips

    def _wish(self, asked: "PaletteRequest") -> None:
        self.asked = asked  # at once: the next key builds on it
        self.post_message(self.Wished(asked))


# A palette for the house out of a deck: looked for in a process of its own, shown on the map.

SEARCH = "palette"
"""The group of its work."""
SECONDS = 20.0
"""For each palette; then the best so far is kept, with its bound."""


@dataclass
class Proposed(TaskMessage):
    """The search came further."""

    search: "Searching"
    offers: "Offers"


class SuggestTask(Task):
    """Looks for a palette of the whole house in a deck."""

    NAME: ClassVar[str] = "suggest"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._offer_search: Searching | None = None
        self._offer_before = False
        """Whether the map shows the house as it is."""
        self._offer_source: tuple[DeckFile, Chips | None] | None = None

    def propose(
        self, deck: "DeckFile", chips: "Chips | None", pinned: frozenset[str] = frozenset(),
        keep: frozenset[str] | None = frozenset(), paints: int | None = None,
    ) -> None:  # fmt: skip
        """Open the panel and look for palettes: of all rooms, unless some are kept."""
        from housemap.choose.schemes.shortlist import (  # noqa: PLC0415 - when first needed
            PaletteRequest,
            usual_paints,
        )

        self._offer_source = deck, chips
        count = paints or usual_paints(self.session.house, keep)
        asked = PaletteRequest(count, keep, chips=pinned)
        self.desk.open_panel(ProposePanel(self.session, self.look, asked))
        self._search_offers(asked)

    def _search_offers(self, asked: "PaletteRequest") -> None:
        """Begin anew with what is asked for now."""
        assert self._offer_source is not None
        self._end_offers()
        search = self._offer_search = Searching(SECONDS)
        house, base = self.session.house, self.session.base
        deck, chips = self._offer_source
        self._show_offers(asked, Offers(deck.name))

        def steps() -> Iterator[Message]:

            report = lit_report(house, base)
            for offers in offers_of(report, deck, chips, asked, search):
                yield Proposed(search, offers)

        work_beside(self.desk.screen, SEARCH, steps)

    def on_proposed(self, message: Proposed) -> None:
        panel = self._propose_panel()
        if panel is not None and message.search is self._offer_search:
            self._show_offers(panel.asked, message.offers)

    def _show_offers(self, asked: "PaletteRequest", offers: "Offers") -> None:
        panel = self._propose_panel()
        if panel is not None:
            panel.show_offers(asked, offers)
            self._show_offer(panel.offer)

    def _show_offer(self, offer: "Offer | None") -> None:
        """Show a palette on the map, unless that shows the present."""
        if offer is None or self._offer_before:
            self.desk.try_out(None)
        else:
            self.desk.try_out(offer.house, offer.report)

    def on_propose_panel_wished(self, message: "ProposePanel.Wished") -> None:
        self._search_offers(message.asked)

    def on_propose_panel_asking(self, message: "ProposePanel.Asking") -> None:
        panel = self._propose_panel()
        if panel is None:
            return
        match message.what:
            case "take":
                self._take_offer(panel.offer)
            case "stop" if self._offer_search is not None:
                self._offer_search.stop()
            case "before":
                self._offer_before = not self._offer_before
                self._show_offer(panel.offer)
            case "show":
                self._show_offer(panel.offer)
            case "leave":
                self.desk.close_panel()

    def _take_offer(self, offer: "Offer | None") -> None:
        if offer is None:
            self.say("Nothing is chosen yet.")
            return
        count = sum(part.rooms > 0 for part in offer.parts)
        label = f"Palette of {count} wall paint{'' if count == 1 else 's'}"
        self.desk.close_panel()
        if self.desk.apply(offer.house, label, offer.report):
            self.say(f"{label}; {ASK_FOR_A_SAMPLE}")

    def closing(self) -> None:
        if self._propose_panel() is not None:
            self._end_offers()
            self._offer_before = False

    def _end_offers(self) -> None:
        drop_work(self.desk.screen, SEARCH)
        if self._offer_search is not None:
            self._offer_search.close()
            self._offer_search = None

    def _propose_panel(self) -> "ProposePanel | None":

        return self.desk.panel if isinstance(self.desk.panel, ProposePanel) else None
