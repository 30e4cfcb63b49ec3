"""Choosing a paint for a surface: the paints as a list, and the old one beside the new one."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from housemap.checks import check_of
from housemap.choose.house_problem import Reach
from housemap.choose.rank import Candidate
from housemap.model.house import Light
from housemap.model.samples import Tried
from housemap.tui.render.cells import Row, cut, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, names_below, patch, side_by_side, title_row
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
    """Everything that the head of the list shows."""

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
    option: Option,
    coat: Coat,
    verdict: str,
    change: str,
    line: Line,
    *,
    tried: "Tried" = "untried",
) -> tuple[Row, Row]:
    """An option: swatch, name, code and the verdict; then LRV, undertone, and what it changes."""
    swatch = patch(coat, SWATCH, line.look)
    gap = line.run(" ")
    lrv = f"LRV {option.lrv:.0f} " if option.lrv is not None else ""
    right = f"{line.look.glyphs.tried[tried]} {change}".strip()
    lead = line.mark(), swatch, gap
    name = f"{option.name} {option.code}".strip() if line.width >= WIDE else option.name
    return (
        line.row(lead, name, verdict, strong=line.chosen),
        line.whole((gap, swatch, gap), f"{lrv}{option.undertone}", right, quiet=True),
    )


def change_text(before: int | None, after: int | None) -> str:
    """How many findings it adds or takes away, as in "2 fewer"."""
    if before is None or after is None:
        return ""
    if before == after:
        return "no change"
    return f"{abs(after - before)} {'more' if after > before else 'fewer'}"


def findings_text(before: int | None, after: int | None) -> str:
    """As in "18 findings, 2 fewer"."""
    if after is None:
        return ""
    count = f"{after} finding{'' if after == 1 else 's'}"
    return ", ".join(filter(None, (count, change_text(before, after))))


def harmony_text(harmony: float) -> str:
    """With one decimal, and never a minus before a zero."""
    return f"{round(harmony, 1) + 0.0:.1f}"


def choosing_head(view: Choosing, look: Look, width: int, height: int) -> list[Row]:
    """Title and order, search, the old paint beside the new one, and what the new one does."""
    line = Line(look, width)
    margin = (line.run(" "),)
    colours = side_by_side(view.coats, width, look)
    return [
        title_row(view.surface, view.told, line),
        search_row(view.search, line),
        colours,
        colours,
        names_below((view.before.name, view.after.name), width, look),
        line.row(margin, view.fault or _apart(view), strong=bool(view.fault), quiet=not view.fault),
        line.whole(margin, _weight(view), "", quiet=True),
        *(_outlook(view, Page(look, width)) if height >= TALL else ()),
    ]


def strip_row(parts: Sequence[tuple[Coat, float]], width: int, look: Look) -> Row:
    """Colours that touch, each as wide as its share, and at least one column."""
    sizes = proportions([share for _, share in parts], max(width, len(parts)))
    return tuple(patch(coat, size, look) for (coat, _), size in zip(parts, sizes, strict=True))


def proportions(shares: Sequence[float], columns: int) -> list[int]:
    """Whole columns for shares, at least one each, that add up; at least one for each is there."""
    spare = columns - len(shares)
    whole = sum(shares) or 1.0
    exact = [spare * share / whole for share in shares]
    sizes = [int(size) for size in exact]
    order = sorted(range(len(exact)), key=lambda i: sizes[i] - exact[i])
    for place in order[: spare - sum(sizes)]:
        sizes[place] += 1
    return [size + 1 for size in sizes]


def search_row(search: str, line: Line) -> Row:
    """The search as it stands, or what can be typed."""
    return (
        line.run(" / ", strong=True),
        line.run(
            cut(search or EXAMPLES, line.width - 4),
            quiet=not search,
            strong=bool(search),
        ),
    )


def _apart(view: Choosing) -> str:
    if view.light != "reference" and view.seen_as:
        return f"{BY_LIGHT[view.light]} it looks {view.seen_as}"
    if view.before.paint == view.after.paint:
        return "as it is now"
    if view.difference is None:
        return "nothing to compare"
    return f"difference {view.difference[0]:.1f}, CIEDE2000 {view.difference[1]:.1f}"


def _weight(view: Choosing) -> str:
    """The findings of the house with the new one."""
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


def empty_rows(search: str, count: int, look: Look, width: int) -> Sequence[Row]:
    """What stands in the place of the list when nothing was found."""
    page = Page(look, width)
    if not count:
        text = "This house has no paints yet. Press d to take some from a deck, n to add one."
        return [page.blank(), *page.text(text)]
    return [
        page.blank(),
        *page.text(f'None of the {count} paints fits "{search}".'),
        *page.text("enter, then n adds it as a new paint; esc clears the search.", quiet=True),
    ]


def told_of(shown: int, count: int, *, ranked: bool) -> str:
    """How many paints there are, and in which order."""
    which = f"{shown} of {count}" if shown != count else f"{count} paints"
    return f"{which}, best first" if ranked else f"{which} by name"
