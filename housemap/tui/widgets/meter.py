"""The field for readings of a meter, of any number of lines."""

from textual.widgets import TextArea

PLACEHOLDER = """\
A reading on each line:
  L 62.1 a 1.2 b 8.3 D50/2
  XYZ 30.1 31.2 25.0 D65/10
or a spectrum over several:
  400 0.31
  410 0.33 ...
A blank line between two spectra.
"""


class ReadingsField(TextArea):
    """Plain text; tab leaves it."""

    def __init__(self, text: str) -> None:
        super().__init__(
            text, id="typed", tab_behavior="focus", show_line_numbers=False,
            highlight_cursor_line=False, compact=True, placeholder=PLACEHOLDER,
        )  # fmt: skip
        self.cursor_blink = False
