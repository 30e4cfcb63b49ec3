"""The palettes found in a deck as strips, and the paints of one of them as a list."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.message import Message

from housemap.tui.keys import bindings_of
from housemap.tui.propose_commands import PROPOSING
from housemap.tui.render.listing import Line
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.proposing import offers_head, part_rows
from housemap.tui.render.runs import Row
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session
from housemap.workbench.suggesting import Offer, Offers, Part

if TYPE_CHECKING:
    from housemap.choose.palettes.asked import Asked

MOST_PAINTS = 24


class ProposePanel(ListPanel):
    """Reports what is asked for; searches and decides nothing by itself."""

    CONTEXT: ClassVar[str] = PROPOSING
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(PROPOSING)]

    @dataclass
    class Wished(Message):
        """Something else is asked for."""

        asked: "Asked"

    @dataclass
    class Asking(Message):
        """take, leave, stop, before, or show (another palette)."""

        what: str

    def __init__(self, session: Session, look: Look, asked: "Asked") -> None:
        super().__init__(session, look)
        self.asked, self.offers, self.number = asked, Offers(), 0

    @property
    def offer(self) -> Offer | None:
        """The palette that is shown."""
        return self.offers.shown(self.number)

    @property
    def _parts(self) -> tuple[Part, ...]:
        return self.offer.parts if self.offer else ()

    def show_offers(self, asked: "Asked", offers: Offers) -> None:
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

    def action_offer_take(self) -> None:
        self.post_message(self.Asking("take"))

    def action_offer_leave(self) -> None:
        self.post_message(self.Asking("leave"))

    def action_offer_before(self) -> None:
        self.post_message(self.Asking("before"))

    def action_offer_stop(self) -> None:
        self.post_message(self.Asking("stop"))

    def action_offer_beside(self, by: int) -> None:
        if self.offers.offers:
            self.number = (self.number + by) % len(self.offers.offers)
            self._list()
            self.post_message(self.Asking("show"))

    def action_offer_limit(self, by: int) -> None:
        limit = max((self.asked.paints or MOST_PAINTS) + by, 1)
        self._wish(replace(self.asked, paints=min(limit, MOST_PAINTS)))

    def action_offer_pin(self) -> None:
        """A paint of the deck is pinned by its id there, any other by its id in the house."""
        number = self.chosen_number
        part = self._parts[number] if number is not None else None
        if part is None or part.trim:
            return
        if part.chip is None:
            self._wish(replace(self.asked, own=self.asked.own ^ {part.paint}))
        else:
            self._wish(replace(self.asked, chips=self.asked.chips ^ {part.chip}))

    def action_offer_scope(self) -> None:
        from housemap.choose.palettes.asked import usual_paints  # noqa: PLC0415 - it is there by now

        keep = frozenset[str]() if self.asked.keep is None else None
        paints = usual_paints(self.session.house, keep)
        self._wish(replace(self.asked, keep=keep, paints=paints))

    def action_offer_trim(self) -> None:
        self._wish(replace(self.asked, trim=not self.asked.trim))

    def _is_pinned(self, part: Part) -> bool:
        return part.paint in self.asked.own or part.chip in self.asked.chips

    def _wish(self, asked: "Asked") -> None:
        self.asked = asked  # at once: the next key builds on it
        self.post_message(self.Wished(asked))
