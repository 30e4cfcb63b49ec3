"""Chips as a list: swatch, name, LRV, notation and undertone, and how near they are."""

from housemap.model.house import Paint
from housemap.study import Swatch
from housemap.tui.render.listing import Line, patch
from housemap.tui.render.runs import Row, Run, width_of
from housemap.tui.render.scene import Coat
from housemap.tui.render.text import fit

SWATCH = 6
LRV, NOTATION, UNDERTONE, APART = 6, 15, 26, 7
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
    lead = line.mark(), patch(coat, SWATCH, line.look), line.run(f" {mark or ' '} ", strong=True)
    first = "" if figure is None else f"{figure:>{APART}}"
    colour = swatch.colour
    figures = _columns(
        f"{first}{swatch.lrv:>{LRV}.1f}", colour.notation.text, colour.undertone.name, line
    )
    return *lead, line.run(_filled(title_of(swatch), figures, lead, line), strong=line.chosen)


def heading_row(order: str, near: str, line: Line) -> Row:
    """The names of the columns, and in which order the chips stand."""
    said = f"nearest to {near} first" if near else ORDERED[order]
    name = "apart" if near else "cost" if order == "cost" else ""
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
