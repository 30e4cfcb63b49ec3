"""Taking paints of a deck into the house, and laying them beside each other."""

from collections.abc import Callable

from housemap.choose.deck.taking import take
from housemap.errors import EditError
from housemap.model.edits import paint_on
from housemap.model.house import House, Paint
from housemap.study import Swatch
from housemap.tui.screens.choosing import ASK_FOR_A_SAMPLE
from housemap.tui.screens.deck_base import DeckBase
from housemap.workbench.deck_browser import MOST_PICKED


class DeckTaking(DeckBase):
    """Actions on the chosen chip."""

    def action_deck_take(self) -> None:
        if swatch := self.desk.swatch:
            self.say(self.take(swatch))

    def take(self, swatch: Swatch) -> str:
        """Copy a paint into the house, and tell what came of it."""
        label = f"{swatch.name} taken from {self.desk.deck.name}"
        try:
            changed = self.apply(lambda house: self._taken(house, swatch)[0], label)
        except EditError as error:
            return str(error)
        if changed:
            return f"{swatch.name} is in the house; {ASK_FOR_A_SAMPLE}."
        return f"{swatch.name} is in the house already."

    def _taken(self, house: House, swatch: Swatch) -> tuple[House, str]:
        assert isinstance(swatch.entity, Paint)
        return take(house, swatch.id, swatch.entity, self.desk.deck.name)

    def action_deck_put(self) -> None:
        """Put the chosen paint on the chosen surface; the house has it then."""
        swatch, target = self.desk.swatch, self.target
        if swatch is None or target is None:
            return
        place = target.name_in(self.session.house)

        def put(house: House) -> House:
            taken, own_id = self._taken(house, swatch)
            return paint_on(taken, *target, own_id)

        try:
            changed = self.apply(put, f"{place}: {swatch.name}")
        except EditError as error:
            self.say(str(error))
            return
        told = f"; {ASK_FOR_A_SAMPLE}." if changed else " is there already."
        self.say(f"{place}: {swatch.name}{told}")

    def action_deck_undo(self) -> None:
        self._step(self.session.undo)

    def _step(self, step: Callable[[], str]) -> None:
        try:
            label = step()
        except EditError as error:
            self.say(str(error))
            return
        self.house.follow()
        self.say(f"Undone: {label}")

    def action_deck_propose(self) -> None:
        """Look for a palette for the whole house in this deck."""
        self.dismiss()
        self.house.propose_from(self.desk)

    # Beside each other

    def action_deck_pick(self) -> None:
        if not self.desk.pick():
            self.say(f"At most {MOST_PICKED} paints lie beside each other; c puts one back.")
            return
        if self.in_list:
            self.list.show_desk()
        else:
            self.chart.redraw_marks()
        self.draw_rest()

    def action_deck_unpick(self) -> None:
        self.desk.picked = ()
        self.follow()

    def action_deck_beside(self) -> None:
        from housemap.tui.screens.beside import BesideScreen  # noqa: PLC0415 - when first needed

        if len(self.desk.picked) < 2:  # noqa: PLR2004 - fewer are not beside each other
            self.say("Pick two to six paints with c; then b lays them side by side.")
            return
        self.app.push_screen(BesideScreen(self), lambda _: self.follow())
