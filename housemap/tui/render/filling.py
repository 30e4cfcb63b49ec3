"""Filling the house: how far the search is, and each room's wall paint before and after."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from housemap.model.house import House
from housemap.tui.render.choosing import change_text, title_row
from housemap.tui.render.listing import Line, patch
from housemap.tui.render.look import Look
from housemap.tui.render.page import Page
from housemap.tui.render.runs import Row

if TYPE_CHECKING:
    from housemap.choose.optimiser.problem import Progress
    from housemap.tui.render.shades import Shades

_HALF = 3
"""Columns of each of the two swatches of a room."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked for."""

    every: bool = False
    """All rooms but the kept ones; else only those without a wall paint."""
    kept: frozenset[str] = frozenset()
    limit: int | None = None
    """Of distinct wall paints."""


@dataclass(frozen=True, slots=True)
class Fill:
    """How far the search has come."""

    progress: "Progress | None" = None
    house: House | None = None
    """The house so filled; None as long as no choice is known."""
    findings: tuple[int, int] | None = None
    """Before and after, once reported."""
    fault: str = ""
    """Why there is nothing to choose."""
    running: bool = True


def fill_head(wish: Wish, fill: Fill, look: Look, width: int) -> list[Row]:
    line, page = Line(look, width), Page(look, width)
    rooms = "all rooms but the kept ones" if wish.every else "the rooms without a wall paint"
    limit = "any number of wall paints" if wish.limit is None else _at_most(wish.limit)
    return [
        title_row("Fill the house", "searching" if fill.running else "", line),
        *page.text(rooms, quiet=True),
        *page.text(limit, quiet=True),
        page.blank(),
        *page.text(_told(fill)),
        *page.text(_findings(fill, look)),
        *page.text(
            "Judged in every light, by rooms and pairs; lone accents and crowded views are told of"
            " the result. A screen is a poor judge of paint: sample before you buy.",
            quiet=True,
        ),
        page.blank(),
    ]


def _at_most(limit: int) -> str:
    return f"at most {limit} wall paint{'' if limit == 1 else 's'}"


def _told(fill: Fill) -> str:
    progress = fill.progress
    if fill.fault:
        return fill.fault
    if progress is None or not progress.assignment:
        return "looking for a first choice"
    return progress_text(progress)


def progress_text(progress: "Progress") -> str:
    """The cost of a choice, and how good it provably is."""
    if progress.gap == 0.0:
        return f"cost {progress.cost:.1f}: no choice of these paints costs less (proven)"
    gap = f"at most {100 * progress.gap:.1f} % above the least possible"
    return f"cost {progress.cost:.1f}, {gap}, after {progress.seconds:.1f} s"


def _findings(fill: Fill, look: Look) -> str:
    return f"findings {change_text(*fill.findings, look)}" if fill.findings else ""


def fill_rows(
    room: str, before: "Shades", after: House | None, wish: Wish, line: Line
) -> Sequence[Row]:
    """A room: its wall colour before and after, touching, and the paints' names."""
    house = before.house
    old, new = _walls(house, room), _walls(after, room) if after else None
    swatches = (
        patch(before.on(room, "walls", old), _HALF, line.look),
        patch(before.on(room, "walls", new), _HALF, line.look),
    )
    changed = after is not None and new != old
    state = "kept" if room in wish.kept else "new" if changed else ""
    name = house.rooms[room].name
    return (
        line.row((line.mark(), *swatches, line.run(" ")), name, state, strong=line.chosen),
        line.row(
            (line.run(" "), *swatches, line.run(" ")),
            _names(house, old, new, line.look),
            "",
            quiet=True,
        ),
    )


def _walls(house: House, room: str) -> str | None:
    return house.rooms[room].paints.walls if room in house.rooms else None


def _names(house: House, old: str | None, new: str | None, look: Look) -> str:
    before = house.paints[old].name if old else "bare"
    if new is None or new == old:
        return before
    return f"{before} {look.glyphs.to} {house.paints[new].name}"
