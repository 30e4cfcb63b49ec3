"""Drives a program in a terminal of its own: keys in, screen out, and when each output came.

The screen is kept by pyte. Output is stamped when it is read and shown to pyte only when somebody
looks, so that drawing the screen here never delays a time that is measured.
"""

import fcntl
import os
import pty
import re
import select
import shutil
import signal
import struct
import sys
import termios
import time
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

import pyte

from tests.support.project import DEMO

KEYS: Mapping[str, bytes] = {
    "up": b"\x1b[A", "down": b"\x1b[B", "right": b"\x1b[C", "left": b"\x1b[D",
    "home": b"\x1b[H", "end": b"\x1b[F", "pageup": b"\x1b[5~", "pagedown": b"\x1b[6~",
    "insert": b"\x1b[2~", "delete": b"\x1b[3~", "enter": b"\r", "escape": b"\x1b",
    "tab": b"\t", "shift+tab": b"\x1b[Z", "space": b" ", "backspace": b"\x7f",
    "f1": b"\x1bOP", "f2": b"\x1bOQ", "f3": b"\x1bOR", "f4": b"\x1bOS", "f5": b"\x1b[15~",
}  # fmt: skip
"""What an xterm sends; any other name of one character stands for itself."""

FRAME_END = b"\x1b[?2026l"
"""The end of a synchronised update, with which Textual closes every frame."""

DRAWN_LATER_S = 0.3
"""Longer than any pause after which the program draws what it left for later."""

ANSWERS: Mapping[bytes, bytes] = {
    b"\x1b[?2026$p": b"\x1b[?2026;2$y",  # synchronised updates: known, off
    b"\x1b[?2048$p": b"\x1b[?2048;0$y",  # resize reports in band: not known
}
"""What the program may ask of the terminal, and what this one answers."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One character with its colours, "#rrggbb" or pyte's name of a palette colour."""

    text: str
    fg: str
    bg: str
    bold: bool


@dataclass(frozen=True, slots=True)
class Output:
    """Bytes as read from the program, and when (seconds of `time.perf_counter`)."""

    at: float
    data: bytes


def key_bytes(name: str) -> bytes:
    """What the terminal sends for a key such as "down", "ctrl+q" or "x"."""
    if name in KEYS:
        return KEYS[name]
    if name.startswith("ctrl+") and len(name) == len("ctrl+x"):
        return bytes([ord(name[-1].upper()) & 0x1F])
    if len(name) == 1:
        return name.encode()
    raise ValueError(f"no such key: {name}")


def plain_environment(home: Path) -> dict[str, str]:
    """A true-colour xterm and a home of its own, with nothing of the caller's terminal."""
    kept = {
        name: value
        for name, value in os.environ.items()
        if not re.match(r"(TEXTUAL|TMUX|XDG_|HOUSEMAP|NO_COLOR|FORCE_COLOR|COLUMNS|LINES)", name)
    }
    return kept | {
        "TERM": "xterm-256color", "COLORTERM": "truecolor", "LC_ALL": "C.UTF-8", "HOME": str(home),
    }  # fmt: skip


class Terminal:
    """A program running in a terminal of `size` columns and rows; a context manager."""

    def __init__(
        self, argv: Sequence[str], *, home: Path, size: tuple[int, int] = (80, 24),
        env: Mapping[str, str] | None = None,
    ) -> None:  # fmt: skip
        self._screen = pyte.Screen(*size)
        self._stream = pyte.ByteStream(self._screen)
        self._unseen: deque[Output] = deque()
        self._tail = b""
        self._status: int | None = None
        self._master, slave = pty.openpty()
        self._hung_up = False
        self._set_size(size)
        name = os.ttyname(slave)
        # The first terminal that a new session opens becomes its controlling terminal.
        self.started_at = time.perf_counter()
        self.pid = os.posix_spawnp(
            argv[0],
            list(argv),
            plain_environment(home) | dict(env or {}),
            setsid=True,
            file_actions=[
                (os.POSIX_SPAWN_OPEN, 0, name, os.O_RDWR, 0),
                (os.POSIX_SPAWN_DUP2, 0, 1),
                (os.POSIX_SPAWN_DUP2, 0, 2),
            ],
        )
        os.close(slave)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:  # fmt: skip
        if self.exit_status() is None:
            os.kill(self.pid, signal.SIGKILL)
            self._status = os.waitpid(self.pid, 0)[1]
        self.hang_up()

    def hang_up(self) -> None:
        """Take the terminal away, as a window that is closed or a line that drops."""
        if not self._hung_up:
            self._hung_up = True
            os.close(self._master)

    # Input

    def press(self, *keys: str) -> None:
        """Send keys one by one, as fast as the program takes them."""
        for key in keys:
            self._write(key_bytes(key))

    def type(self, text: str) -> None:
        self._write(text.encode())

    def send(self, data: bytes) -> None:
        """Send raw bytes, such as a mouse report or a stray byte."""
        self._write(data)

    def resize(self, columns: int, rows: int) -> None:
        self._show_unseen()
        self._screen.resize(rows, columns)
        self._set_size((columns, rows))

    # Output

    def read(self, timeout: float) -> bool:
        """Wait for one piece of output; False when none came in `timeout` seconds."""
        if not select.select([self._master], [], [], timeout)[0]:
            return False
        try:
            data = os.read(self._master, 1 << 16)
        except OSError:  # the program has closed the terminal
            return False
        if data:
            self._unseen.append(Output(time.perf_counter(), data))
            self._answer(data)
        return bool(data)

    @property
    def newest(self) -> Output:
        """The piece of output that was read last and has not been shown yet."""
        return self._unseen[-1]

    def settle(self, quiet: float = 0.15, timeout: float = 20.0) -> None:
        """Read until nothing has come for `quiet` seconds."""
        end = time.perf_counter() + timeout
        while time.perf_counter() < end and self.read(quiet):
            pass

    def collect(self, quiet: float = 0.15, timeout: float = 20.0) -> tuple[Output, ...]:
        """Settle and give what came, not yet shown to the screen."""
        self._show_unseen()
        self.settle(quiet, timeout)
        return tuple(self._unseen)

    def wait_for(self, text: str, timeout: float = 20.0) -> float:
        """When `text` was first on the screen; AssertionError with the screen when it never was."""
        return self.wait_until(lambda: text in self.text, f"{text!r} never showed", timeout)

    def wait_gone(self, text: str, timeout: float = 20.0) -> float:
        return self.wait_until(lambda: text not in self.text, f"{text!r} stayed", timeout)

    def wait_until(self, holds: Callable[[], bool], told: str, timeout: float = 20.0) -> float:
        """When the screen first was so that `holds()`."""
        at = time.perf_counter()
        end = at + timeout
        while not holds():
            if not self._unseen and not self.read(min(0.05, timeout)):
                over = self.exit_status() is not None or time.perf_counter() > end
                assert not over, f"{told}; the screen:\n{self.text}"
            at = self._show_next() or at
        return at

    # The screen

    @property
    def size(self) -> tuple[int, int]:
        """Columns and rows."""
        return self._screen.columns, self._screen.lines

    @property
    def lines(self) -> tuple[str, ...]:
        return tuple(self._screen.display)

    @property
    def text(self) -> str:
        """What is on the screen after the output seen so far, rows without trailing spaces."""
        return "\n".join(line.rstrip() for line in self._screen.display)

    def look(self) -> str:
        """Settle, then the text of the screen."""
        self.settle()
        self._show_unseen()
        return self.text

    def rest(self, still: float = DRAWN_LATER_S, timeout: float = 60.0) -> str:
        """Wait until the program does nothing but wait for keys, then the text of the screen.

        So it is once nothing came, and no thread of it worked, for `still` seconds.
        """
        end = time.perf_counter() + timeout
        since = time.perf_counter()
        while (now := time.perf_counter()) < min(end, since + still):
            if self.read(0.03) or self._works():
                since = now
        self._show_unseen()
        return self.text

    def cell(self, column: int, row: int) -> Cell:
        char = self._screen.buffer[row][column]
        fg, bg = (char.bg, char.fg) if char.reverse else (char.fg, char.bg)
        return Cell(char.data, _colour(fg), _colour(bg), char.bold)

    def find(self, text: str) -> tuple[int, int]:
        """Column and row of the first place that shows `text`."""
        for row, line in enumerate(self._screen.display):
            if text in line:
                return line.index(text), row
        raise AssertionError(f"{text!r} is not on the screen:\n{self.text}")

    def backgrounds(self) -> frozenset[str]:
        """Every background colour on the screen."""
        columns, rows = self.size
        return frozenset(self.cell(x, y).bg for y in range(rows) for x in range(columns))

    # The process

    def peak_memory_mb(self) -> float:
        """Highest resident memory so far, in 1e6 bytes."""
        status = Path(f"/proc/{self.pid}/status").read_text()
        found = re.search(r"VmHWM:\s+(\d+) kB", status)
        assert found
        return int(found[1]) * 1024 / 1e6

    def exit_status(self) -> int | None:
        """The exit status, negative for a signal; None while it runs."""
        if self._status is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            self._status = status if pid else None
        return None if self._status is None else os.waitstatus_to_exitcode(self._status)

    def wait_exit(self, timeout: float = 20.0) -> int:
        end = time.perf_counter() + timeout
        while (status := self.exit_status()) is None:
            assert time.perf_counter() < end, f"still running; the screen:\n{self.text}"
            if self._hung_up:
                time.sleep(0.02)
            else:
                self.read(0.02)
        self._show_unseen()
        return status

    def signal(self, number: signal.Signals) -> None:
        os.kill(self.pid, number)

    def modes(self) -> Sequence[int]:
        """How the terminal treats keys and output (termios: input, output, control, local)."""
        return [int(mode) for mode in termios.tcgetattr(self._master)[:4]]

    # Inside

    def _works(self) -> bool:
        """Whether a thread of the program, or of what it started, runs or would run."""
        with suppress(OSError):  # it may end just now
            pids = [self.pid, *_children(self.pid)]
            threads = [each for pid in pids for each in Path(f"/proc/{pid}/task").iterdir()]
            states = [(each / "stat").read_text().rpartition(")")[2].split()[0] for each in threads]
            return any(state in "RD" for state in states)
        return self.exit_status() is None

    def _write(self, data: bytes) -> None:
        with suppress(OSError):  # the program may have ended
            os.write(self._master, data)

    def _set_size(self, size: tuple[int, int]) -> None:
        columns, rows = size
        fcntl.ioctl(self._master, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def _answer(self, data: bytes) -> None:
        window = self._tail + data
        for question, answer in ANSWERS.items():
            for _ in range(window.count(question)):
                self._write(answer)
        self._tail = window[-(max(map(len, ANSWERS)) - 1) :]

    def _show_next(self) -> float | None:
        """Let the screen take the oldest unseen output; when that came."""
        if not self._unseen:
            return None
        output = self._unseen.popleft()
        self._stream.feed(output.data)
        return output.at

    def _show_unseen(self) -> None:
        while self._show_next():
            pass


@contextmanager
def program_on_demo(home: Path, size: tuple[int, int], *options: str) -> Iterator[Terminal]:
    """The program on a copy of the demo house, with everything of it computed."""
    house = shutil.copyfile(DEMO, home / "house.toml")
    argv = [sys.executable, "-m", "housemap", *options, str(house)]
    with Terminal(argv, home=home, size=size) as terminal:
        terminal.wait_until(lambda: _computed(terminal.lines[0]), "nothing was computed", 60)
        terminal.rest(still=1.0)
        yield terminal


def _computed(head: str) -> bool:
    return " findings" in head and " so far" not in head


def frame_ends(outputs: Sequence[Output]) -> tuple[float, ...]:
    """When each whole frame had been written."""
    ends: list[float] = []
    rest = b""
    for output in outputs:
        rest += output.data
        ends += [output.at] * rest.count(FRAME_END)
        rest = rest[-len(FRAME_END) + 1 :]
    return tuple(ends)


def _colour(name: str) -> str:
    return f"#{name}" if re.fullmatch(r"[0-9a-f]{6}", name) else name


def _children(pid: int) -> Sequence[int]:
    path = Path(f"/proc/{pid}/task/{pid}/children")
    return [int(child) for child in path.read_text().split()] if path.exists() else []
