"""Whether anything is lost: another program saves amid our saves; the program is killed amid keys.

`python -m tests.support.loss` tries both as often as the promises in README.md say, for an hour or
so; the tests try them a few times.
"""

import argparse
import multiprocessing
import os
import signal
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path
from random import Random

from housemap.errors import ChangedOnDiskError
from housemap.file.atomic import backup_of
from housemap.file.journal import left_behind_of
from housemap.file.reader import load_house
from housemap.file.save import save_house
from housemap.file.writer import dump_house
from housemap.model.house import House
from housemap.tui.commands import BY_ID
from tests.support.houses import small_house
from tests.support.terminal import Terminal

RACES, KILLS = 2_000, 1_000
SHOWN_FOR_S = 1.0
"""How long an edit has been on the screen that must not be lost."""
TICK = BY_ID["mark"].keys[0]
ROOMS = len(small_house().rooms)


# Another program


def race(folder: Path, random: Random) -> str:
    """Save while another program saves; return what came of it: "refused" or "saved".

    Raises AssertionError where the other's text is neither in the file nor in its former one, or
    ours is in none of them although it was saved last.
    """
    path = folder / "house.toml"
    path.write_text(dump_house(House("Base")))
    mark = load_house(path).fingerprint
    theirs = dump_house(House("Theirs", notes=str(random.random())))
    other = multiprocessing.get_context("fork").Process(
        target=_save_as_others_do,
        args=(path, theirs, random.random() * 0.01, random.random() < 0.5),
    )
    other.start()
    time.sleep(random.random() * 0.006)
    try:
        save_house(House("Ours"), path, expected=mark)
        outcome = "saved"
    except ChangedOnDiskError:
        outcome = "refused"
    other.join()
    assert other.exitcode == 0
    texts = [each.read_text() for each in (path, backup_of(path)) if each.exists()]
    assert theirs in texts, (outcome, texts)
    assert outcome == "saved" or path.read_text() == theirs, (outcome, texts)
    for each in folder.iterdir():
        each.unlink()
    return outcome


def _save_as_others_do(path: Path, text: str, after_s: float, whole: bool) -> None:  # noqa: FBT001 - an argument of a process
    """Save at some moment, by a rename or into the file itself, and compare nothing."""
    time.sleep(after_s)
    if whole:
        new = path.with_name("new")
        new.write_text(text)
        new.replace(path)
    else:
        path.write_text(text)


# A kill


def kill(folder: Path, random: Random) -> tuple[int, int]:
    """Tick rooms off by keys and kill the program; return how many it showed and how many it kept.

    Those that it showed for less than SHOWN_FOR_S are not counted. Raises AssertionError where one
    that counts is lost.
    """
    path = folder / "house.toml"
    save_house(replace(small_house(), visits={}), path)
    argv = [sys.executable, "-m", "housemap", str(path)]
    shown: list[float] = []
    with Terminal(argv, home=folder, size=(100, 30)) as terminal:
        terminal.wait_for("Hall")
        terminal.settle()
        for number in range(1, random.randint(1, ROOMS) + 1):
            terminal.press(TICK)
            terminal.wait_for(f"{number} of {ROOMS} ticked off")
            shown.append(time.perf_counter())
            terminal.press("tab")
            terminal.settle(0.05, random.random() * 0.5)
        terminal.settle(2.0, random.random() * 2 * SHOWN_FOR_S)
        os.kill(terminal.pid, signal.SIGKILL)
        killed = time.perf_counter()
    counted = sum(killed - at >= SHOWN_FOR_S for at in shown)
    state = folder / ".local" / "state" / "housemap"
    found = left_behind_of(state, path, load_house(path).fingerprint)
    kept = len(found.house.visits) if found else 0
    assert kept >= counted, (counted, kept)
    return counted, kept


def say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--races", type=int, default=RACES)
    parser.add_argument("--kills", type=int, default=KILLS)
    parser.add_argument("--seed", type=int, default=1)
    arguments = parser.parse_args()
    random = Random(arguments.seed)
    with tempfile.TemporaryDirectory() as folder:
        outcomes = [race(Path(folder), random) for _ in range(arguments.races)]
    refused = outcomes.count("refused")
    say(f"{len(outcomes)} races, {refused} refused in time, none lost")
    counted = 0
    for number in range(arguments.kills):
        with tempfile.TemporaryDirectory() as folder:
            counted += kill(Path(folder), random)[0]
        if number % 50 == 49 or number == arguments.kills - 1:
            say(f"{number + 1} kills, {counted} edits shown for a second, none lost")


if __name__ == "__main__":
    main()
