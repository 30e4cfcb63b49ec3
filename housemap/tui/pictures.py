"""Pictures in true pixels: the Kitty graphics protocol and Sixel, and which the terminal draws.

Sources: the Kitty terminal's "Terminal graphics protocol" (transmission of 24-bit pixels, zlib
compressed, in chunks of 4096 base64 characters); the DEC VT330/VT340 Programmer Reference Manual,
volume 2, chapter 14 (Sixel: bands of six rows, a bit a row, 63 added); ECMA-48 primary device
attributes, where 4 stands for Sixel. Pure functions to bytes, but for asking.
"""

import base64
import os
import re
import select
import struct
import subprocess
import sys
import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:  # numpy, which the first frame does without
    from housemap.plan.pixels import Pixels

Protocol = Literal["kitty", "sixel", "blocks"]
PROTOCOLS: tuple[Protocol, ...] = get_args(Protocol)
CHOICES = ("auto", "ask", *PROTOCOLS)

KITTY_NAMES = ("kitty", "ghostty", "wezterm")
SIXEL_NAMES = ("foot", "contour", "mlterm", "yaft", "mintty")
"""Parts of TERM, or of TERM_PROGRAM, of terminals that draw them."""

ASK = b"\x1b_Gi=31,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[c"
"""One pixel to try, then the question that every terminal answers."""
ANSWER = re.compile(rb"\x1b\[\?([\d;]*)c")
ASK_S = 0.3
"""A terminal that has not answered by then is taken not to."""

IMAGE = 31
"""The number of our picture in the Kitty protocol."""
CHUNK = 4096
REGISTERS = 256
"""Colours of a Sixel picture."""
MOST_PIXELS = 900 * 700
"""A larger Kitty picture is sent smaller, and drawn larger by the terminal."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """How pictures are drawn, and why."""

    protocol: Protocol
    why: str
    cell_px: tuple[int, int] = (0, 0)
    """Width and height of a character cell; 0 where the terminal does not say."""
    tmux: tuple[int, int] | None = None
    """Inside tmux: lines and columns before its pane."""

    @property
    def words(self) -> str:
        name = {"kitty": "Kitty graphics", "sixel": "Sixel", "blocks": "half blocks"}
        return name[self.protocol]


BLOCKS = Drawing("blocks", "nothing else was asked for")


@dataclass(frozen=True, slots=True)
class Tmux:
    """What tmux says of itself."""

    outside: str
    """TERM of the terminal outside."""
    passes: bool
    """Whether it lets pictures through."""
    offset: tuple[int, int]


def settle_drawing(
    wanted: str,
    environment: Mapping[str, str],
    cell_px: tuple[int, int],
    tmux: Tmux | None = None,
    answer: bytes | None = None,
) -> Drawing:
    """Which protocol; `answer` is what the terminal said to ASK, where it was asked."""
    offset = tmux.offset if tmux else None
    if wanted in PROTOCOLS:
        protocol = next(each for each in PROTOCOLS if each == wanted)
        return Drawing(protocol, f"--pictures {wanted}", cell_px, offset)
    if tmux and not tmux.passes:
        return Drawing("blocks", "tmux keeps pictures back: set -g allow-passthrough on")
    protocol, why = _from_answer(answer) if answer is not None else _from_names(environment, tmux)
    if protocol == "sixel" and not all(cell_px):
        return Drawing("blocks", "the terminal does not say how large its cells are")
    return Drawing(protocol, why, cell_px, offset)


def _from_names(environment: Mapping[str, str], tmux: Tmux | None) -> tuple[Protocol, str]:
    term = tmux.outside if tmux else environment.get("TERM", "")
    program = "" if tmux else environment.get("TERM_PROGRAM", "")
    names = f"{term} {program}".lower()
    if any(name in names for name in KITTY_NAMES):
        return "kitty", "this terminal is known to draw them"
    if any(name in names for name in SIXEL_NAMES):
        return "sixel", "this terminal is known to draw them"
    return "blocks", "nothing is known of this terminal; try --pictures ask"


def _from_answer(answer: bytes) -> tuple[Protocol, str]:
    if b"_Gi=31;OK" in answer:
        return "kitty", "the terminal says so"
    found = ANSWER.search(answer)
    if found and b"4" in found[1].split(b";"):
        return "sixel", "the terminal says so"
    return "blocks", "the terminal says that it draws no pictures" if found else "no answer"


def ask_terminal(read: int, write: int) -> bytes:
    """What the terminal answers to ASK; its mode is as it was afterwards.

    To be called before anybody else reads from it.
    """
    import termios  # noqa: PLC0415 - not on every system
    import tty  # noqa: PLC0415

    before = termios.tcgetattr(read)
    try:
        tty.setcbreak(read, termios.TCSANOW)
        os.write(write, ASK)
        answer = b""
        while not ANSWER.search(answer) and select.select([read], [], [], ASK_S)[0]:
            answer += os.read(read, 1024)
        return answer
    finally:
        termios.tcsetattr(read, termios.TCSANOW, before)


def drawing_for(wanted: str, environment: Mapping[str, str]) -> Drawing:
    """For the terminal that the program runs in."""
    tmux = asked_tmux() if environment.get("TMUX") else None
    descriptor = sys.stderr.fileno() if sys.stderr.isatty() else -1
    is_terminal = descriptor >= 0 and sys.stdin.isatty()
    answer = None
    if wanted == "ask" and is_terminal and not tmux:
        answer = ask_terminal(sys.stdin.fileno(), descriptor)
    return settle_drawing(wanted, environment, cell_size_px(descriptor), tmux, answer)


def cell_size_px(descriptor: int) -> tuple[int, int]:
    """Width and height of a cell, as the terminal told the system; 0 where it did not."""
    if descriptor < 0:
        return 0, 0
    try:
        import fcntl  # noqa: PLC0415 - not on every system
        import termios  # noqa: PLC0415

        data = fcntl.ioctl(descriptor, termios.TIOCGWINSZ, b"\0" * 8)
    except (ImportError, OSError):
        return 0, 0
    lines, columns, width, height = struct.unpack("HHHH", data)
    return (width // columns, height // lines) if lines and columns else (0, 0)


def asked_tmux(run: Callable[[str], str | None] | None = None) -> Tmux | None:
    """None where tmux does not answer."""
    answer = (run or _run_tmux)(
        "#{client_termname},#{allow-passthrough},#{pane_top},#{pane_left},"
        "#{?#{==:#{status-position},top},1,0}"
    )
    parts = (answer or "").split(",")
    if len(parts) != 5 or not all(part.isdecimal() for part in parts[2:]):  # noqa: PLR2004
        return None
    outside, passes, top, left, status = parts
    return Tmux(outside, passes in {"1", "on", "all"}, (int(top) + int(status), int(left)))


def _run_tmux(question: str) -> str | None:
    command = ["tmux", "display-message", "-p", question]
    try:
        answer = subprocess.run(  # noqa: S603 - fixed words
            command, capture_output=True, text=True, timeout=1, check=True
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return answer.stdout.strip()


# To bytes


@dataclass(frozen=True, slots=True)
class Place:
    """Where on the screen a picture lies, in cells."""

    left: int
    top: int
    columns: int
    lines: int


def picture_size(drawing: Drawing, place: Place) -> tuple[int, int]:
    """Pixels, width and height, of a picture that fills a place."""
    cell = drawing.cell_px if all(drawing.cell_px) else (8, 16)
    width, height = place.columns * cell[0], place.lines * cell[1]
    shrink = 1.0
    if drawing.protocol == "kitty":
        shrink = min(1.0, (MOST_PIXELS / max(width * height, 1.0)) ** 0.5)
    return max(int(width * shrink), 1), max(int(height * shrink), 1)


def picture_bytes(drawing: Drawing, pixels: "Pixels", place: Place) -> bytes:
    """Draws a picture at its place and leaves the cursor where it was."""
    down, right = drawing.tmux or (0, 0)
    start = b"\x1b7\x1b[%d;%dH" % (place.top + down + 1, place.left + right + 1)
    drawn = kitty_bytes(pixels, place) if drawing.protocol == "kitty" else sixel_bytes(pixels)
    return through_tmux(drawing, start + drawn + b"\x1b8")


def removal_bytes(drawing: Drawing) -> bytes:
    """Takes the picture away; a Sixel is gone when its cells are drawn again."""
    if drawing.protocol != "kitty":
        return b""
    return through_tmux(drawing, b"\x1b_Ga=d,d=I,i=%d,q=2\x1b\\" % IMAGE)


def through_tmux(drawing: Drawing, data: bytes) -> bytes:
    """Inside tmux: as words for the terminal outside."""
    if drawing.tmux is None:
        return data
    return b"\x1bPtmux;" + data.replace(b"\x1b", b"\x1b\x1b") + b"\x1b\\"


def kitty_bytes(pixels: "Pixels", place: Place) -> bytes:
    """A picture that fills so many cells; the cursor stays."""
    height, width, _ = pixels.shape
    text = base64.b64encode(zlib.compress(pixels.tobytes(), level=1))
    control = b"a=T,i=%d,p=1,f=24,o=z,s=%d,v=%d,c=%d,r=%d,C=1,q=2," % (
        IMAGE, width, height, place.columns, place.lines,
    )  # fmt: skip
    parts = [text[start : start + CHUNK] for start in range(0, len(text), CHUNK)]
    return b"".join(
        b"\x1b_G%sm=%d;%s\x1b\\" % (b"" if i else control, i + 1 < len(parts), part)
        for i, part in enumerate(parts)
    )


def sixel_bytes(pixels: "Pixels") -> bytes:
    """A picture in at most REGISTERS colours."""
    height, width, _ = pixels.shape
    palette, index = _registers(pixels)
    colours = b"".join(
        b"#%d;2;%d;%d;%d" % (i, *(round(channel * 100 / 255) for channel in colour))
        for i, colour in enumerate(palette.tolist())
    )
    bands = b"-".join(_band(index[top : top + 6]) for top in range(0, height, 6))
    return b'\x1bPq"1;1;%d;%d' % (width, height) + colours + bands + b"\x1b\\"


def _band(index: "Pixels") -> bytes:
    """Six rows, one colour after the other, each from the left again."""
    import numpy as np  # noqa: PLC0415 - not before the first frame

    weights = (1 << np.arange(len(index)))[:, None]
    return b"$".join(
        b"#%d" % colour + _runs((63 + ((index == colour) * weights).sum(axis=0)).astype(np.uint8))
        for colour in np.flatnonzero(np.bincount(index.ravel()))
    )


def _runs(codes: "Pixels") -> bytes:
    """Characters, equal ones in a row as a count; empty ones at the end left out."""
    import numpy as np  # noqa: PLC0415 - not before the first frame

    starts = np.flatnonzero(np.diff(codes, prepend=np.uint8(0)))
    lengths = np.diff(starts, append=len(codes))
    runs = _without_end(codes[starts].tolist(), lengths.tolist())
    return b"".join(_repeated(code, count) for code, count in runs)


def _without_end(codes: list[int], lengths: list[int]) -> Iterator[tuple[int, int]]:
    empty = 63
    last = len(codes) - (codes[-1] == empty)
    yield from zip(codes[:last], lengths[:last], strict=True)


def _repeated(code: int, count: int) -> bytes:
    least = 4
    return b"!%d%c" % (count, code) if count >= least else bytes([code]) * count


def _registers(pixels: "Pixels") -> "tuple[Pixels, Pixels]":
    """The colours that take most of the picture, and for each pixel the nearest of them.

    Nearness is by the sum of squares over the three channels: what is left over are mixtures along
    edges.
    """
    import numpy as np  # noqa: PLC0415 - not before the first frame

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
