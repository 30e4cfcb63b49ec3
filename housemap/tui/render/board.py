"""All paints of a house in their proportions, under a light: a strip, and a line for each."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rich.cells import cell_len

from housemap.tui.render.light_view import LIGHT_WORDS
from housemap.tui.render.look import Look, text_on
from housemap.tui.render.page import SWATCH, Page
from housemap.tui.render.runs import Ink, Row, Run
from housemap.tui.render.scene import Coat
from housemap.tui.render.shades import Shades
from housemap.tui.render.text import fit

if TYPE_CHECKING:
    from housemap.schedule.document import Schedule
    from housemap.schedule.proportions import Share

LEAST_STRIP = 5
"""Rows of the strip on a low screen."""
LRV, FIGURES = 9, 14
"""Columns of the LRV and of both shares in a line."""
MOST_COLUMNS = 100
"""Wider, the two ends of a line no longer read as one."""


@dataclass(frozen=True, slots=True)
class BoardView:
    """The paints, and by what they are laid out."""

    schedule: "Schedule"
    shades: Shades
    by_view: bool
    look: Look

    def share(self, share: "Share") -> float:
        return share.of_view if self.by_view else share.of_area


def board_rows(view: BoardView, width: int, height: int) -> list[Row]:
    page, shares = Page(view.look, width), view.schedule.board
    lined = Page(view.look, min(width, MOST_COLUMNS))
    if not shares:
        return [page.blank(), *page.text("No surface has a paint yet.", quiet=True)]
    coats = {share.paint: _coat(view, share) for share in shares}
    lines = [
        row for n, share in enumerate(shares, 1) for row in _line(view, lined, n, share, coats)
    ]
    above = [*page.text(_what(view), quiet=True), page.blank()]
    room = max(height - len(above) - len(lines) - 1, LEAST_STRIP)
    strip = page.run(" "), *_strip(view, page.inner, coats)
    numbers = page.run(" "), *_numbers(view, page.inner, coats)
    return [*above, numbers, *[strip] * (room - 1), _heading(view, lined), *lines]


def _what(view: BoardView) -> str:
    light = LIGHT_WORDS[view.shades.light]
    if view.by_view:
        return f"By view {light}: of the paint seen by who stands in each room and looks round."
    return f"By area {light}: of all measured surfaces that are painted."


def _coat(view: BoardView, share: "Share") -> Coat:
    """Where most of the paint is."""
    lines = [line for line in view.schedule.quantities.lines if line.paint == share.paint]
    most = max(lines, key=lambda line: line.area_m2 or 0.0)
    return view.shades.on(most.room, most.surface, share.paint)


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


def _parts(view: BoardView, width: int) -> Iterator[tuple[int, "Share", int]]:
    shares = view.schedule.board
    sizes = columns_of([view.share(share) for share in shares], width)
    yield from zip(range(1, len(shares) + 1), shares, sizes, strict=True)


def _strip(view: BoardView, width: int, coats: Mapping[str, Coat]) -> Row:
    page = Page(view.look, width)
    return tuple(page.patch(coats[share.paint], size) for _, share, size in _parts(view, width))


def _numbers(view: BoardView, width: int, coats: Mapping[str, Coat]) -> Row:
    """The first row of the strip: each part's number where it fits."""
    runs = []
    for number, share, size in _parts(view, width):
        colour = coats[share.paint].colour if view.look.colour else None
        text = str(number) if len(str(number)) < size else ""
        ink = Ink(text_on(colour), colour) if colour else Ink(bold=True)
        runs.append(Run(text.center(size), ink))
    return tuple(runs)


def _line(
    view: BoardView, page: Page, number: int, share: "Share", coats: Mapping[str, Coat]
) -> Iterator[Row]:
    """Number, swatch, name, LRV and undertone; the shares of area and of view at the right."""
    swatch, name = view.schedule.swatch(share.paint), _name_columns(view, page)
    room = page.inner - SWATCH - name - LRV - FIGURES - 5
    yield (
        page.run(f" {number:2d} "),
        page.patch(coats[share.paint], SWATCH),
        page.run(f" {fit(swatch.name, name)}"),
        page.run(f" LRV {swatch.lrv:3.0f} ", quiet=True),
        page.run(fit(_tone(view, share), room)),
        page.run(f"{_percent(share.of_area)}{_percent(share.of_view)}"),
    )


def _heading(view: BoardView, page: Page) -> Row:
    left = SWATCH + _name_columns(view, page) + LRV + 5
    text = "under this light" if view.shades.light != "reference" else "undertone"
    room = page.inner - left - FIGURES
    return (page.run(" " * left), page.run(f"{fit(text, room)}{'area':>7}{'view':>7}", quiet=True))


def _percent(share: float) -> str:
    return f"{100 * share:5.0f} %"


def _name_columns(view: BoardView, page: Page) -> int:
    longest = max(cell_len(view.schedule.swatch(s.paint).name) for s in view.schedule.board)
    return min(longest, page.inner // 3)


def _tone(view: BoardView, share: "Share") -> str:
    """The undertone where most of the paint is, under the light shown."""
    lines = [line for line in view.schedule.quantities.lines if line.paint == share.paint]
    most = max(lines, key=lambda line: line.area_m2 or 0.0)
    tone = view.shades.undertone(most.room, most.surface, share.paint)
    return tone.name if tone else ""
