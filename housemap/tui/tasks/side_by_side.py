"""Up to six paints side by side: their colours, their figures, how far each is from each."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from housemap.choose.metameric_pairs import PARTS, MetamericPair, metameric_pairs
from housemap.study import Swatch
from housemap.tui.commands import BESIDE
from housemap.tui.keys import bindings_of
from housemap.tui.program_screen import ProgramScreen
from housemap.tui.render.cells import Row, cut
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page, names_below, side_by_side
from housemap.tui.render.shades import Coat
from housemap.tui.scroller import Bar, DeckCard, Foot
from housemap.tui.tasks.deck_drawing import DeckShades, signed
from housemap.workbench.deck_browser import DeckBrowser
from housemap.workbench.session import Session

LEAST = 5
"""Lines of the colours, however little room there is."""


@dataclass(frozen=True, slots=True)
class BesideView:
    """Everything that the page shows."""

    swatches: Sequence[Swatch]
    coats: Sequence[Coat]
    """As shown under the light."""
    apart: Sequence[Sequence[float]]
    """CIEDE2000 of each from each under that light."""
    metameric_pairs: Mapping[tuple[int, int], MetamericPair]
    """By places, the first one smaller."""
    light: str
    """Which light it is, in words."""
    look: Look
    chosen: int = 0


def beside_rows(view: BesideView, width: int, height: int) -> list[Row]:
    """The page: as much colour as the figures leave room for."""
    page = Page(view.look, width)
    figures = [*_figures(view, page), *_table(view, page), *_lamps(view, page)]
    colours = side_by_side(view.coats, width, view.look)
    lines = max(height - len(figures), LEAST) if view.look.colour else 0
    return [*[colours] * lines, *figures]


def _figures(view: BesideView, page: Page) -> Iterator[Row]:
    """Under each colour its number, name and figures."""
    count = len(view.swatches)
    room = max((page.width - 2) // count - 1, 1)

    def columns(texts: Sequence[str], *, quiet: bool = False) -> Row:
        return names_below([cut(t, room, page.more) for t in texts], page.width, view.look,
                           quiet=quiet)  # fmt: skip

    swatches = view.swatches
    marks = [view.look.glyphs.here if i == view.chosen else "" for i in range(count)]
    yield columns([f"{marks[i]}{i + 1} {swatch.name}" for i, swatch in enumerate(swatches)])
    yield columns([f"LRV {swatch.lrv:.1f}" for swatch in swatches])
    yield columns([swatch.colour.notation.text for swatch in swatches])
    yield columns([swatch.colour.undertone.words for swatch in swatches], quiet=True)


def _table(view: BesideView, page: Page) -> Iterator[Row]:
    """The difference of each from each, and in LRV; a line for every paint but the last."""
    yield page.blank()
    yield page.line(f"Difference in CIEDE2000 and in LRV, {view.light}", quiet=True)
    for row, swatch in enumerate(view.swatches):
        cells = [_cell(view, row, column) for column in range(len(view.swatches))]
        cells[row] = (
            f"from {row + 1}" if page.width // len(cells) < NAMED else f"from {swatch.name}"
        )
        yield names_below(cells, page.width, view.look)


NAMED = 16
"""Columns of a paint from which its name stands in the table."""


def _cell(view: BesideView, row: int, column: int) -> str:
    lrv = view.swatches[column].lrv - view.swatches[row].lrv
    return f"{view.apart[row][column]:.1f} LRV {signed(lrv, view.look)}"


def _lamps(view: BesideView, page: Page) -> Iterator[Row]:
    """Which of them match by daylight and part under a lamp, and which nobody can tell of."""
    yield page.blank()
    warned = [(ends, pair) for ends, pair in view.metameric_pairs.items() if pair.warns]
    for (first, second), pair in warned:
        sure = "" if pair.known == "measured" else ", by an estimate (one spectrum is recovered)"
        lamps = ", ".join(f"{lamp} {apart:.1f}" for lamp, apart in pair.lamps.items())
        yield from page.text(
            f"{first + 1} and {second + 1} match by daylight ({pair.de00:.1f}), and"
            f" lamps part them more{sure}: {lamps}."
        )
    if not warned and any(
        metameric.known != "unknown" for metameric in view.metameric_pairs.values()
    ):
        yield from page.text(f"No two of them part by more than {PARTS:g} because of a lamp.")
    unknown = [p for p in view.metameric_pairs.values() if p.known == "unknown"]
    if unknown:
        yield from page.text(
            "Where no spectrum was measured, nobody can tell whether two paints that match part"
            " under a lamp: see both by day and by lamp.",
            quiet=True,
        )


# The picked paints of a deck side by side, under the light of the moment.


class BesideScreen(ProgramScreen):
    """Shows paints that touch, and how far apart they are."""

    CONTEXT: ClassVar[str] = BESIDE
    BAR: ClassVar[tuple[str, ...]] = ("right", "open", "back")
    BINDINGS: ClassVar[list[BindingType]] = [*bindings_of(BESIDE)]

    def __init__(
        self, session: Session, browser: DeckBrowser, shades: DeckShades,
        take: Callable[[Swatch], str],
    ) -> None:  # fmt: skip
        """`take` takes a paint into the house and returns what came of it."""
        super().__init__()
        self._session, self._browser, self._shades, self._take = session, browser, shades, take
        self._at = 0

    @property
    def session(self) -> Session:
        return self._session

    def compose(self) -> ComposeResult:
        yield Bar(id="head")
        yield DeckCard(self._draw, self.look)
        yield Foot()

    def on_mount(self) -> None:
        self._show()
        self.draw_keys()

    def session_changed(self) -> None:
        self._show()

    def _show(self) -> None:
        self.show_head("Side by side", (), f"{len(self._browser.picks)} paints")
        self.draw_status()
        self.query_one(DeckCard).redraw()

    def look_changed(self) -> None:
        self.query_one(DeckCard).look = self.look
        self._show()
        super().look_changed()

    def _draw(self, width: int, height: int) -> Sequence[Row]:
        desk, shades = self._browser, self._shades
        picks = desk.picks
        rows = [desk.chips.rows[swatch.id] for swatch in picks]
        pairs = list(combinations(range(len(picks)), 2))
        found = metameric_pairs([picks[i] for i, _ in pairs], [picks[j] for _, j in pairs])
        view = BesideView(
            picks, [shades.coat(desk.chips, row) for row in rows], shades.apart(desk.chips, rows),
            dict(zip(pairs, found, strict=True)), shades.told, self.look, self._at,
        )  # fmt: skip
        return beside_rows(view, width, height)

    # What the user does

    def action_go(self, way: str) -> None:
        """Choose another of the paints."""
        step = -1 if way == "left" else 1
        self._at = min(max(self._at + step, 0), len(self._browser.picks) - 1)
        self._show()

    def action_open(self) -> None:
        """Take the chosen paint into the house."""
        picks = self._browser.picks
        if self._at < len(picks):
            self.say(self._take(picks[self._at]))

    def action_back(self) -> None:
        self.dismiss()
