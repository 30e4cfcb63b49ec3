"""One page on what a choice of paints costs: the checks that make it up, and their shares."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from housemap.checks.costs import MOST_EXCESS, SEVERITY_COST
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row

if TYPE_CHECKING:
    from housemap.checks import Report

INTRODUCTION = (
    "Where paints are chosen for a whole house (fill, a palette, the best that the house can be),"
    " the cost of a choice is what the checks would find fault with, and nothing else: in each"
    " room by itself, and in each pair of rooms that see each other. For each distinct wall paint"
    " a little is added, so that of two equal choices the one with fewer paints is taken."
)
LIGHT = (
    "It is judged under the reference light and, once light is known, by day and in the evening:"
    " what is found in several lights counts once, where it costs most."
)
BOUND = (
    "Proven means: no choice of the paints that were looked at costs less. Otherwise the bound"
    " tells how much less a choice could cost at most. For a deck the bound holds for the paints"
    " that were weighed, not for those that were screened out."
)
RANK = (
    "The cost beside a paint in the chooser is of its room alone: all that would be found there,"
    " under each light that has been computed. House is the other cost, of the whole house."
)


def cost_rows(report: "Report | None", look: Look, width: int) -> list[Row]:
    page = Page(look, width)
    return [
        *page.text(INTRODUCTION),
        page.blank(),
        *page.text(_scale()),
        page.blank(),
        *page.text(LIGHT),
        *_shares(report, page),
        *page.heading("What counts only in the findings"),
        *page.text(", ".join(_titles(counted=False))),
        *page.heading("How good it is"),
        *page.text(BOUND),
        page.blank(),
        *page.text(RANK),
    ]


def _scale() -> str:
    from housemap.choose.house_problem import PAINT_COST  # noqa: PLC0415 - numpy, when the page is wanted

    severities = ", ".join(f"a {name} {cost:g}" for name, cost in SEVERITY_COST.items())
    return (
        f"Costs: {severities}, each raised up to {1 + MOST_EXCESS:g} times by how far the value"
        f" lies beyond its limit; near misses and undertones have a scale of their own, told by"
        f" how close and how strong. A distinct wall paint {PAINT_COST:g}. These numbers are our"
        " assumption."
    )


def _titles(*, counted: bool) -> Iterator[str]:
    from housemap.checks import CHECKS  # noqa: PLC0415 - as in _scale
    from housemap.choose.house_problem import counts  # noqa: PLC0415

    return (check.title for check in CHECKS if counts(check) == counted)


def _shares(report: "Report | None", page: Page) -> Iterator[Row]:
    """The checks that count, with what each costs in the house as it is, once light is known."""
    yield from page.heading("What counts")
    if report is None or report.deep is None:
        yield from page.text(", ".join(_titles(counted=True)))
        return
    from housemap.checks import CHECKS  # noqa: PLC0415 - as in _scale
    from housemap.choose.house_problem import PAINT_COST, counts, parts_of  # noqa: PLC0415

    parts, house = parts_of(report), report.house
    paints = len({room.paints.walls for room in house.rooms.values()} - {None})
    counted = [check for check in CHECKS if counts(check)]
    costs = [(check.title, parts.get(check.id, 0.0)) for check in counted]
    costs.append((f"{paints} distinct wall paints", PAINT_COST * paints))
    whole = sum(cost for _, cost in costs)
    for title, cost in sorted(costs, key=lambda each: -each[1]):
        share = f", {100 * cost / whole:.0f} %" if cost else ""
        yield from page.text(f"{cost:.1f}{share}: {title}")
    yield from page.text(f"{whole:.1f} in all: the house as it is decided now.")
