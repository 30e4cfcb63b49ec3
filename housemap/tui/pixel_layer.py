"""Pictures in true pixels over a widget that draws in cells, as soon as nothing moves.

While something moves, cells are drawn as in any terminal: no key ever waits for a picture. What is
on the screen over the widget is never hidden: the picture is taken away while it is.
"""

import asyncio
import base64
import zlib
from collections.abc import Awaitable, Callable, Iterator
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from textual.timer import Timer
from textual.widget import Widget

from housemap.plan.pixels import Pixels
from housemap.tui.terminal import Drawing
from housemap.tui.textual_fixes import output_waits, write_raw

STILL_S = 0.15
"""How long nothing moves before the picture is drawn."""
LOOK_S = 0.1
"""How often it is looked whether something covers the widget."""

Draw = Callable[[tuple[int, int]], Awaitable[Pixels | None]]
"""The widget in so many pixels, width and height; None where there is nothing to see."""


class Place(NamedTuple):
    """Where on the screen a picture lies, in cells."""

    left: int
    top: int
    columns: int
    lines: int


class PixelLayer:
    """Lies over one widget of the screen."""

    def __init__(self, widget: Widget, drawing: Drawing, draw: Draw, number: int) -> None:
        """`number` is of no other layer."""
        self._widget, self._drawing, self._draw = widget, drawing, draw
        self._number = number
        self._timer: Timer | None = None
        self._data = b""
        """What draws the picture; empty until it is made."""
        self._place: Place | None = None
        """Where it is drawn; None where it is not."""
        self._moves = 0

    @property
    def is_shown(self) -> bool:
        return self._place is not None

    def moved(self) -> None:
        """Something else is to be seen: take the picture away until one stands still."""
        if self._drawing.protocol == "blocks":
            return
        self._moves += 1
        self._take_away()
        self._data = b""
        self._start(STILL_S, self._make)

    def end(self) -> None:
        """The widget goes, or is hidden."""
        self._stop()
        self._moves += 1
        if self.is_shown:
            write_raw(self._widget.app, removal_bytes(self._drawing, self._number))
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
        moves = self._moves
        pixels = await self._draw(picture_size(self._drawing, place))
        if pixels is None or moves != self._moves:
            return
        data = await asyncio.to_thread(picture_bytes, self._drawing, pixels, place, self._number)
        if moves != self._moves:
            return  # the next picture is due already
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
            write_raw(self._widget.app, removal_bytes(self._drawing, self._number))
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


# To bytes: the Kitty terminal's "Terminal graphics protocol" (24-bit pixels, zlib compressed, in
# chunks of 4096 base64 characters); the DEC VT330/VT340 Programmer Reference Manual, volume 2,
# chapter 14 (Sixel: bands of six rows, a bit a row, 63 added). A fourth channel that is 0 lets the
# cell below show.

WALK, MAP = 31, 32
"""The numbers of our pictures in the Kitty protocol."""
CHUNK = 4096
REGISTERS = 256
"""Colours of a Sixel picture."""
SIXEL_SIDE = 1000
"""Most terminals draw no wider or higher Sixel picture, unless they are set up otherwise: what is
larger is sent in pieces that are whole cells."""
MOST_PIXELS = 1280 * 900
"""A larger Kitty picture is sent smaller, and drawn larger by the terminal."""


def picture_size(drawing: Drawing, place: Place) -> tuple[int, int]:
    """Pixels, width and height, of a picture that fills a place."""
    cell = cell_px(drawing)
    width, height = place.columns * cell[0], place.lines * cell[1]
    shrink = 1.0
    if drawing.protocol == "kitty":
        shrink = min(1.0, (MOST_PIXELS / max(width * height, 1.0)) ** 0.5)
    return max(int(width * shrink), 1), max(int(height * shrink), 1)


def cell_px(drawing: Drawing) -> tuple[int, int]:
    """Width and height of a cell; the usual ones where the terminal does not say."""
    return drawing.cell_px if all(drawing.cell_px) else (8, 16)


def picture_bytes(drawing: Drawing, pixels: Pixels, place: Place, number: int) -> bytes:
    """Draws a picture at its place and leaves the cursor where it was."""
    if drawing.protocol == "kitty":
        drawn = _moved_to(drawing, place.left, place.top) + kitty_bytes(pixels, place, number)
    else:
        drawn = b"".join(
            _moved_to(drawing, place.left + column, place.top + line) + piece
            for column, line, piece in sixel_pieces(pixels, cell_px(drawing))
        )
    return through_tmux(drawing, b"\x1b7" + drawn + b"\x1b8")


def _moved_to(drawing: Drawing, left: int, top: int) -> bytes:
    down, right = drawing.tmux or (0, 0)
    return b"\x1b[%d;%dH" % (top + down + 1, left + right + 1)


def removal_bytes(drawing: Drawing, number: int) -> bytes:
    """Takes the picture away; a Sixel is gone when its cells are drawn again."""
    if drawing.protocol != "kitty":
        return b""
    return through_tmux(drawing, b"\x1b_Ga=d,d=I,i=%d,q=2\x1b\\" % number)


def through_tmux(drawing: Drawing, data: bytes) -> bytes:
    """Inside tmux: as words for the terminal outside."""
    if drawing.tmux is None:
        return data
    return b"\x1bPtmux;" + data.replace(b"\x1b", b"\x1b\x1b") + b"\x1b\\"


def kitty_bytes(pixels: Pixels, place: Place, number: int) -> bytes:
    """A picture that fills so many cells; the cursor stays."""
    height, width, channels = pixels.shape
    text = base64.b64encode(zlib.compress(pixels.tobytes(), level=1))
    control = b"a=T,i=%d,p=1,f=%d,o=z,s=%d,v=%d,c=%d,r=%d,C=1,q=2," % (
        number, 8 * channels, width, height, place.columns, place.lines,
    )  # fmt: skip
    parts = [text[start : start + CHUNK] for start in range(0, len(text), CHUNK)]
    return b"".join(
        b"\x1b_G%sm=%d;%s\x1b\\" % (b"" if i else control, i + 1 < len(parts), part)
        for i, part in enumerate(parts)
    )


def sixel_pieces(pixels: Pixels, cell: tuple[int, int]) -> Iterator[tuple[int, int, bytes]]:
    """A picture in at most REGISTERS colours, and the column and line where each piece begins."""
    height, width, _ = pixels.shape
    palette, index = _registers(pixels[..., :3])
    shown = pixels[..., 3] > 0 if pixels.shape[2] > 3 else np.ones(index.shape, dtype=np.bool_)  # noqa: PLR2004 - red, green, blue
    across, down = (max(SIXEL_SIDE // side, 1) for side in cell)
    for line in range(0, -(-height // cell[1]), down):
        for column in range(0, -(-width // cell[0]), across):
            rows = slice(line * cell[1], (line + down) * cell[1])
            part = rows, slice(column * cell[0], (column + across) * cell[0])
            yield column, line, sixel_bytes(palette, index[part], shown[part])


def sixel_bytes(palette: Pixels, index: Pixels, shown: NDArray[np.bool_]) -> bytes:
    """One piece: numbers of colours, and where they are shown at all."""
    height, width = index.shape
    colours = b"".join(
        b"#%d;2;%d;%d;%d" % (i, *(round(channel * 100 / 255) for channel in palette[i].tolist()))
        for i in np.flatnonzero(np.bincount(index.ravel()))
    )
    bands = b"-".join(
        _band(index[top : top + 6], shown[top : top + 6]) for top in range(0, height, 6)
    )
    return b'\x1bP0;1q"1;1;%d;%d' % (width, height) + colours + bands + b"\x1b\\"


def _band(index: Pixels, shown: NDArray[np.bool_]) -> bytes:
    """Six rows, one colour after the other, each from the left again."""
    weights = (shown << np.arange(len(index))[:, None]).astype(np.uint8)
    return b"$".join(
        b"#%d" % colour + _runs((63 + ((index == colour) * weights).sum(axis=0)).astype(np.uint8))
        for colour in np.flatnonzero(np.bincount(index[shown]))
    )


def _runs(codes: Pixels) -> bytes:
    """Characters, equal ones in a row as a count; empty ones at the end left out."""
    starts = np.flatnonzero(np.diff(codes, prepend=np.uint8(0)))
    lengths = np.diff(starts, append=len(codes))
    empty, least, drawn = 63, 4, []
    for code, count in zip(codes[starts].tolist(), lengths.tolist(), strict=True):
        drawn.append(b"!%d%c" % (count, code) if count >= least else bytes([code]) * count)
    return b"".join(drawn[: len(drawn) - (int(codes[-1]) == empty)])


def _registers(pixels: Pixels) -> tuple[Pixels, Pixels]:
    """The colours that take most of the picture, and for each pixel the nearest of them.

    Nearness is by the sum of squares over the three channels: what is left over are mixtures along
    edges.
    """
    codes = pixels.astype(np.int64) @ np.array([1 << 16, 1 << 8, 1])
    found, place, counts = np.unique(codes, return_inverse=True, return_counts=True)
    every = np.stack([found >> 16, found >> 8 & 255, found & 255], axis=-1)
    order = np.argsort(-counts, kind="stable")
    kept = every[order[:REGISTERS]]
    nearest = np.concatenate([
        np.argmin(((some[:, None] - kept) ** 2).sum(axis=-1), axis=-1)
        for some in np.array_split(every, len(every) // 2048 + 1)
    ])  # fmt: skip
    return kept.astype(np.uint8), nearest[place].reshape(codes.shape).astype(np.uint8)
