"""Choosing a paint for a surface: the paints as a list, and the old one beside the new one."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rich.cells import cell_len

from housemap.checks.finding import SEVERITY_COST
from housemap.choose.paint_query import search_words
from housemap.model.house import House, Light
from housemap.tui.render.cells import Row, cut, wrap
from housemap.tui.render.look import Look
from housemap.tui.render.page import SWATCH, Line, Page, names_below, patch, side_by_side
from housemap.tui.render.shades import Coat, colours_of

if TYPE_CHECKING:
    from housemap.checks import Report
    from housemap.choose.house_problem import Reach
    from housemap.choose.rank import Candidate
    from housemap.colorimetry.difference import Difference
    from housemap.colorimetry.facts import ColourFacts
    from housemap.model.samples import Tried


WIDE = 44
"""Columns from which on a paint's code is in the list."""

TALL = 30
"""Rows from which on there is place for what a paint would raise, and for the caution."""

CAUTION = "A screen is a poor judge of paint: put a sample on the wall before you buy."


@dataclass(frozen=True, slots=True)
class Option:
    """A paint that can be chosen, as it stands in the list; `paint` is None for none at all."""

    paint: str | None
    name: str
    code: str
    lrv: float | None
    undertone: str
    words: str
    """What is searched."""
    facts: "ColourFacts | None" = None


NO_PAINT = Option(None, "no paint", "", None, "leave it unpainted", search_words("no paint bare"))


@dataclass(frozen=True, slots=True)
class Choosing:
    """Everything that the head of the list shows."""

    surface: str
    """As in "Hall walls"."""
    before: Option
    after: Option
    coats: tuple[Coat, Coat]
    """How the two look on the surface."""
    difference: "Difference | None"
    """Under the reference light; None where there is nothing to compare."""
    light: Light
    """In which they are shown."""
    candidate: "Candidate | None"
    """What the new one does; None while that is not known."""
    raised: str
    """What would be found in the room; empty while that is not known."""
    told: str
    """How many there are, in which order."""
    search: str
    fault: str
    """What is wrong with the search."""
    findings: int | None
    """Of the decided house."""
    to_fill: int = 0
    """Rooms that are unpainted beside this one, once it is known what the whole house can be."""
    house: str = ""
    """How many problems the house has at best with the new one."""


def options_of(house: House, report: "Report | None") -> tuple[Option, ...]:
    """Every paint of the house by name, then no paint."""
    colours = colours_of(house, report)
    swatches = report.study.swatches if report else {}
    found = []
    for paint_id, paint in house.paints.items():
        swatch = swatches.get(("Paint", paint_id))
        tone = swatch.colour.undertone if swatch and swatch.entity == paint else None
        facts = swatch.colour if swatch and swatch.entity == paint else None
        text = (facts.notation.text,) if facts else ()
        said = (*text, tone.words, tone.family, tone.temperature) if tone else ()
        words = search_words(paint.name, paint.code, paint_id, paint.deck, *said)
        lrv, undertone = colours.lrv.get(paint_id), tone.words if tone else ""
        found.append(Option(paint_id, paint.name, paint.code, lrv, undertone, words, facts))
    return *sorted(found, key=lambda option: option.name.casefold()), NO_PAINT


class SearchedOptions:
    """Options as a search sees them, a row each."""

    def __init__(self, options: Sequence[Option]) -> None:
        import numpy as np  # noqa: PLC0415 - nothing is searched before the first frame

        nowhere = (np.nan, np.nan, np.nan)
        facts = [option.facts for option in options]
        notations = [each and each.notation for each in facts]
        self.words = [option.words for option in options]
        self.lrv = np.array([np.nan if o.lrv is None else o.lrv for o in options])
        self.hvc = np.array([(n.hue100, n.value, n.chroma) if n else nowhere for n in notations])
        self.lab100 = np.array([each.lab100 if each else nowhere for each in facts])
        self.families = [each.undertone.family if each else "" for each in facts]
        self.temperatures = [each.undertone.temperature if each else "" for each in facts]


def best_first(
    options: Iterable[Option], ranks: Mapping[str | None, tuple[object, ...]]
) -> list[Option]:
    """The ranked ones in their order, those without a rank as they were, and no paint last."""
    return sorted(
        options,
        key=lambda o: (o.paint is None, o.paint not in ranks, ranks.get(o.paint, ())),
    )


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


def verdict_of(candidate: "Candidate | None") -> str:
    """One word on a paint on its surface: as grave as the worst that would be found there."""
    if candidate is None:
        return ""
    worst = max(candidate.parts.values(), default=0.0)
    if worst >= SEVERITY_COST["fault"]:
        return "clashes"
    return "look again" if worst >= SEVERITY_COST["warn"] else "fits"


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
        line.whole(margin, *_weight(view), quiet=True),
        *(_outlook(view, Page(look, width)) if height >= TALL else ()),
    ]


def title_row(title: str, told: str, line: Line) -> Row:
    """A title, and at the right what is told of the list below."""
    room = line.width - cell_len(told) - 3
    left = (line.run(" "), line.run(cut(title, room, line.look.glyphs.more), strong=True))
    space = line.width - sum(cell_len(run.text) for run in left) - cell_len(told) - 1
    return *left, line.run(" " * max(space, 0)), line.run(f"{told} ", quiet=True)


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
            cut(search or "name, code, warm, lrv 55-70", line.width - 4),
            quiet=not search,
            strong=bool(search),
        ),
    )


def _apart(view: Choosing) -> str:
    if view.before.paint == view.after.paint:
        return "as it is now"
    apart = view.difference
    if apart is None:
        return "nothing to compare"
    if view.light != "reference":
        return f"difference {apart.ucs:.1f} in reference light"
    return f"difference {apart.ucs:.1f}, CIEDE2000 {apart.de00:.1f}"


def _weight(view: Choosing) -> tuple[str, str]:
    """The findings of the house with the new one, and how bad it is here."""
    one = view.candidate
    if one is None:
        return "comparing what it does", ""
    problems = f"problems here {one.cost:.0f}" if one.cost else ""
    return findings_text(view.findings, one.findings_after), problems


def _outlook(view: Choosing, page: Page) -> Iterator[Row]:
    """What would be found in the room with the new paint, and the caution."""
    lines = wrap(f"Here then: {view.raised}." if view.raised else "", page.inner)
    yield from (page.line(text) for text in [*lines, "", ""][:2])
    yield page.blank()
    if view.house:
        yield from page.text(_house_words(view), quiet=True)
    yield from page.text(CAUTION, quiet=True)
    yield page.blank()


def _house_words(view: Choosing) -> str:
    rooms = view.to_fill
    others = "the unpainted room gets its" if rooms == 1 else f"{rooms} unpainted rooms get their"
    return f"House: problems {view.house} if this goes here and {others} best match."


def reach_text(reach: "Reach | None", paint: str | None) -> str:
    """As in "8", or "8 to 9" where only that much is known."""
    if reach is None or paint is None or paint not in reach.at_most:
        return ""
    least, most = f"{reach.at_least[paint]:.0f}", f"{reach.at_most[paint]:.0f}"
    return most if least == most else f"{least} to {most}"


def raised_text(checks: Iterable[str]) -> str:
    """The titles of the checks that would find something in the room."""
    from housemap.checks import check_of  # noqa: PLC0415 - what was weighed has been checked

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
        *page.text("esc clears the search.", quiet=True),
    ]


def told_of(shown: int, count: int, *, weighed: bool) -> str:
    """How many paints there are, and in which order."""
    which = f"{shown} of {count}" if shown != count else f"{count} paints"
    return f"{which}, best first" if weighed else f"{which} by name"
