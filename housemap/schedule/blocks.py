"""What a page is put together from, whatever it becomes: Markdown, HTML or rows on a screen."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from housemap.schedule.markup import Html
from housemap.study import Swatch


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, and what it holds."""

    name: str
    kind: str = "text"
    """text, number, head (names the row), note (long words), tins."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A text, with the colour that it speaks of."""

    text: str
    swatch: Swatch | None = None
    number: int | None = None
    """The number of the paint in the key."""


@dataclass(frozen=True, slots=True)
class Row:
    cells: tuple[Cell, ...]
    changed: bool = False
    """Since the last issue."""


@dataclass(frozen=True, slots=True)
class Table:
    """A list with a caption; nothing is shown of one without rows."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph; a quiet one says how, not what."""

    text: str
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class Bullets:
    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with what they come to."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing or picture; where none can be shown its caption says what it would be."""

    kind: str
    """plan, elevation, view, strip, scheme: how large it is shown."""
    caption: str
    draw: Callable[[], Html]


@dataclass(frozen=True, slots=True)
class Figures:
    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class SignOff:
    """Lines to sign on, one a party."""

    parties: tuple[str, ...]


Block = Table | Text | Bullets | Facts | Figures | SignOff


@dataclass(frozen=True, slots=True)
class Section:
    title: str
    blocks: tuple[Block, ...]
    parts: "tuple[Section, ...]" = ()
    """Sections within it, as the rooms."""

    @property
    def empty(self) -> bool:
        return not any(map(_full, self.blocks)) and all(part.empty for part in self.parts)


def _full(block: Block) -> bool:
    match block:
        case Table():
            return bool(block.rows)
        case Bullets():
            return bool(block.items)
        case Facts():
            return bool(block.pairs)
        case Figures():
            return bool(block.figures)
        case SignOff() | Text():
            return True


def filled(sections: Iterable[Section]) -> Iterator[Section]:
    """Those that have something to show."""
    return (section for section in sections if not section.empty)


def table(
    caption: str, columns: Sequence[Column], rows: Iterable[Sequence[Cell | str] | Row]
) -> Table:
    """A table whose cells may be given as plain text."""
    made = (row if isinstance(row, Row) else row_of(row) for row in rows)
    return Table(caption, tuple(columns), tuple(made))


def row_of(cells: Iterable[Cell | str], *, changed: bool = False) -> Row:
    return Row(tuple(Cell(c) if isinstance(c, str) else c for c in cells), changed)
