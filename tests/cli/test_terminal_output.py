"""On a terminal: swatches, wrapped columns and a line of progress. In a pipe: none of them."""

import io
import os
import sys
import time

import pytest

from housemap.cli import progress
from housemap.cli.output import swatch, table


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def on_terminal(monkeypatch: pytest.MonkeyPatch) -> Terminal:
    """Make standard output and error a terminal of 40 columns."""
    stream = Terminal()
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setattr("sys.stdout", stream)
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setattr("shutil.get_terminal_size", lambda: os.terminal_size((40, 24)))
    return stream


def test_a_swatch_is_shown_on_a_terminal_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_terminal(monkeypatch)
    assert terminal.isatty()
    assert swatch("#d9d0bf") == "\x1b[48;2;217;208;191m  \x1b[0m "
    monkeypatch.setenv("NO_COLOR", "1")
    assert swatch("#d9d0bf") == ""
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setattr("sys.stdout", io.StringIO())
    assert swatch("#d9d0bf") == ""


def test_columns_are_aligned_beside_swatches(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_terminal(monkeypatch)
    assert terminal.isatty()
    first, second = table([(f"{swatch('#d9d0bf')}Oat", "x"), ("without", "x")])
    assert first.replace("\x1b[48;2;217;208;191m", "").replace("\x1b[0m", "").index("x") == 9
    assert second.index("x") == 9


def test_the_last_column_is_wrapped_on_a_terminal_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_terminal(monkeypatch)
    words = "a long line of words that no terminal of forty columns can show in one"
    lines = list(table([("name", words)]))
    assert terminal.isatty()
    assert len(lines) > 1
    assert all(len(line) <= 40 for line in lines)
    assert all(line.startswith(" " * 6) for line in lines[1:])
    monkeypatch.setattr("sys.stdout", io.StringIO())
    assert list(table([("name", words)])) == [f"name  {words}"]


def test_long_work_shows_a_line_gone_before_the_output(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    terminal = on_terminal(monkeypatch)
    monkeypatch.setattr(progress, "QUIET_S", 0.01)
    with progress.progress("housemap fill", 30):
        for _ in range(300):
            if "left" in terminal.getvalue():
                break
            time.sleep(0.01)
        sys.stdout.write("done\n")
    shown = terminal.getvalue()
    assert "housemap fill: 0 s, at most 30 s left; ctrl+c stops" in shown
    assert shown.endswith(f"{progress.CLEAR}done\n")


def test_quick_work_and_pipes_show_none(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_terminal(monkeypatch)
    with progress.progress("housemap check"):
        sys.stdout.write("done\n")
    assert terminal.getvalue() == "done\n"
    pipe = io.StringIO()
    monkeypatch.setattr("sys.stderr", pipe)
    with progress.progress("housemap check"):
        pass
    assert pipe.getvalue() == ""


def test_ctrl_c_leaves_no_line_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = on_terminal(monkeypatch)
    monkeypatch.setattr(progress, "QUIET_S", 0.01)

    def stopped() -> None:
        with progress.progress("housemap fill"):
            while "housemap fill" not in terminal.getvalue():
                time.sleep(0.01)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert terminal.getvalue().endswith(progress.CLEAR)
