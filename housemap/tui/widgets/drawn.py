"""Widgets that draw every line themselves, to their full width."""

from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget


class Drawn(Widget):
    """A widget without border or padding whose `render_line` gives strips as wide as it is.

    Textual would put each line through its styles and filters at every frame, also the lines that
    did not change; nothing of that applies here, and it costs half the time of a key.
    """

    ALLOW_SELECT = False

    fitted = Size(0, 0)
    """The size for which it was drawn last."""

    def fit(self) -> None:
        """Prepare what depends on the size: called before the first line of each size is drawn.

        A resize event comes only after that, and would have everything drawn twice.
        """

    def render_lines(self, crop: Region) -> list[Strip]:
        if self.size != self.fitted:
            self.fitted = self.size
            self.fit()
        strips = [self.render_line(y) for y in crop.line_range]
        if crop.column_span == (0, self.size.width):
            return strips
        return [strip.crop(*crop.column_span) for strip in strips]
