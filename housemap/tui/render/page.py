"""Rows of text: the single lines of a screen, and what is on a panel or a page."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import cell_len, set_cell_size

from housemap.tui.render.cells import Ink, Row, Run, cut, fit, width_of, wrap
from housemap.tui.render.look import Look

if TYPE_CHECKING:
    from housemap.tui.render.shades import Coat


NARROW = 40
"""Columns below which a page saves space."""

SWATCH = 4
"""Columns of a swatch."""


class Page(NamedTuple):
    """Makes rows of one width on a panel, those of a `chosen` entry on a ground of their own."""

    look: Look
    width: int
    chosen: bool = False
    on_bar: bool = False
    """On the ground of the head and the status line."""

    @property
    def inner(self) -> int:
        """The columns of text with one free at either side."""
        return max(self.width - 2, 1)

    @property
    def narrow(self) -> bool:
        return self.width < NARROW

    @property
    def more(self) -> str:
        """Stands for what was cut."""
        return self.look.glyphs.more

    # Runs

    def run(self, text: str, *, quiet: bool = False, strong: bool = False) -> Run:
        greys = self.look.greys
        grey = greys.strong if strong else greys.quiet if quiet and not self.chosen else greys.text
        ground = greys.chosen if self.chosen else greys.bar if self.on_bar else greys.panel
        return Run(text, Ink(grey, ground, bold=strong))

    def mark(self) -> Run:
        """What marks a chosen entry without colour."""
        return self.run(self.look.glyphs.here if self.chosen else " ", strong=True)

    def swatch(self, coat: "Coat") -> Run:
        return self.patch(coat, SWATCH)

    def patch(self, coat: "Coat", columns: int) -> Run:
        glyphs, greys = self.look.glyphs, self.look.greys
        if coat.state == "known" and self.look.colour:
            return Run(" " * columns, Ink(None, coat.colour))
        char = {"bare": glyphs.hatch, "awaited": glyphs.dots, "known": " "}[coat.state]
        return Run(char * columns, Ink(greys.quiet, greys.bare))

    def filled(self, runs: Sequence[Run]) -> Row:
        """The runs, with ground after them."""
        return *runs, self.run(" " * max(self.width - width_of(runs), 0))

    # Rows of text

    def head(self, title: str, note: str, *about: str) -> list[Row]:
        """A title with a note on the list below, lines about it, and space."""
        return [self.title_row(title, note), *self.texts(about, quiet=True), self.blank()]

    def blank(self) -> Row:
        return (self.run(" " * self.width, quiet=True),)

    def title(self, text: str) -> Iterator[Row]:
        yield self.line(cut(text, self.inner, self.more), strong=True)

    def title_row(self, title: str, right: str) -> Row:
        """A title, and at the right a note on the list below, where there is room for both."""
        if cell_len(title) + cell_len(right) + 3 > self.width:
            right = ""
        shown = cut(title, self.width - cell_len(right) - 3, self.more)
        return self.two_ends((self.run(" "), self.run(shown, strong=True)), right)

    def two_ends(self, left: Row, right: str) -> Row:
        """Runs at the left and quiet text at the right, which is cut where both do not fit."""
        right = cut(right, max(self.width - width_of(left) - 2, 0), self.more)
        space = max(self.width - width_of(left) - cell_len(right) - 1, 0)
        return *left, self.run(" " * space, quiet=True), self.run(f"{right} ", quiet=True)

    def heading(self, text: str, *, tidy: bool = True) -> Iterator[Row]:
        """A quiet line with space above it, where there is space to spare."""
        if not self.narrow:
            yield self.blank()
        for line in wrap(text, self.inner) if tidy else [text]:
            yield self.line(line, quiet=True, tidy=tidy)

    def line(
        self, text: str, *, quiet: bool = False, strong: bool = False, indent: int = 0,
        tidy: bool = True,
    ) -> Row:  # fmt: skip
        """One row; a text that is not `tidy` is ours and keeps its spaces."""
        room = self.inner - indent
        shown = cut(text, room, self.more) if tidy else text[:room]
        return (self.run(" " * (indent + 1)), self.run(shown, quiet=quiet, strong=strong))

    def text(
        self, text: str, *, quiet: bool = False, strong: bool = False, indent: int = 0
    ) -> Iterator[Row]:
        for line in wrap(text, self.inner - indent):
            yield self.line(line, quiet=quiet, strong=strong, indent=indent)

    def texts(self, texts: Iterable[str], *, quiet: bool = False, indent: int = 0) -> Iterator[Row]:
        """Each on lines of its own."""
        for text in texts:
            yield from self.text(text, quiet=quiet, indent=indent)

    def hanging(
        self, lead: str, text: str, columns: int | None = None, *, quiet: bool = False,
        strong: bool = True,
    ) -> Iterator[Row]:  # fmt: skip
        """A lead in so many columns, or as long as it is, and lines of text all behind it.

        `quiet` and `strong` are the lead's.
        """
        columns = cell_len(lead) if columns is None else columns
        for line in wrap(text, max(self.inner - columns + 1, 1)):
            yield self.run(set_cell_size(lead, columns), quiet=quiet, strong=strong), self.run(line)
            lead = ""

    def row(
        self, lead: Sequence[Run], left: str, right: str = "", *, strong: bool = False,
        quiet: bool = False, tidy: bool = True,
    ) -> Row:  # fmt: skip
        """Runs, then text cut to what is left of the row, then text at its right end.

        `tidy` is of the text at the right, as in `line`: columns of figures keep their spaces.
        """
        room = self.width - width_of(lead) - 1
        right = cut(right, room, self.more) if tidy else right[:room]
        space = room - cell_len(right) - (1 if right else 0)
        text = cut(left, max(space, 0), self.more)
        return (
            *lead,
            self.run(fit(text, room - cell_len(right)), strong=strong, quiet=quiet),
            self.run(f"{right} ", strong=strong, quiet=quiet),
        )

    def whole(
        self, lead: Sequence[Run], left: str, *rights: str, strong: bool = False,
        quiet: bool = False,
    ) -> Row:  # fmt: skip
        """As `row`, with the first text at the right that leaves the other whole, if any."""
        room = self.width - width_of(lead) - 1
        fitting = (each for each in rights if cell_len(left) + cell_len(each) < room)
        return self.row(lead, left, next(fitting, ""), strong=strong, quiet=quiet)

    # Rows of colours

    def swatches(self, coats: Sequence["Coat"]) -> Row:
        """A swatch that shows several coats side by side, or one where they are alike."""
        each = list(dict.fromkeys(coats))[:SWATCH]
        sizes = shares(len(each), SWATCH)
        return tuple(self.patch(coat, size) for coat, size in zip(each, sizes, strict=True))

    def side_by_side(self, coats: Sequence["Coat"]) -> Row:
        """Colours that touch, of one size, with one column of the neutral panel at either end."""
        margin = Run(" ", Ink(None, self.look.greys.panel))
        sizes = shares(len(coats), max(self.width - 2, len(coats)))
        return margin, *(self.patch(c, n) for c, n in zip(coats, sizes, strict=True)), margin

    def names_below(self, names: Sequence[str], *, quiet: bool = False) -> Row:
        """Each name under its own swatch."""
        sizes = shares(len(names), max(self.width - 2, len(names)))
        cells = (f"{fit(t, n - 1, self.more)} " for t, n in zip(names, sizes, strict=True))
        return self.run(" "), *(self.run(cell, quiet=quiet) for cell in cells), self.run(" ")


def shares(count: int, columns: int) -> list[int]:
    """Columns for so many parts that touch, as alike as can be."""
    return [columns * (i + 1) // count - columns * i // count for i in range(count)]


def columns_of(shares: Sequence[float], width: int) -> list[int]:
    """Whole columns in proportion, at least one for each share above 0 while there are enough.

    What is left over goes where most was lost; what is too much comes from where most was won.
    """
    whole = sum(shares)
    if whole <= 0.0:
        return [0] * len(shares)
    exact = [share / whole * width for share in shares]
    found = [max(int(part), 1 if part > 0 else 0) for part in exact]
    places = range(len(exact))
    while sum(found) < width:
        found[min(places, key=lambda n: found[n] - exact[n])] += 1
    while sum(found) > width:
        found[max(places, key=lambda n: (found[n] > 1, found[n] - exact[n]))] -= 1
    return found


def scrollbar(y: int, height: int, top: int, count: int, look: Look) -> Run:
    """One cell of a bar that shows which part of a list of `count` rows is in view."""
    if count <= height:
        return Run(" ", Ink(None, look.greys.panel))
    size = max(height * height // count, 1)
    start = (height - size) * top // max(count - height, 1)
    within = start <= y < start + size
    if not look.colour:
        return Run("#" if within else " ", Ink())
    return Run(" ", Ink(None, look.greys.faint if within else look.greys.panel))


def signed(number: float, look: Look, digits: int = 0) -> str:
    """With a sign, but where it rounds to 0."""
    text = f"{number:+.{digits}f}"
    if float(text) == 0.0:
        return text[1:]
    return text.replace("-", look.glyphs.minus)


# The single lines of a screen

Item = tuple[str, str]
"""A key and its word."""

LEAST_NAME = 8
"""Columns of a house's name at the least."""
SCREEN_IS_NOT_PAINT = "Judge paint by a sample, not by a screen."


def key_bar(items: Sequence[Item], width: int, look: Look, always: Sequence[Item] = ()) -> Row:
    """As many keys as fit, in their order, before those that are always there."""
    page, runs = Page(look, width, on_bar=True), list[Run]()
    for key, word in [*fitting(items, width - sum(map(_width, always))), *always]:
        runs += page.run(f" {key}", strong=True), page.run(f" {word} ", quiet=True)
    return *runs, page.run(" " * max(width - width_of(runs), 0), quiet=True)


def fitting(items: Sequence[Item], width: int) -> list[Item]:
    """The first of them for which there is room."""
    ends = accumulate(map(_width, items))
    return [item for item, end in zip(items, ends, strict=True) if end <= width]


def in_rows(items: Sequence[Item], width: int) -> list[list[Item]]:
    """All of them, in as many rows as they need."""
    rows: list[list[Item]] = [[]]
    for item in items:
        if rows[-1] and len(fitting([*rows[-1], item], width)) <= len(rows[-1]):
            rows.append([])
        rows[-1].append(item)
    return rows


def _width(item: Item) -> int:
    return cell_len(item[0]) + cell_len(item[1]) + 3


def head_line(name: str, notes: Sequence[str], right: Sequence[str], width: int, look: Look) -> Row:
    """The house's name, what is to be known of its file, and where the map stands.

    Of what stands at the right the last matters most: where not all fits, first the name is cut,
    then the last loses its neighbours.
    """
    page, kept = Page(look, width, on_bar=True), [*right]
    noted = [page.run(f"  {note}", quiet=True) for note in notes]
    spare, least = width - width_of(noted) - 3, min(LEAST_NAME, cell_len(name))
    while len(kept) > 1 and spare - cell_len(", ".join(kept)) < least:
        del kept[-2]
    room = min(spare - cell_len(", ".join(kept)), width // 2)
    shown = page.run(f" {cut(name, max(room, LEAST_NAME), page.more)}", strong=True)
    return page.two_ends((shown, *noted), ", ".join(kept))


def first_fitting(texts: Sequence[str], width: int) -> str:
    """The first that fits into a status line, else the last of them."""
    return next((each for each in texts if cell_len(each) + 4 <= width), texts[-1])


def status_line(
    texts: Sequence[str], right: str, width: int, look: Look, *, loud: bool = False
) -> Row:
    """The first text that fits beside what stands at the right, else the last; a loud one whole."""
    page, text = Page(look, width, on_bar=True), first_fitting(texts, width - cell_len(right))
    if loud and cell_len(text) + cell_len(right) + 4 > width:
        right = ""
    shown = cut(text, max(width - cell_len(right) - 4, 10), page.more)
    return page.two_ends((page.run(f" {shown}", strong=loud, quiet=True),), right)


class Parts(NamedTuple):
    """Rows, and which of them each part takes."""

    rows: list[Row]
    places: list[range]

    @classmethod
    def of(cls, parts: Iterable[Iterable[Row]]) -> "Parts":
        made = cls([], [])
        for part in parts:
            start = len(made.rows)
            made.rows.extend(part)
            made.places.append(range(start, len(made.rows)))
        return made


# Which part of some rows is on show.


def row_on_show(rows: Sequence[Row], top: int, y: int, height: int, look: Look) -> Row:
    """Line `y` of `height` lines that show the rows from `top` on; the last says what is left."""
    at = y + top
    if y == height - 1 and at < len(rows) - 1:
        words = f" {look.glyphs.down} {len(rows) - at} more lines"
        return (Run(words, Ink(look.greys.quiet, look.greys.panel)),)
    return rows[at] if at < len(rows) else ()
