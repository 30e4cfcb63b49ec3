"""The lines above a deck: which one it is and what is asked of it."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import TYPE_CHECKING, NamedTuple

from housemap.choose.chips import Chips, apart_under, shown_under
from housemap.choose.metameric_pairs import MetamericPair, is_measured
from housemap.choose.surface_trial import PaintEffect
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import ColourFacts
from housemap.model.house import Lab, Light, Notation, Paint, Srgb, Xyz
from housemap.study import Swatch
from housemap.tui.render.bars import two_ends
from housemap.tui.render.cells import Hex, Ink, Row, Run, cut, fit, width_of
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.page import SWATCH, Line, Page, names_below, patch, side_by_side
from housemap.tui.render.shades import Coat
from housemap.tui.tasks.choose_drawing import findings_text
from housemap.workbench import deck_charts
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.session import Session

if TYPE_CHECKING:
    from housemap.light.surface_light import Lit


EXAMPLE = "name, code, undertone, lrv 55-70, value>7, chroma<2, 5y, 10yr-5y, 5y 7/1"
ARRANGED = {
    "hue": "pages of hue", "value": "pages of value", "near-neutral": "near-neutrals",
    "list": "list",
}  # fmt: skip

AXES = {
    "hue": "value down, chroma across", "value": "hue down, chroma across",
    "near-neutral": "chroma up to 3: value down, hue across, chroma within",
}  # fmt: skip


def count_text(desk: DeckBrowser) -> str:
    """How many paints there are and fit."""
    if not desk.paints and not desk.done:
        return "being read"
    if not desk.done:
        known = len(desk.chips) + len(desk.chips.faults)
        return f"{known:,} of {desk.paints:,} paints so far"
    found = len(desk.rows)
    if desk.asks:
        return f"{found:,} of {len(desk.chips):,} paints"
    faults = len(desk.chips.faults)
    return f"{found:,} paints" + (f", {faults} impossible" if faults else "")


def arranged_text(desk: DeckBrowser) -> str:
    """How the paints are arranged, and which page shows."""
    words, labels = ARRANGED[desk.arrangement], desk.chart.pages.labels
    return f"{words}: {labels[desk.page]}" if desk.arrangement in {"hue", "value"} else words


def search_row(desk: DeckBrowser, look: Look, width: int) -> Row:
    """The search as typed, what is wrong with it, and what else is asked."""
    line = Line(look, width)
    near = desk.swatch_of(desk.near)
    right = desk.fault or (f"near {near.name}" if near else "")
    room = max(width - len(right) - 6, 0)
    text = line.run(cut(desk.text or EXAMPLE, room), quiet=not desk.text, strong=bool(desk.text))
    return two_ends((line.run(" / ", strong=True), text), right, width, look)


# Chips as a list: swatch, name, LRV, notation and undertone, and how near they are.

CHIP = 6
LRV, NOTATION, UNDERTONE, APART = 6, 15, 26, 11
"""Columns."""
ORDERED = {
    "hue": "by hue, lightest first", "lightness": "lightest first", "name": "by name",
    "deck": "as in the deck", "cost": "least cost first (+: or more)",
}  # fmt: skip
WITH_NOTATION = 46
"""Columns from which on the notation stands in the list, where there are no differences."""
WITH_UNDERTONE = 90
"""Columns from which on the undertone stands in the list too."""


def chip_row(swatch: Swatch, coat: Coat, figure: str | None, mark: str, line: Line) -> Row:
    """A chip on one line; `figure` is what it is sorted by: a difference, or a cost."""
    lead = line.mark(), patch(coat, CHIP, line.look), line.run(f" {mark or ' '} ", strong=True)
    first = "" if figure is None else f"{figure:>{APART}}"
    colour = swatch.colour
    figures = _columns(
        f"{first}{swatch.lrv:>{LRV}.1f}", colour.notation.text, colour.undertone.words, line
    )
    return *lead, line.run(_filled(title_of(swatch), figures, lead, line), strong=line.chosen)


def heading_row(order: str, near: str, line: Line) -> Row:
    """The names of the columns, and in which order the chips stand."""
    said = f"nearest to {near} first" if near else ORDERED[order]
    name = "difference" if near else "cost" if order == "cost" else ""
    first = f"{name:>{APART}}" if name else ""
    columns = _columns(f"{first}{'LRV':>{LRV}}", "notation", "undertone", line)
    lead = (line.run(" "),)
    return *lead, line.run(_filled(said, columns, lead, line), quiet=True)


def _columns(figures: str, notation: str, undertone: str, line: Line) -> str:
    tone = fit(undertone, UNDERTONE) if line.width >= WITH_UNDERTONE else ""
    near = APART if len(figures) > LRV else 0
    hvc = f"  {fit(notation, NOTATION)}" if line.width >= WITH_NOTATION + near else " "
    return f"{figures}{hvc}{tone}"


def _filled(title: str, columns: str, lead: tuple[Run, ...], line: Line) -> str:
    """A title that takes what the columns after it leave."""
    return f"{fit(title, max(line.width - width_of(lead) - len(columns), 0))}{columns}"


def title_of(swatch: Swatch) -> str:
    code = swatch.entity.code if isinstance(swatch.entity, Paint) else ""
    return f"{swatch.name} {code}".strip() if code != swatch.name else code


# The card of the chosen chip: its colour beside what it would replace, and what is known of it.

TALL = 30
"""Lines from which on the colours are shown large."""
LARGE, SMALL = 9, 4
"""Lines of the colours."""


@dataclass(frozen=True, slots=True)
class Now:
    """What is on the chosen surface of the room."""

    place: str
    """As in "Hall walls"."""
    name: str
    coat: Coat
    metameric: MetamericPair | None
    """Between it and the chip; None where there is no paint, or its colour is not known yet."""


@dataclass(frozen=True, slots=True)
class Beside:
    """Another paint, beside the chosen chip."""

    swatch: Swatch
    coat: Coat
    metameric: MetamericPair
    """Between it and the chosen chip."""


@dataclass(frozen=True, slots=True)
class DeckCardView:
    """Everything that the card shows."""

    swatch: Swatch
    coat: Coat
    now: Now | None
    """None in a house without rooms."""
    picked: Sequence[Beside]
    nearest: Sequence[Beside]
    """Paints of the house."""
    in_house: str
    """The name of an equal paint of the house; empty where there is none."""
    does: str
    """What it would do on the surface, in words; empty where it has not been weighed."""
    look: Look


def deck_card_rows(view: DeckCardView, width: int, height: int) -> list[Row]:
    page = Page(view.look, width)
    return [
        *page.title(title_of(view.swatch)),
        *_colours(view, page, LARGE if height >= TALL else SMALL),
        *_facts(view.swatch, page),
        *_goods(view.swatch, page),
        *_place(view, page),
        *neighbour_rows("picked", view.picked, page, numbered=True),
        *neighbour_rows("nearest in the house", view.nearest, page),
    ]


def _colours(view: DeckCardView, page: Page, lines: int) -> Iterator[Row]:
    """The chip, touching what is on the surface now; nothing where colours are off."""
    if not view.look.colour:
        return
    coats = [view.coat, *([view.now.coat] if view.now else [])]
    row = side_by_side(coats, page.width, view.look)
    yield from [row] * lines
    if view.now:
        now = "now" if page.narrow else f"{view.now.place} now"
        yield names_below(("this", now), page.width, view.look, quiet=True)


def _facts(swatch: Swatch, page: Page) -> Iterator[Row]:
    yield from fact_rows(swatch.colour, swatch.entity.lrv, page)
    yield page.line(_given_as(swatch), quiet=True)
    if not swatch.colour.in_srgb:
        yield page.line("stronger than a screen can show", quiet=True)


def fact_rows(colour: ColourFacts, printed: float | None, page: Page) -> Iterator[Row]:
    """What a colour is, in figures and words."""
    said = "" if printed is None else f", printed {printed:g}"
    yield page.line(f"LRV {colour.lrv:.1f}{said}")
    yield page.line(f"{colour.notation.text}, {colour.undertone.temperature}")
    yield page.line(colour.undertone.words)
    light, a, b = (round(each, 1) + 0.0 for each in colour.lab100)
    yield page.line(f"L* {light:.1f}  a* {a:.1f}  b* {b:.1f}", quiet=True, tidy=False)


def _given_as(swatch: Swatch) -> str:
    source = swatch.entity.colour
    if is_measured(source):
        return "its spectrum was measured"
    match source:
        case Lab(observed=observed) | Xyz(observed=observed):
            return f"measured under {observed}"
        case Srgb():
            return "known by a screen colour"
        case Notation():
            return "known by its notation"
    raise AssertionError(source)


def _goods(swatch: Swatch, page: Page) -> Iterator[Row]:
    """How it is sold."""
    paint = swatch.entity
    if not isinstance(paint, Paint):
        return
    said = [
        f"{paint.coverage:g} m2 a litre" if paint.coverage else "",
        f"tins {', '.join(f'{tin:g}' for tin in paint.tins)} l" if paint.tins else "",
        f"{paint.price:g} a litre" if paint.price is not None else "",
    ]
    yield from page.text(", ".join(filter(None, said)), quiet=True) if any(said) else ()
    yield from page.text(paint.notes, quiet=True) if paint.notes else ()


def _place(view: DeckCardView, page: Page) -> Iterator[Row]:
    """How it differs from what is there now, and whether the house has it."""
    if view.in_house:
        yield from page.text(f"In the house as {view.in_house}.")
    if view.now is None:
        return
    yield from page.heading(f"{view.now.place} now: {view.now.name}")
    if view.now.metameric is not None:
        yield page.line(apart_text(view.now.metameric, view.look))
        if told := warning(view.now.metameric):
            yield from page.text(told, quiet=True)
    if view.does:
        yield from page.text(view.does)


def apart_text(metameric: MetamericPair, look: Look) -> str:
    """The difference of two colours in a few words."""
    return f"CIEDE2000 {metameric.de00:.1f}, LRV {signed(metameric.lrv, look)}"


def signed(points: float, look: Look) -> str:
    """Whole points more or less."""
    return f"{points:+.0f}".replace("-", look.glyphs.minus) if round(points) else "0"


def warning(metameric: MetamericPair) -> str:
    """What is to be known of the two under lamps; empty where they are no match anyway."""
    if not metameric.warns:
        return ""
    sure = "" if metameric.known == "measured" else " (an estimate: one spectrum is recovered)"
    lamp, apart = metameric.worst, metameric.lamps[metameric.worst]
    return f"Metameric: under {lamp} they part by {apart:.1f}{sure}."


def does_text(weighed: PaintEffect, titles: Mapping[str, str], findings: int) -> str:
    """As in "Problems here 7.7: jarring step 5.0, near miss 2.7. House: 18 findings, 1 fewer."."""
    parts = ", ".join(f"{titles[check]} {cost:.1f}" for check, cost in weighed.parts.items())
    change = findings_text(findings, weighed.findings_after)
    return f"Problems here {weighed.cost:.1f}: {parts or 'none'}. House: {change}."


def neighbour_rows(
    heading: str, others: Sequence[Beside], page: Page, *, numbered: bool = False
) -> Iterator[Row]:
    """Other paints with their differences from a colour, and the lamp that parts them from it."""
    if not others:
        return
    lead = 3 if numbered else 1
    columns = page.inner - APART
    yield from page.heading(f"{fit(heading, columns)}{'difference':>{APART}}", tidy=False)
    for number, one in enumerate(others, 1):
        lamp = _lamp_text(one.metameric)
        room = max(columns - SWATCH - lead - len(lamp), 1)
        yield (
            page.run(f" {number} " if numbered else " ", strong=True),
            page.swatch(one.coat),
            page.run(f" {fit(cut(title_of(one.swatch), room, page.more), room)}"),
            page.run(lamp, strong=True),
            page.run(f"{one.metameric.de00:>{APART}.1f}"),
        )


def _lamp_text(metameric: MetamericPair) -> str:
    """A warning in a few characters: the lamp that parts them, and by how much."""
    if not metameric.warns:
        return ""
    about = "~" if metameric.known == "estimate" else ""
    return f" {metameric.worst} {about}{metameric.lamps[metameric.worst]:.1f}"


# A page of a deck's chart laid out in cells of the screen, and the ways from chip to chip.
#
# Every chip of the page is shown: the chips of one cell share it, and a row of cells grows where
# they need more lines.

LABELS = 5
"""Columns for the names of the rows, at the left."""
LEAST, USUAL, MOST = 2, 5, 10
"""Columns of a cell; more where a cell holds many chips."""
GAPPED = 4
"""Columns from which cells stand apart."""
CHIP = 2
"""Columns of a chip where cells are full, a square; less by one where they do not come out."""
CROWDED = 1.25
"""How much more a column of cells holds than the mean before it is made wider."""
TALLEST = 3
"""Lines of a row of single chips."""


class Tile(NamedTuple):
    """Where a chip stands on the sheet, in cells of the screen."""

    chip: int
    x: int
    y: int
    width: int
    height: int

    @property
    def middle(self) -> float:
        return self.x + self.width / 2


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole page laid out; its first line is 0."""

    height: int = 0
    tiles: Mapping[int, Tile] = field(default_factory=dict)
    """By chip."""
    lines: Sequence[Sequence[Tile]] = ()
    """The tiles of each line, from left to right."""
    row_labels: Mapping[int, str] = field(default_factory=dict)
    """By line."""
    column_labels: Sequence[tuple[int, int, str]] = ()
    """From, columns, label."""


def sheet_of(page: deck_charts.Page, width: int, height: int) -> Sheet:
    """Lay a page out for a chart of so many columns and lines."""
    if not page.cells:
        return Sheet()
    widths = column_widths(page, width - LABELS)
    starts = [LABELS + sum(widths[:i]) for i in range(len(widths))]
    base = max(min(height // len(page.rows), TALLEST), 1)
    tiles: dict[int, Tile] = {}
    labels: dict[int, str] = {}
    y = 0
    for row, label in enumerate(page.rows):
        cells = [(c, page.cells[row, c]) for c in range(len(widths)) if (row, c) in page.cells]
        tall = max(base, *(lines_for(chips, usable(widths[c])) for c, chips in cells), 0)
        for column, chips in cells:
            box = Tile(-1, starts[column], y, usable(widths[column]), tall)
            tiles.update((tile.chip, tile) for tile in shared(box, chips))
        labels[y] = label
        y += tall
    columns = [*zip(starts, widths, page.columns, strict=True)]
    return Sheet(y, tiles, lines_of(tiles.values(), y), labels, columns)


def usable(width: int) -> int:
    """Columns of a cell that chips take."""
    return width - 1 if width >= GAPPED else width


def lines_for(chips: Sequence[int], width: int) -> int:
    return ceil(len(chips) / per_line(width))


def per_line(width: int) -> int:
    """Chips on one line of a cell."""
    return (width + 1) // CHIP


def column_widths(page: deck_charts.Page, room: int) -> list[int]:
    """Columns of the screen for each column of the page, more where cells hold many chips."""
    count = len(page.columns)
    most = [max((len(c) for (_, at), c in page.cells.items() if at == i), default=0)
            for i in range(count)]  # fmt: skip
    widths = [min(max(room // count, LEAST), USUAL)] * count
    while sum(widths) + CHIP <= room:
        lines = [n / per_line(usable(w)) for n, w in zip(most, widths, strict=True)]
        if max(lines) <= max(1.0, CROWDED * sum(lines) / count):
            break
        widths[lines.index(max(lines))] += CHIP
    spare = min((room - sum(widths)) // count, max(MOST - min(widths), 0))
    return [max(width, min(width + spare, MOST)) for width in widths]


def shared(box: Tile, chips: Sequence[int]) -> Iterator[Tile]:
    """The box divided among chips: line by line, as alike as can be."""
    count = len(chips)
    lines = min(box.height, lines_for(chips, box.width))
    each = ceil(count / lines)
    for line, start in enumerate(range(0, count, each)):
        top, bottom = (box.height * i // lines for i in (line, line + 1))
        here = chips[start : start + each]
        edges = [box.x + box.width * i // len(here) for i in range(len(here) + 1)]
        for chip, left, right in zip(here, edges, edges[1:], strict=False):
            yield Tile(chip, left, box.y + top, right - left, bottom - top)


def lines_of(tiles: Iterable[Tile], height: int) -> list[list[Tile]]:
    """The tiles of each line; those of a row come from left to right."""
    lines: list[list[Tile]] = [[] for _ in range(height)]
    for tile in tiles:
        for y in range(tile.y, tile.y + tile.height):
            lines[y].append(tile)
    return lines


# Moving about


def beside(sheet: Sheet, chip: int, step: int) -> int:
    """The next chip to the right (above 0) or left on its line; itself at the end."""
    tile = sheet.tiles[chip]
    line = sheet.lines[tile.y + (tile.height - 1) // 2]
    at = line.index(tile) + step
    return line[at].chip if 0 <= at < len(line) else chip


def above(sheet: Sheet, chip: int, step: int) -> int:
    """The nearest chip of the next line with any, downward (above 0) or up; itself at the end."""
    tile = sheet.tiles[chip]
    y = tile.y + tile.height if step > 0 else tile.y - 1
    while 0 <= y < sheet.height:
        if sheet.lines[y]:
            return min(sheet.lines[y], key=lambda other: abs(other.middle - tile.middle)).chip
        y += step
    return chip


def chip_at(sheet: Sheet, x: int, y: int) -> int | None:
    """The chip at a place of the sheet."""
    line = sheet.lines[y] if 0 <= y < sheet.height else ()
    return next((tile.chip for tile in line if tile.x <= x < tile.x + tile.width), None)


# The rows of a deck's chart: only the lines in view are ever made.

Coats = Callable[[int], Coat]
"""The colour of each chip, as it is shown."""
WIDEST = 3
"""Columns of a page in the strip of pages."""


@dataclass(frozen=True, slots=True)
class Showing:
    """How a sheet is shown."""

    look: Look
    width: int
    coats: Coats
    marks: Mapping[int, str] = field(default_factory=dict)
    """Characters on the chips that are chosen or picked."""

    @property
    def ground(self) -> Ink:
        return Ink(self.look.greys.text, self.look.greys.panel)

    @property
    def quiet(self) -> Ink:
        return Ink(self.look.greys.quiet, self.look.greys.panel)

    def filled(self, runs: Sequence[Run]) -> Row:
        """The runs, with ground after them."""
        used = sum(len(run.text) for run in runs)
        return (*runs, Run(" " * max(self.width - used, 0), self.ground))


def chart_row(sheet: Sheet, y: int, showing: Showing) -> Row:
    """A line of the sheet."""
    runs = [Run(f"{sheet.row_labels.get(y, ''):>{LABELS - 1}} ", showing.ground)]
    x = LABELS
    for tile in sheet.lines[y]:
        if tile.x > x:
            runs.append(Run(" " * (tile.x - x), showing.ground))
        mark = showing.marks.get(tile.chip, "") if y == tile.y + (tile.height - 1) // 2 else ""
        runs.append(chip_run(showing.coats(tile.chip), mark, tile.width, showing.look))
        x = tile.x + tile.width
    return showing.filled(runs)


def chip_run(coat: Coat, mark: str, width: int, look: Look) -> Run:
    text = f"{mark[:width]:^{width}}"
    if coat.colour is None or not look.colour:
        filled = text.replace(" ", "#" if coat.state == "known" else look.glyphs.dots)
        return Run(filled, Ink(look.greys.text, look.greys.bare, bold=bool(mark)))
    if not mark:
        return Run(text, Ink(None, coat.colour))
    return Run(text, Ink(text_on(coat.colour), coat.colour, bold=bool(mark)))


def column_row(sheet: Sheet, showing: Showing) -> Row:
    """The names of the columns, as many as have room."""
    text = ""
    for start, wide, label in sheet.column_labels:
        at = start + max((usable(wide) - len(label)) // 2, 0)
        if not text or at > len(text):
            text = f"{text:<{at}}{label}"
    return showing.filled([Run(text[: showing.width], showing.ground)])


def strip_row(
    labels: Sequence[str], coats: Sequence[Coat], chosen: int, axes: str, showing: Showing
) -> Row:
    """All pages side by side, the chosen one with its name on it; then what runs where.

    Where not all have room, those round the chosen one.
    """
    name = f" {labels[chosen]} "
    room = max(showing.width - LABELS - len(name), 0)
    each = min(max(room // max(len(labels) - 1, 1), 1), WIDEST)
    first = min(max(chosen - room // 2, 0), max(len(labels) - 1 - room, 0))
    runs = [Run(" " * LABELS, showing.ground)]
    for page in range(first, min(first + room + 1, len(labels)) if len(labels) > 1 else 0):
        wide, mark = (len(name), name) if page == chosen else (each, "")
        runs.append(chip_run(coats[page], mark, wide, showing.look))
    left = showing.width - width_of(runs) - 2
    if len(axes) <= left:
        runs.append(Run(f"{axes:>{left}}", showing.quiet))
    return showing.filled(runs)


# The screen colour of every chip of a deck under the light of the moment.
#
# By day and in the evening a chip shows as it would look on the chosen surface of the room.

LIGHT_WORDS: Mapping[Light, str] = {"day": "by day", "evening": "in the evening"}
FEWEST = 256
"""Chips whose colours are worked out together: one costs nearly as much."""


class DeckShades:
    """Works colours out when they are asked for, and keeps them as long as the light stays."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self._key: tuple[object, ...] = ()
        self._known: dict[int, Hex] = {}

    def follow(self, chips: Chips, rows: Iterable[int]) -> None:
        """Have the colours of some rows ready; forget those of another light or deck."""
        light = falling(self._session)
        key = (chips, light, self._session.selection.surface)
        if any(a is not b for a, b in zip(key, self._key or (None,) * len(key), strict=True)):
            self._key, self._known = key, {}
        lacking = [row for row in rows if row not in self._known]
        if light is None or not lacking:
            return
        hexes = shown_under(light, self._session.selection.surface, chips.reflectance[lacking])
        self._known.update(zip(lacking, hexes, strict=True))

    def coat(self, chips: Chips, row: int) -> Coat:
        """How a chip shows; as under the reference light where there is no other."""
        light = falling(self._session)
        if light is None:
            return Coat("known", chips.swatches[row].colour.srgb_hex)
        if row not in self._known:
            block = row - row % FEWEST
            self.follow(chips, range(block, min(block + FEWEST, len(chips))))
        return Coat("known", self._known[row])

    def apart(self, chips: Chips, rows: Sequence[int]) -> list[list[float]]:
        """CIEDE2000 of each chip from each, under the light that is shown."""
        light, surface = falling(self._session), self._session.selection.surface
        if light is not None:
            apart = apart_under(light, surface, chips.reflectance[rows])
        else:
            lab100 = chips.lab100[rows]
            apart = ciede2000(lab100[:, None], lab100)
        return [[float(each) for each in row] for row in apart]

    @property
    def told(self) -> str:
        """Which light is shown, in a few words."""
        session = self._session
        light, room = session.selection.light, session.selection.room
        if light == "reference" or room is None:
            return "under the reference light"
        place = f"{session.shown.rooms[room].name} {session.selection.surface}"
        if falling(session) is not None:
            return f"{place} {LIGHT_WORDS[light]}"
        return f"under the reference light: none is known {LIGHT_WORDS[light]} on {place}"


def falling(session: Session) -> "Lit | None":
    """The light in the selected room; None where the reference light is shown or none is known."""
    light: Light = session.selection.light
    room, report = session.selection.room, session.report
    if light == "reference" or room is None or report is None:
        return None
    lighting = report.study.lighting
    if not lighting.ready or room not in lighting.rooms:
        return None
    return lighting.rooms[room].light.lights.get(light)
