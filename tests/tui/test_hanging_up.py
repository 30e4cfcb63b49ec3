"""A terminal that goes away, at whatever moment and with a signal or without, ends the program."""

import signal
import sys
from pathlib import Path

import pytest

from tests.support.project import DEMO
from tests.support.terminal import Terminal

PROGRAM = [sys.executable, "-m", "housemap", str(DEMO)]
ENDED = {128 + signal.SIGHUP, -signal.SIGHUP}
"""The second before the program has taken the signal over; shells show it as 129 too."""
UNSIGNALLED = """
import os, signal, sys
if pid := os.fork():
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    sys.exit(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]))
os.setsid()
from housemap.cli import main
raise SystemExit(main(sys.argv[1:]))
"""
"""The program where the terminal is not its controlling one: no signal comes when that goes."""


@pytest.mark.parametrize("after_s", [0.2, 0.35, 0.5, 0.65])
def test_a_terminal_lost_while_the_program_starts_ends_it(after_s: float, tmp_path: Path) -> None:
    with Terminal(PROGRAM, home=tmp_path, size=(120, 40)) as terminal:
        terminal.settle(timeout=after_s)
        terminal.hang_up()
        assert terminal.wait_exit() in ENDED


def test_a_terminal_lost_without_a_signal_ends_the_program(tmp_path: Path) -> None:
    argv = [sys.executable, "-c", UNSIGNALLED, str(DEMO)]
    with Terminal(argv, home=tmp_path, size=(120, 40)) as terminal:
        terminal.wait_for("Hall")
        terminal.hang_up()
        assert terminal.wait_exit() in ENDED
