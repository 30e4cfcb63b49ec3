"""Asking a deck: searching, filters, what is near; and how it is arranged."""

from textual.widgets import Input

from housemap.tui.list_panel import SearchField
from housemap.tui.screens.deck_weighing import DeckWeighing
from housemap.tui.tasks.deck_drawing import ORDERED
from housemap.tui.tasks.deck_panels import DeckChart
from housemap.workbench.deck_browser import Arrangement


class DeckAsking(DeckWeighing):
    """Actions that change which chips are shown, and where."""

    # Arranging

    def action_deck_arrange(self) -> None:
        self.action_arrange(None)

    def action_arrange(self, arrangement: Arrangement | None) -> None:
        self.desk.arrange(arrangement)
        self.follow()

    def action_deck_order(self) -> None:
        if self.in_list:
            self.desk.next_order()
        else:
            self.desk.arrange("list")
        self.follow()
        self.say(f"A list, {ORDERED[self.desk.order]}.")

    def on_deck_chart_page_turned(self, message: DeckChart.PageTurned) -> None:
        self.desk.turn_page(message.step)
        self.follow()

    # Filters

    def action_deck_warmth(self) -> None:
        self.desk.next_temperature()
        self.follow()

    def action_deck_undertone(self) -> None:
        self.desk.next_family()
        self.follow()

    def action_deck_near(self) -> None:
        self.desk.turn_near()
        self.follow()

    def action_deck_leave(self) -> None:
        """Leave the search first, then what is asked, then the deck."""
        if self.has_field:
            self.desk.search("")
            self._close_field()
        elif self.desk.asks:
            self.desk.ask_nothing()
            self.follow()
        else:
            self.dismiss()

    # Searching

    @property
    def has_field(self) -> bool:
        return bool(self.query(SearchField))

    def action_deck_search(self) -> None:
        field = SearchField(self.desk.text)
        self.query_one("#asked").mount(field)
        self.set_focus(field)

    def _close_field(self) -> None:
        self.query(SearchField).remove()
        self.follow()
        self.set_focus(self.list if self.in_list else self.chart)

    def on_input_changed(self, message: Input.Changed) -> None:
        message.stop()
        if message.value != self.desk.text:
            self.desk.search(message.value)
            self.follow()

    def on_input_submitted(self, message: Input.Submitted) -> None:
        """Go to what was found."""
        message.stop()
        self._close_field()
