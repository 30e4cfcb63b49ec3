"""A picture as rows of cells: two pixels a cell in colour, lines where there is no colour."""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import combinations
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from housemap.checks import Cause, Finding, Report, causes_of
from housemap.model.geometry import cardinal
from housemap.model.house import House, Room
from housemap.plan.floor_plan import short_wall_name
from housemap.plan.pixels import BARE as BARE_RGB
from housemap.plan.pixels import Pixels, Rgb, in_view, painted_as, rgb_of, unpainted
from housemap.plan.raster import Face, View
from housemap.plan.view import Camera
from housemap.study import Coat as PaintedCoat
from housemap.tui.map.picture import way_arrow
from housemap.tui.render.cells import Ink, Row, Run
from housemap.tui.render.look import Look
from housemap.tui.render.page import NARROW, Page, signed
from housemap.tui.render.shades import BARE, Coat, Shades
from housemap.tui.tasks.findings_drawing import matter_rows
from housemap.workbench.choosing import Target
from housemap.workbench.walker import Walker

UPPER = "▀"
PIXELS = 2
"""In the height of a cell."""


def picture_rows(pixels: Pixels, look: Look) -> list[Row]:
    """Rows of an even number of pixel rows, as few runs as there are changes of colour.

    Equal pixels are a space on their colour. Where only ASCII may be used, so is every cell, in
    the colour of its upper pixel.
    """
    codes = pixels.astype(np.int64) @ np.array([1 << 16, 1 << 8, 1])
    upper, lower = codes[0::PIXELS], codes[1::PIXELS]
    pairs = upper << 24 | (upper if look.glyphs.ascii else lower)
    changes = pairs[:, 1:] != pairs[:, :-1]
    return [
        tuple(_runs(row, [0, *(np.flatnonzero(changed) + 1).tolist()]))
        for row, changed in zip(pairs, changes, strict=True)
    ]


def _runs(row: NDArray[np.int64], starts: list[int]) -> Iterator[Run]:
    """`starts`: the columns at which another run begins."""
    ends = [*starts[1:], len(row)]
    for pair, start, end in zip(row[starts].tolist(), starts, ends, strict=True):
        char, ink = _cell(pair)
        yield Run(char * (end - start), ink)


@lru_cache(maxsize=16_384)
def _cell(pair: int) -> tuple[str, Ink]:
    upper, lower = pair >> 24, pair & 0xFFFFFF
    if upper == lower:
        return " ", Ink(None, f"#{lower:06x}")
    return UPPER, Ink(f"#{upper:06x}", f"#{lower:06x}")


def outline_rows(view: View, look: Look) -> list[Row]:
    """The edges between surfaces as lines, from a view twice as many pixels high as rows.

    A cell shows what meets at its lower right corner.
    """
    face = np.pad(view.face[::PIXELS], ((0, 1), (0, 1)), mode="edge")
    right = np.pad(face[:, 1:] != face[:, :-1], ((0, 1), (0, 0)))
    under = np.pad(face[1:] != face[:-1], ((0, 0), (0, 1)))
    joins = right[:-2] * NORTH + right[1:-1] * SOUTH + under[:, :-2] * WEST + under[:, 1:-1] * EAST
    ink = Ink(look.greys.text, look.greys.panel)
    lines = look.glyphs.lines
    return [(Run("".join(lines[join] for join in row), ink),) for row in joins.tolist()]


NORTH, EAST, SOUTH, WEST = 1, 2, 4, 8
"""What a line joins; see `Glyphs.lines`."""


# The colour of every face of a view, and of what is in it, as the eye in the walk sees them.


def has_finish(surface: str) -> bool:
    """Whether it has a finish instead of a paint: the floor, and furniture."""
    return surface == "floor" or surface.startswith("piece ")


def finish_on(room: Room, surface: str) -> str | None:
    """The id of the finish of the floor, or of a piece of furniture."""
    return room.floor if surface == "floor" else room.pieces[surface.removeprefix("piece ")].finish


def coat_on(shades: Shades, room: str, surface: str, eye: str) -> Coat:
    """What is on a surface (also floor and furniture), as seen from the room `eye`."""
    if has_finish(surface):
        finish = finish_on(shades.house.rooms[room], surface)
        return shades.finish(room, surface, finish, eye=eye) if finish else BARE
    return shades.on(room, surface, Target(room, surface).paint_in(shades.house), eye=eye)


def face_colours(shades: Shades, walker: Walker, faces: Sequence[Face], look: Look) -> list[Rgb]:
    colours, eye, graph = [], walker.camera.room, walker.elevations.graph
    for face in faces:
        place = painted_as(graph, face)
        if place is None:
            colours.append(unpainted(face, shades.light))
        else:
            colour = coat_on(shades, *place, eye).colour or look.greys.bare
            colours.append(rgb_of(colour) if colour else BARE_RGB)
    return colours


# Which of the findings of a house can be seen in a view.

UNSEEN = frozenset({"", "fixed"})
"""Surfaces that a view does not draw; their room in view is enough."""


def matters_in(report: Report, view: View) -> tuple[Cause, ...]:
    """Those with every place in view, gathered by cause, gravest first."""
    places = set(in_view(view))
    wrong = causes_of(f for f in report.findings if f.rooms and is_seen(f, places))
    return *wrong, *causes_of(f for f in report.to_do if is_seen(f, places))


def is_seen(finding: Finding, places: set[tuple[str, str]]) -> bool:
    rooms = {room for room, _ in places}
    return all(
        (place.room, place.surface) in places or (place.surface in UNSEEN and place.room in rooms)
        for place in finding.places
    )


# Beside the walk: where one stands, what is in view and how far apart it is, what was found.

Place = tuple[str, str]
"""A room and a surface."""

LEAST_SHARE = 0.005
"""What takes less of the view is not listed."""
LEAST_WALL, MOST_WALLS = 0.03, 3
"""Of the walls in view, so many of the largest are compared, none smaller than this."""
SHARE, LRV, APART = 6, 5, 7
"""Columns of the numbers."""


class WalkView(NamedTuple):
    shades: Shades
    report: Report | None
    """Of this very house, or None while it is being made."""
    camera: Camera
    shares: Mapping[Place, float]
    """Of the view, the largest first."""
    picked: Place | None
    """What a paint would be chosen for."""
    matters: Sequence[Cause]
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
        return [place for place, share in self.shares.items() if share >= LEAST_SHARE]

    def shown(self, most: int) -> list[Place]:
        """The largest of them, and the picked one."""
        listed = self.listed()
        picked = listed.index(self.picked) if self.picked in listed else 0
        return listed[:most] if picked < most else [*listed[: most - 1], listed[picked]]


def walk_head(view: WalkView, width: int) -> Iterator[Row]:
    """Where one stands and looks (the arrow as on the map, the words by true north), and how far
    one has come.
    """  # noqa: D205 - one sentence
    line, camera, glyphs = Page(view.look, width), view.camera, view.look.glyphs
    name = view.house.rooms[view.eye].name
    yield line.row((line.run(" "),), name, view.progress, strong=True)
    arrow = way_arrow(camera.toward_deg, glyphs.ways)
    words = cardinal(camera.toward_deg - view.house.north_deg)
    visit = view.house.visits.get(view.eye)
    ticked = f"{glyphs.visited} ticked off" if visit else ""
    yield line.row((line.run(" "),), f"{arrow} looking {words}", ticked, quiet=True)
    if visit and visit.notes and width >= NARROW:
        yield line.row((line.run(" "),), visit.notes, quiet=True)


def walk_rows(view: WalkView, width: int, most: int) -> Iterator[Row]:
    """At most so many surfaces in view, how far apart its walls are, and what was found."""
    page = Page(view.look, width)
    if not view.listed():
        return
    numbers = f"{'share':>{SHARE}}{'LRV':>{LRV}} "
    yield from _heading("in view", numbers, page)
    shown = view.shown(most)
    for place in shown:
        yield from _place_rows(view, place, width)
    if len(shown) < len(view.listed()):
        yield page.line(f"and {len(view.listed()) - len(shown)} more: . picks the next", quiet=True)
    yield from _kept_here(view, page)
    yield from _differences(view, page)
    yield from _found(view, page, width)


def _heading(left: str, right: str, page: Page) -> Iterator[Row]:
    space = page.width - 1 - len(left) - len(right)
    yield from page.heading(f"{left}{' ' * max(space, 1)}{right}", tidy=False)


def _place_rows(view: WalkView, place: Place, width: int) -> Iterator[Row]:
    """Swatch, surface, share and LRV; then the paint or finish with its undertone."""
    line, (room, surface) = Page(view.look, width, chosen=place == view.picked), place
    gap, swatch = line.run(" "), line.swatch(coat_on(view.shades, *place, view.eye))
    kind, _, part = surface.partition(" ")
    words = short_wall_name(view.house, room, part) if kind == "accent" else part or surface
    name, lrv, tone = _entity(view, place)
    numbers = f"{f'{100 * view.shares[place]:.0f} %':>{SHARE}}{lrv:>{LRV}}"
    title = f"{view.house.rooms[room].name} {words}"
    lead = line.mark(), swatch, gap
    yield line.row(lead, title, numbers, strong=line.chosen, tidy=False)
    yield line.row((gap, swatch, gap), ", ".join(filter(None, (name, tone))), quiet=True)


def _kept_here(view: WalkView, page: Page) -> Iterator[Row]:
    """What is kept in the room one stands in and has no place in the picture, such as a sofa."""
    room = view.house.rooms[view.eye]
    seen = {finish_on(view.house.rooms[r], of) for r, of in view.shares if has_finish(of)}
    kept = [each for each in dict.fromkeys(room.fixed) if each not in seen]
    if kept:
        yield from _heading("kept here", "", page)
    for each in kept:
        swatch = view.report.study.swatches.get(("Finish", each)) if view.report else None
        lrv = f"{swatch.lrv:.0f} " if swatch else ""
        coat = view.shades.finish(view.eye, "fixed", each)
        lead = page.run(" "), page.swatch(coat), page.run(" ")
        yield page.row(lead, view.house.finishes[each].name, lrv)


def _entity(view: WalkView, place: Place) -> tuple[str, str, str]:
    """Name, LRV and undertone of the paint or finish of a place, as far as they are known."""
    house, shades, coat = view.house, view.shades, _coat(view, place)
    tone = shades.tone(coat, eye=view.eye) if coat else ""
    if has_finish(place[1]):
        finish = house.finishes.get(finish_on(house.rooms[place[0]], place[1]) or "")
        lrv = f"{coat.swatch.lrv:.0f}" if coat else ""
        return finish.name if finish else "no finish", lrv, tone
    paint_id = Target(*place).paint_in(house)
    if paint_id is None:
        return "no paint yet", "", tone
    lrv100 = shades.lrv_of(paint_id)
    lrv = "" if lrv100 is None else f"{lrv100:.0f}"
    return house.paints[paint_id].name, lrv, tone or shades.undertone(*place, paint_id)


def _coat(view: WalkView, place: Place) -> PaintedCoat | None:
    """As the report knows it; None while it does not."""
    part = view.report.study.rooms.get(place[0]) if view.report else None
    return part.coat_on(place[1]) if part else None


def _differences(view: WalkView, page: Page) -> Iterator[Row]:
    """Between the largest walls in view that differ in paint, as they look from here."""
    walls = [
        place
        for place, share in view.shares.items()
        if place[1].startswith(("walls", "accent")) and share >= LEAST_WALL
    ]
    known = [coat for place in walls if (coat := _coat(view, place))]
    largest = {coat.swatch.key: coat for coat in reversed(known)}
    coats = [coat for coat in known if coat in largest.values()][:MOST_WALLS]
    if len(coats) < 2:  # noqa: PLR2004 - two make a difference
        return
    yield from _heading("walls differ", f"{'by':>{APART}}{'LRV':>{LRV}} ", page)
    for pair in combinations(coats, 2):
        apart = view.shades.apart(view.eye, *pair) or 0.0
        step = signed(pair[1].swatch.lrv - pair[0].swatch.lrv, view.look)
        rooms = ((view.house.rooms[coat.room].name, coat.surface) for coat in pair)
        names = " / ".join(name if of == "walls" else f"{name} {of}" for name, of in rooms)
        numbers = f"{apart:{APART}.1f}{step:>{LRV}}"
        yield page.row((page.run(" "),), names, numbers, tidy=False)


def _found(view: WalkView, page: Page, width: int) -> Iterator[Row]:
    if view.report is None:
        yield from page.heading("looking for findings")
        return
    count = len(view.matters)
    yield from page.heading("found in this view" if count else "nothing found in this view")
    for matter in view.matters:
        line = Page(view.look, width, chosen=view.key in {f.key for f in matter.findings})
        yield from matter_rows(matter, view.house, line)
