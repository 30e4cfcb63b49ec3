"""The walk: a picture of 160 x 96 pixels, a key against a bare canvas, and a key held down.

A picture is made as the program makes it: rays, colours under a light, rows of cells. A key that
turns sends a whole picture, some 11 kB, where the bare canvas sends two blocks.
"""

from functools import partial
from statistics import median

from housemap.checks import report_of
from housemap.file.reader import read_house
from housemap.plan.pixels import coloured
from housemap.plan.viewpoints import turned
from housemap.tui.render.look import Look
from housemap.tui.render.shades import Shades, shades_of
from housemap.tui.strips import full_strip
from housemap.tui.tasks.walk_drawing import face_colours, picture_rows
from housemap.workbench.session import Session
from housemap.workbench.walker import Walker
from tests.benchmarks import bare_canvas
from tests.benchmarks.measuring import (
    all_found,
    key_seconds,
    module,
    running,
    show_ratios,
    wall_seconds,
)
from tests.support.project import DEMO
from tests.support.terminal import Terminal, frame_ends

SIZE = (160, 96)
TURNS, ROUNDS, HELD = 72, 30, 90


def main() -> None:
    show_ratios(pictures())
    canvas = module("tests.benchmarks.bare_canvas")
    with (
        running(canvas, lambda text: bare_canvas.READY in text) as bare,
        running(module("housemap", str(DEMO)), all_found) as walk,
    ):
        walk.press("w")
        walk.wait_for("in view")
        show_ratios(keys({"bare 160x48 canvas": bare, "a turn in the walk": walk}))
        show_ratios({f"{HELD} keys at once, last picture": [held(walk)]})


def pictures() -> dict[str, list[float]]:
    session = Session.of(read_house(DEMO))
    session.take_report(report_of(session.house))
    session.select_light("evening")
    walker, shades = Walker(session, "hall"), shades_of(session)
    rows: dict[str, list[float]] = {"rays alone": [], "rays, colours, cells": []}
    for _ in range(TURNS):
        walker.camera = turned(walker.camera, 5.0)
        rows["rays alone"].append(wall_seconds(partial(walker.view, *SIZE)))
        walker._seen = None
        times = (wall_seconds(partial(_picture, walker, shades)) for _ in "123")
        rows["rays, colours, cells"].append(median(times))
    return rows


def _picture(walker: Walker, shades: Shades) -> None:
    walker._seen = None
    view, look = walker.view(*SIZE), Look()
    assert view is not None
    pixels = coloured(view, face_colours(shades, walker, view.faces, look))
    for row in picture_rows(pixels, look):
        full_strip(row, SIZE[0])


def keys(programs: dict[str, Terminal]) -> dict[str, list[float]]:
    """The programs take turns, key by key."""
    times: dict[str, list[float]] = {name: [] for name in programs}
    for _ in range(ROUNDS):
        for name, terminal in programs.items():
            seconds = key_seconds(terminal, "left")
            times[name] += [seconds] if seconds else []
    return times


def held(terminal: Terminal) -> float:
    """From the first of many keys sent at once to the end of the last picture."""
    terminal.settle()
    began = wall_seconds(lambda: terminal.press(*["left"] * HELD))
    outputs = terminal.collect()
    return frame_ends(outputs)[-1] - outputs[0].at + began


if __name__ == "__main__":
    main()
