"""The walk's picture in true pixels, drawn over its half blocks as soon as one stands still.

While one moves, half blocks are drawn as in any terminal: no key ever waits for a picture. What is
on the screen over the walk is never hidden: the picture is taken away while it is.
"""

import asyncio
from collections.abc import Awaitable, Callable

from textual.timer import Timer
from textual.widget import Widget

from housemap.plan.pixels import Pixels
from housemap.tui.pictures import Drawing, Place, picture_bytes, picture_size, removal_bytes
from housemap.tui.textual_fixes import output_waits, write_raw

STILL_S = 0.15
"""How long nothing moves before the picture is drawn."""
LOOK_S = 0.1
"""How often it is looked whether something covers the walk."""

Draw = Callable[[tuple[int, int]], Awaitable[Pixels | None]]
"""The walk in so many pixels, width and height; None where there is nothing to see."""


class PixelLayer:
    """Lies over one widget of the screen."""

    def __init__(self, widget: Widget, drawing: Drawing, draw: Draw) -> None:
        self._widget, self._drawing, self._draw = widget, drawing, draw
        self._timer: Timer | None = None
        self._data = b""
        """What draws the picture; empty until it is made."""
        self._place: Place | None = None
        """Where it is drawn; None where it is not."""

    @property
    def is_shown(self) -> bool:
        return self._place is not None

    def moved(self) -> None:
        """Something else is to be seen: take the picture away until one stands still."""
        if self._drawing.protocol == "blocks":
            return
        self._take_away()
        self._data = b""
        self._start(STILL_S, self._make)

    def end(self) -> None:
        """The widget goes."""
        self._stop()
        if self.is_shown:
            write_raw(self._widget.app, removal_bytes(self._drawing))
        self._place = None

    def _start(self, seconds: float, then: Callable[[], object]) -> None:
        self._stop()
        self._timer = self._widget.set_timer(seconds, then)

    def _stop(self) -> None:
        if self._timer is not None:
            self._timer.stop()
        self._timer = None

    def _make(self) -> None:
        self._widget.run_worker(self._made(), exclusive=True, group="pixels")

    async def _made(self) -> None:
        place = self._free_place()
        if place is None:
            self._start(LOOK_S, self._make)
            return
        pixels = await self._draw(picture_size(self._drawing, place))
        if pixels is None:
            return
        data = await asyncio.to_thread(picture_bytes, self._drawing, pixels, place)
        if place == self._free_place():
            self._data = data
            self._show(place)
        self._start(LOOK_S, self._watch)

    def _show(self, place: Place) -> None:
        if not output_waits(self._widget.app):
            write_raw(self._widget.app, self._data)
            self._place = place

    def _watch(self) -> None:
        """Take the picture away from under what covers it, and bring it back."""
        place = self._free_place()
        if self.is_shown and place != self._place:
            self._take_away()
        elif place and not self.is_shown:
            self._make()
            return
        self._start(LOOK_S, self._watch)

    def _take_away(self) -> None:
        if self.is_shown:
            self._place = None
            write_raw(self._widget.app, removal_bytes(self._drawing))
            self._widget.refresh()

    def _free_place(self) -> Place | None:
        """Where the widget lies on the screen; None while something covers it."""
        widget = self._widget
        if not widget.is_attached or widget.app.screen is not widget.screen:
            return None
        region = widget.region
        if not region.area:
            return None
        corners = (region.offset, (region.right - 1, region.bottom - 1), region.center)
        for x, y in corners:
            if widget.screen.get_widget_at(int(x), int(y))[0] is not widget:
                return None
        return Place(region.x, region.y, region.width, region.height)
