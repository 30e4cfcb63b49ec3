"""The field for readings of a meter, of any number of lines."""

from textual.widgets import TextArea


class ReadingsField(TextArea):
    """Plain text; tab leaves it."""

    def __init__(self, text: str) -> None:
        super().__init__(
            text, id="typed", tab_behavior="focus", show_line_numbers=False,
            highlight_cursor_line=False, compact=True,
        )  # fmt: skip
        self.cursor_blink = False
