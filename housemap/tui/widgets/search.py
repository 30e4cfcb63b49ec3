"""A list with a search line that becomes a field while something is typed into it."""

from textual.widgets import Input

from housemap.tui.render.look import Look
from housemap.tui.widgets.list_panel import ListPanel
from housemap.workbench.session import Session


class SearchField(Input):
    """Lies over the search line, the second row of the panel; the panel's keys work in it too."""

    def __init__(self, text: str) -> None:
        super().__init__(text, compact=True, select_on_focus=False)
        self.cursor_blink = False


class SearchPanel(ListPanel):
    """A subclass draws `search` as its second row and overrides `searched` and `search_done`."""

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__(session, look)
        self.search = ""
        """What was typed."""

    def searched(self, text: str) -> None:
        """Another text is sought."""
        raise NotImplementedError

    def search_done(self) -> None:
        """Enter was pressed in the field, and something is chosen."""
        raise NotImplementedError

    def open_search(self) -> None:
        if self._field is None:
            field = SearchField(self.search)
            self.mount(field)
            self.screen.set_focus(field)  # at once: the next key is meant for it

    def leave_search(self) -> bool:
        """Close the field and seek nothing; False where there was nothing to leave."""
        if self._field is None and not self.search:
            return False
        self._close()
        self._seek("")
        return True

    @property
    def _field(self) -> SearchField | None:
        return next(iter(self.query(SearchField)), None)

    def _close(self) -> None:
        field = self._field
        if field is not None:
            self.screen.set_focus(self)
            field.remove()

    def _seek(self, text: str) -> None:
        if text != self.search:
            self.search = text
            self.searched(text)

    def on_input_changed(self, message: Input.Changed) -> None:
        message.stop()
        if self._field is message.input:
            self._seek(message.value)

    def on_input_submitted(self, message: Input.Submitted) -> None:
        """Go on with what is chosen; where nothing fits, stay in the field."""
        message.stop()
        self._seek(message.value)
        if self.chosen_number is not None:
            self._close()
            self.search_done()
