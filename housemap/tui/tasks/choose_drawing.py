"""Choosing a paint for a surface: the paints as a list, and the old one beside the new one."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from housemap.checks import check_of
from housemap.choose.house_problem import Reach
from housemap.choose.rank import Candidate
from housemap.model.house import Light
from housemap.model.samples import Tried
from housemap.model.severity import findings_text
from housemap.tui.render.cells import Row, cut, wrap
from housemap.tui.render.page import Page, columns_of
from housemap.tui.render.shades import Coat
from housemap.workbench.choosing import Option

EXAMPLES = "warm white, 5y 7/1, lrv 55-70"
"""What an empty search line says."""
BY_LIGHT: Mapping[Light, str] = {"day": "by day", "evening": "by lamp"}
WIDE = 44
"""Columns from which on a paint's code is in the list."""

TALL = 30
"""Rows from which on there is place for what a paint would raise, and for the caution."""

CAUTION = "A screen is a poor judge of paint: put a sample on the wall before you buy."


@dataclass(frozen=True, slots=True)
class Choosing:
    surface: str
    """What is painted, as in "Hall walls"."""
    before: Option
    after: Option
    coats: tuple[Coat, Coat]
    """How the two look on the surface."""
    difference: tuple[float, float] | None
    """CAM16-UCS and CIEDE2000 under the reference light; None where nothing is to be compared."""
    light: Light
    """In which they are shown."""
    seen_as: str
    """What the new one is called in that light; empty under the reference light."""
    candidate: Candidate | None
    """What the new one does; None while that is not known."""
    told: str
    """How many there are, in which order."""
    search: str
    fault: str
    """What is wrong with the search."""
    findings: int | None
    """Of the decided house."""
    findings_after: int | None
    """Of the house with the new one; None while that is not known."""
    reach: Reach | None = None
    """What the whole house can be with each paint, once that is known."""


def option_rows(
    option: Option, coat: Coat, verdict: str, change: str, page: Page,
    *, tried: Tried = "untried",
) -> tuple[Row, Row]:  # fmt: skip
    """An option: swatch, name, code and the verdict; then LRV, undertone, and what it changes."""
    swatch, gap = page.swatch(coat), page.run(" ")
    lrv = f"LRV {option.lrv:.0f} " if option.lrv is not None else ""
    right = f"{page.look.glyphs.tried[tried]} {change}".strip()
    name = f"{option.name} {option.code}".strip() if page.width >= WIDE else option.name
    return (
        page.row((page.mark(), swatch, gap), name, verdict, strong=page.chosen),
        page.whole((gap, swatch, gap), f"{lrv}{option.undertone}", right, quiet=True),
    )


def harmony_text(harmony: float) -> str:
    """With one decimal, and never a minus before a zero."""
    return f"{round(harmony, 1) + 0.0:.1f}"


def choosing_head(view: Choosing, page: Page, height: int) -> list[Row]:
    """Title and order, search, the old paint beside the new one, and what the new one does."""
    margin = (page.run(" "),)
    colours = page.side_by_side(view.coats)
    return [
        page.title_row(view.surface, view.told),
        search_row(view.search, page),
        colours,
        colours,
        page.names_below((view.before.name, view.after.name)),
        page.row(margin, view.fault or _apart(view), strong=bool(view.fault), quiet=not view.fault),
        page.whole(margin, _weight(view), "", quiet=True),
        *(_outlook(view, page) if height >= TALL else ()),
    ]


LEAST_SHARE = 1e-6
"""So that a paint with no share has a column too."""


def strip_row(parts: Sequence[tuple[Coat, float]], width: int, page: Page) -> Row:
    """Colours that touch, each as wide as its share, and at least one column."""
    sizes = columns_of([max(share, LEAST_SHARE) for _, share in parts], max(width, len(parts)))
    return tuple(page.patch(coat, size) for (coat, _), size in zip(parts, sizes, strict=True))


def search_row(search: str, page: Page) -> Row:
    """The search as it stands, or what can be typed."""
    text = cut(search or EXAMPLES, page.width - 4)
    return page.run(" / ", strong=True), page.run(text, quiet=not search, strong=bool(search))


def _apart(view: Choosing) -> str:
    if view.light != "reference" and view.seen_as:
        return f"{BY_LIGHT[view.light]} it looks {view.seen_as}"
    if view.before.paint == view.after.paint:
        return "as it is now"
    if view.difference is None:
        return "nothing to compare"
    return f"difference {view.difference[0]:.1f}, CIEDE2000 {view.difference[1]:.1f}"


def _weight(view: Choosing) -> str:
    if view.findings_after is None:
        return "comparing what it does"
    return findings_text(view.findings, view.findings_after)


def _outlook(view: Choosing, page: Page) -> Iterator[Row]:
    """What would be found in the room with the new paint, and the caution."""
    here = f"Here then: {raised_text(view.candidate.parts)}." if view.candidate else ""
    yield from (page.line(text) for text in [*wrap(here, page.inner), "", ""][:2])
    yield page.blank()
    if view.reach is not None:
        yield from page.text(reach_text(view.reach, view.after.paint), quiet=True)
    yield from page.text(CAUTION, quiet=True)
    yield page.blank()


def reach_text(reach: Reach, paint: str | None) -> str:
    """Whether a paint leaves the unpainted rooms their best; empty where that is not known."""
    if paint is None or paint not in reach.at_most:
        return ""
    rooms = "the unpainted room" if reach.rooms == 1 else f"the {reach.rooms} unpainted rooms"
    if reach.at_least[paint] > min(reach.at_most.values()):
        return f"With this here, {rooms} cannot be as good as with another paint here."
    if reach.at_most[paint] <= min(reach.at_least.values()):
        return f"With this here, {rooms} can still be as good as they can get."
    return ""


def raised_text(checks: Iterable[str]) -> str:
    """The titles of the checks that would find something in the room."""
    return ", ".join(check_of(check).title.lower() for check in checks) or "nothing"


def empty_rows(search: str, count: int, page: Page) -> Sequence[Row]:
    if not count:
        text = "This house has no paints yet. Press d to take some from a deck, n to add one."
        return [page.blank(), *page.text(text)]
    return [
        page.blank(),
        *page.text(f'None of the {count} paints fits "{search}".'),
        *page.text("enter, then n adds it as a new paint; esc clears the search.", quiet=True),
    ]


def told_of(shown: int, count: int, *, ranked: bool) -> str:
    which = f"{shown} of {count}" if shown != count else f"{count} paints"
    return f"{which}, best first" if ranked else f"{which} by name"
