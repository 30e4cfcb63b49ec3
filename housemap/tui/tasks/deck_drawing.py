"""The chips of a deck as a chart or a list, and what stands round them: lines, card, light."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from math import ceil
from typing import NamedTuple

import numpy as np
from rich.cells import cell_len
from textual.events import Click

from housemap.choose.chips import Chips, lab100_under, shown_under
from housemap.choose.metameric_pairs import PARTS, MetamericPair, is_measured
from housemap.choose.paint_query import step_words
from housemap.choose.surface_trial import Candidate
from housemap.colorimetry.arrays import Floats
from housemap.colorimetry.cielab_difference import ciede2000
from housemap.colorimetry.facts import ColourFacts
from housemap.light.surface_light import Lit
from housemap.model.house import LIGHT_WORDS, Lab, Light, Notation, Paint, Srgb, Xyz
from housemap.study import Swatch
from housemap.tui.keys import Keyed
from housemap.tui.render.cells import Hex, Ink, Row, Run, cut, fit, width_of
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.page import SWATCH, Page, signed
from housemap.tui.render.shades import Coat
from housemap.tui.scroller import LineByLine
from housemap.tui.tasks.choose import EXAMPLES
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.deck_browser import Page as ChartPage
from housemap.workbench.session import Session

ARRANGED = {
    "hue": "pages of hue", "value": "pages of value", "near-neutral": "near-neutrals",
    "list": "list",
}  # fmt: skip


def count_text(desk: DeckBrowser) -> str:
    if not desk.paints and not desk.done:
        return "being read"
    known, faults, found = len(desk.chips), len(desk.chips.faults), len(desk.rows)
    if not desk.done:
        return f"{known + faults:,} of {desk.paints:,} paints so far"
    if desk.asks:
        return f"{found:,} of {known:,} paints"
    return f"{found:,} paints" + (f", {faults} impossible" if faults else "")


def asked_row(desk: DeckBrowser, page: Page) -> Row:
    """The search as typed, what is wrong with it, and what else is asked."""
    near = desk.swatch_of(desk.near)
    right = desk.fault or (f"near {near.name}" if near else "")
    room = max(page.width - len(right) - 6, 0)
    text = page.run(cut(desk.text or EXAMPLES, room), quiet=not desk.text, strong=bool(desk.text))
    return page.two_ends((page.run(" / ", strong=True), text), right)


# Chips as a list: swatch, name, LRV, notation and undertone, and how near they are.

CHIP = 6
LRV, NOTATION, UNDERTONE, APART, NEAR = 6, 15, 26, 11, 6
"""Columns; a difference stands under the end of its heading."""
ORDERED = {
    "hue": "by hue, lightest first", "lightness": "lightest first", "name": "by name",
    "deck": "as in the deck", "cost": "lowest penalty first (+: or more)",
}  # fmt: skip
WITH_NOTATION = 46
"""Columns from which on the notation stands in the list, where there are no differences."""
WITH_UNDERTONE = 90
"""Columns from which on the undertone stands in the list too."""


def chip_row(swatch: Swatch, coat: Coat, figure: str | None, mark: str, page: Page) -> Row:
    """A chip on one line; `figure` is what it is sorted by: a difference, or a cost."""
    lead = page.mark(), page.patch(coat, CHIP), page.run(f" {mark or ' '} ", strong=True)
    first = "" if figure is None else f"{figure:>{APART}}"
    colour, title = swatch.colour, title_of(swatch)
    notation = "" if title == colour.notation.text else colour.notation.text
    columns = f"{first}{swatch.lrv:>{LRV}.1f}", notation, colour.undertone.words
    return *lead, page.run(_in_columns(lead, title, columns, page), strong=page.chosen)


def heading_row(order: str, near: str, page: Page, *, lit: bool = False) -> Row:
    """The names of the columns, and in which order the chips stand: `near` names it, else `order`.

    What is nearest is so under the reference light: it says so where another one is shown.
    """
    said = near or ORDERED[order]
    name = "penalty" if order == "cost" else ""
    if near:
        name = "diff. (D65)" if lit else "difference"
    first, lead = f"{name:>{APART}}" if name else "", (page.run(" "),)
    columns = f"{first}{'LRV':>{LRV}}", "notation", "colour"
    return *lead, page.run(_in_columns(lead, said, columns, page), quiet=True)


def _in_columns(lead: Row, title: str, columns: tuple[str, str, str], page: Page) -> str:
    """Columns, as many as there is room for, behind a title that takes what they leave."""
    figures, notation, undertone = columns
    near = APART if len(figures) > LRV else 0
    figures += f"  {fit(notation, NOTATION)}" if page.width >= WITH_NOTATION + near else " "
    figures += fit(undertone, UNDERTONE) if page.width >= WITH_UNDERTONE else ""
    return f"{fit(title, max(page.width - width_of(lead) - len(figures), 0))}{figures}"


def title_of(swatch: Swatch) -> str:
    code = swatch.entity.code if isinstance(swatch.entity, Paint) else ""
    return f"{swatch.name} {code}".strip() if code != swatch.name else code


# The card of the chosen chip: its colour beside what it would replace, and what is known of it.

TALL = 30
"""Lines from which on the colours are shown large."""
LARGE, SMALL, LEAST_COLOUR = 9, 4, 2
"""Lines of the colours; the least where what is below them would not fit."""
FRAME = 2
"""Lines of the title and the names below the colours."""


class Now(NamedTuple):
    """What is on the chosen surface of the room."""

    place: str
    """As in "Hall walls", "Oat Ladle everywhere"."""
    name: str
    coat: Coat
    metameric: MetamericPair | None = None
    """Between it and the chip; None where there is no paint, or its colour is not known yet."""
    apart: float = 0.0
    """From the chip, under the light shown."""
    tried: str = ""
    """The paint that the map tries there, if it is another one."""


class Beside(NamedTuple):
    """Another paint, beside the chosen chip."""

    swatch: Swatch
    coat: Coat
    metameric: MetamericPair
    """Between it and the chosen chip."""
    apart: float
    """CIEDE2000 from the chosen chip, under the light shown."""


class DeckCardView(NamedTuple):
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
    light: str = ""
    """The light of the differences, as in "by lamplight"; empty for the reference light."""


def deck_card_rows(view: DeckCardView, page: Page, height: int) -> list[Row]:
    """Its colour, touching what is on the surface now, as large as what is below leaves room."""
    swatch, now = view.swatch, view.now
    too_strong = [] if swatch.colour.in_srgb else ["stronger than a screen can show"]
    below = [
        *fact_rows(swatch.colour, swatch.entity.lrv, page),
        page.line(_given_as(swatch), quiet=True),
        *page.texts(too_strong, quiet=True),
        *(_goods(swatch.entity, page) if isinstance(swatch.entity, Paint) else ()),
        *_place(view, page),
        *neighbour_rows(f"picked {view.light}", view.picked, page, numbered=True),
        *neighbour_rows(f"nearest {view.light or 'here'}", view.nearest, page),
    ]
    colours: list[Row] = []
    if page.look.colour:
        spare = min(max(height - len(below) - FRAME, LEAST_COLOUR), SMALL)
        coats = [view.coat, *([now.coat] if now else [])]
        colours += [page.side_by_side(coats)] * (LARGE if height >= TALL else spare)
        if now:
            words = "now" if page.narrow else f"{now.place} now"
            colours.append(page.names_below(("this", words), quiet=True))
    return [*page.title(title_of(swatch)), *colours, *below]


def fact_rows(colour: ColourFacts, printed: float | None, page: Page) -> Iterator[Row]:
    """What a colour is, in figures and words."""
    said = "" if printed is None else f", printed {printed:g}"
    yield page.line(f"LRV {colour.lrv:.1f}{said}")
    tone = colour.undertone
    lean = tone.temperature if tone.family != "none" else "no undertone"
    yield page.line(f"{colour.notation.text}, {lean}")
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


def _goods(paint: Paint, page: Page) -> Iterator[Row]:
    figures = [
        f"{paint.coverage:g} m2 a litre" if paint.coverage else "",
        f"tins {', '.join(f'{tin:g}' for tin in paint.tins)} l" if paint.tins else "",
        f"{paint.price:g} a litre" if paint.price is not None else "",
    ]
    texts = ", ".join(filter(None, figures)), paint.notes
    yield from page.texts(filter(None, texts), quiet=True)


def _place(view: DeckCardView, page: Page) -> Iterator[Row]:
    """How it differs from what is there now, and whether the house has it."""
    if view.in_house:
        yield from page.text(f"In the house as {view.in_house}.")
    now = view.now
    if now is None:
        return
    there = "on the wall" if now.place.endswith(("wall", "walls")) else "there now"
    trying = f"{now.place}: trying {now.tried}; {there} {now.name}"
    yield from page.heading(trying if now.tried else f"{now.place} now: {now.name}")
    if now.metameric is not None:
        apart, steps = (
            f"difference {now.apart:.1f} (CIEDE2000)",
            signed(now.metameric.lrv, page.look),
        )
        lrv = "LRV as before" if steps == "0" else f"LRV {steps} points"
        yield from page.texts([f"{apart} {view.light}", lrv] if view.light else [f"{apart}, {lrv}"])
        if text := warning(now.metameric):
            yield from page.text(text, quiet=True)
    if view.does:
        yield from page.text(view.does)


def warning(metameric: MetamericPair) -> str:
    """What is to be known of the two under lamps; empty where they are no match anyway."""
    if not metameric.warns:
        return ""
    sure = "" if metameric.known == "measured" else " (an estimate: one spectrum is recovered)"
    lamp, apart = metameric.worst, metameric.lamps[metameric.worst]
    return f"Metameric: under {lamp} they part by {apart:.1f}{sure}."


def does_text(weighed: Candidate, titles: Mapping[str, str]) -> str:
    """As in "Penalty here 7.7 (less is better): jarring step 5.0, near miss 2.7."."""
    named = {titles[check]: cost for check, cost in weighed.parts.items()}
    named |= {"off the scheme": weighed.scheme} if weighed.scheme else {}
    parts = ", ".join(f"{title} {cost:.1f}" for title, cost in named.items())
    return f"Penalty here {weighed.cost:.1f} (less is better): {parts or 'none'}."


def neighbour_rows(
    heading: str, others: Sequence[Beside], page: Page, *, numbered: bool = False
) -> Iterator[Row]:
    """Other paints with their differences from a colour, and the lamp that parts them from it."""
    if not others:
        return
    head = f"{fit(heading, page.inner - APART)}{'difference':>{APART}}"
    yield from page.heading(head, tidy=False)
    for number, one in enumerate(others, 1):
        pair, lamps, lead = one.metameric, [""], f" {number} " if numbered else " "
        if pair.warns:
            about = "~" if pair.known == "estimate" else ""
            lamps = [f" {pair.worst} {about}{pair.lamps[pair.worst]:.1f}", f" {pair.worst}", ""]
        name, free = one.swatch.name, max(page.inner - NEAR - SWATCH - len(lead), 1)
        lamp = next((each for each in lamps if cell_len(name + each) <= free), "")
        room, title = max(free - len(lamp), 1), title_of(one.swatch)
        name = title if cell_len(title) <= room else name
        yield (
            page.run(lead, strong=True),
            page.swatch(one.coat),
            page.run(f" {fit(cut(name, room, page.more), room)}"),
            page.run(lamp, strong=True),
            page.run(f"{one.apart:>{NEAR}.1f}"),
        )


# Up to six paints side by side: their colours, their figures, how far each is from each.

LEAST = 5
"""Lines of the colours, however little room there is."""


class BesideView(NamedTuple):
    swatches: Sequence[Swatch]
    coats: Sequence[Coat]
    """As shown under the light."""
    apart: Sequence[Sequence[float]]
    """CIEDE2000 of each from each under that light."""
    metameric_pairs: Mapping[tuple[int, int], MetamericPair]
    """By places, the first one smaller."""
    light: str
    """Which light it is, in words."""
    chosen: int = 0


def beside_rows(view: BesideView, page: Page, height: int) -> list[Row]:
    """The page: as much colour as the figures leave room for."""
    figures = [*_figures(view, page), *_table(view, page), *_lamps(view, page)]
    lines = max(height - len(figures), LEAST) if page.look.colour else 0
    return [*[page.side_by_side(view.coats)] * lines, *figures]


def _figures(view: BesideView, page: Page) -> Iterator[Row]:
    """Under each colour its number, name and figures."""
    swatches, names = view.swatches, []
    for number, swatch in enumerate(swatches):
        mark = page.look.glyphs.here if number == view.chosen else ""
        names.append(f"{mark}{number + 1} {swatch.name}")
    figures = [f"LRV {swatch.lrv:.1f}" for swatch in swatches]
    notations = [swatch.colour.notation.text for swatch in swatches]
    tones = [swatch.colour.undertone.words for swatch in swatches]
    first, *others = (swatch.colour.lab100 for swatch in swatches)
    ways = ["the others:", *(step_words(first, other) for other in others)]
    room = max((page.width - 2) // len(swatches) - 1, 1)
    for texts in (names, figures, notations, tones, ways):
        yield page.names_below([cut(t, room, page.more) for t in texts], quiet=texts is tones)


NAMED = 16
"""Columns of a paint from which its name stands in the table."""


def _table(view: BesideView, page: Page) -> Iterator[Row]:
    """The difference of each from each, and in LRV; a line for every paint but the last."""
    yield page.blank()
    yield page.line(f"Difference in CIEDE2000 and in LRV, {view.light}", quiet=True)
    narrow = page.width // len(view.swatches) < NAMED
    for row, swatch in enumerate(view.swatches):
        steps = (signed(other.lrv - swatch.lrv, page.look) for other in view.swatches)
        each = zip(view.apart[row], steps, strict=True)
        cells = [f"{apart:.1f} LRV {step}" for apart, step in each]
        cells[row] = f"from {row + 1}" if narrow else f"from {swatch.name}"
        yield page.names_below(cells)


def _lamps(view: BesideView, page: Page) -> Iterator[Row]:
    """Which of them match by daylight and part under a lamp, and of which that is not known."""
    yield page.blank()
    warned = [(ends, pair) for ends, pair in view.metameric_pairs.items() if pair.warns]
    for (first, second), pair in warned:
        sure = "" if pair.known == "measured" else ", by an estimate (one spectrum is recovered)"
        lamps = ", ".join(f"{lamp} {apart:.1f}" for lamp, apart in pair.lamps.items())
        yield from page.text(
            f"{first + 1} and {second + 1} match by daylight ({pair.de00:.1f}), and"
            f" lamps part them more{sure}: {lamps}."
        )
    unknown = [pair for pair in view.metameric_pairs.values() if pair.known == "unknown"]
    if not warned and len(unknown) < len(view.metameric_pairs):
        yield from page.text(f"No two of them part by more than {PARTS:g} because of a lamp.")
    if unknown:
        yield from page.text(
            "Where no spectrum was measured, nobody can tell whether two paints that match part"
            " under a lamp: see both by day and by lamplight.",
            quiet=True,
        )


# The screen colour of every chip of a deck under the light of the moment.
#
# By day and in the evening a chip shows as it would look on the chosen surface of the room.

FEWEST = 256
"""Chips whose colours are worked out together: one costs nearly as much."""


class DeckShades:
    """Works colours out when they are asked for, and keeps them until the light changes."""

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

    def coats(self, swatches: Sequence[Swatch]) -> list[Coat]:
        """How a few paints show beside the chips."""
        light = falling(self._session)
        if light is None or not swatches:
            return [Coat("known", swatch.colour.srgb_hex) for swatch in swatches]
        surface = self._session.selection.surface
        return [Coat("known", each) for each in shown_under(light, surface, _spectra(swatches))]

    def apart(self, first: Sequence[Swatch], second: Sequence[Swatch]) -> list[list[float]]:
        """CIEDE2000 of each of some paints from each of others, under the light that is shown."""
        here, there = self._lab100(first)[:, None], self._lab100(second)
        apart: list[list[float]] = ciede2000(here, there).tolist()
        return apart

    def _lab100(self, swatches: Sequence[Swatch]) -> Floats:
        light = falling(self._session)
        if light is None:
            return np.array([swatch.colour.lab100 for swatch in swatches]).reshape(-1, 3)
        return lab100_under(light, self._session.selection.surface, _spectra(swatches))

    @property
    def by_light(self) -> str:
        """The same as in "by lamplight"; empty for the reference light."""
        light = self._session.selection.light
        return LIGHT_WORDS[light] if falling(self._session) else ""

    @property
    def words(self) -> str:
        """Which light is shown, in a few words."""
        session = self._session
        light, room = session.selection.light, session.selection.room
        if light == "reference" or room is None:
            return "under the reference light"
        place = f"{session.shown.rooms[room].name} {session.selection.surface}"
        if falling(session) is not None:
            return f"{place} {LIGHT_WORDS[light]}"
        return f"under the reference light: none is known {LIGHT_WORDS[light]} on {place}"


def _spectra(swatches: Sequence[Swatch]) -> Floats:
    return np.array([swatch.colour.reflectance for swatch in swatches])


def falling(session: Session) -> Lit | None:
    """The light in the selected room; None where the reference light is shown or none is known."""
    light: Light = session.selection.light
    room, report = session.selection.room, session.report
    if light == "reference" or room is None or report is None:
        return None
    lighting = report.study.lighting
    if not lighting.ready or room not in lighting.rooms:
        return None
    return lighting.rooms[room].light.lights.get(light)


# The chart: a page of chips that scrolls, one of them chosen.
#
# Every chip of the page is shown: the chips of one cell share it, and a row of cells grows where
# they need more lines. Only the lines in view are ever made.

LABELS = 5
"""Columns for the names of the rows, at the left."""
LEAST, MOST = 2, 10
"""Columns of a cell."""
GAPPED = 4
"""Columns from which cells stand apart."""
SQUARE = 2
"""Columns of a chip where cells are full, a square; less by one where they do not come out."""
TALLEST = 3
"""Lines of a row of single chips."""


class Tile(NamedTuple):
    """Where a chip stands on the sheet, in cells of the screen."""

    chip: int
    x: int
    y: int
    width: int
    height: int


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
    column_labels: Sequence[tuple[int, str]] = ()
    """The middle of each column, and its label."""


def sheet_of(page: ChartPage, width: int, height: int) -> Sheet:
    """Lay a page out for a chart of so many columns and lines."""
    if not page.cells:
        return Sheet()
    wide = min(max((width - LABELS) // len(page.columns), LEAST), MOST)
    usable = wide - 1 if wide >= GAPPED else wide
    a_line = (usable + 1) // SQUARE
    base = max(min(height // len(page.rows), TALLEST), 1)
    tiles: dict[int, Tile] = {}
    labels: dict[int, str] = {}
    y = 0
    for row, label in enumerate(page.rows):
        cells = [page.cells.get((row, column), ()) for column in range(len(page.columns))]
        tall = max(base, *(ceil(len(chips) / a_line) for chips in cells))
        for column, chips in enumerate(cells):
            box = Tile(-1, LABELS + column * wide, y, usable, tall)
            tiles.update((tile.chip, tile) for tile in _shared(box, chips, a_line))
        labels[y] = label
        y += tall
    lines: list[list[Tile]] = [[] for _ in range(y)]
    for tile in tiles.values():
        for line in range(tile.y, tile.y + tile.height):
            lines[line].append(tile)
    middles = [LABELS + column * wide + usable // 2 for column in range(len(page.columns))]
    return Sheet(y, tiles, lines, labels, [*zip(middles, page.columns, strict=True)])


def _shared(box: Tile, chips: Sequence[int], a_line: int) -> Iterator[Tile]:
    """The box divided among chips: line by line, as alike as can be."""
    if not chips:
        return
    lines = min(box.height, ceil(len(chips) / a_line))
    each = ceil(len(chips) / lines)
    for line, start in enumerate(range(0, len(chips), each)):
        top, bottom = (box.height * i // lines for i in (line, line + 1))
        here = chips[start : start + each]
        edges = [box.x + box.width * i // len(here) for i in range(len(here) + 1)]
        for chip, left, right in zip(here, edges, edges[1:], strict=False):
            yield Tile(chip, left, box.y + top, right - left, bottom - top)


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
    middle = 2 * tile.x + tile.width
    while 0 <= y < sheet.height:
        if sheet.lines[y]:
            return min(sheet.lines[y], key=lambda each: abs(2 * each.x + each.width - middle)).chip
        y += step
    return chip


def chip_at(sheet: Sheet, x: int, y: int) -> int | None:
    line = sheet.lines[y] if 0 <= y < sheet.height else ()
    return next((tile.chip for tile in line if tile.x <= x < tile.x + tile.width), None)


WIDEST = 3
"""Columns of a page in the strip of pages."""
AXES = {
    "hue": "value down, chroma across", "value": "hue down, chroma across",
    "near-neutral": "chroma up to 3: value down, hue across, chroma within",
}  # fmt: skip


def chart_row(
    sheet: Sheet, y: int, page: Page, coat_of: Callable[[int], Coat], marks: Mapping[int, str]
) -> Row:
    """A line of chips; `marks` are characters on those that are chosen or picked."""
    runs = [page.run(f"{sheet.row_labels.get(y, ''):>{LABELS - 1}} ")]
    x = LABELS
    for tile in sheet.lines[y]:
        if tile.x > x:
            runs.append(page.run(" " * (tile.x - x)))
        mark = marks.get(tile.chip, "") if y == tile.y + (tile.height - 1) // 2 else ""
        runs.append(chip_run(coat_of(tile.chip), mark, tile.width, page.look))
        x = tile.x + tile.width
    return page.filled(runs)


def chip_run(coat: Coat, mark: str, width: int, look: Look) -> Run:
    fill, ink = " ", Ink(text_on(coat.colour) if mark and coat.colour else None, coat.colour)
    if coat.colour is None or not look.colour:
        fill = "#" if coat.state == "known" else look.glyphs.dots
        ink = Ink(look.greys.text, look.greys.bare)
    return Run(f"{mark[:width]:{fill}^{width}}", ink._replace(bold=bool(mark)))


def column_row(sheet: Sheet, page: Page) -> Row:
    """The names of the columns, as many as have room."""
    text = ""
    for middle, label in sheet.column_labels:
        at = max(middle - len(label) // 2, 0)
        if not text or at > len(text):
            text = f"{text:<{at}}{label}"
    return page.filled([page.run(text[: page.width])])


def strip_of_pages(
    labels: Sequence[str], coats: Sequence[Coat], chosen: int, axes: str, page: Page
) -> Row:
    """All pages side by side, the chosen one with its name on it; then what runs where.

    Where not all have room, those round the chosen one.
    """
    name = f" {labels[chosen]} "
    room = max(page.width - LABELS - len(name), 0)
    each = min(max(room // max(len(labels) - 1, 1), 1), WIDEST)
    first = min(max(chosen - room // 2, 0), max(len(labels) - 1 - room, 0))
    runs = [page.run(" " * LABELS)]
    for number in range(first, min(first + room + 1, len(labels)) if len(labels) > 1 else 0):
        wide, mark = (len(name), name) if number == chosen else (each, "")
        runs.append(chip_run(coats[number], mark, wide, page.look))
    left = page.width - width_of(runs) - 2
    if len(axes) <= left:
        runs.append(page.run(f"{axes:>{left}}", quiet=True))
    return page.filled(runs)


# The widget

HEAD = 2
"""Lines above the sheet: the strip of pages and the names of the columns."""
FEW_COLUMNS = 80
"""Columns below which hues stand in families."""


class DeckChart(Keyed, LineByLine, can_focus=True):
    """Draws the browser's page; `choose` is called with the chip moved to, `turn` with pages."""

    CONTEXT = "chart"

    def __init__(
        self, browser: DeckBrowser, shades: DeckShades, look: Look,
        choose: Callable[[int], None], turn: Callable[[int], None],
    ) -> None:  # fmt: skip
        super().__init__(look, id="chart")
        self.browser = browser
        self._shades, self._choose, self._turn = shades, choose, turn
        self._sheet = Sheet()
        self._marks: dict[int, str] = {}

    def fit(self) -> None:
        self.browser.set_narrow(narrow=self.size.width < FEW_COLUMNS)
        self._sheet = sheet_of(self.browser.shown_page, self.size.width, self._lines)
        self._shades.follow(self.browser.chips, self._sheet.tiles)
        self._marks = self._new_marks()
        self._reveal()
        self._strips.clear()

    def redraw_marks(self) -> None:
        """Another chip of the same page is chosen, or one was picked."""
        if not self.is_fitted:
            self.redraw()
            return
        before, self._marks = self._marks, self._new_marks()
        if self._reveal():
            self.forget_all()
            return
        changed = {chip for chip, _ in before.items() ^ self._marks.items()}
        for tile in (self._sheet.tiles[chip] for chip in changed & self._sheet.tiles.keys()):
            for y in range(tile.y, tile.y + tile.height):
                self.forget(y - self._top + HEAD, 1)

    def _new_marks(self) -> dict[int, str]:
        rows, picked = self.browser.chips.rows, self.browser.picked
        marks = {rows[chip]: str(i) for i, chip in enumerate(picked, 1) if chip in rows}
        chosen = self.browser.chosen_row
        if chosen is not None:
            marks[chosen] = f"{self.look.glyphs.here}{marks.get(chosen, '')}"
        return marks

    @property
    def _lines(self) -> int:
        return max(self.size.height - HEAD, 1)

    def _reveal(self) -> bool:
        """Scroll until the chosen chip is in view; whether anything moved."""
        chosen, top = self.browser.chosen_row, self._top
        tile = self._sheet.tiles.get(chosen) if chosen is not None else None
        if tile:
            top = min(max(top, tile.y + tile.height - self._lines), tile.y)
        return self.show_from(top)

    @property
    def lowest(self) -> int:
        return max(self._sheet.height - self._lines, 0)

    def row_at(self, y: int) -> Row:
        browser, chips = self.browser, self.browser.chips
        page = Page(self.look, self.size.width)
        if y == 0:
            used, labels = browser.pages
            if browser.page not in used:
                return ()
            examples = (browser.page_examples[each] for each in used)
            coats = [self._shades.coat(chips, row) for row in examples]
            axes = AXES[browser.arrangement]
            return strip_of_pages(labels, coats, used.index(browser.page), axes, page)
        if y == 1:
            return column_row(self._sheet, page)
        line = y - HEAD + self._top
        if line >= self._sheet.height:
            return ()
        return chart_row(self._sheet, line, page, partial(self._shades.coat, chips), self._marks)

    def action_go(self, way: str) -> None:
        step = -1 if way in {"up", "left"} else 1
        chosen, tiles = self.browser.chosen_row, self._sheet.tiles
        if chosen is not None and chosen in tiles:
            self._go_to((above if way in {"up", "down"} else beside)(self._sheet, chosen, step))
        else:
            self._go_to(next(iter(tiles), None))

    def _go_to(self, row: int | None) -> None:
        if row not in {None, self.browser.chosen_row}:
            self._choose(row)

    def action_page(self, step: int) -> None:
        self._turn(step)

    def on_click(self, event: Click) -> None:
        at = event.get_content_offset(self)
        if at is not None and at.y >= HEAD:
            self._go_to(chip_at(self._sheet, at.x, at.y - HEAD + self._top))
