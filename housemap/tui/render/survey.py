"""The survey line: the room, what was understood or is wrong, and what may come next."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from housemap.tui.render.look import Look
from housemap.tui.render.runs import Ink, Row, Run
from housemap.tui.render.text import cut, plain, wrap
from housemap.workbench.survey.words import Fault, Hint

LINE_ROWS = 4
"""The line itself, two for what it means, one for what may come next."""
FIRST_ROOM = "first room"


@dataclass(frozen=True, slots=True)
class LineView:
    """Everything that stands round the text being typed."""

    room: str
    """The name of the room that the line is about; empty where there is none."""
    text: str
    scrolled: int
    """How many cells of the text have gone out at its left."""
    told: str = ""
    troubles: tuple[str, ...] = ()
    fault: Fault | None = None
    hints: tuple[Hint, ...] = ()


def prompt_of(room: str, width: int, look: Look) -> str:
    """What stands before the text."""
    name = cut(room or FIRST_ROOM, max(width // 4, 6), look.glyphs.more)
    return f" {name} {look.glyphs.here} "


def line_rows(view: LineView, width: int, look: Look) -> list[Row]:
    """LINE_ROWS rows; the text itself lies over the first, behind the prompt."""
    prompt = prompt_of(view.room, width, look)
    rows = [(_run(prompt, look, strong=True),), *_meaning(view, cell_len(prompt), width, look)]
    rows += [()] * (LINE_ROWS - 1 - len(rows))
    return [*rows[: LINE_ROWS - 1], _next(view.hints, width, look)]


def _meaning(view: LineView, lead: int, width: int, look: Look) -> Iterator[Row]:
    if view.fault and not view.fault.unfinished:
        yield from _wrong(view, view.fault, lead, width, look)
    elif view.fault:
        yield _line(view.fault.text, width, look, quiet=True)
    elif view.troubles:
        yield _line(view.told, width, look)
        mark = look.glyphs.marks["warn"]
        yield _line(f"{mark} {view.troubles[0]}", width, look, strong=True)
    else:
        for line in _wrapped(view.told, width - 2, look):
            yield _line(line, width, look)


def _wrapped(text: str, width: int, look: Look) -> Sequence[str]:
    """On two lines; the second is cut where it takes more."""
    lines = wrap(text, width)
    return [lines[0], cut(" ".join(lines[1:]), width, look.glyphs.more)] if lines[1:] else lines


def _wrong(view: LineView, fault: Fault, lead: int, width: int, look: Look) -> Iterator[Row]:
    """Marks under the word, and beside or below them what is wrong with it."""
    start = lead + cell_len(view.text[: fault.start]) - view.scrolled
    long = max(cell_len(view.text[fault.start : fault.end]), 1)
    start = min(max(start, lead), max(width - 2, 0))
    marks = "^" * min(long, max(width - start - 1, 1))
    lines = (_run(" " * start, look), _run(marks, look, strong=True))
    rest = width - start - len(marks) - 2
    if cell_len(plain(fault.text)) <= rest:
        yield *lines, _run(f" {plain(fault.text)}", look, strong=True)
    else:
        yield lines
        yield _line(fault.text, width, look, strong=True)


NEXT = " next: "


def _next(hints: Sequence[Hint], width: int, look: Look) -> Row:
    """As many as fit: what may be typed, and what it is."""
    if not hints:
        return ()
    runs, used = [_run(NEXT, look, quiet=True)], len(NEXT)
    for hint in hints:
        word, note = plain(hint.text), f" {plain(hint.note)}" if hint.note else ""
        note = f"{note}  " if note else "  "
        if used + cell_len(word) > width - 1:
            break
        runs.append(_run(word, look, strong=not hint.example))
        used += cell_len(word)
        if used + cell_len(note) > width - 1:
            break
        runs.append(_run(note, look, quiet=True))
        used += cell_len(note)
    return tuple(runs)


def _line(text: str, width: int, look: Look, *, quiet: bool = False, strong: bool = False) -> Row:
    return (_run(f" {cut(text, width - 2, look.glyphs.more)}", look, quiet=quiet, strong=strong),)


def _run(text: str, look: Look, *, quiet: bool = False, strong: bool = False) -> Run:
    greys = look.greys
    grey = greys.strong if strong else greys.quiet if quiet else greys.text
    return Run(text, Ink(grey, greys.bar, bold=strong))
