"""Storms: random keys and resizes on the real program, which must outlive them all.

Long by command: `python -m tests.screens.storm [--sessions 500] [--keys 300] [--seed 1]`. A fault
is printed with its seed, by which the same storm comes again. A short one is in `test_storms.py`.
"""

import argparse
import random
import shutil
import signal
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from housemap.file.save import save_house
from housemap.model.house import House, Room
from tests.support.big_house import big_house
from tests.support.houses import grid_house, small_house
from tests.support.project import DEMO
from tests.support.terminal import KEYS, Terminal

HOUSES: Mapping[str, Callable[[], House] | None] = {
    "demo": None,
    "small": small_house,
    "empty": House,
    "one room": lambda: House(rooms={"hall": Room("Hall")}),
    "grid": lambda: grid_house(12),
    "sixty rooms": lambda: big_house(60),
}
"""None: the demo house."""
SIZES = ((80, 24), (160, 48), (60, 18), (100, 30), (20, 6), (43, 4), (4, 43), (1, 1), (220, 60))
WORDS = ("warm lrv>40", "n 0.8 > Study 3 x 2", "99", "#d6cdbd", "zzz", "5Y 7/1", "~nobody/a.toml")
LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPRSTUVWXYZ0123456789+-[]<>/?.,:;'\"(){}=_#"
CONTROLS = tuple(f"ctrl+{letter}" for letter in "abdefgklnoprstuvwxy")
KNOWN = (*KEYS, *("escape", "enter", "tab", "down", "up", "right", "left") * 6)
FAULTS = ("Traceback", "Error:", "NoMatches", "Exception")
ANSWER_S = 30.0


@dataclass(frozen=True)
class Storm:
    """One session: what is opened, at which size, and what is pressed."""

    seed: int
    keys: int = 300
    _dice: random.Random = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_dice", random.Random(self.seed))

    def fault(self, folder: Path) -> str:
        """What went wrong; nothing where the program outlived it and ended in good order."""
        name = self._dice.choice(list(HOUSES))
        size = self._dice.choice(SIZES[:4])
        house = self._write(folder, HOUSES[name])
        with Terminal(
            [sys.executable, "-m", "housemap", str(house)], home=folder, size=size
        ) as terminal:
            terminal.wait_until(lambda: "?" in terminal.lines[-1], "nothing came", 60)
            sent = self._blow(terminal)
            found = _still_there(terminal) or _ends_well(terminal)
        trace = "".join(path.read_text() for path in folder.rglob("fault.txt"))
        return (
            found
            and f"{trace}\nseed {self.seed}, {name} at {size}: {found}\nlast keys: {sent[-25:]}"
        )

    def _write(self, folder: Path, make: Callable[[], House] | None) -> Path:
        path = folder / "house.toml"
        if make is None:
            shutil.copyfile(DEMO, path)
        else:
            save_house(make(), path)
        return path

    def _blow(self, terminal: Terminal) -> Sequence[str]:
        sent: list[str] = []
        for _ in range(self.keys):
            if terminal.exit_status() is not None:
                break
            sent.append(self._one(terminal))
            if self._dice.random() < 0.3:
                terminal.settle(self._dice.choice((0.01, 0.05, 0.2)), 1.0)
        return sent

    def _one(self, terminal: Terminal) -> str:
        """Press, type or resize once, and say what it was."""
        roll = self._dice.random()
        if roll < 0.03:
            size = self._dice.choice(SIZES)
            terminal.settle(0.01, 0.5)
            terminal.resize(*size)
            return f"{size[0]}x{size[1]}"
        if roll < 0.06:
            word = self._dice.choice(WORDS)
            terminal.type(word)
            return repr(word)
        if roll < 0.14:
            key = self._dice.choice(CONTROLS)
        elif roll < 0.6:
            key = self._dice.choice(KNOWN)
        else:
            key = self._dice.choice(LETTERS)
        terminal.press(key)
        return key


def _still_there(terminal: Terminal) -> str:
    """What speaks of a fault after the storm, with the program given time and room to settle."""
    if terminal.exit_status():
        return f"it ended with {terminal.exit_status()}:\n{terminal.text}"
    if terminal.exit_status() is None:
        terminal.signal(signal.SIGCONT)  # where a key put the program aside
    terminal.resize(100, 30)
    terminal.rest(0.3, ANSWER_S)
    if terminal.exit_status():
        return f"it ended with {terminal.exit_status()}:\n{terminal.text}"
    spoken = [line for line in terminal.lines if any(fault in line for fault in FAULTS)]
    return f"it shows a fault:\n{terminal.text}" if spoken else ""


def _ends_well(terminal: Terminal) -> str:
    """Quit, and drop what is not saved, once for each question that may come."""
    for key in ("escape",) * 8 + ("ctrl+q", "ctrl+d", "ctrl+d") * 2:
        terminal.press(key)
        terminal.rest(0.12, 10.0)
        if terminal.exit_status() is not None:
            break
    try:
        status = terminal.wait_exit(ANSWER_S)
    except AssertionError:
        return f"it does not quit:\n{terminal.text}"
    return "" if status == 0 else f"quitting gave {status}:\n{terminal.text}"


def storm(seed: int, keys: int) -> str:
    """The fault of one storm in a folder of its own; nothing where there was none."""
    with tempfile.TemporaryDirectory() as folder:
        return Storm(seed, keys).fault(Path(folder))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sessions", type=int, default=500)
    parser.add_argument("--keys", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    arguments = parser.parse_args()
    failed = 0
    for seed in range(arguments.seed, arguments.seed + arguments.sessions):
        found = storm(seed, arguments.keys)
        failed += bool(found)
        print(found or f"seed {seed}: calm", flush=True)
    print(f"{arguments.sessions} storms, {failed} with a fault")
    return min(failed, 1)


if __name__ == "__main__":
    sys.exit(main())
