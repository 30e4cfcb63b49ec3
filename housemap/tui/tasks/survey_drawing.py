"""The survey line: the room, what was understood or is wrong, and what may come next."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rich.cells import cell_len

from housemap.model.geometry import COMPASS, box_m, walls
from housemap.model.house import House, Opening, Room, Units
from housemap.model.lengths import format_length
from housemap.plan.floor_plan import plan_side
from housemap.plan.house_graph import graph_of
from housemap.tui.render.cells import Ink, Row, Run, cut, plain, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.workbench.survey.vocabulary import Fault, Hint

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


# Beside the map while surveying: the room wall by wall, in the words of the line.

WORDS = (
    ("n 0.8 at 1.2 > Study 3.1 x 2.8", "n 2'8\" at 4' > Study 10' x 9'"),
    ("e open > Kitchen", "e open > Kitchen"),
    ("s window 1.2 x 1.1 at 0.6", "s window 4' x 3'6\" at 2'"),
    ("lamp 1400 lm 2700 K down", "lamp 1400 lm 2700 K down"),
    ("stairs up > Landing 2 x 3", "stairs up > Landing 6' x 10'"),
    ("height 2.5", "height 8'"),
)
FIRST_WORDS = (
    ("Hall 1.8 x 5.2", "Hall 6' x 17'"),
    ("Hall 1.8 x 5.2 x 2.4", "Hall 6' x 17' x 8'"),
    ("Hall 4 x 5 less 1 x 2 ne", "Hall 13' x 16' less 3' x 6' ne"),
)


@dataclass(frozen=True, slots=True)
class SurveyView:
    house: House
    room: str | None
    troubles: tuple[str, ...]


def survey_rows(view: SurveyView, look: Look, width: int) -> list[Row]:
    page = Page(look, width)
    feet = view.house.units == "ft"
    if view.room is None:
        rows = [
            *page.title("The first room"),
            *page.text("Type its name and its size: across the map, then up it.", quiet=True),
            *page.heading("such as"),
        ]
        return rows + [page.line(words[feet], indent=1) for words in FIRST_WORDS]
    room = view.house.rooms[view.room]
    return [
        *page.title(room.name),
        *page.text(", ".join(_facts(room, view.house.units)), quiet=True),
        *_troubles(view.troubles, page),
        *_walls(view.house, view.room, page),
        *page.heading("such as"),
        *(page.line(words[feet], quiet=True, indent=1) for words in WORDS),
        page.line("a room's name: go there", quiet=True, indent=1),
    ]


def _facts(room: Room, units: Units) -> Iterator[str]:
    box = box_m(room)
    yield " x ".join(format_length(each, units) for each in box) if box else "not measured"
    if room.height_m is not None:
        yield f"{format_length(room.height_m, units)} high"
    yield room.use
    yield f"level {room.level}"


def _troubles(troubles: Sequence[str], page: Page) -> Iterator[Row]:
    if troubles:
        yield from page.heading("does not fit")
    for trouble in troubles:
        yield from page.text(f"{page.look.glyphs.marks['warn']} {trouble}")


# Walls


def _walls(house: House, key: str, page: Page) -> Iterator[Row]:
    """Each wall with its length, then what is in it; then what is in no wall."""
    room, units = house.rooms[key], house.units
    yield from page.heading("walls")
    named = {wall.key: wall.length_m for wall in walls(room)}
    for wall in named or COMPASS:
        length = format_length(named[wall], units) if named else ""
        side = plan_side(room, wall, house.north_deg)
        yield page.line(f"{side}  {length}".rstrip(), indent=1, tidy=False)
        for words in _in_wall(house, key, wall):
            yield page.line(words, quiet=True, indent=3)
    for words in _elsewhere(house, key, set(named or COMPASS)):
        yield page.line(words, quiet=True, indent=1)


def _in_wall(house: House, key: str, wall: str) -> Iterator[str]:
    units = house.units
    for opening in graph_of(house).openings_of(key).values():
        place = _place_in(opening, key)
        if place and place[0] == wall:
            yield _opening_words(house, opening, key, place[1])
    for window in house.rooms[key].windows.values():
        if window.wall == wall:
            size = f"{_short(window.width_m, units)} x {_short(window.height_m, units)}"
            yield f"window {size} at {_short(window.along_m, units)}"


def _elsewhere(house: House, key: str, known: set[str]) -> Iterator[str]:
    for opening in graph_of(house).openings_of(key).values():
        place = _place_in(opening, key)
        if place and place[0] not in known:
            yield _opening_words(house, opening, key, None)
    for lamp in house.rooms[key].lamps.values():
        yield f"lamp {lamp.lumens:g} lm {lamp.light_name}"


def _place_in(opening: Opening, room: str) -> tuple[str | None, float | None] | None:
    """The wall of the room in which an opening is, and how far along; None if it is not there."""
    if opening.between[0] == room:
        return opening.wall, opening.along_m
    return (opening.to_wall, opening.to_along_m) if opening.between[1] == room else None


def _opening_words(house: House, opening: Opening, room: str, along: float | None) -> str:
    other = opening.between[opening.between[0] == room]
    width = f" {_short(opening.width_m, house.units)}" if opening.width_m else ""
    where = f" at {_short(along, house.units)}" if along is not None else ""
    return f"{opening.kind}{width}{where} > {house.rooms[other].name}"


def _short(metres: float, units: Units) -> str:
    """A length without its unit, where that is the house's own metre."""
    return format_length(metres, units).removesuffix(" m")
