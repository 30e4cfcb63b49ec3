"""Beside the walk: where one stands, what is in view and how far apart it is, what was found."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from housemap.model.house import House
from housemap.plan.view import Camera
from housemap.tui.render.findings import matter_rows
from housemap.tui.render.listing import Line, patch
from housemap.tui.render.look import Look
from housemap.tui.render.page import NARROW, SWATCH, Page
from housemap.tui.render.runs import Row
from housemap.tui.render.shades import Shades
from housemap.tui.render.standing import way_arrow
from housemap.tui.render.walk_colours import coat_on, paint_on

if TYPE_CHECKING:
    from housemap.checks import Matter, Report
    from housemap.colorimetry.undertone import Undertone
    from housemap.study import Coat

Place = tuple[str, str]
"""A room and a surface."""

LEAST_SHARE = 0.005
"""What takes less of the view is not listed."""
LEAST_WALL, MOST_WALLS = 0.03, 3
"""Of the walls in view, so many of the largest are compared, none smaller than this."""
SHARE, LRV, APART = 6, 5, 7
"""Columns of the numbers."""


@dataclass(frozen=True, slots=True)
class WalkView:
    """Everything that stands beside the walk."""

    shades: Shades
    report: "Report | None"
    """Of this very house, or None while it is being made."""
    camera: Camera
    shares: Mapping[Place, float]
    """Of the view, the largest first."""
    picked: Place | None
    """What a paint would be chosen for."""
    matters: "Sequence[Matter]"
    """What was found and can be seen here."""
    key: tuple[object, ...] | None
    """Of the finding that was asked for last."""
    progress: str
    look: Look

    @property
    def house(self) -> House:
        return self.shades.house

    @property
    def eye(self) -> str:
        return self.camera.room

    def listed(self) -> list[Place]:
        """What can be picked."""
        return [place for place, share in self.shares.items() if share >= LEAST_SHARE]

    def told(self, most: int) -> list[Place]:
        """The largest of them, and the picked one."""
        listed = self.listed()
        picked = listed.index(self.picked) if self.picked in listed else 0
        return listed[:most] if picked < most else [*listed[: most - 1], listed[picked]]


COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


def walk_head(view: WalkView, width: int) -> Iterator[Row]:
    """Where one stands and looks (the arrow as on the map, the words by true north), and how far
    one has come.
    """  # noqa: D205 - one sentence
    line, camera, glyphs = Line(view.look, width), view.camera, view.look.glyphs
    name = view.house.rooms[view.eye].name
    yield line.row((line.run(" "),), name, view.progress, strong=True)
    arrow = way_arrow(camera.toward_deg, glyphs.ways)
    words = COMPASS[round((camera.toward_deg - view.house.north_deg) / 45) % len(COMPASS)]
    visit = view.house.visits.get(view.eye)
    ticked = f"{glyphs.tick} ticked off" if visit else ""
    yield line.row((line.run(" "),), f"{arrow} looking {words}", ticked, quiet=True)
    if visit and visit.notes and width >= NARROW:
        yield line.row((line.run(" "),), visit.notes, quiet=True)


def walk_rows(view: WalkView, width: int, most: int) -> Iterator[Row]:
    """At most so many surfaces in view, how far apart its walls are, and what was found."""
    page, line = Page(view.look, width), Line(view.look, width)
    if not view.shares:
        return
    numbers = f"{'share':>{SHARE}}{'LRV':>{LRV}} "
    yield from _heading("in view", numbers, page)
    told = view.told(most)
    for place in told:
        yield from _place_rows(view, place, width)
    if len(told) < len(view.listed()):
        yield page.line(f"and {len(view.listed()) - len(told)} more: p picks the next", quiet=True)
    yield from _differences(view, page, line)
    yield from _found(view, page, width)


def _heading(left: str, right: str, page: Page) -> Iterator[Row]:
    space = page.width - 1 - len(left) - len(right)
    yield from page.heading(f"{left}{' ' * max(space, 1)}{right}", tidy=False)


def _place_rows(view: WalkView, place: Place, width: int) -> Iterator[Row]:
    """Swatch, surface, share and LRV; then the paint or finish with its undertone."""
    line = Line(view.look, width, chosen=place == view.picked)
    swatch = patch(coat_on(view.shades, *place, view.eye), SWATCH, view.look)
    room, surface = place
    title = f"{view.house.rooms[room].name} {surface.replace('accent', 'accent wall')}"
    name, lrv = _entity(view, place)
    numbers = f"{f'{100 * view.shares[place]:.0f} %':>{SHARE}}{lrv:>{LRV}}"
    tone = _undertone(view, place)
    gap = line.run(" ")
    yield line.row((line.mark(), swatch, gap), title, numbers, strong=line.chosen)
    words = ", ".join(filter(None, (name, tone.name if tone else "")))
    yield line.row((gap, swatch, gap), words, quiet=True)


def _entity(view: WalkView, place: Place) -> tuple[str, str]:
    """Name and LRV of the paint or finish of a place, as far as they are known."""
    room, surface = view.house.rooms[place[0]], place[1]
    if surface == "floor":
        finish = view.house.finishes.get(room.floor or "")
        coat = _coat(view, place)
        return (finish.name if finish else "no finish", f"{coat.swatch.lrv:.0f}" if coat else "")
    paint_id = paint_on(room, surface)
    paint = view.house.paints.get(paint_id or "")
    lrv = view.shades.plain.lrv.get(paint_id or "")
    return (paint.name if paint else "no paint yet", "" if lrv is None else f"{lrv:.0f}")


def _undertone(view: WalkView, place: Place) -> "Undertone | None":
    coat = _coat(view, place)
    if coat is not None:
        return view.shades.tone(coat, eye=view.eye)
    paint = None if place[1] == "floor" else paint_on(view.house.rooms[place[0]], place[1])
    return view.shades.undertone(place[0], place[1], paint) if paint else None


def _coat(view: WalkView, place: Place) -> "Coat | None":
    """As the report knows it; None while it does not."""
    part = view.report.study.rooms.get(place[0]) if view.report else None
    return part.coat_on(place[1]) if part else None


def _differences(view: WalkView, page: Page, line: Line) -> Iterator[Row]:
    """Between the largest walls in view that differ in paint, as they look from here."""
    walls = [p for p, share in view.shares.items() if _is_wall(p) and share >= LEAST_WALL]
    known = [coat for place in walls if (coat := _coat(view, place))]
    largest = {coat.swatch.key: coat for coat in reversed(known)}
    coats = [coat for coat in known if coat in largest.values()][:MOST_WALLS]
    if len(coats) < 2:  # noqa: PLR2004 - two make a difference
        return
    yield from _heading("walls apart", f"{'UCS':>{APART}}{'LRV':>{LRV}} ", page)
    for first, second in combinations(coats, 2):
        apart = view.shades.apart(view.eye, first, second) or 0.0
        step = second.swatch.lrv - first.swatch.lrv
        signed = f"{step:+.0f}".replace("-", view.look.glyphs.minus) if round(step) else "0"
        names = " / ".join(_short(view, coat) for coat in (first, second))
        yield line.row((line.run(" "),), names, f"{apart:{APART}.1f}{signed:>{LRV}}")


def _is_wall(place: Place) -> bool:
    return place[1] == "walls" or place[1].startswith("accent")


def _short(view: WalkView, coat: "Coat") -> str:
    name = view.house.rooms[coat.room].name
    return name if coat.surface == "walls" else f"{name} {coat.surface}"


def _found(view: WalkView, page: Page, width: int) -> Iterator[Row]:
    if view.report is None:
        yield from page.heading("looking for findings")
        return
    count = len(view.matters)
    yield from page.heading("found in this view" if count else "nothing found in this view")
    for matter in view.matters:
        line = Line(view.look, width, chosen=view.key in {f.key for f in matter.findings})
        yield from matter_rows(matter, view.house, line)
