"""Widgets that draw every line themselves, to their full width."""

from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

NOWHERE = Size(0, 0)


class Drawn(Widget):
    """A widget without border or padding whose `render_line` gives strips as wide as it is.

    Textual would put each line through its styles and filters at every frame, also the lines that
    did not change; nothing of that applies here, and it costs half the time of a key.
    """

    ALLOW_SELECT = False

    fitted = NOWHERE
    """The size for which what is shown now was prepared; NOWHERE: it is to be prepared anew."""

    def fit(self) -> None:
        """Prepare what depends on the size and on what is shown: called before the first line of
        each size is drawn, and by `redraw`; never without a size.

        A resize event comes only after that, and would have everything drawn twice.
        """  # noqa: D205 - one sentence

    @property
    def is_fitted(self) -> bool:
        """Whether what is shown was prepared for the size as it is: so not while it is hidden."""
        return self.size == self.fitted != NOWHERE

    def redraw(self) -> None:
        """Show something else: prepared now where it has a size, else once it has one."""
        self.fitted = NOWHERE
        self._fit_to_size()
        self.refresh()

    def _fit_to_size(self) -> None:
        if self.size:
            self.fitted = self.size
            self.fit()

    def render_lines(self, crop: Region) -> list[Strip]:
        if self.size != self.fitted:
            self._fit_to_size()
        strips = [self.render_line(y) for y in crop.line_range]
        if crop.column_span == (0, self.size.width):
            return strips
        return [strip.crop(*crop.column_span) for strip in strips]
