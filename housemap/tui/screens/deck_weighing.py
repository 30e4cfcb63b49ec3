"""What the paints of a deck cost on the chosen surface: worked out beside the screen."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from textual.message import Message

from housemap.choose.deck.ranking import Weighing, options_of, weigh
from housemap.choose.sweep.trial import SurfaceTrial
from housemap.tui.background import work_beside
from housemap.tui.screens.deck_base import DeckBase

WEIGHING = "weighing"
"""The group of its work, and how what is told meanwhile begins."""


@dataclass
class DeckWeighed(Message):
    """What was asked for is weighed."""

    asked: tuple[object, ...]
    weighing: Weighing


class DeckWeighing(DeckBase):
    """Weighs what the list shows whenever that, the house or the surface changes."""

    _asked: tuple[object, ...] = ()
    _to_the_best = False
    """Whether the best is to be chosen as soon as it is known."""

    def action_deck_best(self) -> None:
        """List first what costs least."""
        self._to_the_best = True
        self.desk.arrange("list")
        self.desk.order_by("cost")
        self.follow()

    def follow(self) -> None:
        super().follow()
        if self.in_list and self.desk.order == "cost":
            self._weigh()
        elif self.desk.weighing and self._asked[:2] != (self.session.base, self.target):
            self._asked = ()
            self.desk.take_weighing(None)

    def _weigh(self) -> None:
        target, base, chips = self.target, self.session.base, self.desk.chips
        known = base is not None and self.session.base_is_current and self.desk.done
        if target is None or base is None or not known:
            return
        rows, deck = np.sort(self.desk.rows), self.desk.deck.name
        asked = base, target, chips, rows.tobytes()
        if asked == self._asked:
            self._go_to_the_best()
            return
        self._asked = asked

        def steps() -> Iterator[Message]:
            options = options_of(base.house, chips, deck)
            yield DeckWeighed(asked, weigh(SurfaceTrial(base, *target), options, rows))

        if self._to_the_best:
            self.say(f"{WEIGHING} {len(rows):,} paints for {target.name_in(base.house)} ...")
        work_beside(self, WEIGHING, steps)

    def on_deck_weighed(self, message: DeckWeighed) -> None:
        message.stop()
        if message.asked == self._asked:
            self.desk.take_weighing(message.weighing)
            if self._message.startswith(WEIGHING):
                self.say("")
            self.follow()

    def _go_to_the_best(self) -> None:
        if self._to_the_best and self.desk.weighing is not None and len(self.desk.rows):
            self._to_the_best = False
            self.desk.choose(int(self.desk.rows[0]))
            super().follow()
