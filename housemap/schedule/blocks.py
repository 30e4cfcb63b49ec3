"""HTML elements in which everything that is not an element already is escaped."""

from collections.abc import Callable, Iterable, Sequence
from html import escape
from typing import NamedTuple

from housemap.study import Swatch

VOID = frozenset({"meta", "img", "br", "col", "path", "rect", "polygon", "line", "circle"})
"""Elements without an end tag, those of SVG closed in their start tag."""


class Html(str):
    """Text that is HTML; plain str is not, and is escaped wherever it is put in."""

    __slots__ = ()


def tag(name: str, /, *children: str, **attributes: str | float | None) -> Html:
    """One element. `class_` stands for class, `_` within a name for `-`; None leaves one out."""
    given = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(str(value))}"'
        for key, value in attributes.items()
        if value is not None
    )
    if name in VOID:
        closed = "" if name in {"meta", "img", "br", "col"} else "/"
        return Html(f"<{name}{given}{closed}>")
    return Html(f"<{name}{given}>{together(*children)}</{name}>")


def together(*children: str) -> Html:
    return Html("".join(c if isinstance(c, Html) else escape(c) for c in children))


# What a page is put together from, whatever it becomes: Markdown, HTML or rows on a screen.


class Column(NamedTuple):
    name: str
    kind: str = "text"
    """text, number, head (names the row), note (long words), tins."""


class Cell(NamedTuple):
    """A text, with the colour that it speaks of."""

    text: str
    swatch: Swatch | None = None
    number: int | None = None
    """The number of the paint in the key."""


class Row(NamedTuple):
    cells: tuple[Cell, ...]
    changed: bool = False
    """Since the last issue."""


class Table(NamedTuple):
    """A list with a caption; nothing is shown of one without rows."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


class Text(NamedTuple):
    """A paragraph; a quiet one says how, not what."""

    text: str
    quiet: bool = False


class Bullets(NamedTuple):
    items: tuple[str, ...]


class Facts(NamedTuple):
    pairs: tuple[tuple[str, str], ...]


class Figure(NamedTuple):
    """A drawing or picture; where none can be shown its caption says what it would be."""

    kind: str
    """plan, elevation, view, strip, scheme: how large it is shown."""
    caption: str
    draw: Callable[[], Html]


class Figures(NamedTuple):
    figures: tuple[Figure, ...]


class SignOff(NamedTuple):
    """Lines to sign on, one a party."""

    parties: tuple[str, ...]


Block = Table | Text | Bullets | Facts | Figures | SignOff


class Section(NamedTuple):
    title: str
    blocks: tuple[Block, ...]
    parts: "tuple[Section, ...]" = ()
    """Sections within it, as the rooms."""

    @property
    def empty(self) -> bool:
        return not any(map(_full, self.blocks)) and all(part.empty for part in self.parts)


NOTHING = Section("", ())


def _full(block: Block) -> bool:
    match block:
        case Table(rows=each) | Bullets(items=each) | Facts(pairs=each) | Figures(figures=each):
            return bool(each)
        case SignOff() | Text():
            return True


def table(caption: str, columns: str, rows: Iterable[Sequence[Cell | str] | Row]) -> Table:
    """A table whose cells may be plain text.

    `columns` are names parted by commas, each with its kind behind a colon; the first is the head.
    """
    head, *others = (part.partition(": ") for part in columns.split(", "))
    made = (row if isinstance(row, Row) else row_of(row) for row in rows)
    kinds = Column(head[0], "head"), *(Column(name, kind or "text") for name, _, kind in others)
    return Table(caption, kinds, tuple(made))


def row_of(cells: Iterable[Cell | str], *, changed: bool = False) -> Row:
    return Row(tuple(Cell(c) if isinstance(c, str) else c for c in cells), changed)


def listed(
    title: str, columns: str, rows: Iterable[Sequence[Cell | str] | Row], *beside: Block
) -> Section:
    """A section of one table that is called as the section is, and what is beside it."""
    return Section(title, (table(title, columns, rows), *beside))
