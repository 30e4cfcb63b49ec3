"""What colours and pictures the terminal can show, settled before the program starts."""

import os
import re
import select
import struct
import subprocess
import sys
from collections.abc import Callable, Mapping
from typing import Literal, NamedTuple, get_args

if sys.platform != "win32":
    import fcntl
    import termios
    import tty

DepthName = Literal["truecolor", "256", "16", "none"]
DEPTHS: tuple[DepthName, ...] = get_args(DepthName)

TRUECOLOUR_TERMINALS = (
    "alacritty", "contour", "foot", "ghostty", "iterm", "kitty", "mintty", "rio", "vte", "wezterm",
    "-direct",
)  # fmt: skip
"""Parts of the TERM of terminals that show 24 bits, also where COLORTERM is lost over ssh."""

FEW_COLOURS, NO_COLOURS = ("linux", "ansi", "cygwin"), ("dumb", "vt100", "vt102", "vt220")
"""TERM of terminals with 16 colours or fewer, and with none."""


class Depth(NamedTuple):
    """How many colours, and why we think so."""

    name: DepthName
    why: str

    @property
    def exact(self) -> bool:
        return self.name == "truecolor"

    @property
    def words(self) -> str:
        match self.name:
            case "truecolor":
                return "colours exact"
            case "none":
                return "colours off"
            case number:
                return f"colours approximate ({number})"


def settle_depth(
    option: str, environment: Mapping[str, str], ask_tmux: Callable[[], str | None]
) -> Depth:
    """Settle the depth from --color, the environment and, inside tmux, tmux itself.

    tmux turns exact colours into the nearest of 256 unless it knows that the terminal outside
    shows RGB, and COLORTERM, inherited, does not tell; so tmux is asked first.
    """
    if option in DEPTHS:
        return Depth(option, f"--color {option}")
    if environment.get("NO_COLOR"):
        return Depth("none", "NO_COLOR is set")
    if (term := environment.get("TERM", "")) in NO_COLOURS:
        return Depth("none", f"TERM is {term}")
    features = ask_tmux() if environment.get("TMUX") else None
    if features is None:
        return _from_names(environment)
    if "RGB" in features.split(","):
        return Depth("truecolor", "tmux has RGB for this terminal")
    return Depth("256", 'tmux lacks RGB: set -as terminal-features ",xterm*:RGB"')


def _from_names(environment: Mapping[str, str]) -> Depth:
    term = environment.get("TERM", "")
    if environment.get("COLORTERM") in {"truecolor", "24bit"}:
        return Depth("truecolor", "COLORTERM says so")
    if environment.get("WT_SESSION") or any(part in term for part in TRUECOLOUR_TERMINALS):
        return Depth("truecolor", "this terminal is known to")
    if term in FEW_COLOURS:
        return Depth("16", f"TERM is {term}")
    return Depth("256", "COLORTERM is not set")


def ask_tmux(question: str = "#{client_termfeatures}") -> str | None:
    """What tmux knows, by default of the terminal outside it; None when it does not answer."""
    command = ["tmux", "display-message", "-p", question]
    try:
        answer = subprocess.run(  # noqa: S603 - fixed words
            command, capture_output=True, text=True, timeout=1, check=True
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return answer.stdout.strip()


# Which pictures in true pixels it draws: by the Kitty graphics protocol or by Sixel (of the primary
# device attributes of ECMA-48, 4 stands for Sixel).

Protocol = Literal["kitty", "sixel", "blocks"]
PROTOCOLS: tuple[Protocol, ...] = get_args(Protocol)

KITTY_NAMES = ("kitty", "ghostty", "wezterm")
SIXEL_NAMES = ("foot", "contour", "mlterm", "yaft", "mintty")
"""Parts of TERM, or of TERM_PROGRAM, of terminals that draw them."""

ASK = b"\x1b_Gi=31,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[c"
"""One pixel to try, then the question that every terminal answers."""
ANSWER = re.compile(rb"\x1b\[\?([\d;]*)c")
ASK_S = 0.3
"""A terminal that has not answered by then is taken not to."""


class Drawing(NamedTuple):
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


class Tmux(NamedTuple):
    """What tmux says of itself."""

    outside: str
    """TERM of the terminal outside."""
    passes: bool
    """Whether it lets pictures through."""
    offset: tuple[int, int]


def settle_drawing(
    option: str, environment: Mapping[str, str], cell_px: tuple[int, int],
    tmux: Tmux | None = None, answer: bytes | None = None,
) -> Drawing:  # fmt: skip
    """Which protocol; `answer` is what the terminal said to ASK, where it was asked."""
    offset = tmux.offset if tmux else None
    if option in PROTOCOLS:
        protocol = next(each for each in PROTOCOLS if each == option)
        return Drawing(protocol, f"--pictures {option}", cell_px, offset)
    if tmux and not tmux.passes:
        return Drawing("blocks", "tmux keeps pictures back: set -g allow-passthrough on")
    protocol, why = _from_answer(answer) if answer is not None else _by_names(environment, tmux)
    if protocol == "sixel" and not all(cell_px):
        return Drawing("blocks", "the terminal does not say how large its cells are")
    return Drawing(protocol, why, cell_px, offset)


def _by_names(environment: Mapping[str, str], tmux: Tmux | None) -> tuple[Protocol, str]:
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


def drawing_for(option: str, environment: Mapping[str, str]) -> Drawing:
    """For the terminal that the program runs in."""
    tmux = asked_tmux() if environment.get("TMUX") else None
    descriptor = sys.stderr.fileno() if sys.stderr.isatty() else -1
    is_terminal = descriptor >= 0 and sys.stdin.isatty()
    answer = None
    if option == "ask" and is_terminal and not tmux:
        answer = ask_terminal(sys.stdin.fileno(), descriptor)
    return settle_drawing(option, environment, cell_size_px(descriptor), tmux, answer)


def cell_size_px(descriptor: int) -> tuple[int, int]:
    """Width and height of a cell, as the system has it from the terminal; 0 where it did not."""
    if descriptor < 0 or sys.platform == "win32":
        return 0, 0
    try:
        data = fcntl.ioctl(descriptor, termios.TIOCGWINSZ, b"\0" * 8)
    except OSError:
        return 0, 0
    lines, columns, width, height = struct.unpack("HHHH", data)
    return (width // columns, height // lines) if lines and columns else (0, 0)


def asked_tmux(run: Callable[[str], str | None] = ask_tmux) -> Tmux | None:
    """None where tmux does not answer."""
    answer = run(
        "#{client_termname},#{allow-passthrough},#{pane_top},#{pane_left},"
        "#{?#{==:#{status-position},top},1,0}"
    )
    parts = (answer or "").split(",")
    if len(parts) != 5 or not all(part.isdecimal() for part in parts[2:]):  # noqa: PLR2004
        return None
    outside, passes, top, left, status = parts
    return Tmux(outside, passes in {"1", "on", "all"}, (int(top) + int(status), int(left)))
