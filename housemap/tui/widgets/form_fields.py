"""What is typed into on a form: a field of one line, and one of several."""

from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.widgets import TextArea

from housemap.tui.command import Keymap
from housemap.tui.edit_commands import FORM
from housemap.tui.keys import bindings_of
from housemap.tui.widgets.area import Area
from housemap.tui.widgets.field import Field

if TYPE_CHECKING:
    from housemap.tui.widgets.form import FormPanel


class FormKeys:
    """The keys of a form, for whatever is typed into."""

    form: "FormPanel"

    def action_form_on(self) -> None:
        self.form.go_on()

    def action_form_step(self, by: int) -> None:
        self.form.step(by)

    def action_form_take(self) -> None:
        self.form.take()

    def action_form_leave(self) -> None:
        self.form.forms.leave_form(self.form.draft)


class FormLine(FormKeys, Field):
    """The field of one line."""

    CONTEXT: ClassVar[str] = FORM
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FORM)]

    def __init__(self, form: "FormPanel", keymap: Keymap) -> None:
        self.form = form
        super().__init__(keymap=keymap)

    def watch_value(self, value: str) -> None:
        self.form.typed(value)

    def action_form_option(self, by: int) -> None:
        """Go to the next option of a choice; elsewhere move along the text."""
        choice = self.form.field.choice
        if choice is not None:
            self.write(choice.stepped(self.value, by))
            self.action_select_all()
        elif by > 0:
            self.action_cursor_right()
        else:
            self.action_cursor_left()


class FormArea(FormKeys, Area):
    """The field of several lines: enter and the arrows are its own."""

    CONTEXT: ClassVar[str] = FORM
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(FORM)]
    OWN_KEYS: ClassVar[frozenset[str]] = frozenset({"enter", "up", "down", "left", "right"})

    def __init__(self, form: "FormPanel", keymap: Keymap) -> None:
        self.form = form
        super().__init__(keymap=keymap)

    def action_form_option(self, by: int) -> None:
        """Arrows move along the text."""

    def on_text_area_changed(self, message: TextArea.Changed) -> None:
        message.stop()
        if self.form.field.lines:
            self.form.typed(self.text)
